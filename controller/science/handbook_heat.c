#include "science/handbook.h"
#include "science/handbook_row.h"
#include "science/sucrose.h"

CALL_1(solubility, sucrose_solubility_eval)
CALL_1(saturation_temp, sucrose_saturation_temp_eval)
CALL_2(supersaturation, sucrose_supersaturation_eval)
CALL_1(per_water, sucrose_per_water_eval)
CALL_1(from_per_water, sucrose_strength_from_per_water_eval)
CALL_2(viscosity, sucrose_viscosity_eval)
CALL_2(heat_capacity, sucrose_heat_capacity_eval)
CALL_1(crystal_heat_capacity, sucrose_crystal_heat_capacity_eval)
CALL_1(dissolving_heat, sucrose_dissolving_heat_eval)
CALL_1(dilution_heat, sucrose_dilution_heat_eval)
CALL_4(batch_heat, sucrose_batch_heat_eval)
CALL_4(mix_temp, sucrose_mix_temp_eval)
CALL_4(water_temp_for_mix, sucrose_water_temp_for_mix)
CALL_1(evaporation_heat, water_evaporation_heat_eval)
CALL_1(air_pressure, air_pressure_eval)
CALL_1(water_vapour_pressure, water_vapour_pressure_eval)
CALL_1(water_boiling_point, water_boiling_point_eval)
CALL_2(boiling_point, sucrose_boiling_point_eval)
CALL_2(boiling_rise, sucrose_boiling_rise_eval)
CALL_2(boiling_point_at_altitude, sucrose_boiling_point_at_altitude_eval)
CALL_3(boiling_margin, sucrose_boiling_margin_eval)
CALL_3(boiling_margin_at_altitude, sucrose_boiling_margin_at_altitude_eval)
CALL_2(strength_for_boiling, sucrose_strength_for_boiling_eval)
CALL_1(water_activity, sucrose_water_activity_eval)
CALL_2(water_activity_at, sucrose_water_activity_at_eval)
CALL_2(strength_for_activity, sucrose_strength_for_activity_eval)
CALL_2(vapour_pressure, sucrose_vapour_pressure_eval)
/* Quantities that several rows share. */
#define STRENGTH "strength_pct", "%", 0, 85, NULL
#define STRENGTH_99 "strength_pct", "%", 0, 99, NULL
#define PER_WATER "sugar_g_per_100g", "", 0, 9900, NULL
#define TEMP_SOLUBLE "temp_c", "degC", -13, 100, NULL
#define TEMP_LIQUID "temp_c", "degC", 0, 105, NULL
#define TEMP_SYRUP "temp_c", "degC", 0, 125, NULL
#define TEMP_WATER "temp_c", "degC", 0, 135, NULL
#define TEMP_0_100(name) name, "degC", 0, 100, NULL
#define SUGAR_KG "sugar_kg", "kg", 0, 1e6, NULL
#define SUGAR_C "sugar_c", "degC", -30, 60, NULL
#define WATER_KG "water_kg", "kg", 1e-9, 1e6, NULL
#define PRESSURE "pressure_kpa", "kPa", 50, 110, NULL
#define ALTITUDE "altitude_m", "m", -500, 5000, NULL
#define BOILING "boiling_c", "degC", 75, 125, NULL
#define MARGIN "margin_k", "K", -50, 125, NULL
#define ACTIVITY "activity", "", 0, 1, NULL
#define BALANCE                                                                                              \
    "Balance over sucrose_heat_capacity and sucrose_dissolving_heat; the heat of dilution is left out"

#define IF97 "IAPWS-IF97 (1997), region 4"
#define STARZAK "Starzak and Peacock (1997), Zuckerindustrie 122"
#define BOILING_SOURCE "Water: " IF97 "; activity: " STARZAK
#define BOILING_ERROR "0.5 K up to 60 %, 1.5 at 70, 2.6 at 80, where sources disagree, about 4 at 85 %"

