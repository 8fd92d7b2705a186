/* service.h - the service manager and the signals that end the program.
 *
 * Does:      tell the service manager ready, status, alive, stopping; turn SIGTERM, SIGINT and
 *            SIGHUP into one call; ignore SIGPIPE.
 * Does not:  decide when the program is healthy: feed the watchdog only after a complete, timely
 *            scan. Without a service manager every notification is a no-op.
 * Thread:    service_signals_start before any other thread is started; the rest any.
 */
#ifndef RUNTIME_SERVICE_H
#define RUNTIME_SERVICE_H

#include "base/status.h"

#include <stdbool.h>
#include <stdint.h>

void service_ready(void);
void service_stopping(void);
void service_watchdog(void);

/* One line that the service manager shows beside the name. */
void service_status(const char *format, ...) PRINTF_LIKE(1, 2);

/* How long the service manager waits for a sign of life, µs; 0 when it does not watch. */
int64_t service_watchdog_us(void);

/* From now on SIGTERM, SIGINT and SIGHUP are taken by a thread of this module, which calls
 * on_stop(context) (an ordinary thread context, so any function may be called) at each of them.
 * Blocks these signals in the calling thread and all threads it starts later. */
enum status service_signals_start(void (*on_stop)(void *context), void *context, struct fault *f) MUST_USE;

/* End the thread; on_stop is not called any more after this returns. Without a start: no-op. */
void service_signals_stop(void);

/* True once one of the signals has arrived. */
bool service_stop_requested(void);

#endif
