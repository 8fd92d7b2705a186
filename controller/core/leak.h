/* leak.h - water that the meter counts while the valve is shut: it is in the tank all the same. */
#ifndef CORE_LEAK_H
#define CORE_LEAK_H

#include "core/turn.h"

/* Part of the estimate: adds what leaks in to the water of the batch. */
void leak_step(struct turn *turn);

/* So much has leaked that it is no after-drip. */
bool leak_is_seen(const struct turn *turn);

/* Begin to count anew, as after a release. */
void leak_forget(struct scan *scan);

#endif
