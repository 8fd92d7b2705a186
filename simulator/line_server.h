/* line_server.h - a Unix stream socket on which others send lines; never blocks.
 *
 * Does:      listen, accept up to a number of peers, cut what arrives into lines, send replies.
 * Does not:  wait: the caller polls the descriptors it is given.
 * Thread:    one.
 */
#ifndef SIMULATOR_LINE_SERVER_H
#define SIMULATOR_LINE_SERVER_H

#include "base/status.h"

#include <poll.h>
#include <stdbool.h>
#include <stddef.h>

#define LINE_PEERS_MAX 8
#define LINE_LENGTH_MAX 512

struct line_peer {
    int fd; /* -1: free */
    size_t used;
    char buffer[LINE_LENGTH_MAX];
};

struct line_server {
    int fd; /* -1: closed */
    int peers_max;
    char path[108];
    struct line_peer peers[LINE_PEERS_MAX];
};

#define LINE_SERVER_CLOSED                                                                                   \
    {                                                                                                        \
        .fd = -1                                                                                             \
    }

/* What a server tells its owner. peer is an index. */
struct line_handler {
    void *context;
    void (*opened)(void *context, int peer);
    void (*line)(void *context, int peer, const char *line);
    void (*closed)(void *context, int peer);
};

/* Listen at path; a socket left behind by a dead process is replaced, a live one is not.
 * peers_max 1..LINE_PEERS_MAX; a further peer is closed at once. After a failure it is closed. */
enum status line_server_open(struct line_server *server, const char *path, int peers_max,
                             struct fault *f) MUST_USE;
/* Close and remove the socket; harmless when closed. */
void line_server_close(struct line_server *server);

/* Append what to poll; returns how many (at most 1 + peers_max; 0 when closed). */
int line_server_polls(const struct line_server *server, struct pollfd *polls);
/* The same entries back, after poll. */
void line_server_serve(struct line_server *server, const struct pollfd *polls, int count,
                       const struct line_handler *handler);

/* Send text as it is. A peer that does not read its replies is dropped: false. */
bool line_server_send(struct line_server *server, int peer, const char *text);

#endif
