/* inversion.h - how fast sucrose in acid syrup splits into glucose and fructose.
 *
 * Does:      published kinetics of the acid inversion, with their spread, as pure functions.
 * Does not:  know tanks or records (change.h follows a record of temperatures), allocate, or keep
 *            state. Any thread.
 * Strength is % by weight of the sugar weighed in, as if none were inverted; temperature degC.
 * ST_OK and the result, or ST_RANGE (an argument outside its range or not finite) and nothing
 * written. Every result is an estimate, never a measurement.
 *
 * Which pH: the reading in the water before the sugar, or of a diluted sample. What a probe shows in
 * strong syrup is an apparent value; the spread holds a factor of 2 either way for that.
 *
 * Two correlations were found and disagree in strong syrup. Guggenheim and Wiseman (1950) measured
 * with known acid and found the rate to RISE with the sugar at the same acid per litre; Vukov (1965)
 * lets it FALL with the water. In water they agree within 20 %, at 60 % strength they are 3.5 times
 * apart, at 85 % eleven times. The first is the best value here: its own measurements hold together within 1
 * %, it meets the independent values found within 30 % (a textbook's for pH 7 at 27 and 37 degC; boiling with
 * acid, where temperature and sugar had to be assumed), and it is the one that warns earlier. No rate
 * measured at pH 4 was seen. The second is the low end where it is lower.
 */
#ifndef SCIENCE_INVERSION_H
#define SCIENCE_INVERSION_H

#include "base/status.h"
#include "science/constants.h"
#include "science/span.h"

/* Activation energy used, and the temperature the correlation was measured at. Published: 108 and
 * 109.2 kJ/mol (Tombari and others 2007). The ends of a rate keep a fixed distance from the best value,
 * so arrhenius_factor() carries all three to another temperature. */
#define INVERSION_J_MOL 108000.0
#define INVERSION_MEASURED_C 24.7

/* Fructose from 1 kg of sucrose, kg: half of what it becomes with the water it takes up. */
#define INVERSION_FRUCTOSE_KG_KG ((1 + WATER_KG_MOL / SUCROSE_KG_MOL) / 2)

/* Rate constant with hydrochloric acid, 1/h. Acid 1e-8-0.2 mol per litre of solution, sugar 0-1300 g/L
 * (at 20 degC), 0-105 degC. Source: Guggenheim and Wiseman, Proc. R. Soc. A 203 (1950), 24.7 degC,
 * salt effect and sugar effect multiplied; the abstract was seen, the range of sugar was not, so
 * strong syrup is an extrapolation. Other temperatures by INVERSION_J_MOL. Expected error 1 % at
 * 24.7 degC in thin solutions, 30 % elsewhere. Not for weak acids by their total. */
enum status inversion_acid_rate_eval(double acid_mol_l, double sugar_g_l, double temp_c,
                                     double *per_h) MUST_USE;

/* Rate constant at a pH, 1/h. 0-105 degC, pH 2-8, 0-85 %. The above with 10^-pH mol/L. High: 2 times
 * 1.3 the best value, for the pH scale in syrup and the correlation. Low: 0.5 times 0.7 of it, or 0.7
 * of Vukov's rate, whichever is lower (their ratio taken at 25 degC; it moves by 5 % over the range).
 * An activation energy of 106 or 110 instead of 108 stays within the 30 %. Not good for: pH above 7,
 * where sugar also breaks down in other ways; hot neutral syrup, which turns acid by itself. */
enum status inversion_rate_eval(double temp_c, double ph, double strength_pct, struct span *per_h) MUST_USE;

/* The other correlation, 1/h. 0-105 degC, pH 1-8, 0-85 %. Source: Vukov (1965), log10 k(1/min) =
 * 16.91 + log10(water g/mL) - 5670/T - pH; water at the temperature. Seen second-hand, units corrected.
 * Expected error: up to 20 % in water. In strong syrup it lies below the one above: at 60 degC and pH 4 3.5
 * times at 60 % strength, 4.4 at 66.7, 5.0 at 70, 8.0 at 80, 10.9 at 85. Sugar inverts sooner than it says if
 * the one above is right: not for how long a syrup may stay warm. */
enum status inversion_vukov_rate_eval(double temp_c, double ph, double strength_pct, double *per_h) MUST_USE;

/* How many times faster at to_c than at from_c, 0-105 degC both. Activation energy 106, 108, 110 kJ/mol:
 * published 105-109.2. */
enum status inversion_warming_eval(double from_c, double to_c, struct span *factor) MUST_USE;

/* Share of the sucrose inverted after 0-1e6 h at constant conditions, %, nothing inverted before.
 * Ranges, source and spread as inversion_rate_eval. */
enum status inversion_share_eval(double temp_c, double ph, double strength_pct, double hours,
                                 struct span *inverted_pct) MUST_USE;

/* Time until 0-99.9 % is inverted at constant conditions, h: the inverse of the above. Its low end
 * is the time at the high rate. A time beyond 1e6 h is given as 1e6 h: that or longer. ST_RANGE when even the
 * low end is beyond. */
enum status inversion_time_eval(double temp_c, double ph, double strength_pct, double inverted_pct,
                                struct span *hours) MUST_USE;

struct inversion_masses {
    double sucrose_kg;
    double hexose_kg; /* glucose and fructose, half each */
    double water_kg;
};

/* What sugar and water have become when a share of the sugar is inverted: 1 kg of sucrose takes up
 * 0.0526 kg of water. Masses 0-1e6 kg, share 0-100 %. ST_RANGE when there is not that much water.
 * Mass is conserved to rounding. Molar masses 342.297 and 18.0153 g/mol. */
enum status inversion_masses_eval(double sugar_kg, double water_kg, double inverted_pct,
                                  struct inversion_masses *masses) MUST_USE;

#endif
