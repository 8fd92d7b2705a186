/* sequence.h - fourth stage: commands, states and steps of the batch.
 *
 * A step is a row: entry, work, time limit, whether this plan needs it. Work says what it wants of
 * the loops (struct want) and whether it is done; it can ask, never force.
 */
#ifndef CORE_SEQUENCE_H
#define CORE_SEQUENCE_H

#include "core/turn.h"

/* Restore or begin; nothing runs until a person says so. */
void sequence_init(struct scan *scan, const struct batch_memory *restored);

void sequence_step(struct turn *turn);

/* Seconds a step may take, waiting for people left out; HUGE_VAL for none. */
double sequence_step_limit_s(const struct scan_setup *setup, enum step step);

/* Does this batch go through the step? */
bool sequence_uses_step(const struct scan_setup *setup, const struct batch_plan *plan, enum step step);

/* Expected seconds to the end, people's waiting left out; NAN without a batch. */
double sequence_time_left_s(const struct scan *scan, const struct scan_setup *setup);

#endif
