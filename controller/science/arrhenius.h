/* arrhenius.h - a rate carried from one temperature to another. */
#ifndef SCIENCE_ARRHENIUS_H
#define SCIENCE_ARRHENIUS_H

#include "science/constants.h"

#include <math.h>

/* How many times faster at to_c than at from_c, for an activation energy. Both above -273 degC. */
static inline double arrhenius_factor(double j_mol, double from_c, double to_c)
{
    return exp(j_mol / GAS_J_MOL_K * (1 / (from_c + ZERO_C_K) - 1 / (to_c + ZERO_C_K)));
}

#endif
