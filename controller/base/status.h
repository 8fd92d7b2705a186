/* status.h - the one error type: a code for programs, a place and a sentence for people.
 *
 * Does:      carry what went wrong, where, and what to do, from where it was found to
 *            the one place that reports it.
 * Does not:  log, exit, allocate or keep a global last error.
 */
#ifndef BASE_STATUS_H
#define BASE_STATUS_H

#define MUST_USE __attribute__((warn_unused_result))
#define PRINTF_LIKE(at, first) __attribute__((format(printf, at, first)))

enum status {
    ST_OK,
    ST_TIMEOUT,   /* no reply in time */
    ST_LINK_DOWN, /* the connection is gone */
    ST_BAD_REPLY, /* a reply that cannot be trusted: length, unit, echo, identity */
    ST_EXCEPTION, /* the device is alive and refused the request */
    ST_REFUSED,   /* a person's or client's request that is not allowed now */
    ST_STALE,     /* the value is too old */
    ST_RANGE,     /* an argument outside the valid range */
    ST_SETTINGS,  /* the settings are wrong */
    ST_NOT_FOUND, /* no such thing */
    ST_BUSY,      /* try again later */
    ST_FULL,      /* no room */
    ST_SYSTEM     /* the operating system refused */
};

struct fault {
    enum status code;
    char where[128]; /* file:line, point, step, device; may be empty */
    char text[384];  /* one sentence: what is wrong, what is allowed, what to do */
};

/* Name of a code for logs and JSON ("timeout"); never NULL. */
const char *status_name(enum status code);

/* Fill *f (may be NULL) and return code, so that a caller can write
 * `return fault_set(f, ST_RANGE, "...", "...")`. Long texts are cut, never overrun. */
enum status fault_set(struct fault *f, enum status code, const char *where, const char *format, ...)
    PRINTF_LIKE(4, 5);

#endif
