#include "client/link.h"

#include "remote/protocol.h"

#include <errno.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <time.h>
#include <unistd.h>

struct link {
    int fd;
    size_t used;
    char bytes[PROTOCOL_REPLY_MAX];
};

static enum status connect_fail(const char *path, int error, struct fault *f)
{
    if (error == EACCES || error == EPERM)
        return fault_set(f, ST_REFUSED, path, "%s: this user may not connect to the daemon: %s", path,
                         strerror(error));
    return fault_set(f, ST_LINK_DOWN, path,
                     "no daemon answers at %s (%s); start syrupwrightd, or name its socket with --socket",
                     path, strerror(error));
}

enum status link_open(const char *path, struct link **link, struct fault *f)
{
    struct sockaddr_un address = {.sun_family = AF_UNIX};
    struct link *made;

    *link = NULL;
    if (strlen(path) >= sizeof address.sun_path)
        return fault_set(f, ST_RANGE, path, "the path of the control socket is longer than %zu bytes",
                         sizeof address.sun_path - 1);
    (void)snprintf(address.sun_path, sizeof address.sun_path, "%s", path);
    made = calloc(1, sizeof *made);
    if (made == NULL)
        return fault_set(f, ST_SYSTEM, "", "memory is short");
    made->fd = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);
    if (made->fd < 0) {
        (void)fault_set(f, ST_SYSTEM, "", "no socket can be opened: %s", strerror(errno));
        free(made);
        return ST_SYSTEM;
    }
    if (connect(made->fd, (const struct sockaddr *)&address, sizeof address) != 0) {
        enum status status = connect_fail(path, errno, f);
        link_close(made);
        return status;
    }
    *link = made;
    return ST_OK;
}

void link_close(struct link *link)
{
    if (link == NULL)
        return;
    (void)close(link->fd);
    free(link);
}

static enum status line_send(struct link *link, const char *line, size_t length, struct fault *f)
{
    size_t sent = 0;

    while (sent < length) {
        ssize_t now = send(link->fd, line + sent, length - sent, MSG_NOSIGNAL);
        /* A daemon that turned us away has said why before closing: read that instead. */
        if (now < 0 && (errno == EPIPE || errno == ECONNRESET))
            return ST_OK;
        if (now < 0 && errno != EINTR)
            return fault_set(f, ST_LINK_DOWN, "", "the request cannot be sent: %s", strerror(errno));
        sent += now > 0 ? (size_t)now : 0;
    }
    return ST_OK;
}

enum status link_ask(struct link *link, json_t *request, json_t **reply, struct fault *f)
{
    size_t length = 0;
    char *line = protocol_line(request, &length);
    enum status status;

    *reply = NULL;
    if (line == NULL)
        return fault_set(f, ST_SYSTEM, "", "memory is short");
    status = line_send(link, line, length, f);
    free(line);
    return status == ST_OK ? link_next(link, LINK_REPLY_MS, reply, f) : status;
}

static int64_t now_ms(void)
{
    struct timespec now;

    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

/* Wait until a whole line is in the buffer; *length without its newline. */
static enum status line_await(struct link *link, int wait_ms, size_t *length, struct fault *f)
{
    int64_t until_ms = now_ms() + wait_ms;

    for (;;) {
        const char *end = memchr(link->bytes, '\n', link->used);
        struct pollfd ready = {.fd = link->fd, .events = POLLIN};
        int64_t left_ms = until_ms - now_ms();
        ssize_t got;

        if (end != NULL) {
            *length = (size_t)(end - link->bytes);
            return ST_OK;
        }
        if (link->used == sizeof link->bytes)
            return fault_set(f, ST_BAD_REPLY, "", "the daemon's reply is longer than 1 MiB");
        if (left_ms <= 0)
            return fault_set(f, ST_TIMEOUT, "", "the daemon did not answer within %d s", wait_ms / 1000);
        if (poll(&ready, 1, (int)left_ms) <= 0)
            continue;
        got = recv(link->fd, link->bytes + link->used, sizeof link->bytes - link->used, 0);
        if (got == 0)
            return fault_set(f, ST_LINK_DOWN, "",
                             "the daemon has closed the connection; is it still running?");
        if (got < 0 && errno != EINTR)
            return fault_set(f, ST_LINK_DOWN, "", "the daemon cannot be read: %s", strerror(errno));
        link->used += got > 0 ? (size_t)got : 0;
    }
}

enum status link_next(struct link *link, int wait_ms, json_t **reply, struct fault *f)
{
    size_t length = 0;
    enum status status = line_await(link, wait_ms, &length, f);
    json_error_t error;

    *reply = NULL;
    if (status != ST_OK)
        return status;
    *reply = json_loadb(link->bytes, length, JSON_REJECT_DUPLICATES, &error);
    link->used -= length + 1;
    memmove(link->bytes, link->bytes + length + 1, link->used);
    if (json_is_object(*reply) && json_is_boolean(json_object_get(*reply, "ok")))
        return ST_OK;
    json_decref(*reply);
    *reply = NULL;
    return fault_set(f, ST_BAD_REPLY, "", "what answers there does not speak this protocol; check --socket");
}
