/* log.h - lines for the person who runs the machine, to standard error.
 *
 * Does:      one line a call; under a service manager with its "<priority>" prefix; holds back a
 *            source that floods (more than LOG_BURST lines in LOG_WINDOW_S) and says how many
 *            lines were held back.
 *            Never waits for a reader that does not read: such lines are lost and counted too.
 * Does not:  exit, open files, or replace the journal of a batch. Log changes, not states.
 * Thread:    any.   Memory: fixed.
 */
#ifndef RUNTIME_LOG_H
#define RUNTIME_LOG_H

#include "base/status.h"

#include <stdint.h>

#define LOG_BURST 20
#define LOG_WINDOW_S 10
#define LOG_LINE_MAX 512 /* longer lines are cut */

/* source: who speaks, a short word ("clock", the name of a bus). Control characters in a line
 * become spaces, so no text from outside can forge a line. */
void log_info(const char *source, const char *format, ...) PRINTF_LIKE(2, 3);
void log_warnx(const char *source, const char *format, ...) PRINTF_LIKE(2, 3);

/* Like log_warnx, with the text of errno behind it. */
void log_warn(const char *source, const char *format, ...) PRINTF_LIKE(2, 3);

/* The program is about to end for this reason; the caller ends it. Never held back. */
void log_fatalx(const char *source, const char *format, ...) PRINTF_LIKE(2, 3);
void log_fatal(const char *source, const char *format, ...) PRINTF_LIKE(2, 3); /* with errno */

/* A fault as a warning: "where: text". */
void log_fault(const char *source, const struct fault *f);

#endif
