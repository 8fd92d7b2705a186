#include "records/tables.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define COUNT_OF(array) (sizeof(array) / sizeof(array)[0])

/* ---- samples and scan inputs ----------------------------------------------------------------- */

enum status sample_insert(struct store *store, int64_t run, const struct sample *sample, struct fault *f)
{
    enum status code = ST_OK;

    for (int point = 0; code == ST_OK && point < POINT_COUNT; point++) {
        const struct sample_value *value = &sample->values[point];
        const struct cell cells[] = {
            cell_int(run),
            cell_int(sample->scan_us),
            cell_text(point_info((enum point)point)->name),
            cell_text(sample->batch),
            cell_int(sample->utc_us),
            value->quality == QUALITY_BAD ? cell_text(NULL) : cell_real(value->value),
            cell_text(quality_name(value->quality)),
            cell_text(reason_name(value->reason)),
        };

        if (value->is_used)
            code = store_write(
                store,
                "INSERT OR IGNORE INTO sample (run, scan_us, point, batch, utc_us, value, quality, reason)"
                " VALUES (?,?,?,?,?,?,?,?)",
                cells, COUNT_OF(cells), f);
    }
    return code;
}

enum status flight_insert(struct store *store, int64_t run, const struct flight_chunk *chunk, struct fault *f)
{
    char hash[CRYPTO_HASH_HEX];

    crypto_sha256_hex(chunk->bytes, chunk->size, hash);
    const struct cell cells[] = {
        cell_int(run),          cell_int(chunk->first_scan_us),       cell_int(chunk->last_scan_us),
        cell_int(chunk->scans), cell_blob(chunk->bytes, chunk->size), cell_text(hash),
    };
    return store_write(store,
                       "INSERT INTO flight (run, first_scan_us, last_scan_us, scans, bytes, hash)"
                       " VALUES (?,?,?,?,?,?)",
                       cells, COUNT_OF(cells), f);
}

/* ---- the batch's memory ---------------------------------------------------------------------- */

/* One older row stays, so that the newest is never alone on the page being written. */
enum status memory_insert(struct store *store, int64_t run, int64_t utc_us, const struct batch_memory *memory,
                          struct fault *f)
{
    char hash[CRYPTO_HASH_HEX];
    enum status code;

    crypto_sha256_hex(memory, sizeof *memory, hash);
    const struct cell cells[] = {
        cell_int(run),
        cell_int(utc_us),
        cell_int(memory->layout),
        cell_int((int64_t)sizeof *memory),
        cell_blob(memory, sizeof *memory),
        cell_text(hash),
    };
    code = store_write(store,
                       "INSERT INTO memory (run, utc_us, layout, size, bytes, hash) VALUES (?,?,?,?,?,?)",
                       cells, COUNT_OF(cells), f);
    if (code == ST_OK)
        code = store_run(store, "DELETE FROM memory WHERE seq < (SELECT max(seq) FROM memory) - 1", f);
    return code;
}

struct memory_context {
    struct batch_memory *memory;
    bool found;
    char *refusal;
};

static enum status take_memory(void *context, struct store_row *row, struct fault *f)
{
    struct memory_context *taken = context;
    char hash[CRYPTO_HASH_HEX];
    size_t size;
    const void *bytes = row_blob(row, 2, &size);

    (void)f;
    taken->found = true;
    crypto_sha256_hex(bytes, size, hash);
    if (strcmp(hash, row_text(row, 3)) != 0 || (int64_t)size != row_int(row, 1))
        (void)snprintf(taken->refusal, JOURNAL_TEXT_MAX,
                       "its stored state is damaged (the hash does not match).");
    else if (row_int(row, 0) != MEMORY_LAYOUT || size != sizeof *taken->memory)
        (void)snprintf(
            taken->refusal, JOURNAL_TEXT_MAX,
            "another version of the program wrote it (layout %lld of %zu bytes, this program reads "
            "layout %d of %zu bytes).",
            (long long)row_int(row, 0), size, MEMORY_LAYOUT, sizeof *taken->memory);
    else
        memcpy(taken->memory, bytes, size);
    return ST_OK;
}

enum status memory_read(struct store *store, struct batch_memory *memory, bool *found,
                        char refusal[JOURNAL_TEXT_MAX], struct fault *f)
{
    struct memory_context taken = {memory, false, refusal};
    enum status code;

    memset(memory, 0, sizeof *memory);
    refusal[0] = '\0';
    code = store_query(store, "SELECT layout, size, bytes, hash FROM memory ORDER BY seq DESC LIMIT 1", NULL,
                       0, take_memory, &taken, f);
    *found = taken.found;
    return code;
}

/* ---- batch numbers ----------------------------------------------------------------------------- */

static enum status take_year(void *context, struct store_row *row, struct fault *f)
{
    struct batch_numbers *numbers = context;

    (void)f;
    if (numbers->years < BATCH_YEARS_MAX) {
        numbers->year[numbers->years] = (int)row_int(row, 0);
        numbers->count[numbers->years++] = (int)row_int(row, 1);
    }
    return ST_OK;
}

enum status batch_numbers_read(struct store *store, struct batch_numbers *numbers, struct fault *f)
{
    memset(numbers, 0, sizeof *numbers);
    return store_query(store, "SELECT year, max(count) FROM batch_number GROUP BY year ORDER BY year DESC",
                       NULL, 0, take_year, numbers, f);
}

void batch_numbers_next(struct batch_numbers *numbers, int64_t utc_us, int *year, int *count)
{
    time_t seconds = (time_t)(utc_us / 1000000);
    struct tm parts;
    int at = 0;

    *year = gmtime_r(&seconds, &parts) == NULL ? 1970 : parts.tm_year + 1900;
    while (at < numbers->years && numbers->year[at] != *year)
        at++;
    if (at == BATCH_YEARS_MAX) /* a clock gone wild: count on in a year that is known, never twice the same */
        *year = numbers->year[--at];
    else if (at == numbers->years)
        numbers->year[numbers->years++] = *year;
    *count = ++numbers->count[at];
}

enum status batch_number_insert(struct store *store, const struct batch_number *number, struct fault *f)
{
    const struct cell cells[] = {cell_text(number->batch), cell_int(number->year), cell_int(number->count),
                                 cell_int(number->given_utc_us)};

    return store_write(
        store, "INSERT OR IGNORE INTO batch_number (batch, year, count, given_utc_us) VALUES (?,?,?,?)",
        cells, COUNT_OF(cells), f);
}
