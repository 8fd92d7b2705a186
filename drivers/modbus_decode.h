/* modbus_decode.h - registers to numbers and back, with the word order said explicitly.
 *
 * Does not:  know devices or wires. Pure: no state, no I/O.
 * A coil or discrete input counts as one word, 0 or 1.
 */
#ifndef DRIVERS_MODBUS_DECODE_H
#define DRIVERS_MODBUS_DECODE_H

#include "base/status.h"
#include "drivers/channel.h"

#define DECODE_WORDS_MAX 2

/* How many words (coils, registers) a channel takes: 1 or 2. */
int modbus_decode_words(const struct channel *channel);

/* words: as many as modbus_decode_words says, in the order of their addresses.
 * *value is scaled, turned over for an inverted contact, and rounded to the resolution.
 * false: the device sent a number that is none (NaN, infinite), *value is 0. */
bool modbus_decode(const struct channel *channel, const uint16_t *words, double *value) MUST_USE;

/* The words that make the device hold value. A number outside the register's type is cut to its
 * limit. false: value is not finite or the channel cannot be written; words are all 0. */
bool modbus_encode(const struct channel *channel, double value, uint16_t words[DECODE_WORDS_MAX]) MUST_USE;

/* value rounded to a multiple of resolution; 0 leaves it alone. Halves go away from zero. */
double modbus_decode_round(double value, double resolution);

#endif
