#include "science/blend.h"

#include "science/science_range.h"
#include "science/sucrose.h"

#include <math.h>
#include <stdbool.h>

#define MASS_MAX_KG 1e6
#define MASS_MIN_KG 1e-6 /* less than this has no strength */

static bool is_mass(double kg)
{
    return is_within(kg, 0, MASS_MAX_KG);
}

static bool is_strength(double pct)
{
    return is_within(pct, 0, 100);
}

enum status blend_thin_eval(double syrup_kg, double from_pct, double to_pct, double *water_kg)
{
    if (!is_mass(syrup_kg) || !is_strength(from_pct) || !is_within(to_pct, 1, 100) || to_pct > from_pct)
        return ST_RANGE;
    *water_kg = syrup_kg * (from_pct - to_pct) / to_pct;
    return ST_OK;
}

enum status blend_thicken_eval(double syrup_kg, double from_pct, double to_pct, double *sugar_kg)
{
    if (!is_mass(syrup_kg) || !is_strength(from_pct) || !is_within(to_pct, 0, 99) || to_pct < from_pct)
        return ST_RANGE;
    *sugar_kg = syrup_kg * (to_pct - from_pct) / (100 - to_pct);
    return ST_OK;
}

enum status blend_two_eval(double first_kg, double first_pct, double second_kg, double second_pct,
                           double *strength_pct)
{
    double share;

    if (!is_mass(first_kg) || !is_mass(second_kg) || !is_strength(first_pct) || !is_strength(second_pct) ||
        first_kg + second_kg < MASS_MIN_KG)
        return ST_RANGE;
    share = second_kg / (first_kg + second_kg);
    /* rounding must not put it outside the two */
    *strength_pct = fmin(fmax((1 - share) * first_pct + share * second_pct, fmin(first_pct, second_pct)),
                         fmax(first_pct, second_pct));
    return ST_OK;
}

enum status blend_parts_eval(double total_kg, double first_pct, double second_pct, double wanted_pct,
                             double *first_kg, double *second_kg)
{
    double share;

    if (!is_mass(total_kg) || !is_strength(first_pct) || !is_strength(second_pct) ||
        !is_strength(wanted_pct) || first_pct == second_pct)
        return ST_RANGE;
    share = (wanted_pct - second_pct) / (first_pct - second_pct);
    if (!is_within(share, 0, 1))
        return ST_RANGE;
    *first_kg = total_kg * share;
    *second_kg = total_kg - *first_kg;
    return ST_OK;
}

/* A heel that is exactly the target leaves a rounding error to add, not a shortage. */
static bool is_left(double *kg, double of_kg)
{
    if (*kg < 0 && *kg > -1e-12 * of_kg)
        *kg = 0;
    return *kg >= 0;
}

enum status blend_heel_eval(const struct blend_heel *heel, double *sugar_kg, double *water_kg)
{
    double heel_sugar, heel_water, sugar, water;

    if (sucrose_parts_eval(heel->heel_l, heel->heel_pct, heel->heel_c, &heel_sugar, &heel_water) != ST_OK ||
        sucrose_parts_eval(heel->target_l, heel->target_pct, heel->target_c, &sugar, &water) != ST_OK)
        return ST_RANGE;
    sugar -= heel_sugar;
    water -= heel_water;
    if (!is_left(&sugar, heel_sugar) || !is_left(&water, heel_water))
        return ST_RANGE;
    *sugar_kg = sugar;
    *water_kg = water;
    return ST_OK;
}

enum status blend_evaporated_eval(double syrup_kg, double strength_pct, double water_kg,
                                  double *strength_pct_after)
{
    double left_kg = syrup_kg - water_kg;
    double sugar_kg = syrup_kg * strength_pct / 100;

    if (!is_mass(syrup_kg) || !is_strength(strength_pct) || !is_mass(water_kg) || left_kg < MASS_MIN_KG ||
        sugar_kg > left_kg)
        return ST_RANGE;
    *strength_pct_after = 100 * (sugar_kg / left_kg);
    return ST_OK;
}

enum status blend_bags_missed_eval(double sugar_kg, double water_kg, double bag_kg, double missed,
                                   double *strength_pct)
{
    double left_kg = sugar_kg - missed * bag_kg;

    if (!is_mass(sugar_kg) || !is_mass(water_kg) || !is_within(bag_kg, 0, 1500) ||
        !is_within(missed, -1000, 1000) || left_kg < 0 || left_kg + water_kg < MASS_MIN_KG)
        return ST_RANGE;
    *strength_pct = 100 * (left_kg / (left_kg + water_kg));
    return ST_OK;
}
