/* opinion.h - the second opinion: a hand instrument's reading beside that of the tank's own.
 *
 * Does:      compare the two within both uncertainties, keep the last one of each quantity, say it as
 *            events for the record.
 * Does not:  correct anything, hold the batch, or ask. Control thread.
 */
#ifndef CORE_OPINION_H
#define CORE_OPINION_H

#include "core/turn.h"

/* VERB_COMPARE, in any state: strength 0-85 %, pH 0-14, temperature of the tank -20-130 degC, with a U of
 * 0.01 to 10 %, 5 pH, 20 K. REFUSAL_NUMBER for anything else; nothing is kept then. */
enum refusal opinion_take(struct turn *turn, const struct command *command);

/* A batch begins or is put away: what was read before says nothing of the next. */
void opinion_forget(struct turn *turn);

#endif
