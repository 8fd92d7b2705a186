/* arrhenius.h - the one way this folder carries a rate from one temperature to another. */
#ifndef SCIENCE_ARRHENIUS_H
#define SCIENCE_ARRHENIUS_H

#include <math.h>

#define ARRHENIUS_GAS_J_MOL_K 8.314462618
#define ARRHENIUS_KELVIN 273.15

/* How many times faster at to_c than at from_c, for an activation energy. Both above -273 degC. */
static inline double arrhenius_factor(double j_mol, double from_c, double to_c)
{
    return exp(j_mol / ARRHENIUS_GAS_J_MOL_K *
               (1 / (from_c + ARRHENIUS_KELVIN) - 1 / (to_c + ARRHENIUS_KELVIN)));
}

#endif
