#include "client/handbook_usual.h"

#include <string.h>

/* By the name of an input; those of one function, or of all that begin so, before those of any. The first
 * that fits counts. */
static const struct {
    const char *function;
    const char *input;
    double value;
} USUAL[] = {
    {"blend_thin", "from_pct", 67},
    {"blend_thin", "to_pct", 60},
    {"blend_thicken", "from_pct", 50},
    {"blend_thicken", "to_pct", 60},
    {"blend_evaporated", "water_kg", 10},
    {"sucrose_saturation_temp", "strength_pct", 66.7},
    {"sucrose_supersaturation", "strength_pct", 66.7},
    {"sucrose_supersaturation", "temp_c", 10},
    {"sucrose_strength_from_inline_reading", "temp_c", 25},
    {"sucrose_strength_from_prism_reading", "temp_c", 25},
    {"sucrose_boiling_margin", "temp_c", 80},
    {"sucrose_boiling_margin_at_altitude", "temp_c", 80},
    {"water_boiling_point", "pressure_kpa", 95},
    {"water_evaporation_heat", "temp_c", 100},
    {"change_ramp", "from_c", 60},
    {"change_ramp", "to_c", 20},
    {"skin_dose_ramp", "from_c", 55},
    {"skin_dose_ramp", "to_c", 45},
    {"decision_agreement", "first", 62.4},
    {"decision_agreement", "first_expanded_u", 0.4},
    {"decision_agreement", "second", 62.6},
    {"decision_agreement", "second_expanded_u", 0.2},
    {"skin_", "temp_c", 60},
    {"inversion_", "temp_c", 60},
    {"hmf_", "temp_c", 60},
    {"electrode_two_point", "temp_c", 25},
    {"electrode_", "temp_c", 40},
    {"buffer_", "temp_c", 25},
    {"uncertainty_", "temp_c", 40},
    {"acid_syrup", "strength_pct", 60},
    {"acid_report_carbon", "read_ph", 7.5},
    {"acid_mix", "temp_c", 15},
    {"sucrose_batch_heat", "to_c", 60},
    {"uncertainty_standard", "readings", 5},
    {"chart_limits", "mean", 62.5},
    {"chart_rule", "first", -0.4},
    {"chart_rule", "second", 0.6},
    {"uncertainty_standard", "value", 0.2},
    {"", "temp_c", 20},
    {"", "strength_pct", 62.5},
    {"", "sugar_kg", 500},
    {"", "water_kg", 300},
    {"", "volume_l", 600},
    {"", "from_c", 20},
    {"", "to_c", 60},
    {"", "sugar_c", 20},
    {"", "water_c", 60},
    {"", "mix_c", 40},
    {"", "altitude_m", 300},
    {"", "pressure_kpa", 101.325},
    {"", "boiling_c", 103},
    {"", "activity", 0.85},
    {"", "density_kg_m3", 1301},
    {"", "index", 1.4477},
    {"", "reading_pct", 62.5},
    {"", "acid_pct", 0.3},
    {"", "invert_pct", 10},
    {"", "sugar_g_per_100g", 200},
    {"", "concentration_kg_m3", 813},
    {"", "syrup_kg", 500},
    {"", "first_kg", 100},
    {"", "first_pct", 67},
    {"", "second_kg", 70},
    {"", "second_pct", 50},
    {"", "total_kg", 170},
    {"", "wanted_pct", 60},
    {"", "heel_l", 150},
    {"", "heel_pct", 60},
    {"", "heel_c", 20},
    {"", "target_l", 1000},
    {"", "target_pct", 66},
    {"", "target_c", 20},
    {"", "bag_kg", 25},
    {"", "missed", 1},
    {"", "first", 5},
    {"", "second", 3},
    {"", "value", 10},
    {"", "ph", 4.2},
    {"", "target_ph", 4.2},
    {"", "set_ph", 4.2},
    {"", "read_ph", 4.2},
    {"", "water_ph", 4.2},
    {"", "shift_ph_per_mol_kg", -0.05},
    {"", "set_temp_c", 40},
    {"", "alkalinity_meq_kg", 4},
    {"", "alkalinity_a_meq_kg", 5},
    {"", "alkalinity_b_meq_kg", 1},
    {"", "a_ph", 7.2},
    {"", "b_ph", 7.8},
    {"", "share_b_pct", 30},
    {"", "acid_mol_kg", 0.002},
    {"", "other_mol_kg", 0.001},
    {"", "carbon_mmol_kg", 4.4},
    {"", "co2_kpa", 0.04},
    {"", "error_pct", 10},
    {"", "factor", 10},
    {"", "stock_pct", 50},
    {"", "ionic_strength_mol_kg", 0.01},
    {"", "emf_mv", 150},
    {"", "slope", 0.98},
    {"", "offset_mv", 5},
    {"", "iso_ph", 7},
    {"", "calibrated_c", 25},
    {"", "assumed_c", 25},
    {"", "iso_error_ph", 0.5},
    {"", "first_ph", 7},
    {"", "first_emf_mv", 2},
    {"", "second_ph", 4},
    {"", "second_emf_mv", 175},
    {"", "third_ph", 10},
    {"", "third_emf_mv", -172},
    {"", "buffer_u_ph", 0.01},
    {"", "emf_u_mv", 0.5},
    {"", "junction_u_ph", 0.03},
    {"", "acid_mol_l", 0.001},
    {"", "sugar_g_l", 800},
    {"", "time_h", 24},
    {"", "time_s", 10},
    {"", "inverted_pct", 10},
    {"", "formed_mg_kg", 20},
    {"", "hmf_mg_kg", 20},
    {"", "fructose_pct", 20},
    {"", "basal_c", 55},
    {"", "surface_c", 70},
    {"", "liquid_c", 60},
    {"", "film_w_m2_k", 1000},
    {"", "film_mm", 1},
    {"", "k", 2},
    {"", "t", 2},
    {"", "freedom", 10},
    {"", "probability_pct", 95},
    {"", "first_u", 0.1},
    {"", "first_freedom", 10},
    {"", "second_u", 0.05},
    {"", "second_freedom", 20},
    {"", "third_u", 0.02},
    {"", "third_freedom", 50},
    {"", "correlation", 0.5},
    {"", "instrument_pct", 0.1},
    {"", "compensation_pct", 0.05},
    {"", "repeatability_pct", 0.1},
    {"", "readings", 5},
    {"", "runs", 5},
    {"", "temp_u_k", 0.5},
    {"", "reference_pct", 0.05},
    {"", "buffers_ph", 0.01},
    {"", "junction_ph", 0.03},
    {"", "drift_ph", 0.02},
    {"", "temp_error_k", 1},
    {"", "mass_kg", 800},
    {"", "meter_pct", 0.5},
    {"", "pulse_kg", 0.1},
    {"", "density_pct", 0.1},
    {"", "mass_u_kg", 2},
    {"", "strength_u_pct", 0.2},
    {"", "measured", 62.4},
    {"", "target", 62.5},
    {"", "tolerance", 0.5},
    {"", "expanded_u", 0.2},
    {"", "standard_u", 0.1},
    {"", "guard", 1},
    {"", "mean", 62.4},
    {"", "range_mean", 0.2},
    {"", "sigma", 0.1},
    {"", "lower", 62},
    {"", "upper", 63},
    {"", "third", 1.1},
    {"", "fourth", 2.2},
    {"", "last", 2.4},
};

