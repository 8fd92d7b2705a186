#include "science/blend.h"
#include "science/handbook.h"
#include "science/handbook_row.h"
#include "science/sucrose.h"

#define STRENGTH                                                                                             \
    {                                                                                                        \
        "strength_pct", "%", 0, 85, NULL                                                                     \
    }
#define TEMP                                                                                                 \
    {                                                                                                        \
        "temp_c", "degC", 0, 105, NULL                                                                       \
    }
#define MASS(name)                                                                                           \
    {                                                                                                        \
        name, "kg", 0, 1e6, NULL                                                                             \
    }
#define ANY_STRENGTH(name)                                                                                   \
    {                                                                                                        \
        name, "%", 0, 100, NULL                                                                              \
    }
#define BALANCE "balance of mass"
#define EXACT "exact; as good as the masses and strengths put in"
#define AS_DENSITY "as sucrose_density: 0.05 % up to 80 % and 50 degC, 0.1 % beyond"

/* ---- volumes --------------------------------------------------------------------------- */

CALL_3(mix_volume, sucrose_mix_volume_eval)

static enum status parts(const double in[], double out[])
{
    return sucrose_parts_eval(in[0], in[1], in[2], &out[0], &out[1]);
}

static enum status made_up(const double in[], double out[])
{
    return sucrose_made_up_eval(in[0], in[1], in[2], &out[0], &out[1]);
}

CALL_2(concentration, sucrose_concentration_eval)
CALL_2(strength_from_concentration, sucrose_strength_from_concentration_eval)
CALL_2(litres_per_kg, sucrose_litres_per_kg_eval)

/* ---- blends ---------------------------------------------------------------------------- */

CALL_3(thin, blend_thin_eval)
CALL_3(thicken, blend_thicken_eval)
CALL_4(two, blend_two_eval)

static enum status blend_parts(const double in[], double out[])
{
    return blend_parts_eval(in[0], in[1], in[2], in[3], &out[0], &out[1]);
}

static enum status heel(const double in[], double out[])
{
    struct blend_heel heel = {in[0], in[1], in[2], in[3], in[4], in[5]};

    return blend_heel_eval(&heel, &out[0], &out[1]);
}

CALL_3(evaporated, blend_evaporated_eval)
CALL_4(bags_missed, blend_bags_missed_eval)

const struct handbook_entry HANDBOOK_MIX[] = {
    {"sucrose_mix_volume",
     "Volume of sugar dissolved in water",
     {MASS("sugar_kg"), MASS("water_kg"), TEMP},
     {{"volume_l", "L", 0, 2e6, NULL}},
     "water above 0; at most 85 % sugar",
     "mass over sucrose_density",
     AS_DENSITY,
     mix_volume},
    {"sucrose_parts",
     "Sugar and water in a volume of syrup",
     {{"volume_l", "L", 0, 1e6, NULL}, STRENGTH, TEMP},
     {{"sugar_kg", "kg", 0, 1.24e6, NULL}, MASS("water_kg")},
     "",
     "volume times sucrose_density",
     AS_DENSITY,
     parts},
    {"sucrose_made_up",
     "Sugar made up with water to a volume of syrup: its strength and the water it takes",
     {MASS("sugar_kg"), {"volume_l", "L", 1e-3, 1e6, NULL}, TEMP},
     {STRENGTH, MASS("water_kg")},
     "at most 85 % sugar; not asked whether it can dissolve",
     "inverse of the concentration, from sucrose_density",
     AS_DENSITY,
     made_up},
    {"sucrose_concentration",
     "Sugar in a volume of syrup (kg/m3 is g/L)",
     {STRENGTH, TEMP},
     {{"concentration_kg_m3", "kg/m3", 0, 1240, NULL}},
     "",
     "strength times sucrose_density",
     AS_DENSITY,
     concentration},
    {"sucrose_strength_from_concentration",
     "Strength of a syrup from the sugar in a volume of it (kg/m3 is g/L)",
     {{"concentration_kg_m3", "kg/m3", 0, 1240, NULL}, TEMP},
     {STRENGTH},
     "the strength is within 0-85 %",
     "inverse of sucrose_concentration",
     AS_DENSITY,
     strength_from_concentration},
    {"sucrose_litres_per_kg",
     "Syrup from 1 kg of sugar",
     {{"strength_pct", "%", 1, 85, NULL}, TEMP},
     {{"volume_l", "L", 0.8, 105, NULL}},
     "",
     "inverse of sucrose_concentration",
     AS_DENSITY,
     litres_per_kg},
    {"blend_thin",
     "Water to thin a syrup",
     {MASS("syrup_kg"), ANY_STRENGTH("from_pct"), {"to_pct", "%", 1, 100, NULL}},
     {{"water_kg", "kg", 0, 99e6, NULL}},
     "to_pct must not be above from_pct; to thicken use blend_thicken",
     BALANCE,
     EXACT,
     thin},
    {"blend_thicken",
     "Sugar to thicken a syrup",
     {MASS("syrup_kg"), ANY_STRENGTH("from_pct"), {"to_pct", "%", 0, 99, NULL}},
     {{"sugar_kg", "kg", 0, 99e6, NULL}},
     "to_pct must not be below from_pct; to thin use blend_thin",
     BALANCE,
     EXACT,
     thicken},
    {"blend_two",
     "Strength of two syrups together",
     {MASS("first_kg"), ANY_STRENGTH("first_pct"), MASS("second_kg"), ANY_STRENGTH("second_pct")},
     {ANY_STRENGTH("strength_pct")},
     "together at least 1e-6 kg",
     BALANCE,
     EXACT,
     two},
    {"blend_parts",
     "How much of each of two syrups makes a wanted strength (Pearson square)",
     {MASS("total_kg"), ANY_STRENGTH("first_pct"), ANY_STRENGTH("second_pct"), ANY_STRENGTH("wanted_pct")},
     {MASS("first_kg"), MASS("second_kg")},
     "wanted is between the two, and they differ",
     BALANCE,
     EXACT,
     blend_parts},
    {"blend_heel",
     "Sugar and water to add to what is left in the tank",
     {{"heel_l", "L", 0, 1e6, NULL},
      {"heel_pct", "%", 0, 85, NULL},
      {"heel_c", "degC", 0, 105, NULL},
      {"target_l", "L", 0, 1e6, NULL},
      {"target_pct", "%", 0, 85, NULL},
      {"target_c", "degC", 0, 105, NULL}},
     {{"sugar_kg", "kg", 0, 1.24e6, NULL}, MASS("water_kg")},
     "the heel alone holds no more sugar and no more water than the target",
     BALANCE " over sucrose_density",
     AS_DENSITY,
     heel},
    {"blend_evaporated",
     "Strength after water has evaporated",
     {MASS("syrup_kg"), ANY_STRENGTH("strength_pct"), MASS("water_kg")},
     {ANY_STRENGTH("strength_after_pct")},
     "no more water than there was; at least 1e-6 kg is left",
     BALANCE,
     EXACT,
     evaporated},
    {"blend_bags_missed",
     "Strength when bags of sugar were missed, or with a negative number too many",
     {MASS("sugar_kg"), MASS("water_kg"), {"bag_kg", "kg", 0, 1500, NULL}, {"missed", "", -1000, 1000, NULL}},
     {ANY_STRENGTH("strength_pct")},
     "no more bags missed than there were; at least 1e-6 kg is left",
     BALANCE,
     EXACT,
     bags_missed},
    {0},
};
