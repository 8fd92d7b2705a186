#include "runtime/file.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define PATH_ROOM 512

static enum status file_refused(struct fault *f, const char *path, const char *act)
{
    return fault_set(f, ST_SYSTEM, path, "could not %s: %s", act, strerror(errno));
}

static int file_write_all(int fd, const char *data, size_t length)
{
    while (length > 0) {
        ssize_t written = write(fd, data, length);

        if (written < 0 && errno == EINTR)
            continue;
        if (written < 0)
            return -1;
        data += written;
        length -= (size_t)written;
    }
    return 0;
}

/* A rename is only sure to survive a power cut once the folder itself is on the disk. */
static int file_sync_folder(const char *path)
{
    char folder[PATH_ROOM];
    char *slash;
    int fd, rc;

    (void)snprintf(folder, sizeof folder, "%s", path);
    slash = strrchr(folder, '/');
    if (slash == NULL)
        (void)snprintf(folder, sizeof folder, ".");
    else
        slash[slash == folder ? 1 : 0] = '\0';
    fd = open(folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (fd < 0)
        return -1;
    rc = fsync(fd);
    (void)close(fd);
    return rc;
}

static int file_fill(int fd, const void *data, size_t length, unsigned mode)
{
    if (fchmod(fd, (mode_t)mode) != 0 || file_write_all(fd, data, length) != 0)
        return -1;
    return fsync(fd);
}

/* link() refuses an existing name where rename() would replace it. */
static int file_put_in_place(const char *temporary, const char *path, bool replace)
{
    if (replace)
        return rename(temporary, path);
    if (link(temporary, path) != 0)
        return -1;
    (void)unlink(temporary);
    return 0;
}

enum status file_write_atomic(const char *path, const void *data, size_t length, unsigned mode, bool replace,
                              struct fault *f)
{
    char temporary[PATH_ROOM];
    enum status code = ST_OK;
    int size = snprintf(temporary, sizeof temporary, "%s.XXXXXX", path);
    int fd;

    if (size < 0 || (size_t)size >= sizeof temporary)
        return fault_set(f, ST_RANGE, path, "the path is too long; at most %d characters", PATH_ROOM - 8);
    fd = mkostemp(temporary, O_CLOEXEC);
    if (fd < 0)
        return file_refused(f, path, "create a file in this folder");
    if (file_fill(fd, data, length, mode) != 0)
        code = file_refused(f, path, "write the file");
    if (close(fd) != 0 && code == ST_OK)
        code = file_refused(f, path, "close the file");
    if (code == ST_OK && file_put_in_place(temporary, path, replace) != 0)
        code = errno == EEXIST ? fault_set(f, ST_REFUSED, path, "the file exists already; it is not replaced")
                               : file_refused(f, path, "put the file in place");
    if (code != ST_OK) {
        (void)unlink(temporary);
        return code;
    }
    return file_sync_folder(path) == 0 ? ST_OK : file_refused(f, path, "make the folder durable");
}

static enum status file_read_all(int fd, const char *path, char *buffer, size_t size, size_t *length,
                                 struct fault *f)
{
    size_t have = 0;

    for (;;) {
        ssize_t got = read(fd, buffer + have, size - have);

        if (got < 0 && errno == EINTR)
            continue;
        if (got < 0)
            return file_refused(f, path, "read the file");
        if (got == 0)
            break;
        have += (size_t)got;
        if (have >= size)
            return fault_set(f, ST_FULL, path, "the file is too long; at most %zu bytes", size - 1);
    }
    buffer[have] = '\0';
    *length = have;
    return ST_OK;
}

enum status file_read(const char *path, char *buffer, size_t size, size_t *length, struct fault *f)
{
    int fd = open(path, O_RDONLY | O_CLOEXEC);
    enum status code;

    if (fd < 0 && errno == ENOENT)
        return fault_set(f, ST_NOT_FOUND, path, "there is no such file");
    if (fd < 0)
        return file_refused(f, path, "open the file");
    code = file_read_all(fd, path, buffer, size, length, f);
    (void)close(fd);
    return code;
}

enum status file_check_private(const char *path, struct fault *f)
{
    struct stat facts;

    if (stat(path, &facts) != 0)
        return file_refused(f, path, "look at the file");
    if ((facts.st_mode & 077) != 0)
        return fault_set(f, ST_REFUSED, path,
                         "others may read or write this file (mode %03o); make it private with: chmod 600",
                         (unsigned)facts.st_mode & 0777);
    return ST_OK;
}
