/* inside.h - what the writing side of the record keeps; for the files of records_* alone.
 *
 *   control thread --records_post_scan--> queue --writer thread--> database, certificate files
 *
 * The mutex guards the queue and what both threads touch; it is held for copies, never for the
 * disk. The store, the chain and the key belong to the writer thread once it runs.
 */
#ifndef RECORDS_INSIDE_H
#define RECORDS_INSIDE_H

#include "records/flight.h"
#include "records/queue.h"
#include "records/records.h"
#include "records/schema.h"
#include "records/tables.h"

#include <pthread.h>

#define GROUP_US (10 * 1000000LL) /* tank time over which samples and scan inputs are grouped */
#define RECORDS_PATH_MAX (SETTINGS_PATH_MAX + 64)

/* ---- items of the queue ---------------------------------------------------------------------- */

enum item_kind { ITEM_EVENT, ITEM_MEMORY, ITEM_SAMPLE, ITEM_FLIGHT, ITEM_NUMBER, ITEM_KIND_COUNT };

struct event_item {
    struct event event;
    char batch[BATCH_ID_MAX];
    bool utc_synced;
    uint32_t epoch; /* of an intention's numbering */
};

struct memory_item {
    struct batch_memory memory;
    int64_t utc_us;
    bool utc_synced;
    bool ends_batch; /* make the certificate */
};

/* ---- the whole --------------------------------------------------------------------------------- */

struct posting { /* kept by the control thread from scan to scan */
    struct reading readings[POINT_INPUT_COUNT];
    bool has_reading[POINT_INPUT_COUNT];
    struct flight flight;
    struct flight_chunk chunk;
    int64_t sampled_us; /* -1: not in this batch */
    int64_t queued_us;  /* oldest item not handed to the writer yet; -1: none */
    int64_t scan_us;
    int64_t utc_us;
    bool utc_synced;
    uint64_t scans;
};

struct intents {
    unsigned pending; /* queued, neither on disk nor failed */
    uint64_t newest;
    uint64_t durable;
    uint32_t epoch; /* counts how often the numbering began anew: old numbers confirm no new act */
};

struct records {
    struct settings settings;
    struct clock *clock;
    int party;
    int lock_fd;
    struct crypto_key key;
    struct batch_memory restored;
    bool has_restored;
    bool has_thread;
    pthread_t thread;

    /* the writer thread's */
    struct store *store;
    struct chain chain;
    int64_t run;
    bool export_due; /* a certificate may lack its files */

    /* under the mutex */
    pthread_mutex_t mutex;
    pthread_cond_t wake;
    struct queue *queue;
    struct posting posting;
    struct intents intents;
    struct batch_numbers numbers;
    bool is_closing;
    bool is_due;  /* do not wait for more company */
    bool is_busy; /* as the clock was told */
    bool is_failing;
    uint64_t lost;
    uint64_t lost_untold; /* not yet in the journal */
    char text[sizeof(((struct records_status *)0)->text)];
    char export_text[sizeof(((struct records_status *)0)->text)]; /* why a certificate lacks its files */
};

/* records_post.c; the mutex is held. */
void post_chunk_cut(struct records *r);
void post_busy_update(struct records *r);
void post_number(struct records *r, const struct batch_number *number);

/* records_writer.c */
void *writer_main(void *records);

/* records_issue.c; in the writer's transaction: make, sign and store the certificate. A batch that
 * has one keeps it. */
enum status issue_certificate(struct records *r, const struct memory_item *item, struct fault *f) MUST_USE;

/* Every certificate is as signed, follows the one before, and the journal row it rests on is there. */
enum status issue_check_all(struct store *store, struct fault *f) MUST_USE;

/* records_export.c: write the certificate files that are missing. All are tried; the first
 * failure is told. */
enum status export_missing(struct records *r, struct fault *f) MUST_USE;

#endif
