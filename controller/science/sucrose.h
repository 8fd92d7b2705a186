/* sucrose.h - what sugar and water do: density, solubility, heat, boiling, volume.
 *
 * Does:      published formulas for aqueous sucrose, as pure functions.
 * Does not:  know tanks, allocate, or keep state. Any thread.
 * Strength is % by weight of dissolved sucrose, temperature degC. A function returns ST_OK and
 * writes its result, or ST_RANGE (any argument outside its range or not finite) and writes
 * nothing: out of range is never answered by a number.
 * "Expected error" is against published tables; tests/published holds the comparisons.
 */
#ifndef SCIENCE_SUCROSE_H
#define SCIENCE_SUCROSE_H

#include "base/status.h"

/* Density of the solution, kg/m3. 0-85 %, 0-105 degC.
 * Source: ICUMSA polynomial (Rosenbruch) as in Bubnik, Kadlec, Urban, Bruhns, Sugar
 * Technologists Manual (1995) p. 164; water after Kell (1975).
 * Two families of tables are in use. The older one (Plato; NBS circulars, CRC Handbook) agrees
 * within 0.06 kg/m3 up to 42 % and lies below this one from there on: 0.15 kg/m3 at 50 %, 0.2 at
 * 60, 0.3 at 70, 0.5 at 80, 0.8 at 84 % (0.03-0.12 % of strength). The ICUMSA family is used because it is
 * the sugar trade's later measurement and covers temperature; the older one is for 20 degC. Expected error
 * 0.1 kg/m3 up to 42 %, 0.5 up to 80 %, 0.8 up to 85 % at 0-50 degC; about 1 kg/m3 above 50 degC, where no
 * independent table was found. Not for invert sugar, honey or starch syrup. */
enum status sucrose_density_eval(double strength_pct, double temp_c, double *density_kg_m3) MUST_USE;

/* The inverse: strength from a density, %; within 1e-9 kg/m3. The density rises with the strength at
 * every temperature, so there is one answer. A density beyond that of water or of 85 % by no more than 0.1 %
 * of strength (0.4 and 0.7 kg/m3), within the expected error, is answered by 0 or 85; ST_RANGE beyond that.
 * Expected error 0.1 % up to 50 degC, 0.2 above; 1 kg/m3 wrong is 0.14-0.27 %; 1 degC wrong is at most
 * 0.08 % at 0 degC, 0.05-0.08 at 20, 0.09-0.14 at 60, 0.08-0.2 at 105. */
enum status sucrose_strength_from_density_eval(double density_kg_m3, double temp_c,
                                               double *strength_pct) MUST_USE;

/* Sugar in a litre of syrup at temp_c, g/L, and its inverse within 1e-9 g/L. Range and expected error
 * as the density. "Made up to a litre", not "in a litre of water". */
enum status sucrose_concentration_eval(double strength_pct, double temp_c, double *g_l) MUST_USE;
enum status sucrose_strength_from_concentration_eval(double g_l, double temp_c,
                                                     double *strength_pct) MUST_USE;

/* Strength of the solution saturated at temp_c, %. -13-100 degC.
 * Source: Vavrinecz data, polynomial of Bubnik and Kadlec in Mathlouthi and Reiser (eds.), Sucrose
 * (1995) pp. 101-125. Chosen because a table in use in sugar works (0.12 % at most up to 80 degC, 0.24 at
 * 100) and the measurements of Charles (1960, recalled; 0.12 % up to 80 degC, 0.53 at 100) bear it out, and
 * its range is that of the ICUMSA standard SPS-2 (1998). Herzfeld (1892), still in most handbooks, lies
 * up to 0.42 % higher between 10 and 45 degC, and 0.32 lower at 80, where those two
 * agree with each other.
 * Expected error 0.12 % up to 80 degC, 0.5 % at 100. Below 0 degC it is continued: the only check
 * is that it comes to the eutectic (about -14 degC) at 63.6 %, given as 62.4-64 %. */
enum status sucrose_solubility_eval(double temp_c, double *strength_pct) MUST_USE;

