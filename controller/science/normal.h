/* normal.h - the one way this folder asks how much of a normal distribution lies beyond a point. */
#ifndef SCIENCE_NORMAL_H
#define SCIENCE_NORMAL_H

#include <math.h>

/* Share above z standard deviations; exact far out, where 1 minus the rest would be 0. */
static inline double normal_tail(double z)
{
    return erfc(z / sqrt(2)) / 2;
}

#endif
