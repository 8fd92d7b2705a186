/* blend.h - thinning, thickening and mixing syrups: balances of mass.
 *
 * Does:      say what to add, or what comes out, in kg and % by weight. Exact: sugar and water are
 *            neither made nor lost.
 * Does not:  ask whether the sugar can dissolve, know tanks, allocate, or keep state. Any thread.
 * Strengths are % by weight (0 is water, 100 dry sugar). A refractometer's or a spindle's reading may
 * be used as %, but never with litres: shares of volume must go through the density. ST_OK, or ST_RANGE
 * (an argument outside its range or not finite, or what is asked cannot be) with nothing written.
 * Masses 0-1e6 kg. Exact to 1e-9 of the masses; only blend_heel_eval takes on the density's error.
 */
#ifndef SCIENCE_BLEND_H
#define SCIENCE_BLEND_H

#include "base/status.h"

/* Water to thin syrup_kg from from_pct (0-100) to to_pct (1-100), kg. ST_RANGE where that would be
 * thickening. */
enum status blend_thin_eval(double syrup_kg, double from_pct, double to_pct, double *water_kg) MUST_USE;

/* Sugar to thicken syrup_kg from from_pct (0-100) to to_pct (0-99), kg. ST_RANGE where that would be
 * thinning. */
enum status blend_thicken_eval(double syrup_kg, double from_pct, double to_pct, double *sugar_kg) MUST_USE;

/* Strength of two syrups together, %. Their masses together at least 1e-6 kg. */
enum status blend_two_eval(double first_kg, double first_pct, double second_kg, double second_pct,
                           double *strength_pct) MUST_USE;

/* How much of each of two syrups makes total_kg of wanted_pct, kg (the Pearson square). Either may be
 * the stronger. ST_RANGE where the wanted strength is not between the two, or the two are alike. */
enum status blend_parts_eval(double total_kg, double first_pct, double second_pct, double wanted_pct,
                             double *first_kg, double *second_kg) MUST_USE;

/* A heel: syrup left in the tank. */
struct blend_heel {
    double heel_l;   /* 0-1e6 */
    double heel_pct; /* 0-85 */
    double heel_c;   /* 0-105: the temperature at which heel_l was read */
    double target_l; /* 0-1e6: what the tank shall hold in the end */
    double target_pct;
    double target_c; /* the temperature at which target_l is meant */
};

/* Sugar and water to add to the heel, kg. ST_RANGE where the heel alone holds too much of either: then
 * make more, or take some of the heel out. Expected error as the density's: 0.1 % of the masses. */
enum status blend_heel_eval(const struct blend_heel *heel, double *sugar_kg, double *water_kg) MUST_USE;

/* Strength after water_kg has evaporated, %. ST_RANGE where that is more water than there was, or
 * nothing is left. */
enum status blend_evaporated_eval(double syrup_kg, double strength_pct, double water_kg,
                                  double *strength_pct_after) MUST_USE;

/* Strength of a batch meant to have sugar_kg and water_kg when bags of bag_kg (0-1500) were missed (a
 * negative number: were too many; -1000-1000), %. ST_RANGE for more bags missed than there were. */
enum status blend_bags_missed_eval(double sugar_kg, double water_kg, double bag_kg, double missed,
                                   double *strength_pct) MUST_USE;

#endif
