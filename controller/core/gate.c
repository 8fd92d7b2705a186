#include "core/gate.h"

#include <math.h>
#include <string.h>

static const double POWER_MIN_PCT = 2; /* less than this is off: a contactor must not close for nothing */

void gate_init(struct gate *gate)
{
    memset(gate, 0, sizeof *gate);
    gate->stirrer_on_us = -1;
}

static bool is_forbidden(const struct turn *turn, unsigned what)
{
    return !turn->scan->gate.is_time_sound || (turn->scan->forbidden & what) != 0;
}

static bool is_running(const struct turn *turn)
{
    return turn->scan->memory.state == STATE_RUNNING;
}

static void gate_put(struct turn *turn, enum point point, double value)
{
    turn->scan->gate.outputs[point - POINT_INPUT_COUNT] = turn_is_bound(turn, point) ? value : 0;
}

static void gate_heater(struct turn *turn)
{
    struct gate *gate = &turn->scan->gate;
    const struct limits *limits = &turn->setup->limits;
    bool was_on = turn_output_is_on(turn, POINT_HEATER_ON);
    double since_s = turn_since_s(turn, gate->heater_changed_us);
    double demand_pct = turn->scan->demand.heat_pct;
    bool is_on = demand_pct >= POWER_MIN_PCT;

    if (was_on && !is_on && since_s < limits->heater_min_on_s)
        is_on = true; /* the contactor stays closed; power control still takes the heat back */
    if (!was_on && is_on && since_s < limits->heater_min_off_s)
        is_on = false;
    if (!is_running(turn) || is_forbidden(turn, FORBID_HEAT)) /* never waits for a minimum time */
        is_on = false;
    gate_put(turn, POINT_HEATER_ON, is_on ? 1 : 0);
    gate_put(turn, POINT_HEATER_POWER_PCT, is_on ? demand_pct : 0);
    if (turn_output_is_on(turn, POINT_HEATER_ON) != was_on)
        gate->heater_changed_us = turn->scan->image.now_us;
}

static void gate_stirrer(struct turn *turn)
{
    struct gate *gate = &turn->scan->gate;
    enum batch_state state = turn->scan->memory.state;
    bool may_turn = state == STATE_RUNNING || state == STATE_PAUSING || state == STATE_PAUSED;
    bool was_on = turn_output_is_on(turn, POINT_STIRRER_ON);
    bool is_on = turn->scan->demand.stir && may_turn && !is_forbidden(turn, FORBID_STIR);

    gate_put(turn, POINT_STIRRER_ON, is_on ? 1 : 0);
    gate_put(turn, POINT_STIRRER_SET_RPM, is_on ? turn->setup->tank.stirrer_rpm : 0);
    is_on = turn_output_is_on(turn, POINT_STIRRER_ON);
    if (is_on != was_on)
        gate->stirrer_on_us = is_on ? turn->scan->image.now_us : -1;
}

static void gate_pulses(struct turn *turn)
{
    struct scan *scan = turn->scan;
    bool may_dose = scan->demand.dose_open && is_running(turn) && !is_forbidden(turn, FORBID_DOSE) &&
                    turn_value(turn, POINT_TANK_TEMP_C) <= turn->setup->limits.dose_max_c &&
                    scan->memory.acid_in_ml <= scan->memory.plan.acid_ceiling_ml &&
                    scan->dose.open_s <= scan->dose.limit_s;
    bool may_fill = scan->demand.water_open && is_running(turn) && !is_forbidden(turn, FORBID_WATER) &&
                    scan->water.open_s <= scan->water.limit_s;

    gate_put(turn, POINT_DOSE_PUMP_ON, may_dose ? 1 : 0);
    gate_put(turn, POINT_DOSE_ML_MIN, may_dose ? turn->setup->tank.dose_ml_min : 0);
    gate_put(turn, POINT_WATER_VALVE_OPEN, may_fill ? 1 : 0);
}

void gate_step(struct turn *turn)
{
    gate_heater(turn);
    gate_stirrer(turn);
    gate_pulses(turn);
    for (int i = 0; i < POINT_OUTPUT_COUNT; i++)
        if (!isfinite(turn->scan->gate.outputs[i])) /* our own bug must not reach a relay */
            turn->scan->gate.outputs[i] = 0;
    memcpy(turn->out->outputs, turn->scan->gate.outputs, sizeof turn->out->outputs);
}
