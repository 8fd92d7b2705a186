/* growth.h - first-order change at a constant rate, what forms out of what it makes, and times. */
#ifndef SCIENCE_GROWTH_H
#define SCIENCE_GROWTH_H

#include "base/status.h"
#include "science/span.h"

#include <math.h>

#define GROWTH_HOURS_MAX 1e6 /* 114 years */

/* Share changed after an exposure (rate times time), starting from a share. No digits are lost when
 * both are small. */
static inline double growth_share(double share, double exposure)
{
    return share - (1 - share) * expm1(-exposure);
}

/* Mean over the time of 1 - exp(-rate time), for an exposure from 0 on. The closed form loses its
 * digits below 0.5, the series has all of them there after 16 terms. */
static inline double growth_mean(double exposure)
{
    double term = exposure / 2;
    double sum = 0;

    if (exposure > 0.5)
        return 1 + expm1(-exposure) / exposure;
    for (int n = 3; n < 19; n++) {
        sum += term;
        term *= -exposure / n;
    }
    return sum;
}

/* A span of times, h, as far as it means something: one beyond GROWTH_HOURS_MAX is held there, "that or
 * longer", so that the short end is never hidden by the long one. ST_RANGE, and nothing written, only when
 * even the short end is beyond. */
static inline enum status growth_hours(double low, double best, double high, struct span *hours)
{
    if (low > GROWTH_HOURS_MAX)
        return ST_RANGE;
    *hours = (struct span){low, fmin(best, GROWTH_HOURS_MAX), fmin(high, GROWTH_HOURS_MAX)};
    return ST_OK;
}

#endif
