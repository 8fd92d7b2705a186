#include "core/pulse.h"

#include <assert.h>
#include <math.h>

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

const struct pulse_kind PULSE_WATER = {
    EVENT_INTENT_WATER, EVENT_OUTCOME_WATER, POINT_WATER_VALVE_OPEN, POINT_WATER_L, 2.0, FORBID_WATER,
    water_rate,         water_tally,
};
const struct pulse_kind PULSE_DOSE = {
    EVENT_INTENT_DOSE, EVENT_OUTCOME_DOSE, POINT_DOSE_PUMP_ON, POINT_DOSED_ML, 2.0,
    FORBID_DOSE,       dose_rate,          dose_tally,
};

static void pulse_enter(struct turn *turn, struct pulse *pulse, enum pulse_phase phase)
{
    pulse->phase = phase;
    pulse->phase_us = turn->scan->image.now_us;
}

void pulse_ask(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind, double amount)
{
    struct batch_memory *memory = &turn->scan->memory;
    struct event *event = turn_emit(turn, kind->intent, kind->output, 0);

    assert(pulse->phase == PULSE_IDLE && amount > 0);
    *pulse = (struct pulse){.intent = memory->next_intent++, .amount = amount};
    pulse->limit_s = 1.5 * amount / kind->rate_per_s(turn->setup) + 20;
    *kind->tally(memory) += amount;
    event->intent = pulse->intent;
    event->value = amount;
    pulse_enter(turn, pulse, PULSE_ASKED);
}

static void pulse_finish(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind,
                         double delivered)
{
    struct event *event = turn_emit(turn, kind->outcome, kind->output, 0);

    *kind->tally(&turn->scan->memory) += delivered - pulse->amount;
    event->intent = pulse->intent;
    event->value = delivered;
    event->value2 = pulse->amount;
    pulse->phase = PULSE_IDLE;
}

static bool pulse_counted(const struct turn *turn, const struct pulse *pulse, const struct pulse_kind *kind,
                          double *counted)
{
    if (!pulse->has_count || !turn_is_good(turn, kind->counter))
        return false;
    *counted = turn_value(turn, kind->counter) - pulse->count_before;
    return *counted >= 0; /* a counter that went back was reset: it tells nothing */
}

static void pulse_give_up(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind)
{
    turn_emit(turn, EVENT_NOT_RECORDED, kind->output, 0)->intent = pulse->intent;
    *kind->tally(&turn->scan->memory) -= pulse->amount;
    pulse->phase = PULSE_IDLE;
}

static bool pulse_step_asked(struct turn *turn, struct pulse *pulse, const struct pulse_kind *kind)
{
    if (turn->scan->image.durable_intent >= pulse->intent) {
        pulse->has_count = turn_is_good(turn, kind->counter);
        pulse->count_before = pulse->has_count ? turn_value(turn, kind->counter) : 0;
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
    bool is_counted;

    if (turn_output_is_on(turn, kind->output))
        pulse->open_s += turn->scan->image.dt_s;
    by_time = pulse->open_s * rate;
    is_counted = pulse_counted(turn, pulse, kind, &counted);
    pulse->done = is_counted ? counted : by_time;
    /* A pump is stopped by time, as its strokes are more regular than its counter is quick; a
     * valve by its meter. Either way half a scan's worth early is nearest. */
    if (kind == &PULSE_DOSE ? by_time >= pulse->amount - 0.5 * rate * turn->scan->image.dt_s
                            : pulse->done >= pulse->amount - 0.5 * rate * turn->scan->image.dt_s)
        pulse_enter(turn, pulse, PULSE_SETTLING);
    if (turn_since_s(turn, pulse->phase_us) > pulse->limit_s)
        pulse_enter(turn, pulse, PULSE_SETTLING);
}

/* By the counter; by time where the tank has none; all of it where the counter has gone and nobody
 * can tell. */
static double pulse_delivered(const struct turn *turn, const struct pulse *pulse,
                              const struct pulse_kind *kind)
{
    double counted;

    if (pulse_counted(turn, pulse, kind, &counted))
        return counted;
    return turn_is_bound(turn, kind->counter) ? pulse->amount : pulse->done;
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

bool pulse_wants_open(const struct turn *turn, const struct pulse *pulse)
{
    return pulse->phase == PULSE_OPEN && turn->scan->image.durable_intent >= pulse->intent;
}
