#include "client/handbook_words.h"

#include <stddef.h>
#include <string.h>

/* By the name of an input or a result; those of one function, or of all that begin so, before those of any.
 * The first that fits counts. */
static const struct {
    const char *function;
    const char *name;
    const char *words;
} MEANINGS[] = {
    {"blend_thin", "from_pct", "strength of the syrup that is there"},
    {"blend_thin", "to_pct", "strength wanted"},
    {"blend_thicken", "from_pct", "strength of the syrup that is there"},
    {"blend_thicken", "to_pct", "strength wanted"},
    {"blend_evaporated", "water_kg", "water that went off as steam"},
    {"blend_parts", "first_kg", "of the first syrup"},
    {"blend_parts", "second_kg", "of the second syrup"},
    {"ratio_", "first", "the number before the colon"},
    {"ratio_", "second", "the number behind the colon"},
    {"decision_agreement", "first", "one measurement"},
    {"decision_agreement", "second", "the other"},
    {"decision_agreement", "first_expanded_u", "its U (k = 2)"},
    {"decision_agreement", "second_expanded_u", "its U (k = 2)"},
    {"decision_agreement", "en", "up to 1 they agree"},
    {"chart_rule", "first", "the oldest of five points, in standard deviations from the centre"},
    {"chart_rule", "second", "the next point"},
    {"chart_rule", "third", "the next point"},
    {"chart_rule", "fourth", "the next point"},
    {"chart_rule", "last", "the newest point"},
    {"uncertainty_standard", "value", "U, half width or standard deviation, as the distribution says"},
    {"uncertainty_ph", "temp_c", "temperature of the water"},
    {"electrode_two_point", "slope", "part of the ideal slope: 0.98 is 98 %"},
    {"electrode_", "slope", "part of the ideal slope: 0.98 is 98 %"},
    {"electrode_", "first_ph", "pH of the first buffer at its temperature"},
    {"electrode_", "second_ph", "pH of the second buffer"},
    {"electrode_", "third_ph", "pH of the third buffer"},
    {"electrode_", "first_emf_mv", "what the probe gives in the first buffer"},
    {"electrode_", "second_emf_mv", "what the probe gives in the second buffer"},
    {"electrode_", "third_emf_mv", "what the probe gives in the third buffer"},
    {"electrode_temperature_error", "temp_c", "true temperature"},
    {"acid_other_temp_ph", "temp_c", "the other temperature"},
    {"skin_burn_time", "temp_c", "of the water or the syrup"},
    {"skin_", "time_s", "how long it lasts"},
    {"skin_damage_time", "time_s", "until the burn"},
    {"skin_film_heat", "temp_c", "of the syrup"},
    {"skin_dose_ramp", "from_c", "of the living skin layer, at the beginning"},
    {"skin_dose_ramp", "to_c", "of the living skin layer, at the end"},
    {"change_", "from_c", "of the syrup, at the beginning"},
    {"change_", "to_c", "of the syrup, at the end"},
    {"inversion_warming", "from_c", "the temperature that is known"},
    {"inversion_warming", "to_c", "the other temperature"},
    {"hmf_against_mark", "hmf_mg_kg", "HMF in the syrup"},
    {"hmf_time", "hmf_mg_kg", "HMF to be reached"},
    {"sucrose_batch_heat", "from_c", "of sugar and water, at the beginning"},
    {"sucrose_batch_heat", "to_c", "of the syrup, at the end"},
    {"sucrose_boiling_margin", "temp_c", "of the syrup"},
    {"", "temp_c", "temperature"},
    {"", "strength_pct", "sugar in percent of the weight"},
    {"", "strength_after_pct", "the same afterwards"},
    {"", "reading_pct", "what the refractometer shows, in percent of the weight"},
    {"", "correction_pct", "what was added to the reading"},
    {"", "sugar_kg", "sugar"},
    {"", "water_kg", "water; by volume too, as in water=300L"},
    {"", "volume_l", "syrup"},
    {"", "syrup_kg", "syrup"},
    {"", "sugar_c", "of the sugar"},
    {"", "water_c", "of the water"},
    {"", "mix_c", "of the mix"},
    {"", "pressure_kpa", "pressure"},
    {"", "altitude_m", "above the sea"},
    {"", "boiling_c", "the temperature at which it boils"},
    {"", "margin_k", "below 0 it would be boiling"},
    {"", "activity", "water activity, 1 for water"},
    {"", "density_kg_m3", "1000 is 1 kg in a litre"},
    {"", "index", "refractive index"},
    {"", "acid_pct", "citric acid in percent of the weight"},
    {"", "invert_pct", "invert sugar in percent of the weight"},
    {"", "sugar_g_per_100g", "grams of sugar to 100 g of water"},
    {"", "concentration_kg_m3", "sugar in a volume of syrup; the same number in g/L"},
    {"", "first_kg", "how much of the first syrup"},
    {"", "second_kg", "how much of the second syrup"},
    {"", "first_pct", "strength of the first syrup"},
    {"", "second_pct", "strength of the second syrup"},
    {"", "total_kg", "how much is wanted"},
    {"", "wanted_pct", "strength wanted"},
    {"", "heel_l", "what is left in the tank"},
    {"", "heel_pct", "its strength"},
    {"", "heel_c", "its temperature"},
    {"", "target_l", "how much there shall be"},
    {"", "target_pct", "its strength"},
    {"", "target_c", "the temperature at which its volume is meant"},
    {"", "bag_kg", "weight of one bag of sugar"},
    {"", "missed", "bags that were missed; negative: too many"},
    {"", "basis", "what the two numbers count"},
    {"", "order", "which number is the sugar; sugar_first where it is left out"},
    {"", "ph", "pH"},
    {"", "target_ph", "pH wanted in the water"},
    {"", "set_ph", "pH that was set"},
    {"", "read_ph", "pH that was read"},
    {"", "water_ph", "pH of the water before the sugar"},
    {"", "set_temp_c", "temperature at which it was set"},
    {"", "shift_ph_per_mol_kg", "shift of the pH for 1 mol of sugar in a kg of water"},
    {"", "alkalinity_meq_kg", "alkalinity of the water, as in alkalinity=250mg/L_CaCO3"},
    {"", "alkalinity_a_meq_kg", "alkalinity of the first water"},
    {"", "alkalinity_b_meq_kg", "alkalinity of the second water"},
    {"", "a_ph", "pH of the first water"},
    {"", "b_ph", "pH of the second water"},
    {"", "share_b_pct", "part of the second water by weight"},
    {"", "acid", "which acid"},
    {"", "other", "the second acid"},
    {"", "other_mol_kg", "dose of the second acid in a kg of water"},
    {"", "acid_mol_kg", "dose in a kg of water"},
    {"", "acid_mg_kg", "the same in mg to 1 kg of water, which is g to 1000 kg"},
    {"", "carbon_mmol_kg", "total inorganic carbon"},
    {"", "co2_kpa", "pressure of carbon dioxide; air has 0.04"},
    {"", "error_pct", "how much the dose was too large; negative: too small"},
    {"", "factor", "how many times it is diluted"},
    {"", "stock_pct", "acid in the bottle in percent of the weight"},
    {"", "charge", "charge of the ion, without its sign"},
    {"", "step", "which proton"},
    {"", "ionic_strength_mol_kg", "ionic strength"},
    {"", "open_ph", "open to the air"},
    {"", "closed_ph", "closed"},
    {"", "emf_mv", "what the probe gives"},
    {"", "offset_mv", "what the probe gives at pH 7"},
    {"", "iso_ph", "pH at which temperature does not matter, usually 7"},
    {"", "calibrated_c", "temperature at the calibration"},
    {"", "assumed_c", "temperature that the meter takes"},
    {"", "iso_error_ph", "how wrong the isopotential pH is"},
    {"", "buffer_u_ph", "standard uncertainty of a buffer"},
    {"", "emf_u_mv", "standard uncertainty of the potential"},
    {"", "junction_u_ph", "standard uncertainty from the junction"},
    {"", "buffer", "by its name or by the pH on the bottle"},
    {"", "acid_mol_l", "hydrochloric acid"},
    {"", "sugar_g_l", "sugar in a litre"},
    {"", "time_h", "how long"},
    {"", "inverted_pct", "part of the sugar that is inverted"},
    {"", "formed_mg_kg", "HMF that is formed"},
    {"", "fructose_pct", "fructose in percent of the weight"},
    {"", "mark", "aim 10, notice 20, limit 40 mg/kg"},
    {"", "shown", "the level shown so far; none at first"},
    {"", "level", "0 none, 1 caution, 2 warning, 3 high, 4 danger, 5 extreme"},
    {"", "degree", "second: blisters; third: through the skin"},
    {"", "grade", "first: red; second: blisters"},
    {"", "person", "whose skin; for old people take child"},
    {"", "surface", "what is touched"},
    {"", "contact", "how long it is touched"},
    {"", "basal_c", "of the living skin layer, 0.08 mm deep"},
    {"", "surface_c", "at which the surface of the skin is held"},
    {"", "film_mm", "how thick the syrup lies on the skin"},
    {"", "distribution", "what is known: U (normal), limits of error, a peak between limits, or readings"},
    {"", "k", "coverage factor that belongs to U, usually 2"},
    {"", "t", "coverage factor"},
    {"", "freedom", "degrees of freedom"},
    {"", "probability_pct", "probability of the interval"},
    {"", "first_u", "first standard uncertainty"},
    {"", "second_u", "second standard uncertainty"},
    {"", "third_u", "third standard uncertainty"},
    {"", "first_freedom", "its degrees of freedom"},
    {"", "second_freedom", "its degrees of freedom"},
    {"", "third_freedom", "its degrees of freedom"},
    {"", "correlation", "of the two, -1 to 1"},
    {"", "instrument_pct", "limit of error of the refractometer"},
    {"", "compensation_pct", "limit of error of its compensation for temperature"},
    {"", "repeatability_pct", "standard deviation of repeated readings or runs"},
    {"", "readings", "how many readings"},
    {"", "runs", "how many trial runs"},
    {"", "temp_u_k", "standard uncertainty of the temperature"},
    {"", "reference_pct", "U (k = 2) of what it was checked with"},
    {"", "buffers_ph", "U (k = 2) of each buffer"},
    {"", "junction_ph", "limit of error from the junction"},
    {"", "drift_ph", "limit of error from drift since the calibration"},
    {"", "temp_error_k", "limit of error of the temperature"},
    {"", "mass_kg", "what the meter counted"},
    {"", "meter_pct", "limit of error of the meter"},
    {"", "pulse_kg", "what one pulse of the meter counts"},
    {"", "density_pct", "limit of error of the density"},
    {"", "mass_u_kg", "standard uncertainty of the mass"},
    {"", "strength_u_pct", "standard uncertainty of the strength"},
    {"", "measured", "the measured value"},
    {"", "target", "the middle of the tolerance"},
    {"", "tolerance", "half width around the target"},
    {"", "expanded_u", "U, the expanded uncertainty (k = 2)"},
    {"", "standard_u", "u, the standard uncertainty (k = 1)"},
    {"", "guard", "guard band in parts of U, usually 1"},
    {"", "mean", "mean of the values"},
    {"", "range_mean", "mean difference of neighbours"},
    {"", "sigma", "standard deviation"},
    {"", "lower", "lower limit"},
    {"", "upper", "upper limit"},
    {"", "sample_size", "how many values make one point"},
    {"", "rule", "which rule"},
    {"", "value", "the number to convert"},
    {"", "from", "its unit"},
    {"", "to", "the unit wanted"},
};

