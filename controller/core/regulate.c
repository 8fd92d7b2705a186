#include "core/regulate.h"

#include "core/pulse.h"
#include "core/stirring.h"
#include "core/warmth.h"

void regulate_step(struct turn *turn)
{
    struct scan *scan = turn->scan;
    struct demand *demand = &scan->demand;

    (void)pulse_step(turn, &scan->water, &PULSE_WATER);
    (void)pulse_step(turn, &scan->dose, &PULSE_DOSE);
    demand->heat_pct = warmth_demand_pct(turn);
    demand->stir = stirring_demand(turn);
    demand->water_open = pulse_wants_open(turn, &scan->water);
    demand->dose_open = pulse_wants_open(turn, &scan->dose);
}
