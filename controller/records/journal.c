#include "records/journal.h"

#include "records/canonical.h"
#include "words/words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define COLUMNS                                                                                              \
    "seq, run, batch, code, kind, scan_us, utc_us, utc_synced, a, b, intent, prompt, value, value2, "        \
    "who_uid, who_role, who_door, who_name, text, json, prev_hash, hash"
#define COLUMN_JSON 19
#define COLUMN_PREV_HASH 20
#define COLUMN_HASH 21

static const char FIRST_PREV_HASH[] = "0000000000000000000000000000000000000000000000000000000000000000";

static const char *const OWN_KINDS[] = {"", "run_started", "run_ended", "lost", "memory_refused"};
#define OWN_KIND_COUNT (int)(sizeof OWN_KINDS / sizeof OWN_KINDS[0])

/* ---- rows ---------------------------------------------------------------------------------- */

void journal_row_from_event(const struct event *event, struct journal_row *row)
{
    memset(row, 0, sizeof *row);
    row->code = (int)event->kind;
    (void)snprintf(row->kind, sizeof row->kind, "%s", words_event_name(event->kind));
    row->scan_us = event->scan_us;
    row->utc_us = event->utc_us;
    row->a = event->a;
    row->b = event->b;
    row->intent = event->intent;
    row->prompt = event->prompt;
    row->value = event->value;
    row->value2 = event->value2;
    row->who = event->who;
    memset(row->who.name, 0, sizeof row->who.name);
    canonical_text(event->who.name, row->who.name, sizeof row->who.name);
    canonical_text(event->text, row->text, sizeof event->text);
}

void journal_row_own(enum journal_own code, int64_t scan_us, int64_t utc_us, const char *text,
                     struct journal_row *row)
{
    memset(row, 0, sizeof *row);
    row->code = (int)code;
    (void)snprintf(row->kind, sizeof row->kind, "%s", OWN_KINDS[-(int)code]);
    row->scan_us = scan_us;
    row->utc_us = utc_us;
    row->who.door = DOOR_SELF;
    canonical_text(text, row->text, sizeof row->text);
}

static void event_from_row(const struct journal_row *row, struct event *event)
{
    memset(event, 0, sizeof *event);
    event->kind = (enum event_kind)row->code;
    event->a = row->a;
    event->b = row->b;
    event->intent = row->intent;
    event->prompt = row->prompt;
    event->value = row->value;
    event->value2 = row->value2;
    event->scan_us = row->scan_us;
    event->utc_us = row->utc_us;
    event->who = row->who;
    (void)snprintf(event->text, sizeof event->text, "%.*s", TEXT_MAX - 1, row->text);
}

void journal_sentence(const struct journal_row *row, char out[JOURNAL_SENTENCE_MAX])
{
    static const char *const OWN_SENTENCES[] = {"", "The controller was started.",
                                                "The controller was ended in good order.", "",
                                                "The batch that was under way could not be restored: "};
    struct event event;
    char words[WORDS_MAX];

    if (row->code >= 0) {
        event_from_row(row, &event);
        words_event(&event, words);
        (void)snprintf(out, JOURNAL_SENTENCE_MAX, "%s", words);
    } else if (row->code == JOURNAL_LOST) {
        (void)snprintf(out, JOURNAL_SENTENCE_MAX,
                       "The record could not be written for a while; %d entries found no room and are lost.",
                       row->a);
    } else {
        int own = -row->code < OWN_KIND_COUNT ? -row->code : 0;

        (void)snprintf(out, JOURNAL_SENTENCE_MAX, "%s%s", OWN_SENTENCES[own],
                       row->code == JOURNAL_MEMORY_REFUSED ? row->text : "");
    }
}

/* Numbers as SQLite gives them back: no NAN, no negative zero. */
static json_t *json_value(double value)
{
    if (isnan(value))
        return json_null();
    if (isinf(value))
        return json_string(value > 0 ? "inf" : "-inf");
    return json_real(value == 0 ? 0 : value);
}

