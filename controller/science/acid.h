/* acid.h - acidity of water with food acid: charge balance of carbonate alkalinity and acid.
 *
 * Does:      pH from a dose, the dose for a pH, and the alkalinity that explains both.
 * Does not:  know syrup, tanks or probes, allocate, or keep state. Any thread.
 * Valid in WATER at ionic strengths up to about 0.1 mol/kg and 0-60 degC. In syrup above about
 * 0.1 mol/L of sugar nothing here is more than a first guess (ASTM E70 scope); a pH read there
 * is an apparent value. Amounts are per kg of water. Errors as in sucrose.h.
 *
 * Model: open to air (CO2 at 10^-3.4 atm); carbonate and water constants Plummer and Busenberg
 * (1982) and Nordstrom et al. (1990); acids Goldberg, Kishore, Lennen (2002), van 't Hoff with
 * constant heat capacity; Davies activities. Expected error 0.02 pH against measured buffers up
 * to 0.1 mol/kg and 50 degC; ascorbic acid 0.1 pH (its constants are weak). Hard water reads a
 * little lower than this, because calcium binds part of the acid.
 */
#ifndef SCIENCE_ACID_H
#define SCIENCE_ACID_H

#include "base/status.h"
#include "science/acid_types.h"

/* "citric", ...; "none" for ACID_NONE and for what is no acid; never NULL. acid_find: ACID_COUNT
 * when unknown or NULL. */
const char *acid_name(enum acid acid);
enum acid acid_find(const char *name);

/* Molar mass of the anhydrous acid, g/mol (IUPAC atomic weights); ST_RANGE for ACID_NONE. */
enum status acid_molar_mass_eval(enum acid acid, double *g_mol) MUST_USE;

/* Density of the bottle solution at 20 degC, kg/L; 0 to the tabulated limit of the acid.
 * Source: CRC Handbook 102nd ed. (2021), linear between rows; expected error 0.2 %. From weaker
 * sources: citric above 30 %, ascorbic, tartaric (expected error 0.5 %). */
enum status acid_stock_density_eval(enum acid acid, double stock_pct, double *kg_l) MUST_USE;

/* The tabulated limit above, % by weight; 0 for ACID_NONE. */
double acid_stock_limit_pct(enum acid acid);

/* pH of water of this alkalinity with acid_mol_kg of acid, in equilibrium with air
 * (CO2 at 10^-3.4 atm). alkalinity 0-100 meq/kg (water stays below 20; the rest lets measured
 * buffers be compared), acid 0-0.1 mol/kg, 0-60 degC. At most 200 bisection steps; the result
 * is within 1e-9 of the root. ACID_NONE only with 0 mol/kg. */
enum status acid_water_ph_eval(double alkalinity_meq_kg, enum acid acid, double acid_mol_kg, double temp_c,
                               double *ph) MUST_USE;

/* Acid needed for a pH of 3-7, mol/kg; 0 where the water is already as acid. alkalinity
 * 0-20 meq/kg. ST_RANGE also where it would be more than 0.1 mol/kg. */
enum status acid_for_ph_eval(double alkalinity_meq_kg, enum acid acid, double target_ph, double temp_c,
                             double *acid_mol_kg) MUST_USE;

/* The alkalinity that explains this pH (2-9) after this dose (0-0.1 mol/kg), meq/kg; the inverse
 * that learns. ST_RANGE where that is not within 0-20. Trustworthy only below about pH 5, where
 * escaping carbon dioxide no longer matters. */
enum status acid_alkalinity_eval(enum acid acid, double acid_mol_kg, double ph, double temp_c,
                                 double *alkalinity_meq_kg) MUST_USE;

#endif
