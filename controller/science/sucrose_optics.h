/* sucrose_optics.h - the refractive index of a sugar solution, and what a refractometer shows.
 *
 * Does:      index from strength and back, the effect of temperature on a refractometer without
 *            compensation, and what citric acid and invert sugar do to a reading.
 * Does not:  know instruments, allocate, or keep state. Any thread.
 * Index: sodium light (589 nm), against air of 20 degC. Strength is % by weight of sucrose. ST_OK, or
 * ST_RANGE (an argument outside its range or not finite) with nothing written. Only what is dissolved
 * is seen: crystals in the syrup do not raise a reading, a crystal on the prism spoils it.
 */
#ifndef SCIENCE_SUCROSE_OPTICS_H
#define SCIENCE_SUCROSE_OPTICS_H

#include "base/status.h"
#include "science/span.h"

/* Refractive index. 0-85 %, 0-105 degC.
 * At 20 degC: polynomial fitted to the international scale (ICUMSA 1974, 0-85 %) within 1e-5. Older
 * tables (CRC Handbook) lie below it above 70 %: 1e-4 at 80 %, 3e-4 at 84 % (0.1 % of strength).
 * Other temperatures: Lorentz-Lorenz with the density of sucrose_density_eval. The refraction of the
 * water follows IAPWS (1997) within 8e-6 at 0-105 degC; the part of the sugar is fitted to the
 * international temperature table of 1936 (10-30 degC, 0-70 %; 0.007 % of strength rms, 0.03 % at
 * most). The OIV table (MA-AS2-02), which was not fitted, agrees within 0.03 % at 10-17 degC and within
 * 0.09 % at 5-9 degC. Above 30 degC and above 75 % the part of the sugar is an extrapolation: the
 * drop from 20 to 60 degC at 50-60 % is within 1.3e-4 of the table of glucose syrup (ISO 1743), and
 * a fit to other tables (an older one of water, OIV at 10 degC) differs by 0.2 % of strength at 60,
 * 0.4 at 80, 0.7 at 105 degC.
 * Expected error 2e-5 at 20 degC, 1e-4 at 10-30 degC, 5e-4 at 60 degC, 2e-3 at 105 degC. */
enum status sucrose_refractive_index_eval(double strength_pct, double temp_c, double *index) MUST_USE;

/* The inverse: strength from the index of the liquid at temp_c, %; within 1e-9 of the index. ST_RANGE
 * where it would be outside 0-85 % by more than 0.05 % (half of the fourth decimal of an index is 0.02-0.035
 * %); up to that it answers 0 or 85. Expected error in % of strength: 0.01 at 20 degC, 0.05 at 10-30 degC,
 * 0.2 at 60 degC (weak solutions 0.35), 1 at 105 degC (weak 1.4). */
enum status sucrose_strength_from_index_eval(double index, double temp_c, double *strength_pct) MUST_USE;

/* Strength from the reading of a refractometer with the scale of 20 degC and no compensation, used at
 * temp_c. Two ways:
 * inline: by physics, from the index above: the reading says the index, index and temperature say the
 *         strength. 0-85 %, 0-105 degC. Error as sucrose_strength_from_index_eval.
 * prism:  by the international correction table of 1936 for prism (Abbe) instruments, as laboratories
 *         do it, interpolated. 0-70 %, 10-30 degC; its steps are 0.01 %. The later OIV table differs
 *         from it by up to 0.04 %.
 * They agree within 0.03 % where both hold, for two reasons: the sugar's part of the first was fitted
 * to this table, and its column of pure water is within 0.03 % of what IAPWS gives. Where they differ it is
 * the table's rounding and measurement. An instrument's own prism, its temperature and a gradient in the
 * sample are in neither. Never correct a reading that the instrument has already compensated. ST_RANGE also
 * where the strength would be below 0 (a reading below that of water) or above 85 % by more than 0.05 %, half
 * of a printed 0.1 %; up to that they answer 0, and the first 85. */
enum status sucrose_strength_from_inline_reading_eval(double reading_pct, double temp_c,
                                                      double *strength_pct) MUST_USE;
enum status sucrose_strength_from_prism_reading_eval(double reading_pct, double temp_c,
                                                     double *strength_pct) MUST_USE;

/* What to add to a reading when acid_pct (0-10) of the weight is citric acid, %, so that it shows sugar
 * and acid together; take acid_pct off to have the sugar. Sources disagree: 0.12 per 1 % (low; from
 * the index of citric acid solutions, CRC Handbook) or 0.19-0.20 (high; juice trade table, from
 * Stevens and Baier 1939). best is halfway; the true value may lie anywhere between. In bee feed
 * (0.1-0.3 %) the whole correction is below 0.06 %. */
enum status sucrose_acid_correction_eval(double acid_pct, struct span *add_pct) MUST_USE;

/* What to add to a reading (0-85 %) when invert_pct of the weight is invert sugar, %, so that it shows
 * all sugar. Per 1 % of invert: 0.011-0.018, rising with the reading up to 48 % and held from there, an
 * extrapolation and probably too low (low; glucose and fructose in the CRC Handbook), or 0.022 (high; sugar
 * industry rule). best is halfway. ST_RANGE also where there would be more invert than sugar. It does not
 * count that inverting binds water. */
enum status sucrose_invert_correction_eval(double reading_pct, double invert_pct,
                                           struct span *add_pct) MUST_USE;

#endif
