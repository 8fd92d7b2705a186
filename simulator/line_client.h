/* line_client.h - the asking end of a Unix stream socket that speaks lines.
 *
 * Thread: one. Memory: the caller's.
 */
#ifndef SIMULATOR_LINE_CLIENT_H
#define SIMULATOR_LINE_CLIENT_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>

#define LINE_CLIENT_MAX 65536

struct line_client {
    int fd; /* -1: closed */
    size_t used;
    size_t taken; /* bytes of the line handed out last */
    char buffer[LINE_CLIENT_MAX + 1];
};

/* On failure it is closed and *f has the sentence. */
enum status line_client_open(struct line_client *client, const char *path, struct fault *f) MUST_USE;
void line_client_close(struct line_client *client); /* harmless when closed */

/* Send text, which must end in a newline. false: the other end is gone. */
bool line_client_send(struct line_client *client, const char *text) MUST_USE;

/* The next line, waiting at most timeout_ms (-1: for ever); valid until the next call.
 * NULL: time is up, or the other end is gone (then client->fd is -1). */
const char *line_client_next(struct line_client *client, int timeout_ms);

#endif
