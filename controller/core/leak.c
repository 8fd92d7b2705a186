#include "core/leak.h"

#include <math.h>

static const double DRIP_S = 5; /* a valve may drip for a moment after it has shut */
static const double LEAK_L = 1; /* more than any meter's last pulses */

void leak_forget(struct scan *scan)
{
    scan->leak.has_base = false;
    scan->leak.leaked_l = 0;
}

static void leak_count(struct turn *turn, double count_l)
{
    struct leak *leak = &turn->scan->leak;
    double more_l = leak->has_base ? count_l - leak->last_l : 0;

    leak->has_base = true;
    leak->last_l = count_l;
    if (more_l < 0) { /* the meter began anew */
        leak->leaked_l = 0;
        return;
    }
    leak->leaked_l += more_l;
    if (turn->scan->memory.has_batch)
        turn->scan->memory.water_in_l += more_l;
}

void leak_step(struct turn *turn)
{
    struct leak *leak = &turn->scan->leak;
    double count_l = turn_value(turn, POINT_WATER_L);
    bool is_let_in = turn_output_is_on(turn, POINT_WATER_VALVE_OPEN) ||
                     turn->scan->water.phase != PULSE_IDLE || turn->scan->memory.open_water.is_open;

    if (is_let_in) {
        leak_forget(turn->scan);
        leak->shut_us = turn->scan->image.now_us;
    } else if (isfinite(count_l) && turn_since_s(turn, leak->shut_us) >= DRIP_S) {
        leak_count(turn, count_l);
    }
}

bool leak_is_seen(const struct turn *turn)
{
    return turn->scan->leak.leaked_l > LEAK_L;
}
