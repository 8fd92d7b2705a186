/* protocol.h - the control protocol, version 1: one JSON object a line, each way.
 *
 * Does:      turn one line into a checked request, and name what each verb needs.
 * Does not:  read or write a socket, know clients, or decide anything about the tank.
 * Thread:    any. Memory: the caller's struct; what json_t functions return is the caller's.
 *
 * A request is {"v":1,"verb":"..."} and the keys of that verb, no others. A reply is
 * {"v":1,"ok":true,...} or {"v":1,"ok":false,"error":{"code","sentence"}}. Replies:
 *   hello        "versions","program","version","you","tank","simulated"
 *   state, watch "state" (snapshot_json.h); watch repeats it, also at each change
 *   plan, start  "plan","notes", and "batch" for start (plan_json.h)
 *   batches      "batches": list        journal  "journal": list   (records/reading.h)
 *   certificate  "form" and "certificate": a string, the stored bytes or the text form
 *   the others   nothing more ("compare": its outcome stands in the state's "opinions")
 */
#ifndef REMOTE_PROTOCOL_H
#define REMOTE_PROTOCOL_H

#include "base/status.h"
#include "core/scan_types.h"

#include <jansson.h>
#include <stdbool.h>
#include <stddef.h>

#define PROTOCOL_VERSION 1
#define PROTOCOL_LINE_MAX 65536    /* bytes of a request, the newline included */
#define PROTOCOL_REPLY_MAX 1048576 /* bytes of a reply, the newline included */
#define PROTOCOL_DEPTH_MAX 4       /* nested objects and lists */
#define PROTOCOL_BATCH_MAX 24

enum action {
    ACTION_HELLO,
    ACTION_STATE,
    ACTION_WATCH,
    ACTION_PLAN,
    ACTION_START,
    ACTION_PAUSE,
    ACTION_RESUME,
    ACTION_HOLD,
    ACTION_RESTART,
    ACTION_STOP,
    ACTION_ABORT,
    ACTION_RESET,
    ACTION_RELEASE,
    ACTION_ANSWER,
    ACTION_COMPARE,
    ACTION_BATCHES,
    ACTION_CERTIFICATE,
    ACTION_JOURNAL,
    ACTION_COUNT
};

struct request {
    enum action action;
    struct plan_request plan;       /* plan, start */
    int every_ms;                   /* watch: 50-10000 */
    int limit;                      /* batches, journal: 1-1000 */
    char batch[PROTOCOL_BATCH_MAX]; /* certificate, journal; "" is the newest */
    bool as_text;                   /* certificate */
    uint32_t prompt;                /* answer */
    enum answer answer;
    double number;     /* answer, when answer is ANSWER_NUMBER; compare: the reading */
    enum point point;  /* compare */
    double expanded_u; /* compare */
};

/* What a refused line gets back. code: "garbage", "version", "verb", "key", "range". */
struct protocol_refusal {
    const char *code;
    struct fault fault;
};

/* Read one line (without its newline). True: *request is complete. False: *refusal says why. */
bool protocol_parse(const char *line, size_t length, struct request *request,
                    struct protocol_refusal *refusal);

/* Name of a verb on the wire; never NULL. protocol_find: ACTION_COUNT when there is none. */
const char *protocol_name(enum action action);
enum action protocol_find(const char *name);

/* Least role for a verb, and whether a role is enough. Stopping is never refused for rank to
 * anybody who has one; looking needs none. */
enum role protocol_least_role(enum action action);
bool protocol_is_allowed(enum role role, enum action action);

/* The core's command behind a verb; VERB_COUNT where there is none. */
enum verb protocol_command(enum action action);

/* A sentence as a JSON string. It may quote what a client sent, cut anywhere: bytes that are
 * control characters or not UTF-8 become '?'. At most 511 bytes are kept. */
json_t *protocol_text(const char *sentence);

/* Replies: a new reference, NULL only when memory is short. */
json_t *protocol_ok(void);
json_t *protocol_error(const char *code, const char *sentence);

/* A finite number, otherwise null. */
json_t *protocol_number(double value);

/* Reply as one line with its newline; malloc'ed, NULL when memory is short. Takes the reference. */
char *protocol_line(json_t *reply, size_t *length);

#endif