/* Temperature at which this strength is just saturated, degC: the inverse of the above within 1e-9, for
 * strengths of 63.66-82.65 %, saturated at -12.8 to 100 degC. A weaker solution freezes before it
 * crystallises and is ST_RANGE. Expected error 1 K from 10 to 80 degC, 1.5 near 0, 2.5 at 100, 3 below 0:
 * 0.12 % of strength is 1.5 K at 0 degC, 0.8 at 20, 0.5 at 60; after Herzfeld it would be up to 3 K lower. */
enum status sucrose_saturation_temp_eval(double strength_pct, double *temp_c) MUST_USE;

/* How far a solution is beyond saturation: kg of sugar per kg of water over the same when saturated.
 * Above 1 it can crystallise, which may still take days. 0-85 %, -13-100 degC. Error 0.7 % of it up to 80
 * degC. */
enum status sucrose_supersaturation_eval(double strength_pct, double temp_c, double *ratio) MUST_USE;

/* Grams of sugar to 100 g of water, and back. 0-99 %, 0-9900 g. Exact, by definition. */
enum status sucrose_per_water_eval(double strength_pct, double *g_per_100g) MUST_USE;
enum status sucrose_strength_from_per_water_eval(double g_per_100g, double *strength_pct) MUST_USE;

/* Specific heat of the solution (0-85 %, 0-105 degC) and of the crystals (-30-105 degC),
 * J/(kg K). Source: Bubnik et al. (1995) for pure sucrose; Maczelka in Mohos, Confectionery and
 * Chocolate Engineering (2010). Expected error 3 %, water 1 %, crystals 5 %: no measured table was
 * found for syrup, and other formulas lie 5-10 % lower at syrup strength, one for foods 15 % at 70 % and 80
 * degC; beyond 70 % there is no source. Chosen because at
 * 25 degC it gives the dissolved sugar the 630-650 J/(mol K) that were measured. */
enum status sucrose_heat_capacity_eval(double strength_pct, double temp_c, double *j_kg_k) MUST_USE;
enum status sucrose_crystal_heat_capacity_eval(double temp_c, double *j_kg_k) MUST_USE;

/* Heat that 1 kg of crystals takes up when it dissolves at constant temperature, kJ/kg. 0-105 degC.
 * Positive: dissolving cools. 17 in much water at 25 degC (sources 15.8-18), and more when warm, because
 * dissolved sugar has the larger heat capacity: the rest follows from the two functions above, which
 * make it the same at every strength. Expected error 3 kJ/kg at 25 degC, 6 at 60, 10 at 100. */
enum status sucrose_dissolving_heat_eval(double temp_c, double *kj_kg) MUST_USE;

/* What 1 kg of sugar takes up beyond that when the solution is strong, kJ/kg of sugar; diluting gives it
 * back. 0-85 %. Source: follows from Starzak and Peacock (1997). 0.9 at 25 %, 2.5 at 1:1, 4.7 at 2:1; the
 * calorimetry of Gucker, Pickard and Planck (1939), recalled, gives 1.65, 1.55 and 1.36 times that. Expected
 * error 2 kJ/kg, more likely higher than said; beyond 67 % there is no source. It is not counted in the
 * balances below, which it would make 0.4-0.7 K cooler at 1:1 and 1.2-1.6 K at 2:1. */
enum status sucrose_dilution_heat_eval(double strength_pct, double *kj_kg) MUST_USE;

/* Heat that turns crystals and water, both at from_c, into a solution at to_c, kJ; below 0 where heat
 * must be taken away. Dissolving is in it; losses, evaporation and the heat of dilution are not. Masses
 * 0-1e6 kg, water above 0, strength 0-85 %, both temperatures 0-105 degC. Expected error 3 % of the warming
 * and 3 kJ per kg of sugar (6 where it ends at 60 degC); the heat of dilution would add 15 % to the 17 kJ/kg
 * of the dissolving at 1:1 and 27 % at 2:1. */
