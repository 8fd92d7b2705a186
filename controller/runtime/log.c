#include "runtime/log.h"

#include "runtime/realtime.h"

#include <ctype.h>
#include <errno.h>
#include <poll.h>
#include <pthread.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define SOURCES_MAX 24
#define SOURCE_ROOM 32
#define FATAL_WAIT_MS 1000 /* the last words may wait a little */

enum { PRIORITY_FATAL = 2, PRIORITY_WARNING = 4, PRIORITY_INFO = 6 };

/* One window of lines for each source; the last slot is shared by all sources that found no other. */
struct log_source {
    char name[SOURCE_ROOM];
    int64_t window_us;
    int lines;
    int held_back;
};

static pthread_mutex_t log_lock = PTHREAD_MUTEX_INITIALIZER;
static struct log_source log_sources[SOURCES_MAX];

static struct log_source *source_find(const char *name)
{
    int i = 0;

    while (i < SOURCES_MAX - 1 && log_sources[i].name[0] != '\0' &&
           strncmp(log_sources[i].name, name, SOURCE_ROOM - 1) != 0)
        i++;
    if (log_sources[i].name[0] == '\0')
        (void)snprintf(log_sources[i].name, SOURCE_ROOM, "%s", name);
    return &log_sources[i];
}

/* A reader of standard error that has stopped reading must not stop the tank: a line that would
 * have to wait is lost. One write of a line this short does not block once poll says so. */
static bool log_put(int priority, const char *source, const char *text)
{
    struct pollfd out = {.fd = STDERR_FILENO, .events = POLLOUT};
    char line[LOG_LINE_MAX + SOURCE_ROOM + 16];
    int length;

    if (isatty(STDERR_FILENO) == 1)
        length = snprintf(line, sizeof line, "%s: %s\n", source, text);
    else
        length = snprintf(line, sizeof line, "<%d>%s: %s\n", priority, source, text);
    if (length >= (int)sizeof line) {
        length = (int)sizeof line - 1;
        line[length - 1] = '\n';
    }
    if (poll(&out, 1, priority == PRIORITY_FATAL ? FATAL_WAIT_MS : 0) != 1 || (out.revents & POLLOUT) == 0)
        return false;
    return write(STDERR_FILENO, line, (size_t)length) == length;
}

static bool source_may_speak(struct log_source *source, int priority, const char *name)
{
    int64_t now_us = realtime_now_us();
    char text[64];

    if (now_us - source->window_us > (int64_t)LOG_WINDOW_S * 1000000 || source->window_us == 0) {
        if (source->held_back > 0) {
            (void)snprintf(text, sizeof text, "%d lines were held back", source->held_back);
            if (log_put(PRIORITY_WARNING, name, text))
                source->held_back = 0;
        }
        source->window_us = now_us;
        source->lines = 0;
    }
    if (priority == PRIORITY_FATAL || source->lines < LOG_BURST) {
        source->lines++;
        return true;
    }
    source->held_back++;
    return false;
}

static void text_clean(char *text)
{
    for (; *text != '\0'; text++)
        if (iscntrl((unsigned char)*text))
            *text = ' ';
}

PRINTF_LIKE(4, 0)
static void log_line(int priority, const char *source, int error, const char *format, va_list args)
{
    char text[LOG_LINE_MAX];
    struct log_source *speaker;
    size_t used;

    (void)vsnprintf(text, sizeof text, format, args);
    used = strlen(text);
    if (error != 0)
        (void)snprintf(text + used, sizeof text - used, ": %s", strerror(error));
    text_clean(text);
    (void)pthread_mutex_lock(&log_lock);
    speaker = source_find(source);
    if (source_may_speak(speaker, priority, source) && !log_put(priority, source, text))
        speaker->held_back++;
    (void)pthread_mutex_unlock(&log_lock);
}

#define LOG_BODY(priority, error)                                                                            \
    va_list args;                                                                                            \
    va_start(args, format);                                                                                  \
    log_line(priority, source, error, format, args);                                                         \
    va_end(args)

void log_info(const char *source, const char *format, ...)
{
    LOG_BODY(PRIORITY_INFO, 0);
}

void log_warnx(const char *source, const char *format, ...)
{
    LOG_BODY(PRIORITY_WARNING, 0);
}

void log_warn(const char *source, const char *format, ...)
{
    int error = errno;

    LOG_BODY(PRIORITY_WARNING, error);
}

void log_fatalx(const char *source, const char *format, ...)
{
    LOG_BODY(PRIORITY_FATAL, 0);
}

void log_fatal(const char *source, const char *format, ...)
{
    int error = errno;

    LOG_BODY(PRIORITY_FATAL, error);
}

void log_fault(const char *source, const struct fault *f)
{
    if (f->where[0] == '\0')
        log_warnx(source, "%s", f->text);
    else
        log_warnx(source, "%s: %s", f->where, f->text);
}
