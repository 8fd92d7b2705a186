#include "records/reading.h"

#include "records/canonical.h"
#include "records/journal.h"
#include "records/schema.h"
#include "words/words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct record_reader {
    struct store *store;
};

enum status record_reader_open(const char *records_path, struct record_reader **reader, struct fault *f)
{
    struct record_reader *opened = calloc(1, sizeof *opened);
    char path[512];
    enum status code;

    *reader = NULL;
    if (opened == NULL)
        return fault_set(f, ST_SYSTEM, "records", "memory is short");
    (void)snprintf(path, sizeof path, "%s/%s", records_path, SCHEMA_FILE);
    code = store_open_reader(path, &opened->store, f);
    if (code == ST_OK)
        code = schema_check(opened->store, f);
    if (code != ST_OK) {
        record_reader_close(opened);
        return code;
    }
    *reader = opened;
    return ST_OK;
}

void record_reader_close(struct record_reader *reader)
{
    if (reader == NULL)
        return;
    store_close(reader->store);
    free(reader);
}

static enum status short_of_memory(struct fault *f)
{
    return fault_set(f, ST_SYSTEM, "records", "memory is short");
}

/* ---- batches --------------------------------------------------------------------------------- */

static json_t *utc_or_null(struct store_row *row, int column)
{
    char utc[UTC_MAX];

    if (row_is_null(row, column))
        return json_null();
    canonical_utc(row_int(row, column), utc);
    return json_string(utc);
}

static enum status append_batch(void *context, struct store_row *row, struct fault *f)
{
    double strength = row_real(row, 4);
    json_t *item = json_pack("{s:s, s:o, s:o, s:s, s:o, s:b, s:b}", "batch", row_text(row, 0), "started",
                             utc_or_null(row, 1), "ended", utc_or_null(row, 2), "outcome",
                             row_is_null(row, 3) ? words_outcome_name(OUTCOME_OPEN)
                                                 : words_outcome_name((enum outcome)row_int(row, 3)),
                             "strength_pct", isfinite(strength) ? json_real(strength) : json_null(),
                             "certificate", (int)row_int(row, 5), "simulated", (int)row_int(row, 6));

    return json_array_append_new(context, item) == 0 ? ST_OK : short_of_memory(f);
}

json_t *record_reader_batches(struct record_reader *reader, int limit, struct fault *f)
{
    static const char SQL[] =
        "SELECT s.batch, s.utc_us,"
        " (SELECT max(utc_us) FROM journal e WHERE e.batch = s.batch AND e.code = ?2),"
        " (SELECT a FROM journal e WHERE e.batch = s.batch AND e.code = ?2 ORDER BY seq DESC LIMIT 1),"
        " (SELECT value FROM journal e WHERE e.batch = s.batch AND e.code = ?3 AND e.a = ?4"
        "   ORDER BY seq DESC LIMIT 1),"
        " EXISTS (SELECT 1 FROM certificate c WHERE c.batch = s.batch),"
        " r.is_simulated"
        " FROM journal s JOIN run r ON r.id = s.run WHERE s.code = ?1 ORDER BY s.seq DESC LIMIT ?5";
    const struct cell cells[] = {cell_int(EVENT_BATCH_STARTED), cell_int(EVENT_BATCH_ENDED),
                                 cell_int(EVENT_MEASURED), cell_int(MEASURED_STRENGTH_PCT), cell_int(limit)};
    json_t *list = json_array();

    if (list == NULL) {
        (void)short_of_memory(f);
        return NULL;
    }
    if (store_query(reader->store, SQL, cells, 5, append_batch, list, f) != ST_OK) {
        json_decref(list);
        return NULL;
    }
    return list;
}

/* ---- certificates ---------------------------------------------------------------------------- */

static enum status copy_text(void *context, struct store_row *row, struct fault *f)
{
    char **copy = context;

    *copy = strdup(row_text(row, 0));
    return *copy != NULL ? ST_OK : short_of_memory(f);
}