static char *row_json(const struct journal_row *row)
{
    char *text = NULL;
    json_t *json = json_pack(
        "{s:I, s:I, s:s, s:i, s:s, s:I, s:I, s:b, s:i, s:i, s:I, s:I, s:o, s:o, s:I, s:i, s:i, s:s, s:s}",
        "seq", (json_int_t)row->seq, "run", (json_int_t)row->run, "batch", row->batch, "code", row->code,
        "kind", row->kind, "scan_us", (json_int_t)row->scan_us, "utc_us", (json_int_t)row->utc_us,
        "utc_synced", (int)row->utc_synced, "a", row->a, "b", row->b, "intent", (json_int_t)row->intent,
        "prompt", (json_int_t)row->prompt, "value", json_value(row->value), "value2", json_value(row->value2),
        "who_uid", (json_int_t)row->who.uid, "who_role", (int)row->who.role, "who_door", (int)row->who.door,
        "who_name", row->who.name, "text", row->text);

    if (json != NULL)
        text = canonical_json(json);
    json_decref(json);
    return text;
}

static void chain_hash(const char *prev_hash, const char *json, char hash[CRYPTO_HASH_HEX])
{
    struct crypto_hash state;

    crypto_hash_init(&state);
    crypto_hash_add(&state, prev_hash, strlen(prev_hash));
    crypto_hash_add(&state, json, strlen(json));
    crypto_hash_end_hex(&state, hash);
}

/* ---- writing ------------------------------------------------------------------------------- */

enum status journal_append(struct store *store, struct chain *chain, struct journal_row *row, struct fault *f)
{
    const char *prev_hash = chain->seq == 0 ? FIRST_PREV_HASH : chain->hash;
    char hash[CRYPTO_HASH_HEX];
    enum status code;
    char *json;

    row->seq = chain->seq + 1;
    json = row_json(row);
    if (json == NULL)
        return fault_set(f, ST_SYSTEM, "journal", "memory is short");
    chain_hash(prev_hash, json, hash);
    const struct cell cells[] = {
        cell_int(row->seq),
        cell_int(row->run),
        cell_text(row->batch),
        cell_int(row->code),
        cell_text(row->kind),
        cell_int(row->scan_us),
        cell_int(row->utc_us),
        cell_int(row->utc_synced),
        cell_int(row->a),
        cell_int(row->b),
        cell_int((int64_t)row->intent),
        cell_int(row->prompt),
        cell_real(row->value),
        cell_real(row->value2),
        cell_int(row->who.uid),
        cell_int(row->who.role),
        cell_int(row->who.door),
        cell_text(row->who.name),
        cell_text(row->text),
        cell_text(json),
        cell_text(prev_hash),
        cell_text(hash),
    };
    code = store_write(
        store, "INSERT INTO journal (" COLUMNS ") VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)",
        cells, sizeof cells / sizeof cells[0], f);
    free(json);
    if (code == ST_OK) {
        chain->seq = row->seq;
        memcpy(chain->hash, hash, sizeof hash);
    }
    return code;
}

/* ---- reading ------------------------------------------------------------------------------- */

/* The columns as a struct; whole is false when one does not fit and could hide a change. */
struct row_reader {
    struct store_row *from;
    bool is_whole;
};

static int64_t take_number(struct row_reader *reader, int column, int64_t min, int64_t max)
{
    int64_t number = row_int(reader->from, column);

    if (number < min || number > max) {
        reader->is_whole = false;
        return 0;
    }
    return number;
}

static void take_text(struct row_reader *reader, int column, char *to, size_t size)
{
    const char *text = row_text(reader->from, column);
    size_t bytes;

    (void)row_blob(reader->from, column, &bytes);
    if (bytes >= size || strlen(text) != bytes)
        reader->is_whole = false;
    (void)snprintf(to, size, "%s", text);
}

