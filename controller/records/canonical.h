/* canonical.h - one way only to write a thing down, so that a hash or a signature over it means
 * something: JSON in canonical form, decimals as text, UTC, clean UTF-8.
 *
 * Pure. Decimals do not depend on the locale or on how a library prints doubles.
 */
#ifndef RECORDS_CANONICAL_H
#define RECORDS_CANONICAL_H

#include <jansson.h>
#include <stddef.h>
#include <stdint.h>

#define DECIMAL_MAX 32
#define UTC_MAX 32

/* Compact JSON with sorted keys. The caller frees it; NULL when memory is short. Keys are ASCII
 * here, so the order is that of RFC 8785. */
char *canonical_json(const json_t *value);

/* value with 0-6 decimals, "-" only before a number that is not zero; "unknown" when it is not
 * finite or above 1e12. */
void canonical_decimal(double value, int decimals, char out[DECIMAL_MAX]);

/* "2026-03-01T12:30:05Z"; "unknown" outside the years 1-9999. */
void canonical_utc(int64_t utc_us, char out[UTC_MAX]);

/* Copy at most size - 1 bytes of a text from outside; whatever is no valid UTF-8, or is a control
 * character, becomes '?', and no character is cut in half. size > 0. */
void canonical_text(const char *from, char *to, size_t size);

#endif
