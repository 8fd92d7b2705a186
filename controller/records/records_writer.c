/* The writer thread: everything queued goes to the disk in one transaction, or stays queued. */
#include "records/canonical.h"
#include "records/inside.h"
#include "runtime/log.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

#define TICK_S 1      /* idle flush, and the pause before a failed write is tried again */
#define CLOSE_TRIES 3 /* an end must not wait for ever for a disk that stays full */

/* What one transaction carried; counted only when its commit has returned. */
struct load {
    uint64_t start;
    uint64_t end;
    uint64_t lost;
    unsigned intents;
    uint64_t newest_intent;
    uint32_t epoch;
    bool issued;
};

/* ---- items to rows ----------------------------------------------------------------------------- */

static enum status append_row(struct records *r, struct journal_row *row, struct fault *f)
{
    row->run = r->run;
    return journal_append(r->store, &r->chain, row, f);
}

static enum status write_event(struct records *r, const void *from, struct load *load, struct fault *f)
{
    const struct event_item *item = from;
    struct journal_row row;

    journal_row_from_event(&item->event, &row);
    canonical_text(item->batch, row.batch, sizeof row.batch);
    row.utc_synced = item->utc_synced;
    if (item->event.kind == EVENT_INTENT_DOSE || item->event.kind == EVENT_INTENT_WATER) {
        load->intents++;
        load->newest_intent = item->event.intent;
        load->epoch = item->epoch;
    }
    return append_row(r, &row, f);
}

static enum status write_memory(struct records *r, const void *from, struct load *load, struct fault *f)
{
    const struct memory_item *item = from;
    enum status code = memory_insert(r->store, r->run, item->utc_us, &item->memory, f);

    if (code != ST_OK || !item->ends_batch)
        return code;
    load->issued = true;
    return issue_certificate(r, item, f);
}

static enum status write_sample(struct records *r, const void *from, struct load *load, struct fault *f)
{
    (void)load;
    return sample_insert(r->store, r->run, from, f);
}

static enum status write_flight(struct records *r, const void *from, struct load *load, struct fault *f)
{
    (void)load;
    return flight_insert(r->store, r->run, from, f);
}

static enum status write_number(struct records *r, const void *from, struct load *load, struct fault *f)
{
    (void)load;
    return batch_number_insert(r->store, from, f);
}

static enum status (*const WRITERS[ITEM_KIND_COUNT])(struct records *, const void *, struct load *,
                                                     struct fault *) = {
    [ITEM_EVENT] = write_event,   [ITEM_MEMORY] = write_memory, [ITEM_SAMPLE] = write_sample,
    [ITEM_FLIGHT] = write_flight, [ITEM_NUMBER] = write_number,
};

static enum status write_own(struct records *r, enum journal_own kind, int64_t scan_us, int64_t utc_us, int a,
                             struct fault *f)
{
    struct journal_row row;

    journal_row_own(kind, scan_us, utc_us, "", &row);
    row.a = a;
    return append_row(r, &row, f);
}

static enum status write_load(struct records *r, struct load *load, const struct posting *now, bool is_end,
                              struct fault *f)
{
    uint64_t position = load->start;
    enum status code = store_run(r->store, "BEGIN IMMEDIATE", f);
    const void *item;
    uint32_t kind;

    while (code == ST_OK && (item = queue_walk(r->queue, &position, load->end, &kind)) != NULL)
        code = WRITERS[kind](r, item, load, f);
    if (code == ST_OK && load->lost > 0)
        code = write_own(r, JOURNAL_LOST, now->scan_us, now->utc_us,
                         load->lost > INT32_MAX ? INT32_MAX : (int)load->lost, f);
    if (code == ST_OK && is_end)
        code = write_own(r, JOURNAL_RUN_ENDED, now->scan_us, now->utc_us, 0, f);
    return code == ST_OK ? store_run(r->store, "COMMIT", f) : code;
}

/* ---- one round ------------------------------------------------------------------------------------ */

static void settle_good(struct records *r, const struct load *load)
{
    queue_drop(r->queue, load->end);
    r->lost_untold -= load->lost;
    r->intents.pending -= load->intents;
    if (load->intents > 0 && load->epoch == r->intents.epoch)
        r->intents.durable = load->newest_intent;
}

