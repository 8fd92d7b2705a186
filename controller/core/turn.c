#include "core/turn.h"

#include <math.h>
#include <string.h>

struct event *turn_emit(struct turn *turn, enum event_kind kind, int a, int b)
{
    struct scan_out *out = turn->out;
    /* The last slot doubles as scrap: once full, it is overwritten and the loss is counted. */
    struct event *event = &out->events[SCAN_EVENTS_MAX - 1];

    if (out->event_count < SCAN_EVENTS_MAX)
        event = &out->events[out->event_count++];
    else
        out->events_lost++;
    memset(event, 0, sizeof *event);
    event->kind = kind;
    event->a = a;
    event->b = b;
    event->scan_us = turn->scan->image.now_us;
    event->utc_us = turn->scan->image.utc_us;
    event->who.door = DOOR_SELF;
    return event;
}

bool turn_is_good(const struct turn *turn, enum point point)
{
    return turn->scan->image.readings[point].quality != QUALITY_BAD;
}

bool turn_is_bound(const struct turn *turn, enum point point)
{
    return turn->setup->points[point].is_bound;
}

double turn_value(const struct turn *turn, enum point point)
{
    return turn_is_good(turn, point) ? turn->scan->image.readings[point].value : NAN;
}

bool turn_is_yes(const struct turn *turn, enum point point)
{
    return turn_is_good(turn, point) && turn->scan->image.readings[point].value > 0.5;
}

bool turn_lid_is_shut(const struct turn *turn)
{
    return !turn_is_bound(turn, POINT_LID_CLOSED) || turn_is_yes(turn, POINT_LID_CLOSED);
}

double turn_output(const struct turn *turn, enum point point)
{
    return turn->scan->gate.outputs[point - POINT_INPUT_COUNT];
}

bool turn_output_is_on(const struct turn *turn, enum point point)
{
    return turn_output(turn, point) > 0.5;
}

double turn_since_s(const struct turn *turn, int64_t then_us)
{
    return (double)(turn->scan->image.now_us - then_us) * 1e-6;
}

void mean_clear(struct mean *mean)
{
    memset(mean, 0, sizeof *mean);
}

void mean_take(struct mean *mean, const struct turn *turn, enum point point)
{
    const struct reading *reading = &turn->scan->image.readings[point];

    if (reading->quality == QUALITY_BAD || (mean->count > 0 && reading->at_us <= mean->last_us))
        return;
    if (mean->count == 0)
        mean->first_us = reading->at_us;
    mean->sum += reading->value;
    mean->count++;
    mean->last_us = reading->at_us;
}

double mean_value(const struct mean *mean)
{
    return mean->count > 0 ? mean->sum / mean->count : NAN;
}

double mean_span_s(const struct mean *mean)
{
    return mean->count > 0 ? (double)(mean->last_us - mean->first_us) * 1e-6 : 0;
}
