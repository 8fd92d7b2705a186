/* protect_rows.c - the table of protection. Each condition is one short function; doubt counts as
 * the dangerous answer, because turn_is_yes is false for a bad reading. */
#include "core/leak.h"
#include "core/protect.h"
#include "core/sequence.h"

#include <math.h>
#include <stddef.h>

static bool liquid_is_hot(const struct turn *turn, int *detail)
{
    *detail = POINT_TANK_TEMP_C;
    return turn_value(turn, POINT_TANK_TEMP_C) > turn->setup->limits.liquid_max_c;
}

static bool sheath_is_hot(const struct turn *turn, int *detail)
{
    *detail = POINT_SHEATH_TEMP_C;
    return turn_value(turn, POINT_SHEATH_TEMP_C) > turn->setup->limits.sheath_max_c;
}

static bool level_is_low(const struct turn *turn, int *detail)
{
    *detail = POINT_LEVEL_COVERS_HEATER;
    if (turn_is_bound(turn, POINT_LEVEL_COVERS_HEATER))
        return !turn_is_yes(turn, POINT_LEVEL_COVERS_HEATER);
    /* Without a switch the mass balance has to do; the hard-wired cut-out is still required. */
    return turn->scan->estimate.liquid_l < turn->setup->tank.heater_cover_l;
}

static bool level_is_high(const struct turn *turn, int *detail)
{
    *detail = POINT_LEVEL_BELOW_BRIM;
    if (turn_is_bound(turn, POINT_LEVEL_BELOW_BRIM))
        return !turn_is_yes(turn, POINT_LEVEL_BELOW_BRIM);
    return turn->scan->estimate.liquid_l > turn->setup->tank.capacity_l;
}

static bool stirrer_is_unproven(const struct turn *turn, int *detail)
{
    *detail = POINT_STIRRER_RPM;
    if (!turn_output_is_on(turn, POINT_STIRRER_ON))
        return true;
    if (turn_is_bound(turn, POINT_STIRRER_RPM))
        return !(turn_value(turn, POINT_STIRRER_RPM) >= turn->setup->limits.stirrer_min_rpm);
    return turn_since_s(turn, turn->scan->gate.stirrer_on_us) < turn->setup->limits.stirrer_proof_s;
}

static bool stirrer_had_its_time(const struct turn *turn)
{
    return turn_output_is_on(turn, POINT_STIRRER_ON) &&
           turn_since_s(turn, turn->scan->gate.stirrer_on_us) > turn->setup->limits.stirrer_proof_s;
}

static bool lid_is_open(const struct turn *turn)
{
    return !turn_lid_is_shut(turn);
}

/* A person was asked to do something that needs the lid open, and has not shut it since. */
static bool is_at_the_hatch(const struct turn *turn)
{
    return turn->scan->memory.step == STEP_CHARGE || turn->scan->lid_expected;
}

/* Through a fixed guard grid nobody can reach the stirrer while sugar is tipped. */
static bool lid_is_open_unguarded(const struct turn *turn, int *detail)
{
    *detail = POINT_LID_CLOSED;
    return lid_is_open(turn) && !(is_at_the_hatch(turn) && turn->setup->tank.charging_grid);
}

static bool hatch_is_open_as_asked(const struct turn *turn, int *detail)
{
    *detail = POINT_LID_CLOSED;
    return lid_is_open(turn) && is_at_the_hatch(turn);
}

static bool chain_is_open(const struct turn *turn, int *detail)
{
    *detail = POINT_CHAIN_OK;
    return turn_is_bound(turn, POINT_CHAIN_OK) && !turn_is_yes(turn, POINT_CHAIN_OK);
}

/* Readings without which nobody can tell whether the tank may be heated. */
static const enum point NEEDED[] = {POINT_TANK_TEMP_C,      POINT_SHEATH_TEMP_C, POINT_LEVEL_COVERS_HEATER,
                                    POINT_STIRRER_RPM,      POINT_LID_CLOSED,    POINT_CHAIN_OK,
                                    POINT_LEVEL_BELOW_BRIM, POINT_HEATER_IS_ON};

static const double METER_PROOF_S = 20; /* a slow valve and a slow meter have answered by then */
static const double METER_LEAST = 0.1;  /* of the usual flow: less is a shut tap or a dead meter */

/* The meter alone ends a share of water: one that stands still would let in water without end. */
static bool water_meter_stands_still(const struct turn *turn)
{
    const struct pulse *share = &turn->scan->water;
    double usual_l = share->open_s * turn->setup->tank.water_l_min / 60;

    return share->phase == PULSE_OPEN && share->has_count && turn_is_good(turn, POINT_WATER_L) &&
           share->open_s > METER_PROOF_S && share->done < METER_LEAST * usual_l;
}

static bool needed_reading_is_bad(const struct turn *turn, int *detail)
{
    for (unsigned i = 0; i < sizeof NEEDED / sizeof NEEDED[0]; i++) {
        const struct reading *reading = &turn->scan->image.readings[NEEDED[i]];
        if (turn_is_bound(turn, NEEDED[i]) && reading->quality == QUALITY_BAD &&
            reading->reason != REASON_BUS_LOST) {
            *detail = (int)NEEDED[i];
            return true;
        }
    }
    *detail = POINT_WATER_L;
    return water_meter_stands_still(turn);
}

static bool bus_is_lost(const struct turn *turn, int *detail)
{
    for (int p = 0; p < POINT_INPUT_COUNT; p++)
        if (turn_is_bound(turn, (enum point)p) && turn->scan->image.readings[p].reason == REASON_BUS_LOST) {
            *detail = p;
            return true;
        }
    return false;
}

