/* scalar.h - one word of a settings file turned into a value, strictly.
 *
 * Does:      use the whole word, whatever the process's locale is.
 * Does not:  accept octal, hexadecimal, leading zeros, "nan", "inf", a decimal comma, digit
 *            grouping, or anything after the number. Common readers accept some of these and
 *            take 40,5 for 40 or 010 for 8.
 * Thread:    any. Memory: the caller's.
 *
 * The parsers return false and write one clause to why ("a decimal comma is not understood; write
 * 40.5") when the word is not such a value; *out is then unchanged.
 */
#ifndef SETTINGS_SCALAR_H
#define SETTINGS_SCALAR_H

#include "base/status.h"

#include <stdbool.h>
#include <stdint.h>

#define SCALAR_WHY_MAX 192
#define SCALAR_PRINT_MAX 40

/* Finite decimal: 40, -0.5, 1e-5. */
bool scalar_parse_decimal(const char *word, double *out, char why[SCALAR_WHY_MAX]) MUST_USE;

/* Whole number, no point and no exponent, within +-2^53. */
bool scalar_parse_integer(const char *word, int64_t *out, char why[SCALAR_WHY_MAX]) MUST_USE;

/* yes, no, true, false; lower case. */
bool scalar_parse_yes_no(const char *word, bool *out, char why[SCALAR_WHY_MAX]) MUST_USE;

/* A time with its unit, in seconds: "90 s", "250 ms", "15 min", "4 h", "1 h 30 min". */
bool scalar_parse_duration(const char *word, double *out_s, char why[SCALAR_WHY_MAX]) MUST_USE;

/* The shortest word that parses back to exactly this value; it must be finite. */
void scalar_print_decimal(double value, char out[SCALAR_PRINT_MAX]);
void scalar_print_duration(double value_s, char out[SCALAR_PRINT_MAX]);

#endif
