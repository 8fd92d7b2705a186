#include "core/protect.h"

#include "core/leak.h"

#include <math.h>
#include <stddef.h>

void protect_init(struct scan *scan)
{
    for (int t = 0; t < TRIP_COUNT; t++)
        scan->trips[t] = (struct trip_state){.since_us = -1, .detail = -1};
    scan->trips[TRIP_POWER_UP].is_latched = true;
    scan->first_trip = TRIP_POWER_UP;
    scan->forbidden = FORBID_ALL;
}

bool protect_is_tripped(const struct scan *scan)
{
    for (int t = 0; t < TRIP_COUNT; t++)
        if (scan->trips[t].is_latched)
            return true;
    return false;
}

static void trip_begin(struct turn *turn, const struct protect_row *row, int detail)
{
    struct scan *scan = turn->scan;
    struct trip_state *trip = &scan->trips[row->trip];
    bool is_first = !protect_is_tripped(scan);
    struct event *event;

    trip->is_present = true;
    trip->detail = detail;
    trip->tripped_us = scan->image.now_us;
    if (row->matters != NULL) {
        trip->is_latched = true;
        if (is_first)
            scan->first_trip = row->trip;
        scan->memory.trips_seen |= 1u << row->trip;
    }
    event = turn_emit(turn, EVENT_TRIPPED, row->trip, detail);
    if (detail >= 0 && detail < POINT_INPUT_COUNT && isfinite(turn_value(turn, (enum point)detail)))
        event->value = turn_value(turn, (enum point)detail);
}

/* Has the condition lasted? */
static bool row_is_due(struct turn *turn, const struct protect_row *row, bool is_present)
{
    struct trip_state *trip = &turn->scan->trips[row->trip];

    if (!is_present)
        trip->since_us = -1;
    else if (trip->since_us < 0)
        trip->since_us = turn->scan->image.now_us;
    return is_present && turn_since_s(turn, trip->since_us) >= row->delay_s;
}

/* Is what the row says seen, and not merely feared because its reading is bad? */
static bool cause_is_seen(const struct turn *turn, const struct protect_row *row, int detail)
{
    return row->is_about_doubt || detail < 0 || !turn_is_bound(turn, (enum point)detail) ||
           turn_is_good(turn, (enum point)detail);
}

static bool row_matters(const struct turn *turn, const struct protect_row *row)
{
    return row->matters == NULL || row->matters(turn);
}

/* Of a condition that is true: is it, or does it stay, a trip? */
static bool is_trip_now(const struct turn *turn, const struct protect_row *row, int detail)
{
    if (turn->scan->trips[row->trip].is_present)
        return !row->is_seen_at_work || row_matters(turn, row);
    return cause_is_seen(turn, row, detail) && row_matters(turn, row);
}

static void row_step(struct turn *turn, const struct protect_row *row, unsigned *forbidden)
{
    struct trip_state *trip = &turn->scan->trips[row->trip];
    int detail = -1;
    bool is_present = row->is_present(turn, &detail);
    bool is_trip = row_is_due(turn, row, is_present) && is_trip_now(turn, row, detail);

    if (is_trip && !trip->is_present)
        trip_begin(turn, row, detail);
    else if (is_trip)
        trip->detail = detail; /* another reading may have become the bad one */
    if (!is_trip && trip->is_present) {
        trip->is_present = false;
        (void)turn_emit(turn, EVENT_TRIP_ENDED, row->trip, trip->detail);
    }
    if (is_present || trip->is_latched)
        *forbidden |= row->forbids;
}

void protect_step(struct turn *turn)
{
    unsigned forbidden = turn->scan->trips[TRIP_POWER_UP].is_latched ? FORBID_ALL : 0;

    for (int i = 0; i < PROTECT_ROW_COUNT; i++)
        row_step(turn, &PROTECT_ROWS[i], &forbidden);
    turn->scan->forbidden = forbidden;
}

static bool trip_can_clear(struct turn *turn, int t)
{
    int detail;

    if (t == TRIP_LEVEL_LOW && !turn->scan->memory.has_batch)
        return true;
    if (t == TRIP_STEP_TIME) /* releasing it grants the step its time once more */
        turn->scan->memory.step_s = 0;
    if (t == TRIP_WATER_LEAKS) /* trips again when more runs in */
        leak_forget(turn->scan);
    if (t == TRIP_DOSE_CEILING) /* trips again at once if the next dose would still pass the ceiling */
        turn->scan->acidity.is_over_ceiling = false;
    for (int i = 0; i < PROTECT_ROW_COUNT; i++)
        if ((int)PROTECT_ROWS[i].trip == t)
            return !PROTECT_ROWS[i].is_present(turn, &detail) ||
                   (PROTECT_ROWS[i].is_seen_at_work && !row_matters(turn, &PROTECT_ROWS[i]));
    return true; /* power-up has no condition that could be present */
}

enum refusal protect_release(struct turn *turn, const struct who *who, int *detail)
{
    struct scan *scan = turn->scan;
    int cleared = 0;
    int kept = -1;

    for (int t = 0; t < TRIP_COUNT; t++) {
        if (!scan->trips[t].is_latched)
            continue;
        if (!trip_can_clear(turn, t)) {
            kept = kept < 0 ? t : kept;
            continue;
        }
        scan->trips[t].is_latched = false;
        scan->trips[t].is_present = false;
        turn_emit(turn, EVENT_RELEASED, t, scan->trips[t].detail)->who = *who;
        cleared++;
    }
    scan->first_trip = kept;
    *detail = kept;
    if (cleared > 0)
        return REFUSAL_NONE;
    return kept >= 0 ? REFUSAL_CAUSE_PRESENT : REFUSAL_NOTHING;
}
