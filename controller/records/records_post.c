/* The control thread's side: copy what a scan brought into the queue and go on. */
#include "records/inside.h"

#include <stdio.h>
#include <string.h>

/* These are on disk before the next thing happens; the others wait for company. */
static const bool AT_ONCE[EVENT_KIND_COUNT] = {
    [EVENT_BATCH_STARTED] = true, [EVENT_BATCH_ENDED] = true,  [EVENT_STATE] = true,
    [EVENT_STEP] = true,          [EVENT_COMMAND] = true,      [EVENT_ANSWERED] = true,
    [EVENT_TRIPPED] = true,       [EVENT_RELEASED] = true,     [EVENT_INTENT_DOSE] = true,
    [EVENT_OUTCOME_DOSE] = true,  [EVENT_INTENT_WATER] = true, [EVENT_OUTCOME_WATER] = true,
    [EVENT_NOT_RECORDED] = true,  [EVENT_SUGAR] = true,        [EVENT_MEASURED] = true,
    [EVENT_RECOVERED] = true,
};

static bool is_intent(enum event_kind kind)
{
    return kind == EVENT_INTENT_DOSE || kind == EVENT_INTENT_WATER;
}

static bool put(struct records *r, enum item_kind kind, const void *item, size_t size, bool is_vital)
{
    if (!queue_put(r->queue, (uint32_t)kind, item, size, is_vital)) {
        r->lost++;
        r->lost_untold++;
        return false;
    }
    if (r->posting.queued_us < 0)
        r->posting.queued_us = r->posting.scan_us;
    return true;
}

/* Simulated time waits while an intention is on its way to the disk, and while a fast simulation
 * runs ahead of the disk; it does not wait for a disk that refuses. */
void post_busy_update(struct records *r)
{
    bool is_busy = !r->is_failing && (r->intents.pending > 0 || queue_fill_pct(r->queue) > 50);

    if (is_busy == r->is_busy)
        return;
    r->is_busy = is_busy;
    if (r->clock != NULL)
        clock_set_busy(r->clock, r->party, is_busy);
}

/* Vital and at once: a number that was given is never given again, not even after a power cut. */
void post_number(struct records *r, const struct batch_number *number)
{
    if (put(r, ITEM_NUMBER, number, sizeof *number, true)) {
        r->is_due = true;
        pthread_cond_signal(&r->wake);
    }
}

/* ---- scan inputs --------------------------------------------------------------------------------- */

void post_chunk_cut(struct records *r)
{
    struct flight_chunk *chunk = &r->posting.chunk;

    if (chunk->scans > 0)
        (void)put(r, ITEM_FLIGHT, chunk, offsetof(struct flight_chunk, bytes) + chunk->size, false);
    chunk->scans = 0;
    chunk->size = 0;
    flight_start(&r->posting.flight);
}

static void post_flight(struct records *r, const struct scan_in *in)
{
    struct flight_chunk *chunk = &r->posting.chunk;

    if (chunk->scans > 0 &&
        (chunk->size + FLIGHT_SCAN_MAX > FLIGHT_CHUNK_MAX || in->scan_us - chunk->first_scan_us >= GROUP_US))
        post_chunk_cut(r);
    if (chunk->scans == 0)
        chunk->first_scan_us = in->scan_us;
    chunk->size += (uint32_t)flight_encode(&r->posting.flight, in, chunk->bytes + chunk->size);
    chunk->last_scan_us = in->scan_us;
    chunk->scans++;
}

/* ---- samples ------------------------------------------------------------------------------------- */

static struct sample_value sample_reading(const struct records *r, int point)
{
    const struct point_setup *setup = &r->settings.setup.points[point];
    const struct reading *reading = &r->posting.readings[point];
    struct sample_value value = {
        .is_used = setup->is_bound, .quality = QUALITY_BAD, .reason = REASON_NO_READING};

    if (!r->posting.has_reading[point])
        return value;
    value.quality = reading->quality;
    value.reason = reading->reason;
    value.value = reading->value;
    if (setup->max_age_s > 0 && (double)(r->posting.scan_us - reading->at_us) > setup->max_age_s * 1e6) {
        value.quality = QUALITY_BAD;
        value.reason = REASON_STALE;
    }
    return value;
}

