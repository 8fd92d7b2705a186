#include "science/constants.h"
#include "science/polynomial.h"
#include "science/science_range.h"
#include "science/sucrose.h"

#include <math.h>

#define STRENGTH_MAX_PCT 85.0
#define TEMP_MAX_C 105.0

/* Liquid water at 0.1 MPa: IAPWS (2008) R12-08 in the short form of Patek and others (2009). */
static double water_mpa_s(double temp_c)
{
    double t = (temp_c + ZERO_C_K) / 300;

    return 1e-3 *
           (280.68 * pow(t, -1.9) + 511.45 * pow(t, -7.7) + 61.131 * pow(t, -19.6) + 0.45903 * pow(t, -40));
}

/* How cold it is, as Genotelle has it; 0 at 30 degC. */
static double coldness(double temp_c)
{
    return (30 - temp_c) / (91 + temp_c);
}

/* Genotelle's variables, with the water taken out of his formula and his two constants replaced by
 * polynomials in the strength, one for each power of the coldness counted from 20 degC. */
enum status sucrose_viscosity_eval(double strength_pct, double temp_c, double *mpa_s)
{
    static const double AT_20_C[] = {21.0451, 6.51855, -2.7017, 0.688862};
    static const double SLOPE[] = {12.3243, -0.191197, 24.7068};
    static const double BEND[] = {-1.97048, 4.24915};
    double w = strength_pct / 100;
    double b = coldness(temp_c) - coldness(20);
    double gain;

    if (!is_within(strength_pct, 0, STRENGTH_MAX_PCT) || !is_within(temp_c, 0, TEMP_MAX_C))
        return ST_RANGE;
    gain = polynomial(AT_20_C, 4, w) + b * (polynomial(SLOPE, 3, w) + b * polynomial(BEND, 2, w));
    *mpa_s = water_mpa_s(temp_c) * pow(10, gain * strength_pct / (1900 - 18 * strength_pct));
    return ST_OK;
}
