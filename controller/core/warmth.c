#include "core/warmth.h"

#include <math.h>

static const double FULL_POWER_BELOW_K = 2.0; /* from here on power falls in proportion */
static const double HYSTERESIS_K = 0.3;       /* tanks that can only switch */
static const double SHEATH_MARGIN_K = 30;     /* power falls in proportion over this much before the limit */
static const double SHEATH_RESERVE_K = 10;    /* and is nothing this far from it */

static double sheath_share(const struct turn *turn)
{
    double sheath_c = turn_value(turn, POINT_SHEATH_TEMP_C);
    double top_c = turn->setup->limits.sheath_max_c - SHEATH_RESERVE_K;

    if (!isfinite(sheath_c))
        return 1; /* not fitted: the hard-wired limiter has its own sensor; fitted but bad trips */
    return fmin(1, fmax(0, (top_c - sheath_c) / SHEATH_MARGIN_K));
}

double warmth_demand_pct(const struct turn *turn)
{
    const struct want *want = &turn->scan->want;
    double missing_k = want->warmth_c - turn_value(turn, POINT_TANK_TEMP_C);
    double share = sheath_share(turn);

    if (!isfinite(missing_k)) /* nothing wanted, or the temperature is unknown */
        return 0;
    if (turn_is_bound(turn, POINT_HEATER_POWER_PCT))
        return fmin(want->power_max_pct, 100 * fmax(0, fmin(1, missing_k / FULL_POWER_BELOW_K))) * share;
    if (share <= 0)
        return 0;
    return missing_k > (turn_output_is_on(turn, POINT_HEATER_ON) ? 0 : HYSTERESIS_K) ? 100 : 0;
}
