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
 * Technologists Manual (1995) p. 164; water after Kell (1975). Expected error 0.5 kg/m3 up to
 * 70 % and 50 degC; about 1 kg/m3 above, where no independent table was found. */
enum status sucrose_density_eval(double strength_pct, double temp_c, double *density_kg_m3) MUST_USE;

/* Strength of the solution saturated at temp_c, %. -5-100 degC.
 * Source: Vavrinecz data, polynomial in Mathlouthi and Reiser (eds.), Sucrose (1995).
 * Expected error 0.1 % up to 80 degC, 0.3 % at 100; below 0 degC it is continued, unchecked.
 * The older Herzfeld table differs by up to 0.4 %. */
enum status sucrose_solubility_eval(double temp_c, double *strength_pct) MUST_USE;

/* Temperature at which this strength is just saturated, degC. The inverse of the above within
 * 1e-9 degC, for strengths saturated between 0 and 100 degC (64.45-82.65 %); a weaker solution
 * never crystallises above freezing and is ST_RANGE. Expected error 1 degC. */
enum status sucrose_saturation_temp_eval(double strength_pct, double *temp_c) MUST_USE;

/* Specific heat of the solution (0-85 %, 0-105 degC) and of the crystals (-30-105 degC),
 * J/(kg K). Source: Bubnik et al. (1995) for pure sucrose; Maczelka in Mohos, Confectionery and
 * Chocolate Engineering (2010). Expected error 3-5 %: no measured table was found for syrup. */
enum status sucrose_heat_capacity_eval(double strength_pct, double temp_c, double *j_kg_k) MUST_USE;
enum status sucrose_crystal_heat_capacity_eval(double temp_c, double *j_kg_k) MUST_USE;

/* Dynamic viscosity, mPa s. 0-85 %, 0-100 degC.
 * Source: Mathlouthi and Genotelle in Sucrose (1995) pp. 126-154. Expected error 4 % for
 * 10-74 % at 20 degC, 8 % when hot and thin, 14 % near 0 degC. */
enum status sucrose_viscosity_eval(double strength_pct, double temp_c, double *mpa_s) MUST_USE;

/* Air pressure at an altitude, kPa; -500-5000 m. Source: ISO 2533 (1975), standard atmosphere.
 * Weather moves the real pressure by 3 %. */
enum status air_pressure_eval(double altitude_m, double *pressure_kpa) MUST_USE;

/* Boiling point of the solution, degC. 0-85 %, 50-110 kPa.
 * Source: water IAPWS-IF97 (1997) region 4; activity Starzak and Peacock (1997). Expected error
 * 0.05 K for water, 0.5 K up to 60 %, 1.5 K at 70 %, 2.5 K at 80 %, where sources disagree. */
enum status sucrose_boiling_point_eval(double strength_pct, double pressure_kpa, double *temp_c) MUST_USE;

/* Water activity at 25 degC, 0-1. 0-80 %. Source: Starzak and Peacock (1997). Expected error
 * 0.001 up to 40 %, 0.008 at 65 %. */
enum status sucrose_water_activity_eval(double strength_pct, double *activity) MUST_USE;

/* Volume of sugar_kg dissolved in water_kg, litres at temp_c. Masses 0-1e6 kg, water above 0,
 * strength and temperature as for the density. Expected error as the density, 0.05 %. */
enum status sucrose_mix_volume_eval(double sugar_kg, double water_kg, double temp_c,
                                    double *volume_l) MUST_USE;

/* Temperature after sugar (crystals) has dissolved in water, no heat lost, degC. Counts the heat
 * of dissolving (it cools): 17 kJ/kg at 25 degC (secondary sources 15.8-18), balance closed at
 * 25 degC. Sugar -30-60, water 0-100 degC; ST_RANGE where the mix would be below 0. Expected
 * error 1 K. It does not ask whether that much sugar can dissolve. */
enum status sucrose_mix_temp_eval(double sugar_kg, double sugar_c, double water_kg, double water_c,
                                  double *temp_c) MUST_USE;

/* Temperature the water must have for the mix to end at mix_c (0-100 degC): the inverse of the
 * above. ST_RANGE where that is below 0 or above 100. */
enum status sucrose_water_temp_for_mix(double sugar_kg, double sugar_c, double water_kg, double mix_c,
                                       double *water_c) MUST_USE;

#endif