static const struct {
    const char *choice;
    const char *words;
} CHOICE_MEANINGS[] = {
    {"not-judged", "no target, or not finished"},
    {"cannot-say", "the uncertainty is larger than the tolerance"},
    {"conforms", "inside the limits by at least guard times U"},
    {"conforms-conditionally", "inside the limit by less than guard times U"},
    {"does-not-conform-conditionally", "outside the limit by no more than guard times U"},
    {"does-not-conform", "outside the limit by more than guard times U"},
};

struct by_function {
    const char *function;
    const char *words;
};

#define DOSE_REMARK                                                                                          \
    "Citric acid in hard water: begin with three quarters of it, for a pH near 5 with 0.6 of it, and "       \
    "measure "                                                                                               \
    "before adding more. mg/kg is g to 1000 kg of water; a tenth of the number is g to 100 L."

static const struct by_function REMARKS[] = {
    {"acid_for_ph", DOSE_REMARK},
    {"acid_closed_dose", DOSE_REMARK},
    {"skin_burn_time", "Warn with low. Syrup sticks and goes on burning."},
    {"skin_surface_burn", "Warn with low."},
    {NULL, NULL},
};

static const struct by_function BELOW[] = {
    {"skin_burn_time", "a long contact burns below it too"},
    {"skin_damage_time", "hours below it burn too"},
    {"skin_contact_time", "a long contact burns below it too"},
    {"skin_film_heat", "a long contact burns below it too"},
    {NULL, NULL},
};

