/* strength.c - sugar is known from the bags, so the reading tells the water.
 *
 * Too strong: the missing water follows from the mass of sugar, S/target - S/reading; it goes in at
 * once, because the reading's own error is the only one left. Too thin: sugar cannot be let in by
 * a valve, so the person is asked for it, and it has to dissolve first. */
#include "core/strength.h"

#include "core/ask.h"
#include "core/estimate.h"
#include "core/pulse.h"

#include <math.h>

static const double READ_S = 60;
static const double HAND_U_PCT = 0.2; /* a hand refractometer read by a person (common practice, no source) */
static const double TRIM_BAND_PCT = 0.04; /* no trim for less than this */
static const int ROUNDS_MAX = 6;          /* of one batch: an instrument that lies must not ask for ever */
static const double WATER_MIN_L = 0.2;
static const double DISAGREE_PCT = 0.4; /* half of what one bag in forty moves */
static const double SUGAR_MIN_KG = 0.5;

static void strength_go(struct turn *turn, enum strength_phase phase)
{
    turn->scan->strength.phase = phase;
    turn->scan->strength.phase_us = turn->scan->image.now_us;
    mean_clear(&turn->scan->strength.reading);
}

void strength_enter(struct turn *turn)
{
    strength_go(turn, STRENGTH_MEASURE);
}

double strength_reading_u(const struct turn *turn)
{
    double u = turn->setup->points[POINT_STRENGTH_PCT].uncertainty;

    if (!turn_is_bound(turn, POINT_STRENGTH_PCT))
        return HAND_U_PCT;
    return u > 0 ? u : HAND_U_PCT;
}

bool strength_read(struct turn *turn, struct mean *mean, double *pct)
{
    if (!turn_is_bound(turn, POINT_STRENGTH_PCT)) {
        turn->scan->memory.strength_typed = true;
        return ask_number(turn, PROMPT_READ_STRENGTH, 0, 85, pct);
    }
    mean_take(mean, turn, POINT_STRENGTH_PCT);
    if (mean->count < 3 || mean_span_s(mean) < READ_S)
        return false;
    *pct = mean_value(mean);
    return true;
}

static void strength_note(struct turn *turn, double pct)
{
    struct event *event = turn_emit(turn, EVENT_MEASURED, MEASURED_STRENGTH_PCT, 0);

    event->value = pct;
    event->value2 = strength_reading_u(turn);
}

/* Bags and water say what the strength must be once all is dissolved. Further off than both their
 * errors allow, somebody miscounted, or an instrument is wrong: said once, on the first look. */
static void strength_compare(struct turn *turn, double pct)
{
    const struct estimate *e = &turn->scan->estimate;
    double allowed_pct = fmax(DISAGREE_PCT, 3 * hypot(e->final_strength_u_pct, strength_reading_u(turn)));
    struct event *event;

    if (turn->scan->strength.rounds > 0 || fabs(pct - e->final_strength_pct) <= allowed_pct)
        return;
    event = turn_emit(turn, EVENT_DISAGREES, MEASURED_STRENGTH_PCT, 0);
    event->value = pct;
    event->value2 = e->final_strength_pct;
}

static void strength_ask_water(struct turn *turn, double litres)
{
    strength_go(turn, STRENGTH_WATER);
    if (turn_is_bound(turn, POINT_WATER_VALVE_OPEN))
        pulse_ask(turn, &turn->scan->water, &PULSE_WATER, fmin(litres, PULSE_WATER_MAX_L));
    else
        ask(turn, PROMPT_ADD_WATER, litres, 0);
}

static enum strength_result strength_decide(struct turn *turn, double pct)
{
    struct strength *strength = &turn->scan->strength;
    double target_pct = turn->scan->memory.plan.request.strength_pct;
    double sugar_kg = turn->scan->estimate.sugar_kg;
    double water_l = 100 * sugar_kg * (1 / target_pct - 1 / pct) / WATER_KG_L;
    double total_kg = 100 * sugar_kg / pct;
    double missing_kg = total_kg * (target_pct - pct) / (100 - target_pct);

    bool is_thin = pct < target_pct - turn->scan->memory.plan.tolerance_pct / 2 && missing_kg >= SUGAR_MIN_KG;

    /* Nobody is asked to lean over a tank that is too hot: look again when it has cooled. */
    if (is_thin && !(turn_value(turn, POINT_TANK_TEMP_C) <= turn->setup->limits.sugar_max_c)) {
        strength_go(turn, STRENGTH_MEASURE);
        return STRENGTH_WORKING;
    }
    if (strength->rounds++ >= ROUNDS_MAX)
        return STRENGTH_RIGHT;
    if (pct > target_pct + TRIM_BAND_PCT && water_l >= WATER_MIN_L) {
        strength_ask_water(turn, floor(water_l * 10) / 10);
        return STRENGTH_WORKING;
    }
    if (is_thin) {
        strength_go(turn, STRENGTH_SUGAR);
        ask(turn, PROMPT_ADD_SUGAR, round(missing_kg * 2) / 2, 0);
        return STRENGTH_WORKING;
    }
    return STRENGTH_RIGHT;
}

static bool hand_water_is_in(struct turn *turn)
{
    double litres = turn->scan->prompt.number;

    if (!ask_done(turn, PROMPT_ADD_WATER, litres, 0))
        return false;
    turn->scan->memory.water_in_l += litres;
    return true;
}

static bool hand_sugar_is_in(struct turn *turn)
{
    double kg = turn->scan->prompt.number;
    struct event *event;

    if (!ask_done(turn, PROMPT_ADD_SUGAR, kg, 0))
        return false;
    turn->scan->memory.sugar_in_kg += kg;
    event = turn_emit(turn, EVENT_SUGAR, turn->scan->memory.bags_in, 0);
    event->value = turn->scan->memory.sugar_in_kg;
    return true;
}

static enum strength_result strength_measure(struct turn *turn)
{
    double pct;

    if (!strength_read(turn, &turn->scan->strength.reading, &pct))
        return STRENGTH_WORKING;
    strength_note(turn, pct);
    strength_compare(turn, pct);
    if (!(pct > 1)) { /* nothing can follow from it; look again */
        strength_go(turn, STRENGTH_MEASURE);
        return STRENGTH_WORKING;
    }
    return strength_decide(turn, pct);
}

enum strength_result strength_step(struct turn *turn)
{
    struct strength *strength = &turn->scan->strength;

    switch (strength->phase) {
    case STRENGTH_MIX: /* twice the mixing time: water spreads slowly on thick syrup */
        if (turn_since_s(turn, strength->phase_us) >= 2 * turn->setup->tank.mixing_s)
            strength_go(turn, STRENGTH_MEASURE);
        return STRENGTH_WORKING;
    case STRENGTH_MEASURE:
        return strength_measure(turn);
    case STRENGTH_WATER:
        if (turn_is_bound(turn, POINT_WATER_VALVE_OPEN) ? turn->scan->water.phase == PULSE_IDLE
                                                        : hand_water_is_in(turn))
            strength_go(turn, STRENGTH_MIX);
        return STRENGTH_WORKING;
    case STRENGTH_SUGAR:
        if (hand_sugar_is_in(turn))
            return STRENGTH_SUGAR_ADDED;
        return STRENGTH_WORKING;
    }
    return STRENGTH_WORKING;
}
