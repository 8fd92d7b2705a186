/* tables.h - writing and reading the other tables: runs, samples, flight, memory, batch numbers.
 *
 * Plain data in, one statement each; the caller owns the transaction.
 * Thread: that of the store.
 */
#ifndef RECORDS_TABLES_H
#define RECORDS_TABLES_H

#include "core/scan_types.h"
#include "records/journal.h"
#include "records/store.h"
#include "settings/settings.h"

/* ---- runs ---------------------------------------------------------------------------------- */

struct run_facts {
    int64_t id;
    int64_t started_utc_us;
    const char *program;
    const struct settings *settings;
    const struct batch_memory *memory; /* restored at the start; NULL for none */
    const char *public_key_hex;
};

/* Give the next id, insert the row, and its hash for the journal. */
enum status run_insert(struct store *store, struct run_facts *run, char hash[CRYPTO_HASH_HEX],
                       struct fault *f) MUST_USE;

/* Every run's row must have the hash that the journal holds for it. */
enum status run_check_all(struct store *store, struct fault *f) MUST_USE;

/* ---- samples and scan inputs ----------------------------------------------------------------- */

struct sample_value {
    bool is_used;
    enum quality quality;
    enum reason reason;
    double value;
};

struct sample {
    int64_t scan_us;
    int64_t utc_us;
    char batch[BATCH_ID_MAX];
    struct sample_value values[POINT_COUNT];
};

/* A bad reading is kept with its reason and without a number. */
enum status sample_insert(struct store *store, int64_t run, const struct sample *sample,
                          struct fault *f) MUST_USE;

#define FLIGHT_CHUNK_MAX 8192

struct flight_chunk {
    int64_t first_scan_us;
    int64_t last_scan_us;
    uint32_t scans;
    uint32_t size;
    unsigned char bytes[FLIGHT_CHUNK_MAX];
};

enum status flight_insert(struct store *store, int64_t run, const struct flight_chunk *chunk,
                          struct fault *f) MUST_USE;

/* ---- the batch's memory ---------------------------------------------------------------------- */

enum status memory_insert(struct store *store, int64_t run, int64_t utc_us, const struct batch_memory *memory,
                          struct fault *f) MUST_USE;

/* The newest memory. *found false: there is none. *found true and refusal "" : *memory is whole.
 * Otherwise refusal says why it cannot be used, and *memory is all zero. */
enum status memory_read(struct store *store, struct batch_memory *memory, bool *found,
                        char refusal[JOURNAL_TEXT_MAX], struct fault *f) MUST_USE;

/* ---- batch numbers ----------------------------------------------------------------------------- */

#define BATCH_YEARS_MAX 64

struct batch_numbers { /* highest count given in each year */
    int years;
    int year[BATCH_YEARS_MAX];
    int count[BATCH_YEARS_MAX];
};

enum status batch_numbers_read(struct store *store, struct batch_numbers *numbers, struct fault *f) MUST_USE;

/* Count one on in the UTC year of utc_us; pure. */
void batch_numbers_next(struct batch_numbers *numbers, int64_t utc_us, int *year, int *count);

struct batch_number {
    char batch[BATCH_ID_MAX];
    int year;
    int count;
    int64_t given_utc_us;
};

enum status batch_number_insert(struct store *store, const struct batch_number *number,
                                struct fault *f) MUST_USE;

#endif