enum status sucrose_batch_heat_eval(double sugar_kg, double water_kg, double from_c, double to_c,
                                    double *kj) MUST_USE;

/* Heat that evaporates water, kJ/kg. 0-135 degC. Source: IAPWS SR1-86 (1992), error 0.02 %. From syrup
 * it takes more: 3-4 % up to 65 %, 7-10 % beyond (Mikhailik, Dmitrenko and Snezhkin 2019). */
enum status water_evaporation_heat_eval(double temp_c, double *kj_kg) MUST_USE;

/* Dynamic viscosity, mPa s. 0-85 %, 0-105 degC.
 * Water: IAPWS (2008) R12-08. Sugar: the form of Mathlouthi and Genotelle in Sucrose (1995) pp. 126-154
 * with nine constants fitted anew to half the rows of the CRC Handbook (102nd ed., 20 degC) and of
 * Bingham and Jackson (1919; 20, 40, 60 %, 0-100 degC), and above 60 % to Genotelle's own values; the
 * other half of the rows are held out as checks (the degrees, 3, 2, 1, were chosen among six with both
 * halves in view). Rises with strength, falls with temperature.
 * Expected error 0.6 % at 20 degC up to 74 %, 1.1 % up to 60 % elsewhere; but 7 % for 50-60 % below
 * 25 degC, where Bingham and Jackson scatter by up to 7 % and lie 3.5 % under the CRC Handbook; above
 * 60 % it keeps within 2 % of Genotelle from 20 degC on and 9 % below, for want of a table. Not for
 * syrup with crystals or much air in it. */
enum status sucrose_viscosity_eval(double strength_pct, double temp_c, double *mpa_s) MUST_USE;

/* Air pressure at an altitude, kPa; -500-5000 m. Source: ISO 2533 (1975), standard atmosphere.
 * Weather moves the real pressure by 3 %. */
enum status air_pressure_eval(double altitude_m, double *pressure_kpa) MUST_USE;

/* Vapour pressure of water, kPa, 0-135 degC, and its inverse, the boiling point, degC, 1-300 kPa.
 * Source: IAPWS-IF97 (1997) region 4. Error 0.03 %, 0.01 K. */
enum status water_vapour_pressure_eval(double temp_c, double *pressure_kpa) MUST_USE;
enum status water_boiling_point_eval(double pressure_kpa, double *temp_c) MUST_USE;

/* Boiling point of the solution, degC, and how far it lies above that of water, K. 0-85 %, 50-110 kPa.
 * Source: water IAPWS-IF97 (1997) region 4; activity Starzak and Peacock (1997). Expected error
 * 0.05 K for water, 0.5 K up to 60 %, 1.5 K at 70 %, 2.6 K at 80 %, where sources disagree; about 4 K at
 * 85 %, between what they say of 80 and 90. */
enum status sucrose_boiling_point_eval(double strength_pct, double pressure_kpa, double *temp_c) MUST_USE;
enum status sucrose_boiling_rise_eval(double strength_pct, double pressure_kpa, double *rise_k) MUST_USE;

/* The same under the standard air of an altitude, -500-5000 m. Weather moves it by 1 K. */
enum status sucrose_boiling_point_at_altitude_eval(double strength_pct, double altitude_m,
                                                   double *temp_c) MUST_USE;

/* Kelvin still to go to boiling at this pressure or altitude; below 0 where it would boil. Temperature
 * 0-125 degC. */
enum status sucrose_boiling_margin_eval(double strength_pct, double pressure_kpa, double temp_c,
                                        double *margin_k) MUST_USE;
enum status sucrose_boiling_margin_at_altitude_eval(double strength_pct, double altitude_m, double temp_c,
                                                    double *margin_k) MUST_USE;

/* Strength of the solution that boils at boiling_c (75-125 degC) under pressure_kpa (50-110), %.
 * Inverse of the boiling point within 1e-9. Up to 0.05 K below the boiling point of water or above that
 * of 85 %, half of a printed 0.1 K, it answers 0 or 85; ST_RANGE beyond that.
 * A rough check only: 0.1 K is 3 % of strength at 30 %, 1 % at 55 %, 0.2 % at 75 %. */
