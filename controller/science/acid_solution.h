/* acid_solution.h - water with alkalinity, carbonic acid and any of the food acids, all at once.
 *
 * Does:      pH, closed or open to carbon dioxide; its inverses (acid, alkalinity, carbon); buffer
 *            capacity; mixing and dilution with every amount conserved.
 * Does not:  know tanks or probes, allocate, or keep state. Any thread.
 *
 * Model: the charges add up to nothing, with the alkalinity as the net strong base (it stays when
 * carbon dioxide escapes, the carbon does not). pH is -log10 of the activity of H+, molal scale.
 * Activities by Davies; neutral molecules have 1; the net alkalinity counts as single charged ions in
 * the ionic strength. The equation ends at 0.5 mol/kg, more is treated as that. Constants: water.h and
 * acid_pk_eval. Expected error in WATER 0.03 pH up to 0.1 mol/kg and 60 degC (measured buffers: 0.01 at
 * 25 degC, 0.025 at 50), lactic acid 0.05, ascorbic 0.15 (their constants); above 0.1 mol/kg 0.05.
 *
 * Not modelled: calcium binds citrate, so citric acid is stronger in hard water. By a calculation of ours
 * and a separate one (log K 4.87, 2.86, 1.10 for citrate with none, one, two protons, as in a public table of
 * stability constants, from memory; hardness equal to the alkalinity; they agree within 0.02 pH), at 1, 2, 4,
 * 6 meq/kg:
 *   - the pH after a dose calculated for 4.25 is 0.10, 0.16, 0.23, 0.28 lower (for 4.0: 0.06 to 0.2; for
 *     5.0: 0.3 to 0.6);
 *   - that dose is 8, 13, 20, 25 % too large (for 4.0: 6 to 18 %; for 5.0: 24 to 40 %);
 *   - an alkalinity worked out from dose and pH is 9, 13, 18, 20 % too small;
 *   - the buffer capacity is 20 to 30 % too small, and a sample diluted eight times reads 0.05 to 0.16
 *     higher than said.
 * The other acids are bound less; how much was not calculated.
 *
 * In syrup: every amount is per kg of WATER, not of syrup; so counted, the balance of amounts
 * (alkalinity, carbon, acids, their mixing and dilution) holds at any strength. The constants and
 * activities do not: they are those of water, and above about 0.1 mol/L of sugar (3 %) any pH is
 * semiquantitative, calculated or read (scope of ASTM E70). See acid_syrup.h.
 *
 * Each pH is within 1e-9 of the root of the balance, and pH, acid, alkalinity and carbon are inverses
 * of one another within 1e-9. Functions return ST_OK and write, or ST_RANGE and write nothing; a
 * solution outside the limits beside its members is ST_RANGE everywhere.
 */
#ifndef SCIENCE_ACID_SOLUTION_H
#define SCIENCE_ACID_SOLUTION_H

#include "base/status.h"
#include "science/acid_types.h"

#include <stdbool.h>

/* Carbon dioxide in the air as this program takes it: 10^-3.4 atm (398 ppm). A stable has more. */
#define ACID_AIR_CO2_KPA 0.04033820905565205

struct acid_solution {
    double alkalinity_meq_kg;       /* -100-100; below 0 a strong acid; drinking water 0.2-10 */
    double carbon_mmol_kg;          /* when closed: total inorganic carbon, 0-200; else not looked at */
    double co2_kpa;                 /* when open: partial pressure, 0-101.325; else not looked at */
    double acid_mol_kg[ACID_COUNT]; /* 0-0.1 each and together; [ACID_NONE] 0 */
    double temp_c;                  /* 0-60 */
    bool is_open;                   /* in equilibrium with the gas above it */
};

/* pH of the solution, 0-14.5. */
enum status acid_solution_ph_eval(const struct acid_solution *solution, double *ph) MUST_USE;

/* Acid to be added for a pH of 2-9, mol per kg of WATER (not of syrup), of acid without water of crystals
 * at 100 % (for citric acid monohydrate 1.094 times the mass); 0 where the solution is already as acid.
 * ST_RANGE also when all acids together would come to more than 0.1 mol/kg, and for ACID_NONE. Expected
 * error as acid_for_ph_eval. */
enum status acid_solution_dose_eval(const struct acid_solution *solution, enum acid acid, double target_ph,
                                    double *acid_mol_kg) MUST_USE;

/* The alkalinity that explains a pH of 2-11 of a solution (its own is not looked at), meq/kg.
 * ST_RANGE where that is not within -100-100. An open one tells little above about pH 5, where
 * escaping carbon dioxide decides the reading. */
enum status acid_solution_alkalinity_eval(const struct acid_solution *solution, double ph,
                                          double *alkalinity_meq_kg) MUST_USE;

/* Total inorganic carbon in the solution, mmol/kg, 0-200: when closed its own, when open what it has
 * taken up from the gas (expected error 2.5 %). */
enum status acid_solution_carbon_eval(const struct acid_solution *solution, double *carbon_mmol_kg) MUST_USE;

/* Total inorganic carbon from a water report: alkalinity 0.01-100 meq/kg and the pH (4-11) belonging
 * to it, mmol/kg. ST_RANGE when the two contradict each other: a pH the alkalinity cannot reach even
 * without carbon, or a carbon beyond 200 mmol/kg. Near pH 4.5 a report's rounding decides the result.
 * Only for water without other acids. */
enum status acid_report_carbon_eval(double alkalinity_meq_kg, double ph, double temp_c,
                                    double *carbon_mmol_kg) MUST_USE;

/* Buffer capacity: strong acid that lowers the pH by one at this slope, mol/kg; above 0. The inverse
 * of -dpH per mol/kg. Analytic; the ionic strength moves with it. One-sided where the alkalinity is 0
 * and where the ionic strength passes 0.5 mol/kg. Expected error 10 % (published values of the standard
 * buffers); hard water with citric acid: above. */
enum status acid_solution_buffer_eval(const struct acid_solution *solution, double *buffer_mol_kg) MUST_USE;

/* Two solutions poured together, by kg of WATER in each (0-1e6, not both 0): alkalinity, carbon,
 * acids conserved; temperature by kg of water. The mixture is closed, an open part brings the carbon
 * it held. mixed may be one of the two. */
enum status acid_solution_mix_eval(const struct acid_solution *a, double a_kg, const struct acid_solution *b,
                                   double b_kg, struct acid_solution *mixed) MUST_USE;

/* The solution with deionised water, free of carbon, added to factor (1-1000) times its water; open
 * stays open. diluted may be solution. */
enum status acid_solution_dilute_eval(const struct acid_solution *solution, double factor,
                                      struct acid_solution *diluted) MUST_USE;

#endif
