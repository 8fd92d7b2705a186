/* water.h - what water and carbonic acid do with the charge in them: constants with temperature.
 *
 * Does:      equilibrium constants, relative permittivity, Debye-Hueckel constant and activity
 *            coefficients as pure functions.
 * Does not:  solve a balance (acid.h, acid_solution.h), know syrup, allocate, or keep state. Any
 *            thread.
 * Temperature degC, amounts per kg of water. A function returns ST_OK and writes its result, or
 * ST_RANGE (an argument outside its range or not finite) and writes nothing.
 */
#ifndef SCIENCE_WATER_H
#define SCIENCE_WATER_H

#include "base/status.h"

/* -log10 of a constant at zero ionic strength, 0-90 degC: of water (Kw), the first and second step
 * of carbonic acid, counting all dissolved CO2 as acid (K1, K2), and of the solubility of carbon
 * dioxide gas in mol/(kg atm) (KH).
 * Source: Plummer and Busenberg (1982) Geochim. Cosmochim. Acta 46, 1011; Kw as in Nordstrom et al.
 * (1990). Expected error 0.01 up to 60 degC. */
enum status water_pkw_eval(double temp_c, double *pkw) MUST_USE;
enum status water_pk1_eval(double temp_c, double *pk1) MUST_USE;
enum status water_pk2_eval(double temp_c, double *pk2) MUST_USE;
enum status water_pkh_eval(double temp_c, double *pkh) MUST_USE;

/* Relative permittivity (dielectric constant) of water, 0-100 degC.
 * Source: Malmberg and Maryott (1956) J. Res. NBS 56, 1; they state 0.01 for the formula and 0.05
 * for what was measured. Not good for syrup: sugar lowers it. */
enum status water_permittivity_eval(double temp_c, double *permittivity) MUST_USE;

/* The constant A of Debye and Hueckel for log10 of an activity coefficient, 0-100 degC:
 * 1.82483e6 / (permittivity T)^1.5, for mol/L; for mol per kg of water it is smaller by the root of
 * the density, 0.15 % at 25 and 0.84 % at 60 degC. Expected error 0.1 %; tables made with older
 * permittivities (before 1950) are 0.6 to 1.3 % lower. */
enum status water_debye_huckel_eval(double temp_c, double *a) MUST_USE;

/* Activity coefficient of an ion of this charge (-4 to 4, whole) by Davies (1962):
 * log10 = -A z^2 (sqrt I / (1 + sqrt I) - 0.3 I), 0-100 degC. The A for mol/L is used for amounts
 * per kg of water too; that changes no pH by more than 0.001 up to 0.1 mol/kg and 60 degC.
 * Ionic strength 0-1 mol/kg. Expected error up to 0.1 mol/kg, against Kielland's table for ions of size 4 to
 * 5: 3.5 % for charge 1, 3 % for 2, 6.5 % for 3 (citrate; 13 % for an ion as small as phosphate); 10 % at
 * 0.5 for charge 1. The equation ends there, and more is treated as 0.5. */
enum status water_activity_coefficient_eval(int charge, double ionic_strength_mol_kg, double temp_c,
                                            double *coefficient) MUST_USE;

#endif