/* Says it once when it begins and once when it is over. */
static void settle(struct records *r, enum status code, const struct fault *f)
{
    bool was_failing = r->is_failing;

    r->is_failing = code != ST_OK;
    if (r->is_failing)
        (void)snprintf(r->text, sizeof r->text, "%.*s", (int)sizeof r->text - 1, f->text);
    else if (was_failing)
        r->text[0] = '\0';
    post_busy_update(r);
    if (r->is_failing && !was_failing)
        log_fault("records", f);
    else if (was_failing && !r->is_failing)
        log_info("records", "the record is being written again; what was queued is on disk");
}

/* Files that cannot be written are tried again with each round; they hold up nothing else. */
static void export_when_due(struct records *r)
{
    struct fault f = {0};
    bool was_failing = r->export_text[0] != '\0';
    bool is_failing = r->export_due && export_missing(r, &f) != ST_OK;

    r->export_due = is_failing;
    if (is_failing && !was_failing)
        log_fault("records", &f);
    if (!is_failing && !was_failing)
        return;
    pthread_mutex_lock(&r->mutex);
    (void)snprintf(r->export_text, sizeof r->export_text, "%.*s", (int)sizeof r->export_text - 1,
                   is_failing ? f.text : "");
    pthread_mutex_unlock(&r->mutex);
}

/* Write what is queued now; the mutex is held on entry and exit, not meanwhile. */
static enum status write_round(struct records *r, bool is_end)
{
    struct load load = {.start = queue_start(r->queue), .end = queue_end(r->queue), .lost = r->lost_untold};
    bool has_work = load.start != load.end || load.lost > 0 || is_end;
    struct posting now = {.scan_us = r->posting.scan_us, .utc_us = r->posting.utc_us};
    struct chain before = r->chain;
    struct fault f = {0};
    enum status code = ST_OK;

    r->is_due = false;
    r->posting.queued_us = -1;
    pthread_mutex_unlock(&r->mutex);
    if (has_work)
        code = write_load(r, &load, &now, is_end, &f);
    if (code != ST_OK) {
        store_rollback(r->store);
        r->chain = before;
    }
    pthread_mutex_lock(&r->mutex);
    if (code == ST_OK && has_work)
        settle_good(r, &load);
    settle(r, code, &f);
    pthread_mutex_unlock(&r->mutex);
    r->export_due = r->export_due || (code == ST_OK && load.issued);
    export_when_due(r);
    pthread_mutex_lock(&r->mutex);
    return code;
}

/* Until there is reason to write, or one tick has passed. While writing fails, only the tick counts. */
static void wait_for_reason(struct records *r)
{
    struct timespec until;
    uint64_t scans = r->posting.scans;
    int rc = 0;

    (void)clock_gettime(CLOCK_MONOTONIC, &until);
    until.tv_sec += TICK_S;
    while (!r->is_closing && (r->is_failing || !r->is_due) && rc != ETIMEDOUT)
        rc = pthread_cond_timedwait(&r->wake, &r->mutex, &until);
    if (rc == ETIMEDOUT && scans == r->posting.scans)
        post_chunk_cut(r); /* the scan stands still: keep what it got so far */
}

static void write_last(struct records *r)
{
    struct timespec pause = {.tv_nsec = 100000000};
    enum status code = ST_SYSTEM;

    post_chunk_cut(r);
    for (int i = 0; i < CLOSE_TRIES && code != ST_OK; i++) {
        if (i > 0)
            (void)nanosleep(&pause, NULL);
        code = write_round(r, true);
    }
    if (code != ST_OK)
        log_warnx("records", "the last entries could not be written and are lost");
}

void *writer_main(void *records)
{
    struct records *r = records;

    pthread_mutex_lock(&r->mutex);
    while (!r->is_closing) {
        wait_for_reason(r);
        if (!r->is_closing)
            (void)write_round(r, false);
    }
    write_last(r);
    pthread_mutex_unlock(&r->mutex);
    return NULL;
}