const struct handbook_entry HANDBOOK_HEAT[] = {
    {"sucrose_solubility",
     "Strength of a saturated sugar solution",
     {{TEMP_SOLUBLE}},
     {{"strength_pct", "%", 63, 83, NULL}},
     "below 0 degC continued, not checked",
     "Vavrinecz in Bubnik and Kadlec, Mathlouthi and Reiser (eds.), Sucrose (1995) pp. 101-125",
     "0.12 % up to 80 degC, 0.5 % at 100; Herzfeld (1892) is up to 0.42 % higher",
     solubility},
    {"sucrose_saturation_temp",
     "Temperature at which a solution is just saturated",
     {{"strength_pct", "%", 63.66, 82.65, NULL}},
     {{"temp_c", "degC", -13, 100, NULL}},
     "",
     "The inverse of sucrose_solubility; weaker solutions freeze before they crystallise",
     "1 K from 10 to 80 degC, 1.5 K near 0, 2.5 K at 100, 3 K below 0",
     saturation_temp},
    {"sucrose_supersaturation",
     "Sugar per water over the same at saturation; above 1 it can crystallise",
     {{STRENGTH}, {TEMP_SOLUBLE}},
     {{"ratio", "", 0, 3.3, NULL}},
     "",
     "Definition, with sucrose_solubility",
     "0.7 % of it up to 80 degC",
     supersaturation},
    {"sucrose_per_water",
     "Grams of sugar to 100 g of water",
     {{STRENGTH_99}},
     {{PER_WATER}},
     "",
     "Definition of % by weight",
     "exact",
     per_water},
    {"sucrose_strength_from_per_water",
     "Strength from grams of sugar to 100 g of water",
     {{PER_WATER}},
     {{STRENGTH_99}},
     "",
     "Definition of % by weight",
     "exact",
     from_per_water},
    {"sucrose_viscosity",
     "Dynamic viscosity of a sugar solution",
     {{STRENGTH}, {TEMP_LIQUID}},
     {{"viscosity_mpa_s", "mPa s", 0.2, 1e8, NULL}},
     "",
     "Water: IAPWS (2008) R12-08; sugar: form of Genotelle (1995), fitted anew to the CRC Handbook (102nd "
     "ed.) at 20 degC, Bingham and Jackson (1919), and above 60 % to Genotelle's values",
     "0.6 % at 20 degC up to 74 %; 1.1 % up to 60 %, but 7 % for 50-60 % below 25 degC; above 60 % 2 %, "
     "below 20 degC 9 %",
     viscosity},
    {"sucrose_heat_capacity",
     "Specific heat of a sugar solution",
     {{STRENGTH}, {TEMP_LIQUID}},
     {{"heat_capacity_j_kg_k", "J/(kg K)", 2000, 4200, NULL}},
     "",
     "Bubnik, Kadlec, Urban and Bruhns, Sugar Technologists Manual (1995)",
     "3 %, water 1 %; other formulas are 5-10 % lower, one for foods 15 % (70 %, 80 degC); beyond 70 % no "
     "source",
     heat_capacity},
    {"sucrose_crystal_heat_capacity",
     "Specific heat of sugar crystals",
     {{"temp_c", "degC", -30, 105, NULL}},
     {{"heat_capacity_j_kg_k", "J/(kg K)", 1000, 1600, NULL}},
     "",
     "Maczelka (1962) in Mohos, Confectionery and Chocolate Engineering (2010) app. 2",
     "5 %",
     crystal_heat_capacity},
    {"sucrose_dissolving_heat",
     "Heat that crystals take up when they dissolve",
     {{TEMP_LIQUID}},
     {{"heat_kj_kg", "kJ/kg", 0, 80, NULL}},
     "",
     "17 kJ/kg in much water at 25 degC (tables 15.8-18), the rest from the heat capacities",
     "3 kJ/kg at 25 degC, 6 at 60, 10 at 100",
     dissolving_heat},
    {"sucrose_dilution_heat",
     "What a kg of sugar takes up beyond its heat of dissolving in a strong solution",
     {{STRENGTH}},
     {{"heat_kj_kg", "kJ/kg", 0, 12, NULL}},
     "",
     "Follows from " STARZAK,
     "2 kJ/kg: calorimetry (Gucker, Pickard and Planck 1939, recalled) is 1.36 times at 2:1, 1.55 at 1:1, "
     "1.65 at 25 %; beyond 67 % no source",
     dilution_heat},
    {"sucrose_batch_heat",
     "Heat from crystals and water to a solution, dissolving counted, losses not",
     {{SUGAR_KG}, {WATER_KG}, {"from_c", "degC", 0, 105, NULL}, {"to_c", "degC", 0, 105, NULL}},
     {{"heat_kj", "kJ", -1e9, 1e9, NULL}},
     "strength 0-85 %",
     BALANCE,
     "3 % of the warming, and 3 kJ per kg of sugar (6 where it ends at 60 degC); the heat of dilution would "
     "add 15 % to the 17 kJ/kg of the dissolving at 1:1, 27 % at 2:1",
     batch_heat},
    {"sucrose_mix_temp",
     "Temperature after sugar has dissolved in water",
     {{SUGAR_KG}, {SUGAR_C}, {WATER_KG}, {TEMP_0_100("water_c")}},
     {{"temp_c", "degC", 0, 105, NULL}},
     "strength 0-85 %; not where the mix would be below 0 degC",
     BALANCE,
     "1.5 K at 1:1, 3 K at 2:1, rather cooler than said: the heat of dilution is 0.4-0.7 K at 1:1, 1.2-1.6 "
     "K at 2:1",
     mix_temp},
    {"sucrose_water_temp_for_mix",
     "Temperature the water needs for the mix to end at a temperature",
     {{SUGAR_KG}, {SUGAR_C}, {WATER_KG}, {TEMP_0_100("mix_c")}},
     {{TEMP_0_100("water_c")}},
     "strength 0-85 %; not where the water would have to be below 0 or above 100 degC",
     "The inverse of sucrose_mix_temp; the heat of dilution is left out",
     "2 K at 1:1, 6 K at 2:1, rather hotter than said",
     water_temp_for_mix},
    {"water_evaporation_heat",
     "Heat that evaporates water",
     {{TEMP_WATER}},
     {{"heat_kj_kg", "kJ/kg", 2100, 2510, NULL}},
     "",
     "IAPWS SR1-86 (1992), after Wagner and Pruss (1993)",
     "0.02 %; from syrup it takes 3-4 % more up to 65 %, 7-10 % beyond",
     evaporation_heat},
    {"air_pressure",
     "Air pressure at an altitude, standard atmosphere",
     {{ALTITUDE}},
     {{"pressure_kpa", "kPa", 50, 110, NULL}},
     "",
     "ISO 2533 (1975)",
     "weather moves the real pressure by 3 %",
     air_pressure},
    {"water_vapour_pressure",
     "Vapour pressure of water",
     {{TEMP_WATER}},
     {{"pressure_kpa", "kPa", 0.6, 320, NULL}},
     "",
     IF97,
     "0.03 %",
     water_vapour_pressure},
    {"water_boiling_point",
     "Boiling point of water",
     {{"pressure_kpa", "kPa", 1, 300, NULL}},
     {{"temp_c", "degC", 6, 134, NULL}},
     "",
     IF97,
     "0.01 K",
     water_boiling_point},
    {"sucrose_boiling_point",
     "Boiling point of a sugar solution",
     {{STRENGTH}, {PRESSURE}},
     {{"temp_c", "degC", 75, 125, NULL}},
     "",
     BOILING_SOURCE,
     BOILING_ERROR,
     boiling_point},
    {"sucrose_boiling_rise",
     "How far a sugar solution boils above water",
     {{STRENGTH}, {PRESSURE}},
     {{"rise_k", "K", 0, 20, NULL}},
     "",
     BOILING_SOURCE,
     BOILING_ERROR,
     boiling_rise},
    {"sucrose_boiling_point_at_altitude",
     "Boiling point of a sugar solution at an altitude",
     {{STRENGTH}, {ALTITUDE}},
     {{"temp_c", "degC", 75, 125, NULL}},
     "",
     BOILING_SOURCE "; air: ISO 2533 (1975)",
     BOILING_ERROR "; weather 1 K",
     boiling_point_at_altitude},
    {"sucrose_boiling_margin",
     "Kelvin still to go to boiling",
     {{STRENGTH}, {PRESSURE}, {TEMP_SYRUP}},
     {{MARGIN}},
     "",
     BOILING_SOURCE,
     BOILING_ERROR,
     boiling_margin},
    {"sucrose_boiling_margin_at_altitude",
     "Kelvin still to go to boiling at an altitude",
     {{STRENGTH}, {ALTITUDE}, {TEMP_SYRUP}},
     {{MARGIN}},
     "",
     BOILING_SOURCE "; air: ISO 2533 (1975)",
     BOILING_ERROR "; weather 1 K",
     boiling_margin_at_altitude},
    {"sucrose_strength_for_boiling",
     "Strength of the solution that boils at a temperature, a rough check",
     {{BOILING}, {PRESSURE}},
     {{STRENGTH}},
     "not where water would boil hotter, or 85 % cooler, by more than 0.05 K; up to that 0 or 85",
     "The inverse of sucrose_boiling_point",
     "0.1 K is 3 % of strength at 30 %, 1 % at 55 %, 0.2 % at 75 %",
     strength_for_boiling},
    {"sucrose_water_activity",
     "Water activity of a sugar solution at 25 degC",
     {{STRENGTH}},
     {{ACTIVITY}},
     "",
     STARZAK,
     "0.001 up to 67 %, 0.005 at 75 %, 0.014 at 80 %, 0.03 at 85 %",
     water_activity},
    {"sucrose_water_activity_at",
     "Water activity of a sugar solution",
     {{STRENGTH}, {TEMP_SYRUP}},
     {{ACTIVITY}},
     "checked at 0 and 25 degC and by boiling points",
     STARZAK,
     "0.001 up to 42 % at 0 degC and up to 67 % at 25; 0.005 at 75 %, 0.014 at 80, 0.03 at 85; 0.01 near "
     "boiling",
     water_activity_at},
    {"sucrose_strength_for_activity",
     "Strength with a water activity",
     {{ACTIVITY}, {TEMP_SYRUP}},
     {{STRENGTH}},
     "not where it would be above 85 %",
     "The inverse of sucrose_water_activity_at",
     "0.5 % up to 75 %, 0.8 % at 80, 1.3 % at 85",
     strength_for_activity},
    {"sucrose_vapour_pressure",
     "Vapour pressure over a sugar solution",
     {{STRENGTH}, {TEMP_SYRUP}},
     {{"pressure_kpa", "kPa", 0.2, 240, NULL}},
     "",
     BOILING_SOURCE,
     "0.1 % up to 67 % and 25 degC, 1 % near boiling; 0.7 % at 75 %, 2 % at 80, 5 % at 85",
     vapour_pressure},
    {0},
};
