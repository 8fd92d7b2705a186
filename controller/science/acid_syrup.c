#include "science/acid_syrup.h"

#include "science/constants.h"
#include "science/science_range.h"

enum status acid_syrup_ph_eval(double water_ph, double strength_pct, double shift_ph_per_mol_kg, double *ph)
{
    if (!is_within(water_ph, 0, 14.5) || !is_within(strength_pct, 0, 70) ||
        !is_within(shift_ph_per_mol_kg, -0.5, 0.5))
        return ST_RANGE;
    *ph = water_ph + shift_ph_per_mol_kg * strength_pct / (100 - strength_pct) / SUCROSE_KG_MOL;
    return ST_OK;
}

struct span acid_syrup_shift_prior(void)
{
    return (struct span){.low = -0.14, .best = 0, .high = 0.3};
}

enum status acid_syrup_span_eval(double water_ph, double strength_pct, struct span *ph)
{
    const struct span shift = acid_syrup_shift_prior();
    struct span result;

    if (acid_syrup_ph_eval(water_ph, strength_pct, shift.low, &result.low) != ST_OK ||
        acid_syrup_ph_eval(water_ph, strength_pct, shift.best, &result.best) != ST_OK ||
        acid_syrup_ph_eval(water_ph, strength_pct, shift.high, &result.high) != ST_OK)
        return ST_RANGE;
    *ph = result;
    return ST_OK;
}
