/* journal.h - the rows of the journal and the hash chain over them.
 *
 * Each row's columns are written once more as canonical JSON; hash = SHA-256(previous hash, as
 * hex digits, followed by that JSON). A changed, added or missing row breaks the chain. Rows cut
 * off at the end do not: their place is kept by the certificates, which name the head.
 *
 * Thread: that of the store.
 */
#ifndef RECORDS_JOURNAL_H
#define RECORDS_JOURNAL_H

#include "core/scan_types.h"
#include "records/store.h"
#include "runtime/crypto.h"

#define BATCH_ID_MAX 24
#define JOURNAL_TEXT_MAX 384

/* Rows the record writes about itself; events of the core have their kind as code. */
enum journal_own {
    JOURNAL_RUN_STARTED = -1,    /* text: hash of the run's row */
    JOURNAL_RUN_ENDED = -2,      /* an orderly end */
    JOURNAL_LOST = -3,           /* a: how many items found no room while writing failed */
    JOURNAL_MEMORY_REFUSED = -4, /* text: why the batch could not be restored */
};

struct journal_row {
    int64_t seq;
    int64_t run;
    char batch[BATCH_ID_MAX]; /* "" outside a batch */
    int code;
    char kind[32];
    int64_t scan_us;
    int64_t utc_us;
    bool utc_synced;
    int a;
    int b;
    uint64_t intent;
    uint32_t prompt;
    double value;
    double value2;
    struct who who;
    char text[JOURNAL_TEXT_MAX];
};

struct chain {
    int64_t seq; /* of the newest row; 0 before the first */
    char hash[CRYPTO_HASH_HEX];
};

/* A row from an event (seq left 0), or from the record itself. */
void journal_row_from_event(const struct event *event, struct journal_row *row);
void journal_row_own(enum journal_own code, int64_t scan_us, int64_t utc_us, const char *text,
                     struct journal_row *row);

/* What a person reads for this row; out has WORDS_MAX + JOURNAL_TEXT_MAX bytes (JOURNAL_SENTENCE_MAX). */
#define JOURNAL_SENTENCE_MAX 704
void journal_sentence(const struct journal_row *row, char out[JOURNAL_SENTENCE_MAX]);

/* Write the row behind *chain and move *chain on; row->seq is set. */
enum status journal_append(struct store *store, struct chain *chain, struct journal_row *row,
                           struct fault *f) MUST_USE;

/* Rows of one batch, oldest first, at most limit of them (the newest ones). */
typedef enum status journal_row_fn(void *context, const struct journal_row *row, struct fault *f);
enum status journal_each(struct store *store, const char *batch, int limit, journal_row_fn *each,
                         void *context, struct fault *f) MUST_USE;

/* Go through the whole chain. ST_OK: it holds, *head is the newest row. ST_BAD_REPLY: the sentence
 * names the first row that is wrong and how. */
enum status journal_check(struct store *store, struct chain *head, struct fault *f) MUST_USE;

#endif
