/* protect.h - third stage: what is forbidden now, and why.
 *
 * A row is one sentence: condition, delay, what it forbids, when it matters, whether it latches.
 * While a row's condition is true it forbids, at once and whether anybody cares or not; it becomes
 * a *trip* (shown, latched, the batch held) when it has lasted for the delay and matters. A trip ends
 * with its condition. Runs before the sequence; the gate enforces the result after the loops.
 *
 * Doubt forbids like the dangerous answer would, but it is not told as that answer: a lid switch
 * that cannot be read forbids what an open lid forbids, and trips as a bad reading or a lost bus,
 * so that the first cause shown is the true one.
 */
#ifndef CORE_PROTECT_H
#define CORE_PROTECT_H

#include "core/turn.h"

struct protect_row {
    enum trip trip;
    bool (*is_present)(const struct turn *turn, int *detail);
    bool (*matters)(const struct turn *turn); /* NULL: never becomes a latched trip */
    double delay_s;
    unsigned forbids;
    bool is_about_doubt;  /* the row's subject is a reading that is bad; see above */
    bool is_seen_at_work; /* the cause shows only while it matters, so it ends with that */
};

extern const struct protect_row PROTECT_ROWS[];
extern const int PROTECT_ROW_COUNT;

/* Start tripped: TRIP_POWER_UP latched, everything forbidden. */
void protect_init(struct scan *scan);

void protect_step(struct turn *turn);

/* Clear every latched trip whose cause is gone; who asked goes into the events. A low level does not
 * keep its trip without a batch: an empty tank must be allowed to be filled. */
enum refusal protect_release(struct turn *turn, const struct who *who, int *detail);

bool protect_is_tripped(const struct scan *scan);

#endif