static bool dose_is_over_ceiling(const struct turn *turn, int *detail)
{
    *detail = -1;
    return turn->scan->acidity.is_over_ceiling;
}

static bool step_is_too_long(const struct turn *turn, int *detail)
{
    *detail = -1;
    return turn->scan->memory.step_s > sequence_step_limit_s(turn->setup, turn->scan->memory.step);
}

static bool contactor_lags(const struct turn *turn, bool is_asked_on)
{
    return turn_is_bound(turn, POINT_HEATER_IS_ON) && turn_is_good(turn, POINT_HEATER_IS_ON) &&
           turn_output_is_on(turn, POINT_HEATER_ON) == is_asked_on &&
           turn_is_yes(turn, POINT_HEATER_IS_ON) != is_asked_on &&
           turn_since_s(turn, turn->scan->gate.heater_changed_us) > turn->setup->limits.contactor_proof_s;
}

static bool contactor_is_stuck(const struct turn *turn, int *detail)
{
    *detail = POINT_HEATER_IS_ON;
    return contactor_lags(turn, false);
}

static bool contactor_stays_open(const struct turn *turn, int *detail)
{
    *detail = POINT_HEATER_IS_ON;
    return contactor_lags(turn, true);
}

static bool water_leaks_in(const struct turn *turn, int *detail)
{
    *detail = POINT_WATER_L;
    return leak_is_seen(turn);
}

static bool controller_stood_still(const struct turn *turn, int *detail)
{
    *detail = -1;
    return !turn->scan->gate.is_time_sound;
}

static bool always(const struct turn *turn)
{
    (void)turn;
    return true;
}

static bool batch_is_working(const struct turn *turn)
{
    enum batch_state state = turn->scan->memory.state;

    if (turn->scan->is_recovered) /* it worked when the power went; now it is as good as held */
        return false;
    return state == STATE_RUNNING || state == STATE_PAUSING || state == STATE_PAUSED ||
           state == STATE_RESTARTING;
}

static bool heat_is_wanted(const struct turn *turn)
{
    return batch_is_working(turn) && isfinite(turn->scan->want.warmth_c);
}

static bool heat_or_stir_is_wanted(const struct turn *turn)
{
    return batch_is_working(turn) && !is_at_the_hatch(turn) &&
           (isfinite(turn->scan->want.warmth_c) || turn->scan->want.stir ||
            turn_output_is_on(turn, POINT_STIRRER_ON)); /* in a pause */
}

/* A tank filled to the brim is no place to go on in, whoever filled it. */
static bool water_is_let_in_or_batch_works(const struct turn *turn)
{
    return batch_is_working(turn) || turn_output_is_on(turn, POINT_WATER_VALVE_OPEN) ||
           turn->scan->water.phase == PULSE_OPEN;
}

/* The contactor rows wait out their proof time themselves; the others' delays ride out contact
 * bounce and a single odd reading. */
const struct protect_row PROTECT_ROWS[] = {
    /* trip, condition, matters, delay s, forbids, is about doubt, is seen at work only */
    {TRIP_STALLED, controller_stood_still, always, 0.0, FORBID_ALL, false, false},
    {TRIP_BUS_LOST, bus_is_lost, always, 0.0, FORBID_ALL, true, false},
    {TRIP_CHAIN_OPEN, chain_is_open, always, 0.0, FORBID_ALL, false, false},
    {TRIP_READING_BAD, needed_reading_is_bad, batch_is_working, 0.0, FORBID_HEAT | FORBID_DOSE | FORBID_WATER,
     true, false},
    {TRIP_LIQUID_HOT, liquid_is_hot, always, 0.5, FORBID_HEAT, false, false},
    {TRIP_SHEATH_HOT, sheath_is_hot, always, 0.5, FORBID_HEAT, false, false},
    {TRIP_LEVEL_LOW, level_is_low, heat_is_wanted, 0.5, FORBID_HEAT, false, false},
    {TRIP_LEVEL_HIGH, level_is_high, water_is_let_in_or_batch_works, 0.0, FORBID_WATER, false, false},
    {TRIP_WATER_LEAKS, water_leaks_in, always, 0.0, FORBID_HEAT | FORBID_DOSE | FORBID_WATER, false, false},
    {TRIP_STIRRER, stirrer_is_unproven, stirrer_had_its_time, 0.0, FORBID_HEAT | FORBID_DOSE, false, true},
    {TRIP_LID_OPEN, lid_is_open_unguarded, heat_or_stir_is_wanted, 0.0,
     FORBID_HEAT | FORBID_STIR | FORBID_DOSE, false, false},
    {TRIP_HATCH_OPEN, hatch_is_open_as_asked, NULL, 0.0, FORBID_HEAT | FORBID_DOSE, false, false},
    {TRIP_DOSE_CEILING, dose_is_over_ceiling, batch_is_working, 0.0, FORBID_DOSE, false, false},
    {TRIP_STEP_TIME, step_is_too_long, batch_is_working, 0.0, FORBID_HEAT | FORBID_DOSE | FORBID_WATER, false,
     false},
    {TRIP_CONTACTOR_STUCK, contactor_is_stuck, always, 0.0, FORBID_HEAT | FORBID_DOSE | FORBID_WATER, false,
     false},
    {TRIP_CONTACTOR_OPEN, contactor_stays_open, batch_is_working, 0.0, FORBID_HEAT, false, false},
};
const int PROTECT_ROW_COUNT = (int)(sizeof PROTECT_ROWS / sizeof PROTECT_ROWS[0]);
