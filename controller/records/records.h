/* records.h - the writing side of the record: journal, samples, scan inputs, memory, certificate.
 *
 * One writer thread owns the database. The control thread only queues: it never waits for the
 * disk. What does not fit in the queue is counted and shown, never silently gone; intentions are
 * committed at once and acknowledged only when they are on disk.
 */
#ifndef RECORDS_H
#define RECORDS_H

#include "base/status.h"
#include "core/scan_types.h"
#include "runtime/clock.h"
#include "settings/settings.h"

struct records;

struct records_status {
    uint64_t durable_intent; /* highest intention known to be on disk */
    uint64_t lost;           /* items that did not fit in the queue */
    bool is_failing;         /* the last write failed; text says why */
    char text[256];
};

/* Open or create the database and the signing key in settings->records_path, check integrity and
 * the hash chain, start the writer thread. clock/party: see clock_set_busy; clock may be NULL in
 * tests. On failure *records is NULL and *f has the sentence. */
enum status records_open(const struct settings *settings, struct clock *clock, int party,
                         struct records **records, struct fault *f) MUST_USE;

/* Write everything queued, close the run, stop the thread. Accepts NULL. */
void records_close(struct records *records);

/* The memory of the last unfinished batch; false when there is none. Call once, before the first scan. */
bool records_restore(struct records *records, struct batch_memory *memory);

/* A new batch number, "2026-0001": year and count. */
void records_next_batch_id(struct records *records, int64_t utc_us, char id[24]);

/* Queue what one scan took in and gave out. memory is the batch's memory after that scan: it is
 * stored in the same commit as the events, so that after a power cut the two agree. When a
 * EVENT_BATCH_ENDED is among them, the certificate is made, signed and stored. Never blocks. */
void records_post_scan(struct records *records, const struct scan_in *in, const struct scan_out *out,
                       const struct batch_memory *memory);

void records_status_get(struct records *records, struct records_status *status);

#endif
