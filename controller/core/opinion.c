#include "core/opinion.h"

#include "science/decision.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#define U_MIN 0.01 /* no hand instrument is better, and smaller ones would be shown as 0.00 */

/* What a person can read with a hand instrument, and between which numbers. */
static const struct possible {
    enum point point;
    double min;
    double max;
    double u_max;
} POSSIBLE[] = {
    {POINT_STRENGTH_PCT, 0, 85, 10},
    {POINT_ACIDITY_PH, 0, 14, 5},
    {POINT_TANK_TEMP_C, -20, 130, 20},
};

static const struct possible *possible_find(enum point point)
{
    for (unsigned i = 0; i < sizeof POSSIBLE / sizeof POSSIBLE[0]; i++)
        if (POSSIBLE[i].point == point)
            return &POSSIBLE[i];
    return NULL;
}

static void instrument_ask(const struct turn *turn, struct opinion *opinion, enum point point)
{
    double standard_u = turn->setup->points[point].uncertainty;
    double en;

    opinion->instrument = turn_is_bound(turn, point) ? turn_value(turn, point) : (double)NAN;
    opinion->instrument_expanded_u = standard_u > 0 ? 2 * standard_u : (double)NAN;
    opinion->agreement = AGREEMENT_CANNOT_SAY;
    if (decision_agreement_eval(opinion->value, opinion->expanded_u, opinion->instrument,
                                opinion->instrument_expanded_u, &en) == ST_OK)
        opinion->agreement = en <= 1 ? AGREEMENT_AGREES : AGREEMENT_DISAGREES;
}

enum refusal opinion_take(struct turn *turn, const struct command *command)
{
    const struct possible *possible = possible_find(command->point);
    struct opinion *opinion;
    struct event *event;

    if (possible == NULL || !(command->number >= possible->min && command->number <= possible->max) ||
        !(command->expanded_u >= U_MIN && command->expanded_u <= possible->u_max))
        return REFUSAL_NUMBER;
    opinion = &turn->scan->opinions[command->point];
    *opinion = (struct opinion){.has = true,
                                .value = command->number,
                                .expanded_u = command->expanded_u,
                                .at_us = turn->scan->image.now_us};
    instrument_ask(turn, opinion, command->point);
    event = turn_emit(turn, EVENT_HAND_READING, (int)command->point, (int)opinion->agreement);
    event->value = opinion->value;
    event->value2 = opinion->expanded_u;
    event->who = command->who;
    event = turn_emit(turn, EVENT_COMPARED, (int)command->point, (int)opinion->agreement);
    event->value = opinion->instrument;
    event->value2 = opinion->instrument_expanded_u;
    return REFUSAL_NONE;
}

void opinion_forget(struct turn *turn)
{
    memset(turn->scan->opinions, 0, sizeof turn->scan->opinions);
}
