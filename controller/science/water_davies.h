/* water_davies.h - the Davies equation once, for water.c and the charge balance. Of this folder only. */
#ifndef SCIENCE_WATER_DAVIES_H
#define SCIENCE_WATER_DAVIES_H

#include "science/constants.h"

#include <math.h>

#define DAVIES_LIMIT_MOL_KG 0.5 /* the end of the equation; more is treated as this */

/* -ln of the coefficient of a single charge, from A ln10; of a charge z it is z^2 times as much. */
static inline double davies_ln(double a_ln10, double ionic_strength)
{
    double limited = fmin(ionic_strength, DAVIES_LIMIT_MOL_KG);
    double root = sqrt(limited);

    return a_ln10 * (root / (1 + root) - 0.3 * limited);
}

/* Its derivative by the ionic strength, which must be above 0. */
static inline double davies_slope(double a_ln10, double ionic_strength)
{
    double root = sqrt(ionic_strength);

    if (ionic_strength >= DAVIES_LIMIT_MOL_KG)
        return 0;
    return a_ln10 * (1 / (2 * root * (1 + root) * (1 + root)) - 0.3);
}

#endif
