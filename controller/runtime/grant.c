#include "runtime/grant.h"

#include "runtime/realtime.h"

#include <errno.h>
#include <inttypes.h>
#include <poll.h>
#include <stdio.h>
#include <string.h>
#include <sys/eventfd.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <unistd.h>

#define CONNECT_WAIT_US 5000000
#define CONNECT_RETRY_US 20000

static int socket_connect(const struct sockaddr_un *address)
{
    int fd = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);

    if (fd < 0)
        return -1;
    if (connect(fd, (const struct sockaddr *)address, sizeof *address) == 0)
        return fd;
    (void)close(fd);
    return -1;
}

static int socket_connect_patiently(const struct sockaddr_un *address)
{
    int64_t until_us = realtime_now_us() + CONNECT_WAIT_US;
    int fd = socket_connect(address);

    while (fd < 0 && realtime_now_us() < until_us) {
        realtime_sleep_until(realtime_now_us() + CONNECT_RETRY_US);
        fd = socket_connect(address);
    }
    return fd;
}

enum status grant_open(const char *path, struct grant *grant, struct fault *f)
{
    struct sockaddr_un address = {.sun_family = AF_UNIX};

    *grant = (struct grant){.fd = -1, .wake_fd = -1};
    if (strlen(path) >= sizeof address.sun_path)
        return fault_set(f, ST_RANGE, path, "the path of the simulator's socket is too long; at most %zu",
                         sizeof address.sun_path - 1);
    (void)snprintf(address.sun_path, sizeof address.sun_path, "%s", path);
    grant->fd = socket_connect_patiently(&address);
    if (grant->fd < 0)
        return fault_set(f, ST_LINK_DOWN, path,
                         "this tank is simulated, but no simulator listens here (waited 5 s); start "
                         "syrupwright-sim first");
    grant->wake_fd = eventfd(0, EFD_CLOEXEC | EFD_NONBLOCK);
    if (grant->wake_fd < 0) {
        (void)close(grant->fd);
        grant->fd = -1;
        return fault_set(f, ST_SYSTEM, path, "no descriptor left for the clock: %s", strerror(errno));
    }
    return ST_OK;
}

void grant_close(struct grant *grant)
{
    if (grant->fd >= 0)
        (void)close(grant->fd);
    if (grant->wake_fd >= 0)
        (void)close(grant->wake_fd);
    *grant = (struct grant){.fd = -1, .wake_fd = -1};
}

static enum grant_result grant_parse(struct grant *grant, size_t length, int64_t *tank_us, int64_t *utc_us)
{
    char line[sizeof grant->buffer];
    int end = -1;

    memcpy(line, grant->buffer, length);
    line[length] = '\0';
    grant->used -= length + 1;
    memmove(grant->buffer, grant->buffer + length + 1, grant->used);
    if (sscanf(line, "grant %" SCNd64 " %" SCNd64 "%n", tank_us, utc_us, &end) != 2 || end != (int)length)
        return GRANT_LOST;
    return GRANT_GIVEN;
}

static bool grant_receive(struct grant *grant)
{
    ssize_t got;

    do
        got = recv(grant->fd, grant->buffer + grant->used, sizeof grant->buffer - grant->used, 0);
    while (got < 0 && errno == EINTR);
    if (got > 0)
        grant->used += (size_t)got;
    return got > 0;
}

enum grant_result grant_wait(struct grant *grant, int64_t *tank_us, int64_t *utc_us)
{
    for (;;) {
        struct pollfd fds[2] = {{.fd = grant->wake_fd, .events = POLLIN},
                                {.fd = grant->fd, .events = POLLIN}};
        const char *newline = memchr(grant->buffer, '\n', grant->used);

        if (poll(fds, 2, newline != NULL ? 0 : -1) < 0 && errno != EINTR)
            return GRANT_LOST;
        if (fds[0].revents != 0)
            return GRANT_WOKEN;
        if (newline != NULL)
            return grant_parse(grant, (size_t)(newline - grant->buffer), tank_us, utc_us);
        if (fds[1].revents != 0 && (grant->used == sizeof grant->buffer || !grant_receive(grant)))
            return GRANT_LOST;
    }
}

bool grant_answer(struct grant *grant, int64_t tank_us)
{
    char line[48];
    int length = snprintf(line, sizeof line, "done %" PRId64 "\n", tank_us);

    return send(grant->fd, line, (size_t)length, MSG_NOSIGNAL) == length;
}

void grant_wake(struct grant *grant)
{
    uint64_t one = 1;

    /* It can only fail when the counter is full, and then it is readable already. */
    if (grant->wake_fd >= 0)
        (void)!write(grant->wake_fd, &one, sizeof one);
}