static bool begins(const char *name, const char *beginning)
{
    return strncmp(name, beginning, strlen(beginning)) == 0;
}

const char *handbook_meaning(const struct handbook_entry *entry, const struct handbook_quantity *quantity)
{
    for (size_t i = 0; i < sizeof MEANINGS / sizeof MEANINGS[0]; i++)
        if (strcmp(MEANINGS[i].name, quantity->name) == 0 && begins(entry->name, MEANINGS[i].function))
            return MEANINGS[i].words;
    return "";
}

const char *handbook_choice_meaning(const char *choice)
{
    for (size_t i = 0; i < sizeof CHOICE_MEANINGS / sizeof CHOICE_MEANINGS[0]; i++)
        if (strcmp(CHOICE_MEANINGS[i].choice, choice) == 0)
            return CHOICE_MEANINGS[i].words;
    return "";
}

bool handbook_left_out(const struct handbook_entry *entry, const struct handbook_quantity *input,
                       double *value)
{
    bool is_guard = strcmp(input->name, "guard") == 0 && handbook_count(entry->inputs) > 1;
    bool is_order = strcmp(input->name, "order") == 0;

    if (is_guard)
        *value = 1;
    if (is_order)
        *value = handbook_choice_find(input, "sugar first");
    return is_guard || is_order;
}

static const char *by_function(const struct by_function *row, const struct handbook_entry *entry)
{
    while (row->function != NULL && strcmp(row->function, entry->name) != 0)
        row++;
    return row->words;
}

const char *handbook_remark(const struct handbook_entry *entry)
{
    return by_function(REMARKS, entry);
}

const char *handbook_below(const struct handbook_entry *entry)
{
    return by_function(BELOW, entry);
}
