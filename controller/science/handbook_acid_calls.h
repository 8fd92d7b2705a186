/* handbook_acid_calls.h - the calls behind the rows of handbook_acid.c: numbers in, numbers out, in the order
 * of the row. Of this folder only. Any thread. */
#ifndef SCIENCE_HANDBOOK_ACID_CALLS_H
#define SCIENCE_HANDBOOK_ACID_CALLS_H

#include "base/status.h"

enum status acid_row_pkw(const double in[], double out[]);
enum status acid_row_pk1(const double in[], double out[]);
enum status acid_row_pk2(const double in[], double out[]);
enum status acid_row_pkh(const double in[], double out[]);
enum status acid_row_permittivity(const double in[], double out[]);
enum status acid_row_debye_huckel(const double in[], double out[]);
enum status acid_row_activity_coefficient(const double in[], double out[]);
enum status acid_row_pk(const double in[], double out[]);
enum status acid_row_molar_mass(const double in[], double out[]);
enum status acid_row_stock_density(const double in[], double out[]);
enum status acid_row_stock_content(const double in[], double out[]);
enum status acid_row_solubility(const double in[], double out[]);
enum status acid_row_water_ph(const double in[], double out[]);
enum status acid_row_for_ph(const double in[], double out[]);
enum status acid_row_alkalinity(const double in[], double out[]);
enum status acid_row_dose_error(const double in[], double out[]);
enum status acid_row_other_temp_ph(const double in[], double out[]);
enum status acid_row_diluted_ph(const double in[], double out[]);
enum status acid_row_closed_ph(const double in[], double out[]);
enum status acid_row_open_ph(const double in[], double out[]);
enum status acid_row_two_ph(const double in[], double out[]);
enum status acid_row_closed_dose(const double in[], double out[]);
enum status acid_row_closed_alkalinity(const double in[], double out[]);
enum status acid_row_report_carbon(const double in[], double out[]);
enum status acid_row_open_carbon(const double in[], double out[]);
enum status acid_row_buffer(const double in[], double out[]);
enum status acid_row_mix(const double in[], double out[]);
enum status acid_row_syrup_ph(const double in[], double out[]);
enum status acid_row_syrup_span(const double in[], double out[]);

#endif
