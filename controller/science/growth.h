/* growth.h - first-order change at a constant rate, and what forms out of what it makes. */
#ifndef SCIENCE_GROWTH_H
#define SCIENCE_GROWTH_H

#include <math.h>

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

#endif