static void post_sample(struct records *r, const struct scan_out *out, const struct batch_memory *memory)
{
    struct sample sample = {.scan_us = r->posting.scan_us, .utc_us = r->posting.utc_us};

    (void)snprintf(sample.batch, sizeof sample.batch, "%s", memory->plan.batch_id);
    for (int point = 0; point < POINT_INPUT_COUNT; point++)
        sample.values[point] = sample_reading(r, point);
    for (int i = 0; i < POINT_OUTPUT_COUNT; i++)
        sample.values[POINT_INPUT_COUNT + i] = (struct sample_value){
            .is_used = r->settings.setup.points[POINT_INPUT_COUNT + i].is_bound,
            .quality = QUALITY_GOOD,
            .value = out->outputs[i]};
    (void)put(r, ITEM_SAMPLE, &sample, sizeof sample, false);
}

/* True when a sample was due and queued. */
static bool post_sample_when_due(struct records *r, const struct scan_out *out,
                                 const struct batch_memory *memory)
{
    struct posting *posting = &r->posting;

    if (!memory->has_batch || memory->outcome != OUTCOME_OPEN) { /* what comes after is not its syrup's */
        posting->sampled_us = -1;
        return false;
    }
    if (posting->sampled_us >= 0 && posting->scan_us - posting->sampled_us < GROUP_US)
        return false;
    posting->sampled_us = posting->scan_us;
    post_sample(r, out, memory);
    return true;
}

/* ---- events -------------------------------------------------------------------------------------- */

/* A number that does not grow begins a new numbering: what was durable says nothing about it. */
static void note_intent(struct intents *intents, uint64_t number)
{
    if (number <= intents->newest) {
        intents->epoch++;
        intents->durable = 0;
    }
    intents->newest = number;
}

static void post_event(struct records *r, const struct event *event, const struct batch_memory *memory)
{
    struct event_item item = {.event = *event, .utc_synced = r->posting.utc_synced};

    if (memory->has_batch)
        (void)snprintf(item.batch, sizeof item.batch, "%s", memory->plan.batch_id);
    if (is_intent(event->kind))
        note_intent(&r->intents, event->intent);
    item.epoch = r->intents.epoch;
    if (put(r, ITEM_EVENT, &item, sizeof item, true) && is_intent(event->kind))
        r->intents.pending++;
    if ((unsigned)event->kind < EVENT_KIND_COUNT && AT_ONCE[event->kind])
        r->is_due = true;
}

static void post_memory(struct records *r, const struct scan_out *out, const struct batch_memory *memory)
{
    struct memory_item item = {
        .memory = *memory, .utc_us = r->posting.utc_us, .utc_synced = r->posting.utc_synced};

    for (int i = 0; i < out->event_count; i++)
        if (out->events[i].kind == EVENT_BATCH_ENDED)
            item.ends_batch = true;
    (void)put(r, ITEM_MEMORY, &item, sizeof item, out->event_count > 0);
}

static void remember(struct posting *posting, const struct scan_in *in)
{
    posting->scan_us = in->scan_us;
    posting->utc_us = in->utc_us;
    posting->utc_synced = in->utc_synced;
    posting->scans++;
    for (int i = 0; i < in->reading_count; i++) {
        posting->readings[in->readings[i].point] = in->readings[i].reading;
        posting->has_reading[in->readings[i].point] = true;
    }
}

void records_post_scan(struct records *records, const struct scan_in *in, const struct scan_out *out,
                       const struct batch_memory *memory)
{
    struct records *r = records;
    bool sampled;

    pthread_mutex_lock(&r->mutex);
    remember(&r->posting, in);
    post_flight(r, in);
    for (int i = 0; i < out->event_count; i++)
        post_event(r, &out->events[i], memory);
    r->lost += (uint64_t)out->events_lost;
    r->lost_untold += (uint64_t)out->events_lost;
    sampled = post_sample_when_due(r, out, memory);
    if (sampled || out->event_count > 0)
        post_memory(r, out, memory);
    if (queue_fill_pct(r->queue) > 50 ||
        (r->posting.queued_us >= 0 && in->scan_us - r->posting.queued_us >= GROUP_US))
        r->is_due = true;
    if (r->is_due)
        pthread_cond_signal(&r->wake);
    post_busy_update(r);
    pthread_mutex_unlock(&r->mutex);
}
