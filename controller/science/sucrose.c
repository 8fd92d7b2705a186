#include "science/sucrose.h"

#include "science/science_range.h"
#include "science/sucrose_isotherm.h"

#include <stdbool.h>

#define ROUNDING 1e-11  /* of w: how far beyond an end a result may lie by the arithmetic alone */
#define END_SLACK 0.001 /* of w: and by a density within its expected error */

static bool is_solution(double strength_pct, double temp_c)
{
    return is_within(strength_pct, 0, SUCROSE_STRENGTH_MAX_PCT) && is_within(temp_c, 0, SUCROSE_TEMP_MAX_C);
}

enum status sucrose_density_eval(double strength_pct, double temp_c, double *density_kg_m3)
{
    struct isotherm isotherm;

    if (!is_solution(strength_pct, temp_c))
        return ST_RANGE;
    isotherm = isotherm_at(temp_c);
    *density_kg_m3 = isotherm_density(&isotherm, strength_pct / 100);
    return ST_OK;
}

enum status sucrose_concentration_eval(double strength_pct, double temp_c, double *g_l)
{
    double density;
    enum status status = sucrose_density_eval(strength_pct, temp_c, &density);

    if (status == ST_OK)
        *g_l = strength_pct / 100 * density;
    return status;
}

/* ---- back to the strength -------------------------------------------------------------- */

struct wanted {
    struct isotherm isotherm;
    double kg_m3;
};

static struct slope density_beyond(const void *of, double w)
{
    const struct wanted *wanted = of;
    struct slope density = isotherm_slope(&wanted->isotherm, w);

    density.value -= wanted->kg_m3;
    return density;
}

static struct slope concentration_beyond(const void *of, double w)
{
    const struct wanted *wanted = of;
    struct slope density = isotherm_slope(&wanted->isotherm, w);

    return (struct slope){w * density.value - wanted->kg_m3, density.value + w * density.slope};
}

/* The starting polynomials are least squares over the whole range, within 0.015 of w. */
enum status sucrose_strength_from_density_eval(double density_kg_m3, double temp_c, double *strength_pct)
{
    struct wanted wanted = {.kg_m3 = density_kg_m3};
    double above, w;

    if (!is_within(density_kg_m3, 950, 1460) || !is_within(temp_c, 0, SUCROSE_TEMP_MAX_C))
        return ST_RANGE;
    wanted.isotherm = isotherm_at(temp_c);
    above = (density_kg_m3 - wanted.isotherm.c[0]) / 1000;
    if (!newton_find(density_beyond, &wanted,
                     above * (2.608 + 7.35e-4 * (temp_c - 20) + above * (-2.2365 + above * 1.4186)),
                     SUCROSE_FRACTION_MAX, END_SLACK, &w))
        return ST_RANGE;
    *strength_pct = 100 * w;
    return ST_OK;
}

enum status sucrose_strength_from_concentration_eval(double g_l, double temp_c, double *strength_pct)
{
    struct wanted wanted = {.kg_m3 = g_l};
    double kg_l = g_l / 1000;
    double w;

    if (!is_within(g_l, 0, 1240) || !is_within(temp_c, 0, SUCROSE_TEMP_MAX_C))
        return ST_RANGE;
    wanted.isotherm = isotherm_at(temp_c);
    if (!newton_find(concentration_beyond, &wanted,
                     kg_l * (1.0004 + 2.63e-4 * (temp_c - 20) + kg_l * (-0.3503 + kg_l * 0.0801)),
                     SUCROSE_FRACTION_MAX, ROUNDING, &w))
        return ST_RANGE;
    *strength_pct = 100 * w;
    return ST_OK;
}

/* ---- volumes ----------------------------------------------------------------------------- */

enum status sucrose_mix_volume_eval(double sugar_kg, double water_kg, double temp_c, double *volume_l)
{
    double density;
    enum status status;

    if (!is_within(sugar_kg, 0, 1e6) || !is_within(water_kg, 0, 1e6) || water_kg == 0)
        return ST_RANGE;
    status = sucrose_density_eval(100 * sugar_kg / (sugar_kg + water_kg), temp_c, &density);
    if (status == ST_OK)
        *volume_l = (sugar_kg + water_kg) / density * 1000;
    return status;
}

enum status sucrose_parts_eval(double volume_l, double strength_pct, double temp_c, double *sugar_kg,
                               double *water_kg)
{
    double density;

    if (!is_within(volume_l, 0, 1e6) || sucrose_density_eval(strength_pct, temp_c, &density) != ST_OK)
        return ST_RANGE;
    *sugar_kg = volume_l / 1000 * density * strength_pct / 100;
    *water_kg = volume_l / 1000 * density * (1 - strength_pct / 100);
    return ST_OK;
}

enum status sucrose_made_up_eval(double sugar_kg, double volume_l, double temp_c, double *strength_pct,
                                 double *water_kg)
{
    double density, strength;

    if (!is_within(sugar_kg, 0, 1e6) || !is_within(volume_l, 1e-3, 1e6) ||
        sucrose_strength_from_concentration_eval(sugar_kg / volume_l * 1000, temp_c, &strength) != ST_OK ||
        sucrose_density_eval(strength, temp_c, &density) != ST_OK)
        return ST_RANGE;
    *strength_pct = strength;
    *water_kg = volume_l / 1000 * density * (1 - strength / 100);
    return ST_OK;
}

enum status sucrose_litres_per_kg_eval(double strength_pct, double temp_c, double *l_per_kg)
{
    double g_l;

    if (!is_within(strength_pct, 1, SUCROSE_STRENGTH_MAX_PCT) ||
        sucrose_concentration_eval(strength_pct, temp_c, &g_l) != ST_OK)
        return ST_RANGE;
    *l_per_kg = 1000 / g_l;
    return ST_OK;
}
