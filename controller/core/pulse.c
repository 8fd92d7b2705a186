#include "core/pulse.h"

#include <assert.h>
#include <math.h>

static const double COUNTER_LEAST = 0.8; /* of what the time says: a pump that counts less is not believed */

static double water_rate(const struct scan_setup *setup)
{
    return setup->tank.water_l_min / 60;
}

static double dose_rate(const struct scan_setup *setup)
{
    return setup->tank.dose_ml_min / 60;
}

static double *water_tally(struct batch_memory *memory)
{
    return &memory->water_in_l;
}

static double *dose_tally(struct batch_memory *memory)
{
    return &memory->acid_in_ml;
}

static struct open_act *water_open_act(struct batch_memory *memory)
{
    return &memory->open_water;
}

static struct open_act *dose_open_act(struct batch_memory *memory)
{
    return &memory->open_dose;
}

const struct pulse_kind PULSE_WATER = {
    .intent = EVENT_INTENT_WATER,
    .outcome = EVENT_OUTCOME_WATER,
    .output = POINT_WATER_VALVE_OPEN,
    .counter = POINT_WATER_L,
    .settle_s = 2.0,
    .rate_per_s = water_rate,
    .tally = water_tally,
    .open_act = water_open_act,
};
const struct pulse_kind PULSE_DOSE = {
    .intent = EVENT_INTENT_DOSE,
    .outcome = EVENT_OUTCOME_DOSE,
    .output = POINT_DOSE_PUMP_ON,
    .counter = POINT_DOSED_ML,
    .settle_s = 2.0,
    .rate_per_s = dose_rate,
    .tally = dose_tally,
    .open_act = dose_open_act,
};

static void pulse_enter(struct turn *turn, struct pulse *pulse, enum pulse_phase phase)
{
    pulse->phase = phase;
    pulse->phase_us = turn->scan->image.now_us;
}

static void pulse_note_open(const struct turn *turn, const struct pulse *pulse, const struct pulse_kind *kind)
{
    bool has_count = turn_is_good(turn, kind->counter);

    *kind->open_act(&turn->scan->memory) = (struct open_act){
        .is_open = true,
        .has_count = has_count,
        .intent = pulse->intent,
        .amount = pulse->amount,
        .count_before = has_count ? turn_value(turn, kind->counter) : 0,
    };
}

void pulse_ask(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind, double amount)
{
    struct batch_memory *memory = &turn->scan->memory;
    struct event *event = turn_emit(turn, kind->intent, kind->output, 0);

    assert(pulse->phase == PULSE_IDLE && amount > 0);
    *pulse = (struct pulse){.intent = memory->next_intent++, .amount = amount};
    pulse->limit_s = 1.5 * amount / kind->rate_per_s(turn->setup) + 20;
    *kind->tally(memory) += amount;
    pulse_note_open(turn, pulse, kind);
    event->intent = pulse->intent;
    event->value = amount;
    pulse_enter(turn, pulse, PULSE_ASKED);
}

/* The amount counted as delivered since it was asked; now it is known. */
static void pulse_outcome(struct turn *turn, const struct pulse_kind *kind, double delivered)
{
    struct open_act *act = kind->open_act(&turn->scan->memory);
    struct event *event = turn_emit(turn, kind->outcome, kind->output, 0);

    *kind->tally(&turn->scan->memory) += delivered - act->amount;
    event->intent = act->intent;
    event->value = delivered;
    event->value2 = act->amount;
    act->is_open = false;
}

static void pulse_finish(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind,
                         double delivered)
{
    pulse_outcome(turn, kind, delivered);
    pulse->phase = PULSE_IDLE;
}

static bool pulse_counted(const struct turn *turn, const struct pulse *pulse, const struct pulse_kind *kind,
                          double *counted)
{
    if (!pulse->has_count || !turn_is_good(turn, kind->counter))
        return false;
    *counted = turn_value(turn, kind->counter) - pulse->count_before;
    return true;
}

/* A counter that goes back was reset: it tells nothing more of this pulse. */
static void pulse_watch_counter(const struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind)
{
    double count = turn_value(turn, kind->counter);

    if (!pulse->has_count || !isfinite(count))
        return;
    pulse->has_count = count >= pulse->count_last;
    pulse->count_last = count;
}

static void pulse_watch(const struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind)
{
    if (turn_output_is_on(turn, kind->output))
        pulse->open_s += turn->scan->image.dt_s;
    pulse_watch_counter(turn, pulse, kind);
}

static void pulse_give_up(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind)
{
    turn_emit(turn, EVENT_NOT_RECORDED, kind->output, 0)->intent = pulse->intent;
    *kind->tally(&turn->scan->memory) -= pulse->amount;
    kind->open_act(&turn->scan->memory)->is_open = false;
    pulse->phase = PULSE_IDLE;
}

