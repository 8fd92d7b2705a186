#include "simulator/line_client.h"

#include <errno.h>
#include <poll.h>
#include <stdio.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <unistd.h>

enum status line_client_open(struct line_client *client, const char *path, struct fault *f)
{
    struct sockaddr_un address = {.sun_family = AF_UNIX};

    client->used = client->taken = 0;
    client->fd = -1;
    if (strlen(path) >= sizeof address.sun_path)
        return fault_set(f, ST_RANGE, path, "the path of the socket is too long; at most %zu bytes",
                         sizeof address.sun_path - 1);
    (void)snprintf(address.sun_path, sizeof address.sun_path, "%s", path);
    client->fd = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);
    if (client->fd < 0)
        return fault_set(f, ST_SYSTEM, path, "no socket to be had: %s", strerror(errno));
    if (connect(client->fd, (const struct sockaddr *)&address, sizeof address) != 0) {
        int error = errno;

        line_client_close(client);
        return fault_set(f, ST_LINK_DOWN, path,
                         "cannot connect: %s; is the program that listens here running?", strerror(error));
    }
    return ST_OK;
}

void line_client_close(struct line_client *client)
{
    if (client->fd >= 0)
        (void)close(client->fd);
    client->fd = -1;
}

bool line_client_send(struct line_client *client, const char *text)
{
    size_t left = strlen(text);

    while (client->fd >= 0 && left > 0) {
        ssize_t sent = send(client->fd, text, left, MSG_NOSIGNAL);

        if (sent < 0 && errno == EINTR)
            continue;
        if (sent <= 0) {
            line_client_close(client);
            return false;
        }
        text += sent;
        left -= (size_t)sent;
    }
    return client->fd >= 0;
}

static const char *line_take(struct line_client *client)
{
    char *newline;

    client->used -= client->taken;
    memmove(client->buffer, client->buffer + client->taken, client->used);
    client->taken = 0;
    newline = memchr(client->buffer, '\n', client->used);
    if (newline == NULL)
        return NULL;
    *newline = '\0';
    client->taken = (size_t)(newline - client->buffer) + 1;
    return client->buffer;
}

const char *line_client_next(struct line_client *client, int timeout_ms)
{
    const char *line = line_take(client);

    while (line == NULL && client->fd >= 0) {
        struct pollfd poll_fd = {.fd = client->fd, .events = POLLIN};
        int ready = poll(&poll_fd, 1, timeout_ms);
        ssize_t got;

        if (ready == 0)
            return NULL;
        if (ready < 0 && errno == EINTR)
            continue;
        got = ready < 0 || client->used == LINE_CLIENT_MAX
                  ? 0
                  : recv(client->fd, client->buffer + client->used, LINE_CLIENT_MAX - client->used, 0);
        if (got < 0 && errno == EINTR)
            continue;
        if (got <= 0) {
            line_client_close(client);
            return NULL;
        }
        client->used += (size_t)got;
        line = line_take(client);
    }
    return line;
}
