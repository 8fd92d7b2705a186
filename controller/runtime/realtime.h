/* realtime.h - the machine's monotonic clock, for timeouts of libraries and lines only.
 *
 * Tank time, which ages and expiries use, comes from clock.h; never mix the two.
 * Thread: any.
 */
#ifndef RUNTIME_REALTIME_H
#define RUNTIME_REALTIME_H

#include <stdint.h>

/* Microseconds since some fixed moment; never goes back. */
int64_t realtime_now_us(void);

/* Sleep until that moment of realtime_now_us; returns at once when it has passed. */
void realtime_sleep_until(int64_t at_us);

#endif
