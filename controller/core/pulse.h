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
    double (*rate_per_s)(const struct scan_setup *setup);
    double *(*tally)(struct batch_memory *memory);
    struct open_act *(*open_act)(struct batch_memory *memory);
};

/* Most water let in under one intention: bounds what a crash leaves unknown, and what one wrong
 * reading can do before the next. */
#define PULSE_WATER_MAX_L 60.0

extern const struct pulse_kind PULSE_WATER; /* litres */
extern const struct pulse_kind PULSE_DOSE;  /* millilitres */

/* Begin; the pulse must be idle and amount > 0. */
void pulse_ask(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind, double amount);

/* Advance; returns true in the scan in which it has become idle again. Given up without having
 * opened (EVENT_NOT_RECORDED) when the record did not confirm in time. */
bool pulse_step(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind);

/* Close now. pulse_step must go on being called: it settles and counts what went through. */
void pulse_abandon(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind);

/* After a restart of the daemon: settle an intention that was open then. The counter tells what went
 * through where it was read before the act and has plainly not begun anew since; otherwise, or when
 * is_last_chance, all of it counts as delivered. Does nothing while the counter cannot be read, or
 * the output may still be on from before. */
void pulse_settle_open(struct turn *turn, const struct pulse *pulse, const struct pulse_kind *kind,
                       bool is_last_chance);

/* What the loop demands of the output; the gate has the last word. */
bool pulse_wants_open(const struct turn *turn, const struct pulse *pulse);

#endif
