/* science_range.h - whether a number may be used. */
#ifndef SCIENCE_RANGE_H
#define SCIENCE_RANGE_H

#include <stdbool.h>

/* False for everything outside and for what is not a number. */
static inline bool is_within(double value, double min, double max)
{
    return value >= min && value <= max;
}

#endif
