/* acid.h - acidity of water with food acid: charge balance of carbonate alkalinity and acid.
 *
 * Valid in WATER at ionic strengths up to about 0.1 mol/kg and 0-60 degC. In syrup above about
 * 0.1 mol/L of sugar nothing here is more than a first guess (ASTM E70 scope); a pH read there
 * is an apparent value. Amounts are per kg of water. Errors as in sucrose.h.
 */
#ifndef SCIENCE_ACID_H
#define SCIENCE_ACID_H

#include "base/status.h"
#include "science/acid_types.h"

/* "citric", ...; "none" for ACID_NONE; never NULL. acid_find: ACID_COUNT when unknown. */
const char *acid_name(enum acid acid);
enum acid acid_find(const char *name);

/* Molar mass of the anhydrous acid, g/mol; ST_RANGE for ACID_NONE. */
enum status acid_molar_mass_eval(enum acid acid, double *g_mol) MUST_USE;

/* Density of the bottle solution at 20 degC, kg/L; 0 to the tabulated limit of the acid. */
enum status acid_stock_density_eval(enum acid acid, double stock_pct, double *kg_l) MUST_USE;

/* pH of water of this alkalinity with acid_mol_kg of acid, in equilibrium with air
 * (CO2 at 10^-3.4 atm). alkalinity 0-20 meq/kg, acid 0-0.1 mol/kg, 0-60 degC. At most 200
 * bisection steps; the result is within 1e-9 of the root. */
enum status acid_water_ph_eval(double alkalinity_meq_kg, enum acid acid, double acid_mol_kg, double temp_c,
                               double *ph) MUST_USE;

/* Acid needed for a pH of 3-7, mol/kg; 0 where the water is already as acid. */
enum status acid_for_ph_eval(double alkalinity_meq_kg, enum acid acid, double target_ph, double temp_c,
                             double *acid_mol_kg) MUST_USE;

/* The alkalinity that explains this pH after this dose, meq/kg; the inverse that learns.
 * Trustworthy only below about pH 5, where escaping carbon dioxide no longer matters. */
enum status acid_alkalinity_eval(enum acid acid, double acid_mol_kg, double ph, double temp_c,
                                 double *alkalinity_meq_kg) MUST_USE;

#endif
