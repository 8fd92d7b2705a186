/* acid_syrup.h - what a pH means in strong syrup, and how little is known of it.
 *
 * Does:      the apparent pH of syrup from that of its water, with the shift as a term that can be
 *            learned; what may be believed of that shift before anything was compared.
 * Does not:  correct a probe, allocate, or keep state. Any thread.
 *
 * What stays valid at high strength: the balance of amounts (acid_solution.h), when all are counted
 * per kg of WATER; so the pH "of its water" is that of the syrup's alkalinity, carbon and acids in its
 * water without the sugar. What does not: the constants, the activities and the probe. ASTM E70 calls
 * a pH accurate only below 0.1 mol/L of electrolyte and of nonelectrolyte; syrup of 50 % has 1.8
 * mol/L (2.9 mol per kg of water), so a reading there is semiquantitative. It is a repeatable number
 * that can be aimed at, not an acidity. Sign and size of the probe's error are not established.
 */
#ifndef SCIENCE_ACID_SYRUP_H
#define SCIENCE_ACID_SYRUP_H

#include "base/status.h"
#include "science/span.h"

/* Apparent pH in syrup: water_ph (0-14.5) + shift_ph_per_mol_kg (-0.5-0.5) times the sucrose in mol
 * per kg of water. 0-70 % by weight. A straight line, because nothing better is known; the shift
 * comes from comparing one's own readings in the water and in the syrup. */
enum status acid_syrup_ph_eval(double water_ph, double strength_pct, double shift_ph_per_mol_kg,
                               double *ph) MUST_USE;

/* What may be believed of that shift beforehand, pH per mol of sucrose in a kg of water: -0.14, 0, 0.3.
 * An engineering judgement, confidence low, from these:
 * - below 0: the acid speeds the splitting of sucrose more in strong solution than its amount
 *   explains (Guggenheim and Wiseman 1950, continued beyond its range) and cells without a junction
 *   find the activity of HCl raised by glucose and fructose (Zhuo et al. 1997, 1998): the true pH is
 *   about 0.05 to 0.3 lower at 50 %, 0.02 to 0.10 for each mol/kg. The medium's part in the probe is
 *   taken as 0.1 pH at 50 % besides: -0.14.
 * - above 0: sugar lowers the permittivity (Malmberg and Maryott 1950), which weakens food acids; and
 *   one consultant's page, without data, has probes read 10 to 25 mV high at 20 % and 35 to 50 mV at
 *   40 %, 0.2 to 0.6 for each mol/kg. Neither proven nor disproven, so the span reaches into it.
 * - best 0: no shift is used until someone has compared. */
struct span acid_syrup_shift_prior(void);

/* The apparent pH by that belief: low, best, high. Ranges as acid_syrup_ph_eval. */
enum status acid_syrup_span_eval(double water_ph, double strength_pct, struct span *ph) MUST_USE;

#endif
