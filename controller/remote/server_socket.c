#include "remote/server_parts.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <unistd.h>

#define FOLDER_MODE 0755
/* Any local user may connect: looking needs no role, and what a person may do is decided for each
 * line from the uid that the kernel reports, not from who could open the file. */
#define SOCKET_MODE 0666

static enum status address_fill(const char *path, struct sockaddr_un *address, struct fault *f)
{
    memset(address, 0, sizeof *address);
    address->sun_family = AF_UNIX;
    if (path[0] == '\0' || strlen(path) >= sizeof address->sun_path)
        return fault_set(f, ST_SETTINGS, path, "the path of the control socket must have 1 to %zu bytes",
                         sizeof address->sun_path - 1);
    (void)snprintf(address->sun_path, sizeof address->sun_path, "%s", path);
    return ST_OK;
}

static enum status folder_make(const char *path, struct fault *f)
{
    char folder[SETTINGS_PATH_MAX];
    char *slash;

    (void)snprintf(folder, sizeof folder, "%s", path);
    slash = strrchr(folder, '/');
    if (slash == NULL || slash == folder)
        return ST_OK;
    *slash = '\0';
    if (mkdir(folder, FOLDER_MODE) == 0 || errno == EEXIST)
        return ST_OK;
    return fault_set(f, ST_SYSTEM, folder,
                     "the folder of the control socket cannot be made: %s; make it first", strerror(errno));
}

/* Is somebody listening there? A full queue of a live daemon also counts as yes. */
static bool is_answered(const struct sockaddr_un *address)
{
    int fd = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
    bool answered;

    if (fd < 0)
        return true;
    answered = connect(fd, (const struct sockaddr *)address, sizeof *address) == 0 ||
               (errno != ECONNREFUSED && errno != ENOENT);
    (void)close(fd);
    return answered;
}

static enum status way_clear(const char *path, const struct sockaddr_un *address, struct fault *f)
{
    struct stat there;

    if (lstat(path, &there) != 0) {
        if (errno == ENOENT)
            return ST_OK;
        return fault_set(f, ST_SYSTEM, path, "the control socket cannot be looked at: %s", strerror(errno));
    }
    if (!S_ISSOCK(there.st_mode))
        return fault_set(
            f, ST_SETTINGS, path,
            "something that is not a socket is in the way of the control socket; move it away or "
            "choose another path");
    if (is_answered(address))
        return fault_set(f, ST_BUSY, path, "another daemon is running on %s; stop it first", path);
    if (unlink(path) == 0 || errno == ENOENT)
        return ST_OK;
    return fault_set(f, ST_SYSTEM, path, "the socket a former daemon left cannot be removed: %s",
                     strerror(errno));
}

static enum status bind_and_listen(const char *path, const struct sockaddr_un *address, struct server *server,
                                   struct fault *f)
{
    struct stat made;
    int fd = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);

    if (fd < 0)
        return fault_set(f, ST_SYSTEM, path, "no socket can be opened: %s", strerror(errno));
    if (bind(fd, (const struct sockaddr *)address, sizeof *address) != 0) {
        (void)fault_set(f, ST_SYSTEM, path, "the control socket cannot be made: %s", strerror(errno));
        goto failed;
    }
    if (stat(path, &made) != 0 || chmod(path, SOCKET_MODE) != 0 || listen(fd, SERVER_CLIENTS_MAX) != 0) {
        (void)fault_set(f, ST_SYSTEM, path, "the control socket cannot be opened to others: %s",
                        strerror(errno));
        (void)unlink(path);
        goto failed;
    }
    server->listen_fd = fd;
    server->socket_device = made.st_dev;
    server->socket_inode = made.st_ino;
    return ST_OK;
failed:
    (void)close(fd);
    return ST_SYSTEM;
}

enum status server_listen(const char *path, struct server *server, struct fault *f)
{
    struct sockaddr_un address;
    enum status status = address_fill(path, &address, f);

    if (status == ST_OK)
        status = folder_make(path, f);
    if (status == ST_OK)
        status = way_clear(path, &address, f);
    if (status == ST_OK)
        status = bind_and_listen(path, &address, server, f);
    return status;
}

void server_unlisten(const char *path, const struct server *server)
{
    struct stat there;

    (void)close(server->listen_fd);
    if (lstat(path, &there) == 0 && there.st_dev == server->socket_device &&
        there.st_ino == server->socket_inode)
        (void)unlink(path);
}
