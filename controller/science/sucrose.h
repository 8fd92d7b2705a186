/* sucrose.h - what sugar and water do: density, solubility, heat, boiling, volume.
 *
 * Does:      published formulas for aqueous sucrose, as pure functions.
 * Does not:  know tanks, allocate, or keep state.
 * Strength is % by weight of dissolved sucrose, temperature degC. A function returns ST_OK and
 * writes its result, or ST_RANGE (any argument outside its range or not finite) and writes
 * nothing: out of range is never answered by a number.
 */
#ifndef SCIENCE_SUCROSE_H
#define SCIENCE_SUCROSE_H

#include "base/status.h"

/* Density of the solution, kg/m3. 0-85 %, 0-105 degC. */
enum status sucrose_density_eval(double strength_pct, double temp_c, double *density_kg_m3) MUST_USE;

/* Strength of the solution saturated at temp_c, %. -5-100 degC. */
enum status sucrose_solubility_eval(double temp_c, double *strength_pct) MUST_USE;

/* Temperature at which this strength is just saturated, degC. Strengths of the range above;
 * below the strength saturated at 0 degC it is ST_RANGE (it never crystallises above freezing). */
enum status sucrose_saturation_temp_eval(double strength_pct, double *temp_c) MUST_USE;

/* Specific heat of the solution and of the crystals, J/(kg K). 0-85 %, 0-105 degC. */
enum status sucrose_heat_capacity_eval(double strength_pct, double temp_c, double *j_kg_k) MUST_USE;
enum status sucrose_crystal_heat_capacity_eval(double temp_c, double *j_kg_k) MUST_USE;

/* Dynamic viscosity, mPa s. 0-85 %, 0-100 degC. */
enum status sucrose_viscosity_eval(double strength_pct, double temp_c, double *mpa_s) MUST_USE;

/* Air pressure at an altitude (ISO 2533), kPa; -500-5000 m. */
enum status air_pressure_eval(double altitude_m, double *pressure_kpa) MUST_USE;

/* Boiling point of the solution, degC. 0-85 %, 50-110 kPa. */
enum status sucrose_boiling_point_eval(double strength_pct, double pressure_kpa, double *temp_c) MUST_USE;

/* Water activity at 25 degC, 0-1. 0-80 %. */
enum status sucrose_water_activity_eval(double strength_pct, double *activity) MUST_USE;

/* Volume of sugar_kg dissolved in water_kg, litres at temp_c. */
enum status sucrose_mix_volume_eval(double sugar_kg, double water_kg, double temp_c,
                                    double *volume_l) MUST_USE;

/* Temperature after sugar (crystals) has dissolved in water, no heat lost, degC.
 * Counts the heat of dissolving (it cools). */
enum status sucrose_mix_temp_eval(double sugar_kg, double sugar_c, double water_kg, double water_c,
                                  double *temp_c) MUST_USE;

/* Temperature the water must have for the mix to end at mix_c; ST_RANGE where that is above 100. */
enum status sucrose_water_temp_for_mix(double sugar_kg, double sugar_c, double water_kg, double mix_c,
                                       double *water_c) MUST_USE;

#endif