static bool row_read(struct store_row *from, struct journal_row *row)
{
    struct row_reader reader = {from, true};

    memset(row, 0, sizeof *row);
    row->seq = row_int(from, 0);
    row->run = row_int(from, 1);
    take_text(&reader, 2, row->batch, sizeof row->batch);
    row->code = (int)take_number(&reader, 3, INT32_MIN, INT32_MAX);
    take_text(&reader, 4, row->kind, sizeof row->kind);
    row->scan_us = row_int(from, 5);
    row->utc_us = row_int(from, 6);
    row->utc_synced = take_number(&reader, 7, 0, 1) != 0;
    row->a = (int)take_number(&reader, 8, INT32_MIN, INT32_MAX);
    row->b = (int)take_number(&reader, 9, INT32_MIN, INT32_MAX);
    row->intent = (uint64_t)row_int(from, 10);
    row->prompt = (uint32_t)take_number(&reader, 11, 0, UINT32_MAX);
    row->value = row_real(from, 12);
    row->value2 = row_real(from, 13);
    row->who.uid = (uint32_t)take_number(&reader, 14, 0, UINT32_MAX);
    row->who.role = (enum role)take_number(&reader, 15, 0, ROLE_COUNT);
    row->who.door = (enum door)take_number(&reader, 16, 0, DOOR_COUNT);
    take_text(&reader, 17, row->who.name, sizeof row->who.name);
    take_text(&reader, 18, row->text, sizeof row->text);
    return reader.is_whole;
}

static enum status broken(struct fault *f, int64_t seq, const char *how)
{
    return fault_set(
        f, ST_BAD_REPLY, "journal",
        "row %lld of the journal %s: the record was changed or damaged. Keep the file as evidence "
        "and put back the last good copy, or begin a new folder of records",
        (long long)seq, how);
}

struct each_context {
    journal_row_fn *each;
    void *context;
};

static enum status each_row(void *context, struct store_row *from, struct fault *f)
{
    const struct each_context *wrapped = context;
    struct journal_row row;

    if (!row_read(from, &row))
        return broken(f, row.seq, "holds values that cannot be");
    return wrapped->each(wrapped->context, &row, f);
}

enum status journal_each(struct store *store, const char *batch, int limit, journal_row_fn *each,
                         void *context, struct fault *f)
{
    const struct cell cells[] = {cell_text(batch), cell_int(limit)};
    struct each_context wrapped = {each, context};

    return store_query(store,
                       "SELECT * FROM (SELECT " COLUMNS
                       " FROM journal WHERE batch=? ORDER BY seq DESC LIMIT ?)"
                       " ORDER BY seq",
                       cells, 2, each_row, &wrapped, f);
}

/* ---- checking ------------------------------------------------------------------------------ */

static enum status check_row(void *context, struct store_row *from, struct fault *f)
{
    struct chain *chain = context;
    struct journal_row row;
    char hash[CRYPTO_HASH_HEX];
    char *json;
    bool same;

    if (!row_read(from, &row))
        return broken(f, row.seq, "holds values that cannot be");
    if (row.seq != chain->seq + 1)
        return broken(f, chain->seq + 1, "is missing");
    if (strcmp(row_text(from, COLUMN_PREV_HASH), chain->seq == 0 ? FIRST_PREV_HASH : chain->hash) != 0)
        return broken(f, row.seq, "does not follow the row before it");
    json = row_json(&row);
    same = json != NULL && strcmp(json, row_text(from, COLUMN_JSON)) == 0;
    free(json);
    if (!same)
        return broken(f, row.seq, "is not what was written");
    chain_hash(row_text(from, COLUMN_PREV_HASH), row_text(from, COLUMN_JSON), hash);
    if (strcmp(hash, row_text(from, COLUMN_HASH)) != 0)
        return broken(f, row.seq, "does not match its hash");
    chain->seq = row.seq;
    memcpy(chain->hash, hash, sizeof hash);
    return ST_OK;
}

enum status journal_check(struct store *store, struct chain *head, struct fault *f)
{
    memset(head, 0, sizeof *head);
    return store_query(store, "SELECT " COLUMNS " FROM journal ORDER BY seq", NULL, 0, check_row, head, f);
}
