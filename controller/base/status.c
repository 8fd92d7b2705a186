#include "base/status.h"

#include <stdarg.h>
#include <stdio.h>

static const char *const STATUS_NAMES[] = {
    [ST_OK] = "ok",
    [ST_TIMEOUT] = "timeout",
    [ST_LINK_DOWN] = "link_down",
    [ST_BAD_REPLY] = "bad_reply",
    [ST_EXCEPTION] = "exception",
    [ST_REFUSED] = "refused",
    [ST_STALE] = "stale",
    [ST_RANGE] = "range",
    [ST_SETTINGS] = "settings",
    [ST_NOT_FOUND] = "not_found",
    [ST_BUSY] = "busy",
    [ST_FULL] = "full",
    [ST_SYSTEM] = "system",
};

const char *status_name(enum status code)
{
    unsigned index = (unsigned)code;
    return index < sizeof STATUS_NAMES / sizeof STATUS_NAMES[0] ? STATUS_NAMES[index] : "unknown";
}

enum status fault_set(struct fault *f, enum status code, const char *where, const char *format, ...)
{
    va_list args;

    if (f == NULL)
        return code;
    f->code = code;
    (void)snprintf(f->where, sizeof f->where, "%s", where == NULL ? "" : where);
    va_start(args, format);
    (void)vsnprintf(f->text, sizeof f->text, format, args);
    va_end(args);
    return code;
}