static bool pulse_step_asked(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind)
{
    if (turn->scan->image.durable_intent >= pulse->intent) {
        pulse->has_count = turn_is_good(turn, kind->counter);
        pulse->count_before = pulse->has_count ? turn_value(turn, kind->counter) : 0;
        pulse->count_last = pulse->count_before;
        pulse_enter(turn, pulse, PULSE_OPEN);
        return false;
    }
    if (turn_since_s(turn, pulse->phase_us) <= turn->setup->limits.intent_ack_s)
        return false;
    pulse_give_up(turn, pulse, kind);
    return true;
}

static void pulse_step_open(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind)
{
    double rate = kind->rate_per_s(turn->setup);
    double by_time, counted;

    pulse_watch(turn, pulse, kind);
    by_time = pulse->open_s * rate;
    pulse->done = pulse_counted(turn, pulse, kind, &counted) ? counted : by_time;
    /* A pump is stopped by time, as its strokes are more regular than its counter is quick, and by
     * the counter if that is first; a valve by its meter. Half a scan's worth early is nearest. */
    if (kind == &PULSE_DOSE)
        pulse->done = fmax(pulse->done, by_time);
    if (pulse->done >= pulse->amount - 0.5 * rate * turn->scan->image.dt_s)
        pulse_enter(turn, pulse, PULSE_SETTLING);
    if (turn_since_s(turn, pulse->phase_us) > pulse->limit_s)
        pulse_enter(turn, pulse, PULSE_SETTLING);
}

/* By the counter; by time where the tank has none; all of it where the counter has gone and nobody
 * can tell. A counter that hardly moved while the pump ran is dead: it must not make room for more
 * acid than the ceiling allows. */
static double pulse_delivered(const struct turn *turn, const struct pulse *pulse,
                              const struct pulse_kind *kind)
{
    double by_time = pulse->open_s * kind->rate_per_s(turn->setup);
    double counted;

    if (pulse_counted(turn, pulse, kind, &counted))
        return kind == &PULSE_DOSE && counted < COUNTER_LEAST * by_time ? by_time : counted;
    return turn_is_bound(turn, kind->counter) ? pulse->amount : by_time;
}

bool pulse_step(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind)
{
    switch (pulse->phase) {
    case PULSE_IDLE:
        return false;
    case PULSE_ASKED:
        return pulse_step_asked(turn, pulse, kind);
    case PULSE_OPEN:
        pulse_step_open(turn, pulse, kind);
        return false;
    case PULSE_SETTLING:
        pulse_watch(turn, pulse, kind);
        if (turn_since_s(turn, pulse->phase_us) < kind->settle_s)
            return false;
        pulse_finish(turn, pulse, kind, pulse_delivered(turn, pulse, kind));
        return true;
    }
    return false;
}

void pulse_abandon(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind)
{
    if (pulse->phase == PULSE_ASKED)
        pulse_finish(turn, pulse, kind, 0);
    else if (pulse->phase == PULSE_OPEN)
        pulse_enter(turn, pulse, PULSE_SETTLING);
}

/* After the daemon has died its last command lives on until the output module gives it up. */
static const double GIVEN_UP_S = 10;

static bool may_run_on(const struct turn *turn)
{
    return (double)turn->scan->scans * SCAN_PERIOD_US * 1e-6 < GIVEN_UP_S;
}

/* A counter that stood at 0 cannot be told from one that has begun anew, nor a pump's that did not
 * move from a dead one. */
static bool open_act_counted(const struct turn *turn, const struct open_act *act,
                             const struct pulse_kind *kind, double *counted)
{
    *counted = turn_value(turn, kind->counter) - act->count_before;
    return act->has_count && act->count_before > 0 && !may_run_on(turn) &&
           (kind == &PULSE_DOSE ? *counted > 0 : *counted >= 0) &&
           *counted <= act->amount + GIVEN_UP_S * kind->rate_per_s(turn->setup);
}

void pulse_settle_open(struct turn *turn, const struct pulse *pulse, const struct pulse_kind *kind,
                       bool is_last_chance)
{
    const struct open_act *act = kind->open_act(&turn->scan->memory);
    bool can_wait = turn_is_bound(turn, kind->counter) &&
                    (may_run_on(turn) || !turn_is_good(turn, kind->counter));
    double counted;

    if (!act->is_open || pulse->phase != PULSE_IDLE || (can_wait && !is_last_chance))
        return;
    pulse_outcome(turn, kind, open_act_counted(turn, act, kind, &counted) ? counted : act->amount);
}

bool pulse_wants_open(const struct turn *turn, const struct pulse *pulse)
{
    return pulse->phase == PULSE_OPEN && turn->scan->image.durable_intent >= pulse->intent;
}
