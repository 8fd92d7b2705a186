#include "science/acid.h"

#include "science/acid_solution.h"
#include "science/science_range.h"

#include <math.h>
#include <stdbool.h>

#define ACID_MAX_MOL_KG 0.1
#define WATER_ALKALINITY_MAX 20.0

static bool is_dose(enum acid acid, double acid_mol_kg)
{
    return (unsigned)acid < ACID_COUNT && is_within(acid_mol_kg, 0, acid == ACID_NONE ? 0 : ACID_MAX_MOL_KG);
}

/* In equilibrium with air; acid and dose have been looked at. */
static struct acid_solution water_with(double alkalinity_meq_kg, enum acid acid, double acid_mol_kg,
                                       double temp_c)
{
    struct acid_solution s = {.alkalinity_meq_kg = alkalinity_meq_kg,
                              .co2_kpa = ACID_AIR_CO2_KPA,
                              .temp_c = temp_c,
                              .is_open = true};

    s.acid_mol_kg[acid] = acid_mol_kg;
    return s;
}

enum status acid_water_ph_eval(double alkalinity_meq_kg, enum acid acid, double acid_mol_kg, double temp_c,
                               double *ph)
{
    struct acid_solution water;

    if (!is_within(alkalinity_meq_kg, 0, 100) || !is_dose(acid, acid_mol_kg))
        return ST_RANGE;
    water = water_with(alkalinity_meq_kg, acid, acid_mol_kg, temp_c);
    return acid_solution_ph_eval(&water, ph);
}

enum status acid_for_ph_eval(double alkalinity_meq_kg, enum acid acid, double target_ph, double temp_c,
                             double *acid_mol_kg)
{
    struct acid_solution water = water_with(alkalinity_meq_kg, ACID_NONE, 0, temp_c);

    if (!is_within(target_ph, 3, 7) || !is_within(alkalinity_meq_kg, 0, WATER_ALKALINITY_MAX))
        return ST_RANGE;
    return acid_solution_dose_eval(&water, acid, target_ph, acid_mol_kg);
}

enum status acid_alkalinity_eval(enum acid acid, double acid_mol_kg, double ph, double temp_c,
                                 double *alkalinity_meq_kg)
{
    const double slack = 1e-6; /* so that rounding at the ends does not refuse a true inverse */
    struct acid_solution water;
    double meq;

    if (!is_dose(acid, acid_mol_kg) || !is_within(ph, 2, 9))
        return ST_RANGE;
    water = water_with(0, acid, acid_mol_kg, temp_c);
    if (acid_solution_alkalinity_eval(&water, ph, &meq) != ST_OK ||
        !is_within(meq, -slack, WATER_ALKALINITY_MAX + slack))
        return ST_RANGE;
    *alkalinity_meq_kg = fmin(fmax(meq, 0), WATER_ALKALINITY_MAX);
    return ST_OK;
}

/* ---- what if ----------------------------------------------------------------------------- */

/* Open water set to set_ph with this acid; none where the water is as acid by itself. */
static enum status water_set(struct acid_solution *water, double alkalinity_meq_kg, enum acid acid,
                             double set_ph, double temp_c)
{
    double dose;

    if (acid_for_ph_eval(alkalinity_meq_kg, acid, set_ph, temp_c, &dose) != ST_OK || dose == 0)
        return ST_RANGE;
    *water = water_with(alkalinity_meq_kg, acid, dose, temp_c);
    return ST_OK;
}

enum status acid_dose_error_eval(double alkalinity_meq_kg, enum acid acid, double target_ph, double error_pct,
                                 double temp_c, double *open_ph, double *closed_ph)
{
    struct acid_solution water, raw;
    double open, closed;

    if (!is_within(error_pct, -100, 100) ||
        water_set(&water, alkalinity_meq_kg, acid, target_ph, temp_c) != ST_OK)
        return ST_RANGE;
    raw = water_with(alkalinity_meq_kg, ACID_NONE, 0, temp_c);
    water.acid_mol_kg[acid] *= 1 + error_pct / 100;
    if (acid_solution_ph_eval(&water, &open) != ST_OK ||
        acid_solution_carbon_eval(&raw, &water.carbon_mmol_kg) != ST_OK)
        return ST_RANGE;
    water.is_open = false;
    if (acid_solution_ph_eval(&water, &closed) != ST_OK)
        return ST_RANGE;
    *open_ph = open;
    *closed_ph = closed;
    return ST_OK;
}

enum status acid_other_temp_ph_eval(double alkalinity_meq_kg, enum acid acid, double set_ph,
                                    double set_temp_c, double temp_c, double *ph)
{
    struct acid_solution water;

    if (water_set(&water, alkalinity_meq_kg, acid, set_ph, set_temp_c) != ST_OK)
        return ST_RANGE;
    water.temp_c = temp_c;
    return acid_solution_ph_eval(&water, ph);
}

enum status acid_diluted_ph_eval(double alkalinity_meq_kg, enum acid acid, double set_ph, double factor,
                                 double temp_c, double *open_ph, double *closed_ph)
{
    struct acid_solution water, diluted;
    double open, closed;

    if (water_set(&water, alkalinity_meq_kg, acid, set_ph, temp_c) != ST_OK ||
        acid_solution_dilute_eval(&water, factor, &diluted) != ST_OK ||
        acid_solution_ph_eval(&diluted, &open) != ST_OK ||
        acid_solution_carbon_eval(&water, &water.carbon_mmol_kg) != ST_OK)
        return ST_RANGE;
    water.is_open = false;
    if (acid_solution_dilute_eval(&water, factor, &diluted) != ST_OK ||
        acid_solution_ph_eval(&diluted, &closed) != ST_OK)
        return ST_RANGE;
    *open_ph = open;
    *closed_ph = closed;
    return ST_OK;
}
