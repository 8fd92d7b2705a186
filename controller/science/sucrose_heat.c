#include "science/science_range.h"
#include "science/sucrose.h"
#include "science/sucrose_activity.h"

#include <math.h>

#define STRENGTH_MAX_PCT 85.0
#define TEMP_MAX_C 105.0

#define KCAL_J 4186.8
#define WATER_J_KG_K 4186.8
#define CRYSTAL_J_KG_K (KCAL_J * 0.2712)
#define CRYSTAL_J_KG_K2 (KCAL_J * 0.00103)
#define MASS_MAX_KG 1e6
#define WATER_MIN_KG 1e-9
#define DISSOLVING_J_KG 17e3 /* taken up by the crystals at BALANCE_C in much water */
#define BALANCE_C 25.0

/* Solution: slope and offset of the heat capacity over temperature. */
static double solution_j_kg_k(double w)
{
    return WATER_J_KG_K - 2510 * w;
}
static double solution_j_kg_k2(double w)
{
    return 7.5 * w;
}

enum status sucrose_heat_capacity_eval(double strength_pct, double temp_c, double *j_kg_k)
{
    double w = strength_pct / 100;

    if (!is_within(strength_pct, 0, STRENGTH_MAX_PCT) || !is_within(temp_c, 0, TEMP_MAX_C))
        return ST_RANGE;
    *j_kg_k = solution_j_kg_k(w) + solution_j_kg_k2(w) * temp_c;
    return ST_OK;
}

enum status sucrose_crystal_heat_capacity_eval(double temp_c, double *j_kg_k)
{
    if (!is_within(temp_c, -30, TEMP_MAX_C))
        return ST_RANGE;
    *j_kg_k = CRYSTAL_J_KG_K + CRYSTAL_J_KG_K2 * temp_c;
    return ST_OK;
}

/* Heat of a capacity a + b t between BALANCE_C and t, J/kg. */
static double heat_between(double a, double b, double temp_c)
{
    return a * (temp_c - BALANCE_C) + b / 2 * (temp_c * temp_c - BALANCE_C * BALANCE_C);
}

/* What the crystals bring into the mix, the dissolving taken off, J/kg. */
static double crystal_heat(double sugar_c)
{
    return heat_between(CRYSTAL_J_KG_K, CRYSTAL_J_KG_K2, sugar_c) - DISSOLVING_J_KG;
}

/* What the solution holds, J/kg. */
static double solution_heat(double w, double temp_c)
{
    return heat_between(solution_j_kg_k(w), solution_j_kg_k2(w), temp_c);
}

static bool is_mass(double sugar_kg, double water_kg)
{
    return is_within(sugar_kg, 0, MASS_MAX_KG) && is_within(water_kg, WATER_MIN_KG, MASS_MAX_KG) &&
           100 * sugar_kg <= STRENGTH_MAX_PCT * (sugar_kg + water_kg);
}

static bool is_mixable(double sugar_kg, double sugar_c, double water_kg)
{
    return is_mass(sugar_kg, water_kg) && is_within(sugar_c, -30, 60);
}

enum status sucrose_dissolving_heat_eval(double temp_c, double *kj_kg)
{
    if (!is_within(temp_c, 0, TEMP_MAX_C))
        return ST_RANGE;
    /* w = 1 leaves of the solution's heat what the dissolved sugar holds: its part is the same at any w */
    *kj_kg = (solution_heat(1, temp_c) - crystal_heat(temp_c)) / 1000;
    return ST_OK;
}

/* From Starzak's Q x^2 (1 + a x + b x^2) for a mole of water, by the Gibbs-Duhem relation. */
enum status sucrose_dilution_heat_eval(double strength_pct, double *kj_kg)
{
    double x = sucrose_mole_fraction(strength_pct);

    if (!is_within(strength_pct, 0, STRENGTH_MAX_PCT))
        return ST_RANGE;
    *kj_kg = -STARZAK_Q_J_MOL / SUCROSE_KG_MOL / 1000 * x * (1 + x * (STARZAK_A / 2 + x * STARZAK_B / 3));
    return ST_OK;
}

enum status sucrose_batch_heat_eval(double sugar_kg, double water_kg, double from_c, double to_c, double *kj)
{
    double total_kg = sugar_kg + water_kg;
    double w = sugar_kg / total_kg;

    if (!is_mass(sugar_kg, water_kg) || !is_within(from_c, 0, TEMP_MAX_C) || !is_within(to_c, 0, TEMP_MAX_C))
        return ST_RANGE;
    *kj = (total_kg * solution_heat(w, to_c) - sugar_kg * crystal_heat(from_c) -
           water_kg * WATER_J_KG_K * (from_c - BALANCE_C)) /
          1000;
    return ST_OK;
}

enum status sucrose_mix_temp_eval(double sugar_kg, double sugar_c, double water_kg, double water_c,
                                  double *temp_c)
{
    double w;
    double a;
    double b;
    double heat;
    double mix_c;

    if (!is_mixable(sugar_kg, sugar_c, water_kg) || !is_within(water_c, 0, 100))
        return ST_RANGE;
    w = sugar_kg / (sugar_kg + water_kg);
    a = solution_j_kg_k(w);
    b = solution_j_kg_k2(w);
    heat = w * crystal_heat(sugar_c) + (1 - w) * WATER_J_KG_K * (water_c - BALANCE_C);
    /* heat = heat_between(a, b, t), solved for t; this form also holds for b = 0 */
    heat += a * BALANCE_C + b / 2 * BALANCE_C * BALANCE_C;
    mix_c = 2 * heat / (a + sqrt(a * a + 2 * b * heat));
    if (!is_within(mix_c, 0, TEMP_MAX_C))
        return ST_RANGE;
    *temp_c = mix_c;
    return ST_OK;
}

enum status sucrose_water_temp_for_mix(double sugar_kg, double sugar_c, double water_kg, double mix_c,
                                       double *water_c)
{
    double w;
    double heat;
    double needed_c;

    if (!is_mixable(sugar_kg, sugar_c, water_kg) || !is_within(mix_c, 0, 100))
        return ST_RANGE;
    w = sugar_kg / (sugar_kg + water_kg);
    heat = solution_heat(w, mix_c) - w * crystal_heat(sugar_c);
    needed_c = BALANCE_C + heat / ((1 - w) * WATER_J_KG_K);
    if (!is_within(needed_c, 0, 100))
        return ST_RANGE;
    *water_c = needed_c;
    return ST_OK;
}
