/* acid.h - acidity of water with one food acid, and what the acids are.
 *
 * Does:      names, masses, densities and constants of the acids; pH from a dose, the dose for a pH,
 *            the alkalinity that explains both, for water open to the air; what a wrong dose, another
 *            temperature or a diluted sample makes of it.
 * Does not:  know syrup, tanks or probes, allocate, or keep state. Any thread.
 * Valid in WATER at ionic strengths up to about 0.1 mol/kg and 0-60 degC. In syrup above about
 * 0.1 mol/L of sugar nothing here is more than a first guess (ASTM E70 scope); a pH read there
 * is an apparent value, see acid_syrup.h. Amounts are per kg of WATER, not of syrup, and of the acid without
 * water of crystals at 100 %: of citric acid monohydrate 1.094 times as much, of a solution more by its
 * strength. Errors as in sucrose.h. Citric acid is stronger in hard water than said here, at pH 4.25 by
 * 0.1 to 0.3 pH and 8 to 25 % of the dose: the figures stand in acid_solution.h.
 *
 * Model, expected errors and the general case (closed water, several acids, mixing): acid_solution.h.
 */
#ifndef SCIENCE_ACID_H
#define SCIENCE_ACID_H

#include "base/status.h"
#include "science/acid_types.h"

/* ---- what the acids are ------------------------------------------------------------------------ */

/* "citric", ...; "none" for ACID_NONE and for what is no acid; never NULL. acid_find: ACID_COUNT
 * when unknown or NULL. */
const char *acid_name(enum acid acid);
enum acid acid_find(const char *name);

/* Protons that come off below pH 14: citric 3, acetic 1, ...; 0 for what is no acid. */
int acid_protons(enum acid acid);

/* -log10 of the constant of one step (1 to acid_protons) at zero ionic strength, 0-75 degC.
 * Source: Goldberg, Kishore and Lennen (2002) J. Phys. Chem. Ref. Data 31, 231 (their range is
 * 1-77 degC), van 't Hoff with constant heat capacity; lactic: textbook, its heat from memory.
 * Ascorbic: 4.17 and 11.57, textbooks spread from 4.04 to 4.30, and no heat is known, so its value is
 * the same at every temperature. Expected error: citric 0.003 against Bates and Pinching (1949), and
 * against Benezeth (1997) 0.002 at 25, 0.005 at 5 and 0.008 at 60 degC; acetic, phosphoric, tartaric 0.02,
 * lactic 0.05, ascorbic 0.15 at 25 degC and unknown elsewhere. */
enum status acid_pk_eval(enum acid acid, int step, double temp_c, double *pk) MUST_USE;

/* Molar mass of the anhydrous acid, g/mol (IUPAC atomic weights, 2007); ST_RANGE for ACID_NONE.
 * Citric acid monohydrate weighs 210.14 and is 91.4 % acid. */
enum status acid_molar_mass_eval(enum acid acid, double *g_mol) MUST_USE;

/* Density of the bottle solution at 20 degC, kg/L; 0 to the tabulated limit of the acid.
 * Source: CRC Handbook 102nd ed. (2021), a smooth curve through rows; expected error 0.02 %. From
 * weaker sources: citric above 30 %, ascorbic, tartaric (expected error 0.5 %). */
enum status acid_stock_density_eval(enum acid acid, double stock_pct, double *kg_l) MUST_USE;

/* The tabulated limit above, % by weight; 0 for ACID_NONE. */
double acid_stock_limit_pct(enum acid acid);

/* Acid in a litre of the bottle solution at 20 degC, g/L and mol/L. Range and error as the density. */
enum status acid_stock_content_eval(enum acid acid, double stock_pct, double *g_l, double *mol_l) MUST_USE;

/* Strength of the saturated solution, % by weight of the anhydrous acid. Citric 10-100 degC: a
 * handbook table every 10 degC (to 30 degC figures given by engineers, above from memory), straight between
 * its rows; expected error 0.5 %, but another source has 57.1 % at 20 degC instead of 59.2. Ascorbic 20-25
 * degC: a third of the water's weight, from memory, expected error 2 %. ST_RANGE for the others: acetic,
 * lactic and phosphoric acid mix with water as they are sold, of tartaric acid no source was at hand. */
enum status acid_solubility_eval(enum acid acid, double temp_c, double *saturated_pct) MUST_USE;

