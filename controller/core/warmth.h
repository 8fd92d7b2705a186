/* warmth.h - the warmth loop: towards the wanted temperature, gently at the end, easy on the element. */
#ifndef CORE_WARMTH_H
#define CORE_WARMTH_H

#include "core/turn.h"

/* Share of the heater's power demanded now, %; 0 for off. On a tank without power control any
 * answer above 0 means on. */
double warmth_demand_pct(const struct turn *turn);

#endif
