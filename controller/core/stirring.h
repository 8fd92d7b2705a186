/* stirring.h - the stirring loop: turn while the step wants it, and while sugar could settle. */
#ifndef CORE_STIRRING_H
#define CORE_STIRRING_H

#include "core/turn.h"

/* Should the stirrer turn? */
bool stirring_demand(const struct turn *turn);

#endif
