/* link.h - the client's end of the control socket.
 *
 * Does:      connect, send one request a line, wait a bounded time for one reply a line.
 * Does not:  read a meaning into a reply, or try again.
 * Memory:    replies are new references; link_close accepts NULL.
 */
#ifndef CLIENT_LINK_H
#define CLIENT_LINK_H

#include "base/status.h"

#include <jansson.h>

#define LINK_REPLY_MS 15000 /* the daemon itself gives up on a command after 5 s */

struct link;

/* ST_LINK_DOWN: nobody answers there; ST_REFUSED: this user may not connect. */
enum status link_open(const char *path, struct link **link, struct fault *f) MUST_USE;
void link_close(struct link *link);

/* Send a request (takes the reference; NULL counts as memory being short) and wait for the next
 * line. ST_LINK_DOWN, ST_TIMEOUT or ST_BAD_REPLY with the sentence. */
enum status link_ask(struct link *link, json_t *request, json_t **reply, struct fault *f) MUST_USE;

/* Wait for one more line, as after "watch". */
enum status link_next(struct link *link, int wait_ms, json_t **reply, struct fault *f) MUST_USE;

#endif
