/* steps.c - what each step wants, asks and waits for. Every entry may be repeated: after a restart a
 * step begins again from what the batch memory says is in the tank. */
#include "core/steps.h"

#include "core/acidity.h"
#include "core/ask.h"
#include "core/estimate.h"
#include "core/pulse.h"
#include "core/strength.h"

#include <math.h>

static const double FILL_ENOUGH_L = 0.3;
static const double WARM_ENOUGH_K = 0.5;
static const double DISSOLVE_POWER_PCT = 50;    /* sugar may still lie on the bottom: keep the element mild */
static const double DISSOLVE_STILL_PCT = 0.015; /* dissolved: less than this more in five minutes */
static const double DISSOLVE_STILL_U = 0.25;    /* or than this share of the reading's uncertainty */
static const double CHECK_S = 60;

static const struct batch_plan *plan_of(const struct turn *turn)
{
    return &turn->scan->memory.plan;
}

static enum step_result ready_work(struct turn *turn)
{
    return ask_done(turn, PROMPT_TANK_READY, 0, 0) ? STEP_FINISHED : STEP_WORKING;
}

static enum step_result fill_work(struct turn *turn)
{
    struct batch_memory *memory = &turn->scan->memory;
    double missing_l = plan_of(turn)->fill_kg / WATER_KG_L - memory->water_in_l;

    if (turn->scan->water.phase != PULSE_IDLE)
        return STEP_WORKING;
    if (missing_l < FILL_ENOUGH_L)
        return STEP_FINISHED;
    if (turn_is_bound(turn, POINT_WATER_VALVE_OPEN))
        pulse_ask(turn, &turn->scan->water, &PULSE_WATER, fmin(missing_l, PULSE_WATER_MAX_L));
    else if (ask_done(turn, PROMPT_ADD_WATER, missing_l, 0))
        memory->water_in_l += missing_l;
    return STEP_WORKING;
}

static bool acidify_is_used(const struct scan_setup *setup, const struct batch_plan *plan)
{
    (void)setup;
    return plan->request.acid != ACID_NONE;
}

static enum step_result acidify_work(struct turn *turn)
{
    turn->scan->want.stir = true;
    return acidity_step(turn) ? STEP_FINISHED : STEP_WORKING;
}

static bool heat_is_used(const struct scan_setup *setup, const struct batch_plan *plan)
{
    (void)plan;
    return setup->points[POINT_HEATER_ON].is_bound;
}

static enum step_result heat_work(struct turn *turn)
{
    turn->scan->want.stir = true;
    turn->scan->want.warmth_c = plan_of(turn)->preheat_c;
    return turn_value(turn, POINT_TANK_TEMP_C) >= plan_of(turn)->preheat_c - WARM_ENOUGH_K ? STEP_FINISHED
                                                                                           : STEP_WORKING;
}

static void bag_is_in(struct turn *turn)
{
    struct batch_memory *memory = &turn->scan->memory;
    struct event *event;

    memory->bags_in++;
    memory->sugar_in_kg += plan_of(turn)->request.bag_kg;
    event = turn_emit(turn, EVENT_SUGAR, memory->bags_in, 0);
    event->value = memory->sugar_in_kg;
}

static enum step_result charge_work(struct turn *turn)
{
    struct batch_memory *memory = &turn->scan->memory;
    double temp_c = turn_value(turn, POINT_TANK_TEMP_C);

    turn->scan->want.stir = true;
    if (memory->bags_in >= plan_of(turn)->bags)
        return turn_lid_is_shut(turn) ? STEP_FINISHED : STEP_WORKING;
    /* Nobody is asked to lean over a tank that is too hot, or one whose heat is unknown. */
    if (!(temp_c <= turn->setup->limits.sugar_max_c) && turn->scan->prompt.kind != PROMPT_TIP_BAG)
        return STEP_WORKING;
    if (ask_done(turn, PROMPT_TIP_BAG, memory->bags_in + 1, plan_of(turn)->bags))
        bag_is_in(turn);
    return STEP_WORKING;
}

static void dissolve_enter(struct turn *turn)
{
    turn->scan->dissolve.count = 0;
    mean_clear(&turn->scan->dissolve.window);
}

/* A minute's mean goes into the list of the last six; true when there are six and the newest is
 * hardly above the oldest. */
