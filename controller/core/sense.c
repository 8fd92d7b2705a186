#include "core/sense.h"

#include <math.h>

/* A bus thread may read while the scan is being prepared: so much younger than the scan is good. */
static const double AHEAD_S = 1;

static struct reading reading_bad(const struct reading *arrived, enum reason reason)
{
    struct reading reading = *arrived;

    reading.quality = QUALITY_BAD;
    reading.reason = reason;
    return reading;
}

static struct reading reading_judge(const struct reading *arrived, const struct point_setup *setup,
                                    int64_t now_us)
{
    double age_s = (double)(now_us - arrived->at_us) * 1e-6;

    if (!setup->is_bound)
        return reading_bad(arrived, REASON_NOT_BOUND);
    if (arrived->at_us < 0)
        return reading_bad(arrived, REASON_NO_READING);
    if (arrived->quality == QUALITY_BAD)
        return reading_bad(arrived, arrived->reason);
    if (age_s > setup->max_age_s || age_s < -AHEAD_S)
        return reading_bad(arrived, REASON_STALE);
    if (!isfinite(arrived->value))
        return reading_bad(arrived, REASON_NOT_FINITE);
    if (arrived->value < setup->min || arrived->value > setup->max)
        return reading_bad(arrived, REASON_RANGE);
    return *arrived;
}

static void sense_take(struct turn *turn)
{
    const struct scan_in *in = turn->in;

    for (int i = 0; i < in->reading_count && i < POINT_INPUT_COUNT; i++)
        if ((unsigned)in->readings[i].point < POINT_INPUT_COUNT)
            turn->scan->image.arrived[in->readings[i].point] = in->readings[i].reading;
}

void sense_step(struct turn *turn)
{
    struct image *image = &turn->scan->image;

    sense_take(turn);
    for (int p = 0; p < POINT_INPUT_COUNT; p++) {
        const struct reading before = image->readings[p];
        struct reading *now = &image->readings[p];

        *now = reading_judge(&image->arrived[p], &turn->setup->points[p], image->now_us);
        if (now->quality != before.quality && turn->setup->points[p].is_bound) {
            struct event *event = turn_emit(turn, EVENT_QUALITY, p, (int)now->quality);
            event->value = isfinite(now->value) ? now->value : 0;
            event->value2 = (double)now->reason;
        }
    }
}
