/* sucrose_isotherm.h - the density polynomial at one temperature; for this folder's sucrose files only.
 *
 * At a fixed temperature the density is a polynomial of the mass fraction w alone. Its coefficients
 * are worked out once, so that an inverse costs only the polynomial. Short chains of dependent
 * operations: the density must cost at most 20 ns. No range is checked here. */
#ifndef SCIENCE_SUCROSE_ISOTHERM_H
#define SCIENCE_SUCROSE_ISOTHERM_H

#include "science/newton.h"

#define SUCROSE_STRENGTH_MAX_PCT 85.0
#define SUCROSE_FRACTION_MAX 0.85
#define SUCROSE_TEMP_MAX_C 105.0

struct isotherm {
    double c[7]; /* kg/m3: c[0] of pure water, c[i] of w to the power i */
};

/* Kell, J. Chem. Eng. Data 20 (1975) 97; kg/m3 at 1 atm. */
static inline double water_density(double t)
{
    double t2 = t * t;
    double above = (999.83952 + 16.952577 * t) +
                   t2 * ((-7.9905127e-3 - 46.241757e-6 * t) + t2 * (105.84601e-9 - 281.03006e-12 * t));

    return above / (1 + 16.887236e-3 * t);
}

/* ICUMSA (Rosenbruch) as in Bubnik et al. (1995) p. 164; T = (t - 20)/100. */
static inline struct isotherm isotherm_at(double temp_c)
{
    double t = (temp_c - 20) / 100;
    double t2 = t * t;

    return (struct isotherm){{
        water_density(temp_c),
        (385.1761 - 46.2720 * t) + t2 * ((59.7712 - 47.2207 * t) + t2 * 18.3184),
        (135.3705 - 7.1720 * t) + t2 * ((7.2491 - 21.6977 * t) + t2 * 12.3081),
        (40.9299 + 1.1597 * t) + t2 * (12.3630 + 27.6301 * t),
        (-3.9643 + 5.1126 * t) + t2 * -35.4791,
        13.4853 + 17.5254 * t,
        -17.2890,
    }};
}

static inline double isotherm_density(const struct isotherm *i, double w)
{
    double w2 = w * w;

    return (i->c[0] + i->c[1] * w) +
           w2 * ((i->c[2] + i->c[3] * w) + w2 * ((i->c[4] + i->c[5] * w) + w2 * i->c[6]));
}

/* The density and its slope, kg/m3 for a whole unit of w. */
static inline struct slope isotherm_slope(const struct isotherm *i, double w)
{
    double w2 = w * w;

    return (struct slope){
        isotherm_density(i, w),
        (i->c[1] + 2 * i->c[2] * w) +
            w2 * ((3 * i->c[3] + 4 * i->c[4] * w) + w2 * (5 * i->c[5] + 6 * i->c[6] * w)),
    };
}

#endif
