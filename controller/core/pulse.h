/* pulse.h - one irreversible act: written down, acknowledged, done, settled.
 *
 * A dose of acid or a share of water. The number of the intention is emitted first; the gate opens
 * only when the record has confirmed it (image.durable_intent). Once asked, the amount counts in
 * the batch memory as delivered, so that a crash can never under-count; the outcome corrects it.
 */
#ifndef CORE_PULSE_H
#define CORE_PULSE_H

#include "core/turn.h"

struct pulse_kind {
    enum event_kind intent;
    enum event_kind outcome;
    enum point output;  /* valve or pump */
    enum point counter; /* meter that counts what went through */
    double settle_s;    /* after closing, before the counter is believed */
    unsigned forbidden_by;
    double (*rate_per_s)(const struct scan_setup *setup);
    double *(*tally)(struct batch_memory *memory);
};

extern const struct pulse_kind PULSE_WATER; /* litres */
extern const struct pulse_kind PULSE_DOSE;  /* millilitres */

/* Begin; the pulse must be idle and amount > 0. */
void pulse_ask(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind, double amount);

/* Advance; returns true in the scan in which it has become idle again. Given up without having
 * opened (EVENT_NOT_RECORDED) when the record did not confirm in time. */
bool pulse_step(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind);

/* Close now. pulse_step must go on being called: it settles and counts what went through. */
void pulse_abandon(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind);

/* What the loop demands of the output; the gate has the last word. */
bool pulse_wants_open(const struct turn *turn, const struct pulse *pulse);

#endif
