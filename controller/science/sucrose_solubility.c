#include "science/polynomial.h"
#include "science/root.h"
#include "science/science_range.h"
#include "science/sucrose.h"

#include <math.h>

#define SATURATED_MIN_PCT 63.66 /* at -12.8 degC */
#define SATURATED_MAX_PCT 82.65 /* at 100 degC */
#define TEMP_MIN_C (-13.0)
#define TEMP_MAX_C 100.0
#define STRENGTH_MAX_PCT 85.0
#define TOLERANCE_C 1e-10

static double solubility(double temp_c)
{
    static const double S[] = {64.447, 0.08222, 1.6169e-3, -1.558e-6, -4.63e-8};

    return polynomial(S, 5, temp_c);
}

static double per_water(double strength_pct)
{
    return strength_pct / (100 - strength_pct);
}

static double excess(double temp_c, const void *strength_pct)
{
    return solubility(temp_c) - *(const double *)strength_pct;
}

enum status sucrose_solubility_eval(double temp_c, double *strength_pct)
{
    if (!is_within(temp_c, TEMP_MIN_C, TEMP_MAX_C))
        return ST_RANGE;
    *strength_pct = solubility(temp_c);
    return ST_OK;
}

enum status sucrose_saturation_temp_eval(double strength_pct, double *temp_c)
{
    if (!is_within(strength_pct, SATURATED_MIN_PCT, SATURATED_MAX_PCT))
        return ST_RANGE;
    strength_pct = fmin(strength_pct, solubility(TEMP_MAX_C)); /* the same but for its last bit */
    *temp_c = root_find(excess, &strength_pct, TEMP_MIN_C, TEMP_MAX_C, TOLERANCE_C);
    return ST_OK;
}

enum status sucrose_supersaturation_eval(double strength_pct, double temp_c, double *ratio)
{
    if (!is_within(strength_pct, 0, STRENGTH_MAX_PCT) || !is_within(temp_c, TEMP_MIN_C, TEMP_MAX_C))
        return ST_RANGE;
    *ratio = per_water(strength_pct) / per_water(solubility(temp_c));
    return ST_OK;
}

enum status sucrose_per_water_eval(double strength_pct, double *g_per_100g)
{
    if (!is_within(strength_pct, 0, 99))
        return ST_RANGE;
    *g_per_100g = 100 * per_water(strength_pct);
    return ST_OK;
}

enum status sucrose_strength_from_per_water_eval(double g_per_100g, double *strength_pct)
{
    if (!is_within(g_per_100g, 0, 9900))
        return ST_RANGE;
    *strength_pct = 100 * g_per_100g / (100 + g_per_100g);
    return ST_OK;
}
