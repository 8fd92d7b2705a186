/* numbers.h - numbers as people type and read them.
 *
 * Pure; no allocation. The decimal sign is the point: a comma would mean a thousand to one
 * reader and a tenth to the next, so it is refused with the way to write it.
 */
#ifndef CLIENT_NUMBERS_H
#define CLIENT_NUMBERS_H

#include "base/status.h"

#define NUMBER_TEXT_MAX 40

/* Read "61.9" whole; what names it in the sentence ("--strength"). No unit, no exponent. ST_RANGE
 * with the sentence otherwise, and *value is untouched. */
enum status number_parse(const char *what, const char *text, double *value, struct fault *f) MUST_USE;

/* The same for a whole number within limits. */
enum status number_whole_parse(const char *what, const char *text, int min, int max, int *value,
                               struct fault *f) MUST_USE;

/* "61.90", or "unknown" when it is not finite. Returns out. */
const char *number_print(double value, int decimals, char out[NUMBER_TEXT_MAX]);

/* Seconds as "45 s", "12 min", "3 h 05 min", "2 d 3 h"; "unknown" when not finite or below 0. */
const char *duration_print(double seconds, char out[NUMBER_TEXT_MAX]);

#endif
