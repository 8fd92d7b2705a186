/* protect.h - third stage: what is forbidden now, and why.
 *
 * A row is one sentence: condition, delay, what it forbids, when it matters, whether it latches.
 * While a row's condition is true it forbids, whether anybody cares or not; it becomes a *trip*
 * (shown, latched, the batch held) only when it matters. Runs before the sequence; the gate
 * enforces the result after the loops.
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
    bool is_about_doubt; /* the row's subject is a reading that is bad; see below */
};

extern const struct protect_row PROTECT_ROWS[];
extern const int PROTECT_ROW_COUNT;

/* Start tripped: TRIP_POWER_UP latched, everything forbidden. */
void protect_init(struct scan *scan);

void protect_step(struct turn *turn);

/* Clear every latched trip whose cause is gone; who asked goes into the events. */
enum refusal protect_release(struct turn *turn, const struct who *who, int *detail);

bool protect_is_tripped(const struct scan *scan);

#endif
