#include "core/scan.h"

#include "core/estimate.h"
#include "core/gate.h"
#include "core/protect.h"
#include "core/regulate.h"
#include "core/sense.h"
#include "core/sequence.h"

#include <math.h>
#include <string.h>

/* A scan this late tells that the controller was not looking: everything off for this scan. */
static const int64_t LATE_US = 1000000;

void scan_init(struct scan *scan, const struct scan_setup *setup, const struct batch_memory *restored)
{
    (void)setup;
    memset(scan, 0, sizeof *scan);
    for (int p = 0; p < POINT_INPUT_COUNT; p++) {
        scan->image.arrived[p] = (struct reading){
            .at_us = -1, .quality = QUALITY_BAD, .reason = REASON_NO_READING};
        scan->image.readings[p] = scan->image.arrived[p];
    }
    scan->want.warmth_c = NAN;
    protect_init(scan);
    sequence_init(scan, restored);
    gate_init(&scan->gate);
}

static void scan_time(struct scan *scan, const struct scan_in *in)
{
    struct image *image = &scan->image;
    int64_t step_us = scan->has_run ? in->scan_us - image->now_us : SCAN_PERIOD_US;

    scan->gate.is_time_sound = step_us > 0 && step_us <= LATE_US;
    image->dt_s = scan->gate.is_time_sound ? (double)step_us * 1e-6 : 0;
    image->now_us = in->scan_us;
    image->utc_us = in->utc_us;
    image->durable_intent = in->durable_intent;
    if (!scan->has_run) /* nobody knows how long the contactor has been as it is */
        scan->gate.heater_changed_us = in->scan_us;
    scan->has_run = true;
}

void scan_step(struct scan *scan, const struct scan_setup *setup, const struct scan_in *in,
               struct scan_out *out)
{
    struct turn turn = {scan, setup, in, out};

    out->event_count = 0;
    out->events_lost = 0;
    out->result_count = 0;
    scan_time(scan, in);
    sense_step(&turn);
    estimate_step(&turn);
    protect_step(&turn);
    sequence_step(&turn);
    regulate_step(&turn);
    gate_step(&turn);
    scan->scans++;
}

void scan_snapshot_get(const struct scan *scan, const struct scan_setup *setup, struct snapshot *snapshot)
{
    const struct batch_plan *plan = &scan->memory.plan;
    bool has_batch = scan->memory.has_batch;

    memset(snapshot, 0, sizeof *snapshot);
    snapshot->scan_us = scan->image.now_us;
    snapshot->utc_us = scan->image.utc_us;
    snapshot->is_simulated = setup->is_simulated;
    snapshot->memory = scan->memory;
    snapshot->prompt = scan->prompt;
    memcpy(snapshot->readings, scan->image.readings, sizeof snapshot->readings);
    memcpy(snapshot->opinions, scan->opinions, sizeof snapshot->opinions);
    memcpy(snapshot->outputs, scan->gate.outputs, sizeof snapshot->outputs);
    memcpy(snapshot->trips, scan->trips, sizeof snapshot->trips);
    snapshot->first_trip = scan->first_trip;
    snapshot->forbidden = scan->forbidden;
    snapshot->scald = scan->scald;
    snapshot->warmth_target_c = scan->want.warmth_c;
    snapshot->strength_target_pct = has_batch ? plan->request.strength_pct : NAN;
    snapshot->acidity_target_ph = has_batch && plan->request.acid != ACID_NONE ? plan->request.target_ph
                                                                               : NAN;
    snapshot->time_left_s = sequence_time_left_s(scan, setup);
    snapshot->scans = scan->scans;
}
