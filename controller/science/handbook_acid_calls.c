#include "science/handbook_acid_calls.h"

#include "science/acid.h"
#include "science/acid_solution.h"
#include "science/acid_syrup.h"
#include "science/science_range.h"
#include "science/water.h"

/* A choice comes as a number; what is none becomes -1, which no function takes. */
static int whole(double value)
{
    return is_within(value, 0, 100) && value == (int)value ? (int)value : -1;
}

static enum acid acid_of(double value)
{
    int index = whole(value);

    return index >= 0 && index < ACID_COUNT ? (enum acid)index : ACID_COUNT;
}

/* ---- constants ---------------------------------------------------------------------------- */

enum status acid_row_pkw(const double in[], double out[])
{
    return water_pkw_eval(in[0], &out[0]);
}

enum status acid_row_pk1(const double in[], double out[])
{
    return water_pk1_eval(in[0], &out[0]);
}

enum status acid_row_pk2(const double in[], double out[])
{
    return water_pk2_eval(in[0], &out[0]);
}

enum status acid_row_pkh(const double in[], double out[])
{
    return water_pkh_eval(in[0], &out[0]);
}

enum status acid_row_permittivity(const double in[], double out[])
{
    return water_permittivity_eval(in[0], &out[0]);
}

enum status acid_row_debye_huckel(const double in[], double out[])
{
    return water_debye_huckel_eval(in[0], &out[0]);
}

enum status acid_row_activity_coefficient(const double in[], double out[])
{
    int charge = whole(in[0]);

    return charge < 0 ? ST_RANGE : water_activity_coefficient_eval(charge, in[1], in[2], &out[0]);
}

enum status acid_row_pk(const double in[], double out[])
{
    return acid_pk_eval(acid_of(in[0]), whole(in[1]), in[2], &out[0]);
}

/* ---- facts --------------------------------------------------------------------------------- */

enum status acid_row_molar_mass(const double in[], double out[])
{
    return acid_molar_mass_eval(acid_of(in[0]), &out[0]);
}

enum status acid_row_stock_density(const double in[], double out[])
{
    return acid_stock_density_eval(acid_of(in[0]), in[1], &out[0]);
}

enum status acid_row_stock_content(const double in[], double out[])
{
    return acid_stock_content_eval(acid_of(in[0]), in[1], &out[0], &out[1]);
}

enum status acid_row_solubility(const double in[], double out[])
{
    return acid_solubility_eval(acid_of(in[0]), in[1], &out[0]);
}

/* ---- open to the air, one acid ---------------------------------------------------------------- */

/* mol/kg and, of the same, mg/kg. */
static enum status dose_put(enum acid acid, double mol_kg, double out[])
{
    double g_mol;

    if (acid_molar_mass_eval(acid, &g_mol) != ST_OK)
        return ST_RANGE;
    out[0] = mol_kg;
    out[1] = mol_kg * g_mol * 1000;
    return ST_OK;
}

enum status acid_row_water_ph(const double in[], double out[])
{
    return acid_water_ph_eval(in[0], acid_of(in[1]), in[2], in[3], &out[0]);
}

enum status acid_row_for_ph(const double in[], double out[])
{
    double mol_kg;

    if (acid_for_ph_eval(in[0], acid_of(in[1]), in[2], in[3], &mol_kg) != ST_OK)
        return ST_RANGE;
    return dose_put(acid_of(in[1]), mol_kg, out);
}

enum status acid_row_alkalinity(const double in[], double out[])
{
    return acid_alkalinity_eval(acid_of(in[0]), in[1], in[2], in[3], &out[0]);
}

enum status acid_row_dose_error(const double in[], double out[])
{
    return acid_dose_error_eval(in[0], acid_of(in[1]), in[2], in[3], in[4], &out[0], &out[1]);
}

enum status acid_row_other_temp_ph(const double in[], double out[])
{
    return acid_other_temp_ph_eval(in[0], acid_of(in[1]), in[2], in[3], in[4], &out[0]);
}

enum status acid_row_diluted_ph(const double in[], double out[])
{
    return acid_diluted_ph_eval(in[0], acid_of(in[1]), in[2], in[3], in[4], &out[0], &out[1]);
}

/* ---- solutions ------------------------------------------------------------------------------ */

static enum status acid_put(struct acid_solution *s, double acid, double mol_kg)
{
    enum acid which = acid_of(acid);

    if (which == ACID_COUNT || !is_within(mol_kg, 0, 0.1))
        return ST_RANGE;
    s->acid_mol_kg[which] += mol_kg;
    return ST_OK;
}

