/* sense.h - first stage: what arrived becomes values with quality, reason and age. */
#ifndef CORE_SENSE_H
#define CORE_SENSE_H

#include "core/turn.h"

/* Judge every input point. A bad value keeps its last number for the record only; nobody may use
 * it: turn_value answers NAN. Emits EVENT_QUALITY when a bound point's quality changes. */
void sense_step(struct turn *turn);

#endif
