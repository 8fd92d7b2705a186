/* server.h - the control socket: one JSON object a line, answered by one JSON object a line.
 *
 * Does:      accept local clients, take their identity from the kernel, check role against verb,
 *            pass commands to the control thread, serve snapshots, plans and records.
 * Does not:  decide anything about the tank, block the control thread, or trust a byte.
 * Thread:    its own, started by server_open. A line above 64 KiB, a ninth command in one scan
 *            or a seventeenth client is refused with a sentence.
 */
#ifndef REMOTE_SERVER_H
#define REMOTE_SERVER_H

#include "core/snapshot_types.h"
#include "records/records.h"
#include "settings/settings.h"

struct server;

enum status server_open(const struct settings *settings, struct records *records, struct server **server,
                        struct fault *f) MUST_USE;
void server_close(struct server *server); /* accepts NULL; removes the socket */

/* Control thread, before the scan: move waiting commands (and the plan of a start) into *in.
 * A start's plan gets its batch id here. */
void server_take_commands(struct server *server, struct scan_in *in);

/* Control thread, after the scan: answer the commands of that scan and publish the snapshot. */
void server_post_scan(struct server *server, const struct scan_out *out, const struct snapshot *snapshot);

#endif