enum status acid_row_closed_ph(const double in[], double out[])
{
    struct acid_solution s = {.alkalinity_meq_kg = in[0], .carbon_mmol_kg = in[1], .temp_c = in[4]};

    return acid_put(&s, in[2], in[3]) == ST_OK ? acid_solution_ph_eval(&s, &out[0]) : ST_RANGE;
}

enum status acid_row_open_ph(const double in[], double out[])
{
    struct acid_solution s = {.alkalinity_meq_kg = in[0], .co2_kpa = in[1], .temp_c = in[4], .is_open = true};

    return acid_put(&s, in[2], in[3]) == ST_OK ? acid_solution_ph_eval(&s, &out[0]) : ST_RANGE;
}

enum status acid_row_two_ph(const double in[], double out[])
{
    struct acid_solution s = {
        .alkalinity_meq_kg = in[0], .co2_kpa = ACID_AIR_CO2_KPA, .temp_c = in[5], .is_open = true};

    if (acid_put(&s, in[1], in[2]) != ST_OK || acid_put(&s, in[3], in[4]) != ST_OK)
        return ST_RANGE;
    return acid_solution_ph_eval(&s, &out[0]);
}

enum status acid_row_closed_dose(const double in[], double out[])
{
    struct acid_solution s = {.alkalinity_meq_kg = in[0], .carbon_mmol_kg = in[1], .temp_c = in[4]};
    double mol_kg;

    if (acid_solution_dose_eval(&s, acid_of(in[2]), in[3], &mol_kg) != ST_OK)
        return ST_RANGE;
    return dose_put(acid_of(in[2]), mol_kg, out);
}

enum status acid_row_closed_alkalinity(const double in[], double out[])
{
    struct acid_solution s = {.carbon_mmol_kg = in[0], .temp_c = in[4]};

    return acid_put(&s, in[1], in[2]) == ST_OK ? acid_solution_alkalinity_eval(&s, in[3], &out[0]) : ST_RANGE;
}

enum status acid_row_report_carbon(const double in[], double out[])
{
    return acid_report_carbon_eval(in[0], in[1], in[2], &out[0]);
}

enum status acid_row_open_carbon(const double in[], double out[])
{
    struct acid_solution s = {.alkalinity_meq_kg = in[0], .co2_kpa = in[1], .temp_c = in[2], .is_open = true};

    return acid_solution_carbon_eval(&s, &out[0]);
}

enum status acid_row_buffer(const double in[], double out[])
{
    struct acid_solution s = {.alkalinity_meq_kg = in[0], .carbon_mmol_kg = in[1], .temp_c = in[4]};
    double mol_kg;

    if (acid_put(&s, in[2], in[3]) != ST_OK || acid_solution_buffer_eval(&s, &mol_kg) != ST_OK)
        return ST_RANGE;
    out[0] = 1000 * mol_kg;
    out[1] = 1 / (1000 * mol_kg);
    return ST_OK;
}

enum status acid_row_mix(const double in[], double out[])
{
    struct acid_solution a = {.alkalinity_meq_kg = in[0], .temp_c = in[5]};
    struct acid_solution b = {.alkalinity_meq_kg = in[2], .temp_c = in[5]};
    struct acid_solution mixed;
    double ph;

    if (!is_within(in[4], 0, 100) ||
        acid_report_carbon_eval(in[0], in[1], in[5], &a.carbon_mmol_kg) != ST_OK ||
        acid_report_carbon_eval(in[2], in[3], in[5], &b.carbon_mmol_kg) != ST_OK ||
        acid_solution_mix_eval(&a, 100 - in[4], &b, in[4], &mixed) != ST_OK ||
        acid_solution_ph_eval(&mixed, &ph) != ST_OK)
        return ST_RANGE;
    out[0] = ph;
    out[1] = mixed.alkalinity_meq_kg;
    out[2] = mixed.carbon_mmol_kg;
    return ST_OK;
}

enum status acid_row_syrup_ph(const double in[], double out[])
{
    return acid_syrup_ph_eval(in[0], in[1], in[2], &out[0]);
}

enum status acid_row_syrup_span(const double in[], double out[])
{
    struct span ph;

    if (acid_syrup_span_eval(in[0], in[1], &ph) != ST_OK)
        return ST_RANGE;
    out[0] = ph.low;
    out[1] = ph.best;
    out[2] = ph.high;
    return ST_OK;
}
