/* handbook_proof_calls.h - uncertainty, decisions and charts as the handbook calls them: numbers in, numbers
 * out.
 */
#ifndef SCIENCE_HANDBOOK_PROOF_CALLS_H
#define SCIENCE_HANDBOOK_PROOF_CALLS_H

#include "base/status.h"

/* Names of choices; NULL beyond them. */
const char *proof_shape_choice(int index);
const char *proof_decision_choice(int index);
const char *proof_sample_choice(int index);
const char *proof_rule_choice(int index);

/* As struct handbook_entry.eval; the rows of handbook_proof.c say what goes in and comes out. */
enum status proof_row_standard(const double in[], double out[]) MUST_USE;
enum status proof_row_coverage(const double in[], double out[]) MUST_USE;
enum status proof_row_student(const double in[], double out[]) MUST_USE;
enum status proof_row_three(const double in[], double out[]) MUST_USE;
enum status proof_row_pair(const double in[], double out[]) MUST_USE;
enum status proof_row_strength(const double in[], double out[]) MUST_USE;
enum status proof_row_acidity(const double in[], double out[]) MUST_USE;
enum status proof_row_mass(const double in[], double out[]) MUST_USE;
enum status proof_row_volume(const double in[], double out[]) MUST_USE;
enum status proof_row_conformity(const double in[], double out[]) MUST_USE;
enum status proof_row_acceptance(const double in[], double out[]) MUST_USE;
enum status proof_row_probability(const double in[], double out[]) MUST_USE;
enum status proof_row_agreement(const double in[], double out[]) MUST_USE;
enum status proof_row_risk(const double in[], double out[]) MUST_USE;
enum status proof_row_chart_range(const double in[], double out[]) MUST_USE;
enum status proof_row_chart_deviation(const double in[], double out[]) MUST_USE;
enum status proof_row_chart_mean(const double in[], double out[]) MUST_USE;
enum status proof_row_chart_limits(const double in[], double out[]) MUST_USE;
enum status proof_row_chart_rule(const double in[], double out[]) MUST_USE;
enum status proof_row_false_alarm(const double in[], double out[]) MUST_USE;
enum status proof_row_capability(const double in[], double out[]) MUST_USE;

#endif