static const struct {
    const char *function;
    const char *input;
    const char *choice;
} USUAL_CHOICES[] = {
    {"unit_convert", "from", "US gal"},
    {"unit_convert", "to", "L"},
    {"acid_two_ph", "other", "phosphoric"},
    {"", "acid", "citric"},
    {"", "buffer", "phthalate"},
    {"", "charge", "1"},
    {"", "sample_size", "5"},
};

static bool is_meant(const char *function, const char *input, const struct handbook_entry *entry,
                     const struct handbook_quantity *quantity)
{
    return strcmp(input, quantity->name) == 0 && strncmp(function, entry->name, strlen(function)) == 0;
}

static bool choice_find(const struct handbook_entry *entry, const struct handbook_quantity *input,
                        double *value)
{
    for (size_t i = 0; i < sizeof USUAL_CHOICES / sizeof USUAL_CHOICES[0]; i++) {
        int found = handbook_choice_find(input, USUAL_CHOICES[i].choice);

        if (!is_meant(USUAL_CHOICES[i].function, USUAL_CHOICES[i].input, entry, input) || found < 0)
            continue;
        *value = found;
        return true;
    }
    return false;
}

bool handbook_usual(const struct handbook_entry *entry, const struct handbook_quantity *input, double *value)
{
    if (input->choice != NULL)
        return choice_find(entry, input, value);
    for (size_t i = 0; i < sizeof USUAL / sizeof USUAL[0]; i++) {
        double usual = USUAL[i].value;

        if (!is_meant(USUAL[i].function, USUAL[i].input, entry, input) || usual < input->min ||
            usual > input->max)
            continue;
        *value = usual;
        return true;
    }
    return false;
}