static char *read_certificate(struct record_reader *reader, const char *batch, const char *sql,
                              struct fault *f)
{
    struct cell wanted = cell_text(batch);
    char *copy = NULL;

    if (store_query(reader->store, sql, &wanted, 1, copy_text, &copy, f) != ST_OK) {
        free(copy);
        return NULL;
    }
    if (copy == NULL && batch == NULL)
        (void)fault_set(f, ST_NOT_FOUND, "records", "there is no certificate yet: no batch has ended");
    else if (copy == NULL)
        (void)fault_set(
            f, ST_NOT_FOUND, batch,
            "there is no certificate of this batch: the number is wrong, or the batch has not ended");
    return copy;
}

char *record_reader_certificate_json(struct record_reader *reader, const char *batch, struct fault *f)
{
    return read_certificate(reader, batch,
                            "SELECT json FROM certificate WHERE ?1 IS NULL OR batch = ?1"
                            " ORDER BY serial DESC LIMIT 1",
                            f);
}

char *record_reader_certificate_text(struct record_reader *reader, const char *batch, struct fault *f)
{
    return read_certificate(reader, batch,
                            "SELECT text FROM certificate WHERE ?1 IS NULL OR batch = ?1"
                            " ORDER BY serial DESC LIMIT 1",
                            f);
}

/* ---- the journal ----------------------------------------------------------------------------- */

static json_t *real_or_null(double value)
{
    return isfinite(value) ? json_real(value) : json_null();
}

static enum status append_row(void *context, const struct journal_row *row, struct fault *f)
{
    char sentence[JOURNAL_SENTENCE_MAX], clean[JOURNAL_SENTENCE_MAX], utc[UTC_MAX];
    json_t *item;

    journal_sentence(row, sentence);
    canonical_text(sentence, clean, sizeof clean);
    canonical_utc(row->utc_us, utc);
    item = json_pack("{s:I, s:s, s:b, s:s, s:s, s:s, s:I, s:i, s:i, s:I, s:I, s:o, s:o, s:s, s:I, s:s, s:s}",
                     "seq", (json_int_t)row->seq, "utc", utc, "utc_synced", (int)row->utc_synced, "batch",
                     row->batch, "event", row->kind, "sentence", clean, "scan_us", (json_int_t)row->scan_us,
                     "a", row->a, "b", row->b, "intent", (json_int_t)row->intent, "prompt",
                     (json_int_t)row->prompt, "value", real_or_null(row->value), "value2",
                     real_or_null(row->value2), "who", row->who.name, "uid", (json_int_t)row->who.uid, "role",
                     words_role_name(row->who.role), "door", words_door_name(row->who.door));
    return json_array_append_new(context, item) == 0 ? ST_OK : short_of_memory(f);
}

static enum status newest_batch(struct record_reader *reader, char **batch, struct fault *f)
{
    struct cell started = cell_int(EVENT_BATCH_STARTED);
    enum status code = store_query(reader->store,
                                   "SELECT batch FROM journal WHERE code = ? ORDER BY seq DESC LIMIT 1",
                                   &started, 1, copy_text, batch, f);

    if (code == ST_OK && *batch == NULL)
        code = fault_set(f, ST_NOT_FOUND, "records", "no batch was started yet");
    return code;
}

json_t *record_reader_journal(struct record_reader *reader, const char *batch, int limit, struct fault *f)
{
    char *newest = NULL;
    enum status code = batch == NULL ? newest_batch(reader, &newest, f) : ST_OK;
    json_t *list = json_array();

    if (code == ST_OK && list == NULL)
        code = short_of_memory(f);
    if (code == ST_OK)
        code = journal_each(reader->store, batch == NULL ? newest : batch, limit, append_row, list, f);
    if (code == ST_OK && batch != NULL && json_array_size(list) == 0)
        code = fault_set(f, ST_NOT_FOUND, batch, "there is no batch with this number in the record");
    free(newest);
    if (code != ST_OK) {
        json_decref(list);
        return NULL;
    }
    return list;
}