static bool dissolve_is_still(struct turn *turn)
{
    struct dissolve *dissolve = &turn->scan->dissolve;
    double still_pct = fmax(DISSOLVE_STILL_PCT,
                            DISSOLVE_STILL_U * turn->setup->points[POINT_STRENGTH_PCT].uncertainty);

    mean_take(&dissolve->window, turn, POINT_STRENGTH_PCT);
    if (mean_span_s(&dissolve->window) < 60)
        return false;
    if (dissolve->count == DISSOLVE_WINDOWS)
        for (int i = 1; i < DISSOLVE_WINDOWS; i++)
            dissolve->means[i - 1] = dissolve->means[i];
    else
        dissolve->count++;
    dissolve->means[dissolve->count - 1] = mean_value(&dissolve->window);
    mean_clear(&dissolve->window);
    return dissolve->count == DISSOLVE_WINDOWS &&
           fabs(dissolve->means[DISSOLVE_WINDOWS - 1] - dissolve->means[0]) < still_pct;
}

static enum step_result dissolve_work(struct turn *turn)
{
    turn->scan->want.stir = true;
    turn->scan->want.warmth_c = plan_of(turn)->dissolve_c;
    turn->scan->want.power_max_pct = DISSOLVE_POWER_PCT;
    if (!turn_is_bound(turn, POINT_STRENGTH_PCT)) /* nobody can see it: twice the expected time */
        return turn->scan->memory.step_s >= 2 * plan_of(turn)->predicted_s[STEP_DISSOLVE] ? STEP_FINISHED
                                                                                          : STEP_WORKING;
    return dissolve_is_still(turn) ? STEP_FINISHED : STEP_WORKING;
}

static enum step_result strength_work(struct turn *turn)
{
    turn->scan->want.stir = true;
    switch (strength_step(turn)) {
    case STRENGTH_RIGHT:
        return STEP_FINISHED;
    case STRENGTH_SUGAR_ADDED:
        return STEP_BACK_TO_DISSOLVE;
    default:
        return STEP_WORKING;
    }
}

static void check_enter(struct turn *turn)
{
    mean_clear(&turn->scan->check.strength);
    mean_clear(&turn->scan->check.ph);
    mean_clear(&turn->scan->check.temp);
}

static void check_note(struct turn *turn, enum measured measured, double value, double u)
{
    struct event *event = turn_emit(turn, EVENT_MEASURED, (int)measured, 0);

    event->value = value;
    event->value2 = u;
}

static void check_keep(struct turn *turn, double strength_pct)
{
    struct batch_memory *memory = &turn->scan->memory;
    const struct check *check = &turn->scan->check;

    memory->has_strength = true;
    memory->strength_pct = strength_pct;
    memory->strength_u_pct = strength_reading_u(turn);
    memory->strength_temp_c = mean_value(&check->temp);
    check_note(turn, MEASURED_STRENGTH_PCT, strength_pct, memory->strength_u_pct);
    check_note(turn, MEASURED_SYRUP_TEMP_C, memory->strength_temp_c,
               turn->setup->points[POINT_TANK_TEMP_C].uncertainty);
    if (check->ph.count >= 3) {
        memory->has_syrup_ph = true;
        memory->syrup_ph = mean_value(&check->ph);
        check_note(turn, MEASURED_SYRUP_PH, memory->syrup_ph,
                   turn->setup->points[POINT_ACIDITY_PH].uncertainty);
    }
}

static enum step_result check_work(struct turn *turn)
{
    struct check *check = &turn->scan->check;
    double strength_pct;

    turn->scan->want.stir = true;
    mean_take(&check->ph, turn, POINT_ACIDITY_PH);
    mean_take(&check->temp, turn, POINT_TANK_TEMP_C);
    if (mean_span_s(&check->temp) < CHECK_S || !strength_read(turn, &check->strength, &strength_pct))
        return STEP_WORKING;
    check_keep(turn, strength_pct);
    return STEP_FINISHED;
}

const struct step_row STEP_ROWS[STEP_COUNT] = {
    [STEP_READY] = {NULL, ready_work, NULL, 0},
    [STEP_FILL] = {NULL, fill_work, NULL, offsetof(struct limits, fill_max_s)},
    [STEP_ACIDIFY] = {acidity_enter, acidify_work, acidify_is_used, offsetof(struct limits, acidify_max_s)},
    [STEP_HEAT] = {NULL, heat_work, heat_is_used, offsetof(struct limits, heat_max_s)},
    [STEP_CHARGE] = {NULL, charge_work, NULL, 0},
    [STEP_DISSOLVE] = {dissolve_enter, dissolve_work, NULL, offsetof(struct limits, dissolve_max_s)},
    [STEP_STRENGTH] = {strength_enter, strength_work, NULL, offsetof(struct limits, check_max_s)},
    [STEP_CHECK] = {check_enter, check_work, NULL, offsetof(struct limits, check_max_s)},
};