/* ---- water open to the air, one acid ------------------------------------------------------------ */

/* pH of water of this alkalinity with acid_mol_kg of acid, in equilibrium with air
 * (CO2 at 10^-3.4 atm). alkalinity 0-100 meq/kg (water stays below 20; the rest lets measured
 * buffers be compared), acid 0-0.1 mol/kg, 0-60 degC. Within 1e-9 of the root.
 * ACID_NONE only with 0 mol/kg. Expected error: acid_solution.h; citric acid in hard water lower, above. */
enum status acid_water_ph_eval(double alkalinity_meq_kg, enum acid acid, double acid_mol_kg, double temp_c,
                               double *ph) MUST_USE;

/* Acid needed for a pH of 3-7, mol per kg of WATER (not of syrup), of anhydrous acid at 100 % (citric acid
 * monohydrate: 1.094 times the mass); 0 where the water is already as acid, and then its pH is not
 * target_ph but below. alkalinity 0-20 meq/kg. ST_RANGE also where it would be more than 0.1 mol/kg.
 * Expected error 5 % of the dose in ordinary water below pH 5; lactic 8 % for pH 3.5 and 11 % for 3;
 * ascorbic 18 % for 4.25, 24 % for 4 and 39 % for 3 (their constants, 0.05 and 0.15). Citric acid in hard
 * water: 8, 13, 20, 25 % too large for pH 4.25 at 1, 2, 4, 6 meq/kg, see acid_solution.h. */
enum status acid_for_ph_eval(double alkalinity_meq_kg, enum acid acid, double target_ph, double temp_c,
                             double *acid_mol_kg) MUST_USE;

/* The alkalinity that explains this pH (2-9) after this dose (0-0.1 mol/kg), meq/kg; the inverse
 * that learns. ST_RANGE where that is not within 0-20. Trustworthy only below about pH 5, where
 * escaping carbon dioxide no longer matters. Expected error 0.05 meq/kg and 5 %; lactic and ascorbic as
 * the dose of acid_for_ph_eval; citric acid in hard water 9 to 20 % too small. */
enum status acid_alkalinity_eval(enum acid acid, double acid_mol_kg, double ph, double temp_c,
                                 double *alkalinity_meq_kg) MUST_USE;

/* ---- what if ------------------------------------------------------------------------------------- */

/* pH after a dose that was meant for target_ph (3-7) but came out error_pct (-100-100 %) different:
 * open to the air, and closed with the carbon the water had in air before. alkalinity 0-20 meq/kg.
 * ST_RANGE also where the dose would be more than 0.1 mol/kg, and where there is none, the water being
 * as acid as target_ph already. Citric acid in hard water: 10 % more of a true dose moves the pH by 0.12,
 * not 0.14 to 0.17, and half of it leaves the water 0.4 to 0.6 pH lower at 1 to 4 meq/kg. */
enum status acid_dose_error_eval(double alkalinity_meq_kg, enum acid acid, double target_ph, double error_pct,
                                 double temp_c, double *open_ph, double *closed_ph) MUST_USE;

/* pH at temp_c of water that was set to set_ph (3-7) at set_temp_c, open to the air; alkalinity
 * 0-20 meq/kg. ST_RANGE also where the water is as acid as set_ph without acid: nobody set it so. A good
 * batch hardly moves; a probe that shows a large move is at fault itself. What calcium does to citric acid
 * is left out; how that moves with temperature was not at hand. */
enum status acid_other_temp_ph_eval(double alkalinity_meq_kg, enum acid acid, double set_ph,
                                    double set_temp_c, double temp_c, double *ph) MUST_USE;

/* pH of a sample of water set to set_ph (3-7; open to the air) after deionised water was added to
 * factor (1-1000) times its water: open again, and closed with what carbon it brought. alkalinity
 * 0-20 meq/kg. ST_RANGE also where the water is as acid as set_ph without acid. Diluting raises the pH:
 * little in ordinary water (0.05-0.2), up to 0.75 in soft, and with citric acid in hard water 0.05-0.16
 * more than said; so the factor belongs to every reading of a diluted sample. */
enum status acid_diluted_ph_eval(double alkalinity_meq_kg, enum acid acid, double set_ph, double factor,
                                 double temp_c, double *open_ph, double *closed_ph) MUST_USE;

#endif
