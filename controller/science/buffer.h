/* buffer.h - the pH of buffer solutions at their temperature.
 *
 * Does:      values of the standard buffers (NIST, DIN 19266) and of three common technical ones.
 * Does not:  know the bottle in your hand: where its label says otherwise, the label is right. Technical
 *            recipes differ from maker to maker by 0.02 and more. Allocates nothing; any thread.
 * A function returns ST_OK and writes its result, or ST_RANGE (no such buffer, or a temperature outside
 * the buffer's own range, or not finite) and writes nothing.
 * Buffers never go into the tank or the feed. Tetroxalate is harmful and calcium hydroxide corrosive.
 *
 * Between the entries of the tables the curve is a cubic with slopes from the parabola through three
 * neighbours: it meets every entry, and its first derivative has no jump. Three-decimal values between the
 * entries (18-37 and 65-85 degC) are met within 0.001 pH; tests/published/probe.txt has them all. The
 * technical buffers, of which only two decimals were at hand, are smoothed: within 0.005 pH of those, exact
 * at 25 degC, and rising or falling throughout as they do.
 *
 * What a bottle's label says, by its pH at 25 degC: 1.68 tetroxalate, 3.56 tartrate, 3.78 citrate, 4.00
 * technical-4.00, 4.01 phthalate, 6.86 phosphate-1:1, 7.00 technical-7.00 (another buffer than 6.86), 7.41
 * phosphate-1:3.5, 9.18 borate, 10.01 carbonate or technical-10.01, 12.45 calcium-hydroxide.
 */
#ifndef SCIENCE_BUFFER_H
#define SCIENCE_BUFFER_H

#include "base/status.h"
#include "science/buffer_types.h"

/* "phosphate-1:1", without blanks; NULL for no buffer. */
const char *buffer_name(enum buffer buffer);

/* Temperatures the buffer's table covers, degC. */
enum status buffer_range_eval(enum buffer buffer, double *low_c, double *high_c) MUST_USE;

/* pH of the buffer at temp_c. Sources: three-decimal NIST values as given in public instrument
 * source code; phthalate after Hetzer, Durst, Robinson, Bates (1977), 0-60 degC, and above that Bates
 * (1962) from memory where JIS Z 8802 agrees; technical buffers after an instrument's manual, smoothed.
 * Expected error: see buffer_uncertainty_eval. */
enum status buffer_ph_eval(enum buffer buffer, double temp_c, double *ph) MUST_USE;

/* Change of the pH for one kelvin more, at temp_c: the derivative of the above. Good to 0.0002 inside
 * the range and 0.0005 at its ends; technical tables have two decimals only, so 0.001 there and 0.002 at
 * their ends. */
enum status buffer_change_eval(enum buffer buffer, double temp_c, double *change_ph) MUST_USE;

/* Expanded uncertainty U (k = 2) to count on for a fresh, well made buffer. Common practice: 0.01 for
 * the primary standards up to 60 degC; 0.02 above it (there published tables differ by 0.01), for the
 * secondary ones (tetroxalate, calcium hydroxide) and for technical buffers. Old or opened bottles,
 * borate and carbonate above all, are worse: they take up carbon dioxide. */
enum status buffer_uncertainty_eval(enum buffer buffer, double temp_c, double *expanded_ph) MUST_USE;

#endif
