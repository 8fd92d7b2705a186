/* sucrose_activity.h - Starzak and Peacock (1997), Zuckerindustrie 122: what sugar does to water.
 *
 * ln gamma = Q/RT x^2 (1 + a x + b x^2), x the mole fraction of sugar. The same Q is a heat: that of
 * diluting the solution with water. */
#ifndef SCIENCE_SUCROSE_ACTIVITY_H
#define SCIENCE_SUCROSE_ACTIVITY_H

#include "science/constants.h"

#define STARZAK_Q_J_MOL (-17638.0)
#define STARZAK_A (-1.0038)
#define STARZAK_B (-0.24653)

static inline double sucrose_mole_fraction(double strength_pct)
{
    double sugar_mol = strength_pct / SUCROSE_KG_MOL;
    double water_mol = (100 - strength_pct) / WATER_KG_MOL;

    return sugar_mol / (sugar_mol + water_mol);
}

#endif
