/* mailbox.h - what the server's thread and the control thread hand each other.
 *
 * Does:      hold at most one scan's commands, their results, and the newest snapshot.
 * Does not:  wait for anything but one short mutex, or know sockets and JSON.
 * Thread:    "control" functions from the control thread, the others from the server's.
 */
#ifndef REMOTE_MAILBOX_H
#define REMOTE_MAILBOX_H

#include "base/status.h"
#include "core/snapshot_types.h"

#define MAILBOX_SLOTS 16 /* one a client; a client waits for one command at a time */

struct mailbox;

enum flight {
    FLIGHT_NONE,    /* no such command */
    FLIGHT_WAITING, /* not yet taken by a scan */
    FLIGHT_TAKEN,   /* in a scan now */
    FLIGHT_DONE     /* the result is here */
};

/* NULL when memory or a descriptor is short. mailbox_free accepts NULL. */
struct mailbox *mailbox_new(void);
void mailbox_free(struct mailbox *m);

/* Readable when a result or a change has come; mailbox_wake_clear takes that back. */
int mailbox_wake_fd(const struct mailbox *m);
void mailbox_wake_clear(struct mailbox *m);

/* Wake the server's thread from any thread; used for stopping. */
void mailbox_wake(struct mailbox *m);

/* Queue a command for the next scan; plan only for VERB_START. *id is its number.
 * ST_BUSY when a scan's commands, or another start, are already waiting. */
enum status mailbox_post(struct mailbox *m, int slot, const struct command *command,
                         const struct batch_plan *plan, uint64_t *id, struct fault *f) MUST_USE;

/* How far the command is; for FLIGHT_DONE the result and a start's batch number are filled and
 * the slot is free again. */
enum flight mailbox_result(struct mailbox *m, int slot, uint64_t id, struct command_result *result,
                           char batch_id[24]);

/* Forget a command; true when no scan had taken it, so that it will never act. */
bool mailbox_withdraw(struct mailbox *m, int slot, uint64_t id);

/* The newest snapshot and how often something a person must see at once has changed;
 * false before the first scan. */
bool mailbox_snapshot(struct mailbox *m, struct snapshot *snapshot, uint64_t *changes);
uint64_t mailbox_changes(struct mailbox *m);

/* Control: move the waiting commands into *in, with the plan of a start; what was there before of
 * commands and plan is gone, also when nothing waits. */
void mailbox_take(struct mailbox *m, struct scan_in *in);

/* Control: the number that the batch of a taken start has got. */
void mailbox_name_batch(struct mailbox *m, const char *batch_id);

/* Control: results and snapshot of the scan that just ended. */
void mailbox_put(struct mailbox *m, const struct scan_out *out, const struct snapshot *snapshot);

#endif
