/* file.h - whole small files, read and written so that a power cut cannot leave half of one.
 *
 * Thread:    any; two writers of one path must agree among themselves.
 * Memory:    the caller's buffers only.
 */
#ifndef RUNTIME_FILE_H
#define RUNTIME_FILE_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>

/* Write a file through a temporary one beside it: write, fsync, rename, fsync the folder.
 *   mode      permissions of the new file, not reduced by the umask
 *   replace   false: an existing file is left alone and ST_REFUSED is returned
 * ST_SYSTEM: the system refused; the old file, if any, is whole and the temporary one is gone. */
enum status file_write_atomic(const char *path, const void *data, size_t length, unsigned mode, bool replace,
                              struct fault *f) MUST_USE;

/* Read a whole file of at most size - 1 bytes into buffer and close it with a zero.
 * ST_NOT_FOUND: no such file; ST_FULL: it is longer; ST_SYSTEM: the system refused. */
enum status file_read(const char *path, char *buffer, size_t size, size_t *length, struct fault *f) MUST_USE;

/* ST_OK when only the owner may read or write the file; else ST_REFUSED with the remedy. */
enum status file_check_private(const char *path, struct fault *f) MUST_USE;

#endif
