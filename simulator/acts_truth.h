/* acts_truth.h - the truth of the tank as one JSON object. */
#ifndef SIMULATOR_ACTS_TRUTH_H
#define SIMULATOR_ACTS_TRUTH_H

#include "simulator/world.h"

#include <stddef.h>

/* Writes one line without newline; "error ..." when there is no memory. */
void acts_truth(const struct world *world, char *reply, size_t size);

#endif
