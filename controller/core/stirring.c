#include "core/stirring.h"

bool stirring_demand(const struct turn *turn)
{
    switch (turn->scan->memory.state) {
    case STATE_RUNNING:
        return turn->scan->want.stir;
    case STATE_PAUSING:
    case STATE_PAUSED: /* sugar that settles sets hard; in water alone nothing is lost by standing */
        return turn->scan->memory.bags_in > 0;
    default:
        return false;
    }
}
