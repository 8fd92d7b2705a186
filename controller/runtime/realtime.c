#include "runtime/realtime.h"

#include <errno.h>
#include <time.h>

int64_t realtime_now_us(void)
{
    struct timespec now;

    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000000 + now.tv_nsec / 1000;
}

void realtime_sleep_until(int64_t at_us)
{
    struct timespec at = {.tv_sec = at_us / 1000000, .tv_nsec = at_us % 1000000 * 1000};

    if (at_us <= 0)
        return;
    while (clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &at, NULL) == EINTR)
        ;
}
