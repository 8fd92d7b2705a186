#include "simulator/line_server.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <unistd.h>

/* A socket file nobody answers on is left over from a process that died. */
static bool is_left_over(const struct sockaddr_un *address)
{
    int fd = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);
    bool refused;

    if (fd < 0)
        return false;
    refused = connect(fd, (const struct sockaddr *)address, sizeof *address) != 0 && errno == ECONNREFUSED;
    (void)close(fd);
    return refused;
}

static int bind_path(int fd, const struct sockaddr_un *address)
{
    if (bind(fd, (const struct sockaddr *)address, sizeof *address) == 0)
        return 0;
    if (errno != EADDRINUSE || !is_left_over(address)) {
        errno = errno == ECONNREFUSED ? EADDRINUSE : errno;
        return -1;
    }
    if (unlink(address->sun_path) != 0)
        return -1;
    return bind(fd, (const struct sockaddr *)address, sizeof *address);
}

enum status line_server_open(struct line_server *server, const char *path, int peers_max, struct fault *f)
{
    struct sockaddr_un address = {.sun_family = AF_UNIX};

    *server = (struct line_server){.fd = -1, .peers_max = peers_max};
    for (int i = 0; i < LINE_PEERS_MAX; i++)
        server->peers[i].fd = -1;
    if (strlen(path) >= sizeof address.sun_path)
        return fault_set(f, ST_RANGE, path, "the path of the socket is too long; at most %zu bytes",
                         sizeof address.sun_path - 1);
    (void)snprintf(address.sun_path, sizeof address.sun_path, "%s", path);
    (void)snprintf(server->path, sizeof server->path, "%s", path);
    server->fd = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
    if (server->fd < 0)
        return fault_set(f, ST_SYSTEM, path, "no socket to be had: %s", strerror(errno));
    if (bind_path(server->fd, &address) != 0 || listen(server->fd, LINE_PEERS_MAX) != 0) {
        int error = errno;

        (void)close(server->fd);
        server->fd = -1;
        return fault_set(
            f, error == EADDRINUSE ? ST_BUSY : ST_SYSTEM, path, "cannot listen here: %s%s", strerror(error),
            error == EADDRINUSE ? "; another simulator uses this path, or a file is in the way" : "");
    }
    return ST_OK;
}

void line_server_close(struct line_server *server)
{
    if (server->fd < 0)
        return;
    for (int i = 0; i < LINE_PEERS_MAX; i++)
        if (server->peers[i].fd >= 0)
            (void)close(server->peers[i].fd);
    (void)close(server->fd);
    (void)unlink(server->path);
    server->fd = -1;
}

int line_server_polls(const struct line_server *server, struct pollfd *polls)
{
    int count = 0;

    if (server->fd < 0)
        return 0;
    polls[count++] = (struct pollfd){.fd = server->fd, .events = POLLIN};
    for (int i = 0; i < LINE_PEERS_MAX; i++)
        if (server->peers[i].fd >= 0)
            polls[count++] = (struct pollfd){.fd = server->peers[i].fd, .events = POLLIN};
    return count;
}

static void peer_drop(struct line_server *server, int peer, const struct line_handler *handler)
{
    if (server->peers[peer].fd < 0)
        return;
    (void)close(server->peers[peer].fd);
    server->peers[peer].fd = -1;
    if (handler->closed != NULL)
        handler->closed(handler->context, peer);
}

static void peer_accept(struct line_server *server, const struct line_handler *handler)
{
    int fd = accept4(server->fd, NULL, NULL, SOCK_CLOEXEC | SOCK_NONBLOCK);

    for (int i = 0; fd >= 0 && i < server->peers_max; i++)
        if (server->peers[i].fd < 0) {
            server->peers[i].fd = fd;
            server->peers[i].used = 0;
            if (handler->opened != NULL)
                handler->opened(handler->context, i);
            return;
        }
    if (fd >= 0)
        (void)close(fd);
}

/* Hand on every whole line; a handler may close its peer on the way. */
static void peer_lines(struct line_server *server, int peer, const struct line_handler *handler)
{
    struct line_peer *p = &server->peers[peer];
    char *newline;

    while (p->fd >= 0 && (newline = memchr(p->buffer, '\n', p->used)) != NULL) {
        char line[LINE_LENGTH_MAX];
        size_t length = (size_t)(newline - p->buffer);

        memcpy(line, p->buffer, length);
        line[length] = '\0';
        p->used -= length + 1;
        memmove(p->buffer, newline + 1, p->used);
        handler->line(handler->context, peer, line);
    }
}

static void peer_receive(struct line_server *server, int peer, const struct line_handler *handler)
{
    struct line_peer *p = &server->peers[peer];
    ssize_t got = recv(p->fd, p->buffer + p->used, sizeof p->buffer - p->used, 0);

    if (got < 0 && (errno == EAGAIN || errno == EINTR))
        return;
    if (got <= 0) {
        peer_drop(server, peer, handler);
        return;
    }
    p->used += (size_t)got;
    peer_lines(server, peer, handler);
    if (p->fd >= 0 && p->used == sizeof p->buffer) {
        (void)line_server_send(server, peer, "error the line is too long\n");
        peer_drop(server, peer, handler);
    }
}

void line_server_serve(struct line_server *server, const struct pollfd *polls, int count,
                       const struct line_handler *handler)
{
    for (int i = 0; i < count; i++) {
        if (polls[i].revents == 0)
            continue;
        if (polls[i].fd == server->fd) {
            peer_accept(server, handler);
            continue;
        }
        for (int p = 0; p < LINE_PEERS_MAX; p++)
            if (server->peers[p].fd == polls[i].fd) {
                peer_receive(server, p, handler);
                break;
            }
    }
}

bool line_server_send(struct line_server *server, int peer, const char *text)
{
    size_t length = strlen(text);
    int fd = server->peers[peer].fd;

    if (fd < 0)
        return false;
    if (send(fd, text, length, MSG_NOSIGNAL) == (ssize_t)length)
        return true;
    (void)shutdown(fd, SHUT_RDWR); /* the next poll finds it ended and drops it */
    return false;
}
