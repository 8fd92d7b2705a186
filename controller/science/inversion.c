#include "science/inversion.h"

#include "science/arrhenius.h"
#include "science/constants.h"
#include "science/growth.h"
#include "science/science_range.h"
#include "science/sucrose.h"

#include <math.h>

#define TEMP_MIN_C 0.0
#define TEMP_MAX_C 105.0
#define STRENGTH_MAX_PCT 85.0
#define PH_MIN 2.0
#define PH_MAX 8.0
#define SHARE_MAX_PCT 99.9

/* Guggenheim and Wiseman (1950). The two measured effects share the solution with 30 g/L. */
#define ACID_L_MOL_H (6.95e-3 * 60)
#define CHLORIDE_L_MOL 0.28
#define SUGAR_NONE 7.13
#define SUGAR_SLOPE 0.0097
#define SUGAR_G_L 30.0

/* The spread: the correlation against independent values, and the pH scale in syrup. */
#define CORRELATION 0.3
#define PH_SCALE 2.0
#define COMPARED_C 25.0

#define WATER_SHARE (WATER_KG_MOL / SUCROSE_KG_MOL)

enum status inversion_acid_rate_eval(double acid_mol_l, double sugar_g_l, double temp_c, double *per_h)
{
    double sugar = (SUGAR_NONE + SUGAR_SLOPE * sugar_g_l) / (SUGAR_NONE + SUGAR_SLOPE * SUGAR_G_L);

    if (!is_within(acid_mol_l, 1e-8, 0.2) || !is_within(sugar_g_l, 0, 1300) ||
        !is_within(temp_c, TEMP_MIN_C, TEMP_MAX_C))
        return ST_RANGE;
    *per_h = ACID_L_MOL_H * acid_mol_l * pow(10, CHLORIDE_L_MOL * acid_mol_l) * sugar *
             arrhenius_factor(INVERSION_J_MOL, INVERSION_MEASURED_C, temp_c);
    return ST_OK;
}

enum status inversion_vukov_rate_eval(double temp_c, double ph, double strength_pct, double *per_h)
{
    double density;

    if (!is_within(temp_c, TEMP_MIN_C, TEMP_MAX_C) || !is_within(ph, 1, PH_MAX) ||
        !is_within(strength_pct, 0, STRENGTH_MAX_PCT) ||
        sucrose_density_eval(strength_pct, temp_c, &density) != ST_OK)
        return ST_RANGE;
    *per_h = 60 * density / 1000 * (1 - strength_pct / 100) *
             pow(10, 16.91 - 5670 / (temp_c + ZERO_C_K) - ph);
    return ST_OK;
}

static enum status best_rate(double temp_c, double ph, double strength_pct, double *per_h)
{
    double density;

    if (!is_within(ph, PH_MIN, PH_MAX) || !is_within(strength_pct, 0, STRENGTH_MAX_PCT) ||
        sucrose_density_eval(strength_pct, 20, &density) != ST_OK)
        return ST_RANGE;
    /* 10^-8 may come out a rounding error below the limit of the acid */
    return inversion_acid_rate_eval(fmax(pow(10, -ph), 1e-8), strength_pct / 100 * density, temp_c, per_h);
}

/* How far below the best rate the low end lies: the same at every temperature. */
static enum status low_share(double strength_pct, double *share)
{
    double best;
    double vukov;
    enum status status = best_rate(COMPARED_C, PH_MAX, strength_pct, &best);

    if (status == ST_OK)
        status = inversion_vukov_rate_eval(COMPARED_C, PH_MAX, strength_pct, &vukov);
    if (status == ST_OK)
        *share = (1 - CORRELATION) * fmin(1 / PH_SCALE, vukov / best);
    return status;
}

enum status inversion_rate_eval(double temp_c, double ph, double strength_pct, struct span *per_h)
{
    double best;
    double low;
    enum status status = best_rate(temp_c, ph, strength_pct, &best);

    if (status == ST_OK)
        status = low_share(strength_pct, &low);
    if (status == ST_OK)
        *per_h = (struct span){best * low, best, best * PH_SCALE * (1 + CORRELATION)};
    return status;
}

enum status inversion_warming_eval(double from_c, double to_c, struct span *factor)
{
    double one;
    double other;

    if (!is_within(from_c, TEMP_MIN_C, TEMP_MAX_C) || !is_within(to_c, TEMP_MIN_C, TEMP_MAX_C))
        return ST_RANGE;
    one = arrhenius_factor(INVERSION_J_MOL - 2000, from_c, to_c);
    other = arrhenius_factor(INVERSION_J_MOL + 2000, from_c, to_c);
    *factor = (struct span){fmin(one, other), arrhenius_factor(INVERSION_J_MOL, from_c, to_c),
                            fmax(one, other)};
    return ST_OK;
}

enum status inversion_share_eval(double temp_c, double ph, double strength_pct, double hours,
                                 struct span *inverted_pct)
{
    struct span rate;
    enum status status = inversion_rate_eval(temp_c, ph, strength_pct, &rate);

    if (status != ST_OK || !is_within(hours, 0, GROWTH_HOURS_MAX))
        return ST_RANGE;
    *inverted_pct = (struct span){100 * growth_share(0, rate.low * hours),
                                  100 * growth_share(0, rate.best * hours),
                                  100 * growth_share(0, rate.high * hours)};
    return ST_OK;
}

enum status inversion_time_eval(double temp_c, double ph, double strength_pct, double inverted_pct,
                                struct span *hours)
{
    struct span rate;
    double exposure;
    enum status status = inversion_rate_eval(temp_c, ph, strength_pct, &rate);

    if (status != ST_OK || !is_within(inverted_pct, 0, SHARE_MAX_PCT))
        return ST_RANGE;
    exposure = -log1p(-inverted_pct / 100);
    return growth_hours(exposure / rate.high, exposure / rate.best, exposure / rate.low, hours);
}

enum status inversion_masses_eval(double sugar_kg, double water_kg, double inverted_pct,
                                  struct inversion_masses *masses)
{
    double inverted_kg = sugar_kg * (inverted_pct / 100);
    double taken_kg = inverted_kg * WATER_SHARE;

    if (!is_within(sugar_kg, 0, 1e6) || !is_within(water_kg, 0, 1e6) || !is_within(inverted_pct, 0, 100) ||
        taken_kg > water_kg)
        return ST_RANGE;
    *masses = (struct inversion_masses){sugar_kg - inverted_kg, inverted_kg + taken_kg, water_kg - taken_kg};
    return ST_OK;
}
