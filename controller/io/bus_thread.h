/* bus_thread.h - one thread that owns one bus: at each beat of the clock, one pass of its driver.
 *
 * Does:      post readings to the exchange, take outputs from it, log what the driver says.
 * Does not:  decide anything; be waited for by the control thread (in real time).
 * Thread:    start and stop from the thread that owns the clock; the rest any.
 */
#ifndef IO_BUS_THREAD_H
#define IO_BUS_THREAD_H

#include "drivers/driver.h"
#include "io/exchange.h"
#include "runtime/clock.h"

struct bus_thread;

/* Open the driver of the bus's kind and start its thread as this party of the clock. settings are
 * copied; exchange and clock must outlive the thread. On failure *thread is NULL, *f says why. */
enum status bus_thread_start(const struct bus_settings *settings, struct exchange *exchange,
                             struct clock *clock, int party, struct bus_thread **thread,
                             struct fault *f) MUST_USE;

/* The same with a given driver. */
enum status bus_thread_start_driver(const struct driver *driver, const struct bus_settings *settings,
                                    struct exchange *exchange, struct clock *clock, int party,
                                    struct bus_thread **thread, struct fault *f) MUST_USE;

/* clock_stop must have been called. Waits for the pass under way, then closes the driver, which
 * writes every output off, and frees. Accepts NULL. */
void bus_thread_stop(struct bus_thread *thread);

/* Tank time at which the last finished pass began, µs; -1 before the first. A value that does
 * not move on means a thread that hangs: do not feed the watchdog. */
int64_t bus_thread_last_pass_us(const struct bus_thread *thread);

#endif
