/* regulate.h - fifth stage: each loop turns what the step wants into one demand. */
#ifndef CORE_REGULATE_H
#define CORE_REGULATE_H

#include "core/turn.h"

/* Writes scan->demand and moves the pulses on. */
void regulate_step(struct turn *turn);

#endif