enum status sucrose_strength_for_boiling_eval(double boiling_c, double pressure_kpa,
                                              double *strength_pct) MUST_USE;

/* Water activity, 0-1, at a temperature or at 25 degC. 0-85 %, 0-125 degC; falls with strength, rises a
 * little with temperature. Source: Starzak and Peacock (1997). Expected error 0.001 up to 42 % at 0 degC
 * (freezing points) and up to 67 % at 25 (isopiestic, recalled), 0.005 at 75 %, 0.014 at 80, 0.03 at 85,
 * where another formula differs by that; between 25 degC and boiling only boiling points were found to check
 * it with, to 0.01. For comparison, growth stops at about 0.91 for most bacteria, 0.88 for many yeasts, 0.80
 * for most moulds, 0.62 for yeasts that love sugar (Beuchat 1981): a saturated syrup at 25 degC has 0.85. */
enum status sucrose_water_activity_at_eval(double strength_pct, double temp_c, double *activity) MUST_USE;
enum status sucrose_water_activity_eval(double strength_pct, double *activity) MUST_USE;

/* Strength with this water activity at temp_c, %: the inverse within 1e-9. ST_RANGE where that would be
 * above 85 %. Expected error 0.5 % up to 75 %, 0.8 at 80, 1.3 at 85. */
enum status sucrose_strength_for_activity_eval(double activity, double temp_c, double *strength_pct) MUST_USE;

/* Vapour pressure over the solution, kPa: activity times that of water. 0-85 %, 0-125 degC. */
enum status sucrose_vapour_pressure_eval(double strength_pct, double temp_c, double *pressure_kpa) MUST_USE;

/* Volume of sugar_kg dissolved in water_kg, litres at temp_c. Masses 0-1e6 kg, water above 0,
 * strength and temperature as for the density. Expected error as the density, 0.1 % at most. */
enum status sucrose_mix_volume_eval(double sugar_kg, double water_kg, double temp_c,
                                    double *volume_l) MUST_USE;

/* Sugar and water in volume_l (0-1e6) of syrup at temp_c, kg. Range and expected error as the density. */
enum status sucrose_parts_eval(double volume_l, double strength_pct, double temp_c, double *sugar_kg,
                               double *water_kg) MUST_USE;

/* sugar_kg (0-1e6) made up with water to volume_l (1e-3-1e6) of syrup at temp_c: its strength, %, and
 * the water it takes, kg. ST_RANGE above 85 %. It does not ask whether that much can dissolve. */
enum status sucrose_made_up_eval(double sugar_kg, double volume_l, double temp_c, double *strength_pct,
                                 double *water_kg) MUST_USE;

/* Litres of syrup at temp_c from 1 kg of sugar. 1-85 %; otherwise as the density. */
enum status sucrose_litres_per_kg_eval(double strength_pct, double temp_c, double *l_per_kg) MUST_USE;

/* Temperature after sugar (crystals) has dissolved in water, no heat lost, degC. Counts the heat of
 * dissolving as above, which cools; not that of dilution. Sugar -30-60, water 0-100 degC; ST_RANGE where the
 * mix would be below 0. Expected error 1.5 K at 1:1, 3 K at 2:1, more likely cooler than said than warmer. It
 * does not ask whether that much sugar can dissolve. */
enum status sucrose_mix_temp_eval(double sugar_kg, double sugar_c, double water_kg, double water_c,
                                  double *temp_c) MUST_USE;

/* Temperature the water must have for the mix to end at mix_c (0-100 degC): the inverse of the
 * above. ST_RANGE where that is below 0 or above 100. Expected error 2 K at 1:1, 6 K at 2:1, more likely
 * hotter than said. */
enum status sucrose_water_temp_for_mix(double sugar_kg, double sugar_c, double water_kg, double mix_c,
                                       double *water_c) MUST_USE;

#endif
