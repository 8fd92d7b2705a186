#include "science/sucrose.h"

#include "science/science_range.h"

#include <math.h>
#include <stddef.h>

#define STRENGTH_MAX_PCT 85.0
#define TEMP_MAX_C 105.0

static double horner(const double *coefficients, size_t count, double x)
{
    double sum = 0;

    for (size_t i = count; i > 0; i--)
        sum = sum * x + coefficients[i - 1];
    return sum;
}

/* ---- density ------------------------------------------------------------------------- */

/* Kell, J. Chem. Eng. Data 20 (1975) 97; kg/m3 at 1 atm. */
static double water_density(double temp_c)
{
    static const double ABOVE[] = {999.83952,     16.952577,    -7.9905127e-3,
                                   -46.241757e-6, 105.84601e-9, -281.03006e-12};

    return horner(ABOVE, 6, temp_c) / (1 + 16.887236e-3 * temp_c);
}

/* Rows: powers of (t - 20)/100; columns: powers of the mass fraction, from the first on. */
static const double DENSITY[5][6] = {
    {385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890},
    {-46.2720, -7.1720, 1.1597, 5.1126, 17.5254, 0},
    {59.7712, 7.2491, 12.3630, -35.4791, 0, 0},
    {-47.2207, -21.6977, 27.6301, 0, 0, 0},
    {18.3184, 12.3081, 0, 0, 0, 0},
};

enum status sucrose_density_eval(double strength_pct, double temp_c, double *density_kg_m3)
{
    double w = strength_pct / 100;
    double rows[5];

    if (!is_within(strength_pct, 0, STRENGTH_MAX_PCT) || !is_within(temp_c, 0, TEMP_MAX_C))
        return ST_RANGE;
    for (size_t i = 0; i < 5; i++)
        rows[i] = w * horner(DENSITY[i], 6, w);
    *density_kg_m3 = water_density(temp_c) + horner(rows, 5, (temp_c - 20) / 100);
    return ST_OK;
}

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

/* ---- solubility ---------------------------------------------------------------------- */

static double solubility(double temp_c)
{
    static const double S[] = {64.447, 0.08222, 1.6169e-3, -1.558e-6, -4.63e-8};

    return horner(S, 5, temp_c);
}

enum status sucrose_solubility_eval(double temp_c, double *strength_pct)
{
    if (!is_within(temp_c, -5, 100))
        return ST_RANGE;
    *strength_pct = solubility(temp_c);
    return ST_OK;
}

enum status sucrose_saturation_temp_eval(double strength_pct, double *temp_c)
{
    double low = 0;
    double high = 100;

    if (!is_within(strength_pct, solubility(low), solubility(high)))
        return ST_RANGE;
    for (int i = 0; i < 50; i++) { /* the polynomial rises all the way */
        double middle = (low + high) / 2;

        if (solubility(middle) < strength_pct)
            low = middle;
        else
            high = middle;
    }
    *temp_c = (low + high) / 2;
    return ST_OK;
}

/* ---- viscosity ----------------------------------------------------------------------- */

enum status sucrose_viscosity_eval(double strength_pct, double temp_c, double *mpa_s)
{
    double a;
    double b;

    if (!is_within(strength_pct, 0, STRENGTH_MAX_PCT) || !is_within(temp_c, 0, 100))
        return ST_RANGE;
    a = strength_pct / (1900 - 18 * strength_pct);
    b = (30 - temp_c) / (91 + temp_c);
    *mpa_s = pow(10, 22.46 * a - 0.114 + b * (1.1 + 43.1 * pow(a, 1.25)));
    return ST_OK;
}

/* ---- heat ---------------------------------------------------------------------------- */

#define KCAL_J 4186.8
#define WATER_J_KG_K 4186.8
#define DISSOLVING_J_KG 17e3 /* taken up by the crystals at BALANCE_C */
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
    *j_kg_k = KCAL_J * (0.2712 + 0.00103 * temp_c);
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
    return heat_between(KCAL_J * 0.2712, KCAL_J * 0.00103, sugar_c) - DISSOLVING_J_KG;
}

static bool is_mixable(double sugar_kg, double sugar_c, double water_kg)
{
    return is_within(sugar_kg, 0, 1e6) && is_within(water_kg, 1e-9, 1e6) && is_within(sugar_c, -30, 60) &&
           100 * sugar_kg <= STRENGTH_MAX_PCT * (sugar_kg + water_kg);
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
    heat = heat_between(solution_j_kg_k(w), solution_j_kg_k2(w), mix_c) - w * crystal_heat(sugar_c);
    needed_c = BALANCE_C + heat / ((1 - w) * WATER_J_KG_K);
    if (!is_within(needed_c, 0, 100))
        return ST_RANGE;
    *water_c = needed_c;
    return ST_OK;
}
