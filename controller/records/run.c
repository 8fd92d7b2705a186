/* The run's row: settings, set-up and memory at the start, all that a replay needs beside the scans. */
#include "records/canonical.h"
#include "records/tables.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The hash binds every column of the row to the chain. */
struct run_columns {
    int64_t id;
    int64_t started_utc_us;
    const char *program;
    const char *settings_hash;
    const char *settings;
    bool is_simulated;
    const void *setup;
    size_t setup_size;
    const void *memory;
    size_t memory_size;
    const char *public_key;
};

static bool run_hash(const struct run_columns *run, char hash[CRYPTO_HASH_HEX])
{
    char settings[CRYPTO_HASH_HEX], setup[CRYPTO_HASH_HEX], memory[CRYPTO_HASH_HEX];
    json_t *json;
    char *text = NULL;

    crypto_sha256_hex(run->settings, strlen(run->settings), settings);
    crypto_sha256_hex(run->setup, run->setup_size, setup);
    crypto_sha256_hex(run->memory, run->memory_size, memory);
    json = json_pack("{s:I, s:I, s:s, s:s, s:s, s:b, s:s, s:s, s:s}", "id", (json_int_t)run->id,
                     "started_utc_us", (json_int_t)run->started_utc_us, "program", run->program,
                     "settings_hash", run->settings_hash, "settings", settings, "is_simulated",
                     (int)run->is_simulated, "setup", setup, "memory", memory, "public_key", run->public_key);
    if (json != NULL)
        text = canonical_json(json);
    json_decref(json);
    if (text == NULL)
        return false;
    crypto_sha256_hex(text, strlen(text), hash);
    free(text);
    return true;
}

/* malloc'ed; NULL when memory is short. */
static char *settings_text(const struct settings *settings)
{
    char *text = NULL;
    size_t size = 0;
    FILE *to = open_memstream(&text, &size);

    if (to == NULL)
        return NULL;
    settings_print(settings, to);
    if (fclose(to) != 0) {
        free(text);
        return NULL;
    }
    return text;
}

static enum status insert_columns(struct store *store, const struct run_columns *run, struct fault *f)
{
    char setup_hash[CRYPTO_HASH_HEX], memory_hash[CRYPTO_HASH_HEX];
    bool has_memory = run->memory != NULL;

    crypto_sha256_hex(run->setup, run->setup_size, setup_hash);
    crypto_sha256_hex(run->memory, run->memory_size, memory_hash);
    const struct cell cells[] = {
        cell_int(run->id),
        cell_int(run->started_utc_us),
        cell_text(run->program),
        cell_text(run->settings_hash),
        cell_text(run->settings),
        cell_int(run->is_simulated),
        cell_blob(run->setup, run->setup_size),
        cell_text(setup_hash),
        has_memory ? cell_blob(run->memory, run->memory_size) : cell_text(NULL),
        cell_text(has_memory ? memory_hash : NULL),
        cell_text(run->public_key),
    };
    return store_write(
        store,
        "INSERT INTO run (id, started_utc_us, program, settings_hash, settings, is_simulated, setup,"
        " setup_hash, memory, memory_hash, public_key) VALUES (?,?,?,?,?,?,?,?,?,?,?)",
        cells, sizeof cells / sizeof cells[0], f);
}

enum status run_insert(struct store *store, struct run_facts *run, char hash[CRYPTO_HASH_HEX],
                       struct fault *f)
{
    char *text = settings_text(run->settings);
    enum status code = store_number(store, "SELECT coalesce(max(id), 0) + 1 FROM run", NULL, 0, &run->id,
                                    NULL, f);
    struct run_columns columns = {
        .id = run->id,
        .started_utc_us = run->started_utc_us,
        .program = run->program,
        .settings_hash = run->settings->hash_hex,
        .settings = text,
        .is_simulated = run->settings->is_simulated,
        .setup = &run->settings->setup,
        .setup_size = sizeof run->settings->setup,
        .memory = run->memory,
        .memory_size = run->memory == NULL ? 0 : sizeof *run->memory,
        .public_key = run->public_key_hex,
    };

    if (code == ST_OK && (text == NULL || !run_hash(&columns, hash)))
        code = fault_set(f, ST_SYSTEM, "records", "memory is short");
    if (code == ST_OK)
        code = insert_columns(store, &columns, f);
    free(text);
    return code;
}

static enum status check_run(void *context, struct store_row *row, struct fault *f)
{
    struct run_columns columns = {
        .id = row_int(row, 0),
        .started_utc_us = row_int(row, 1),
        .program = row_text(row, 2),
        .settings_hash = row_text(row, 3),
        .settings = row_text(row, 4),
        .is_simulated = row_int(row, 5) != 0,
        .public_key = row_text(row, 8),
    };
    char hash[CRYPTO_HASH_HEX];

    (void)context;
    columns.setup = row_blob(row, 6, &columns.setup_size);
    columns.memory = row_blob(row, 7, &columns.memory_size);
    if (!run_hash(&columns, hash) || strcmp(hash, row_text(row, 9)) != 0)
        return fault_set(
            f, ST_BAD_REPLY, "records",
            "the entry of run %lld (settings and set-up) is not what the journal recorded: it was "
            "changed or damaged",
            (long long)columns.id);
    return ST_OK;
}

enum status run_check_all(struct store *store, struct fault *f)
{
    const struct cell started = cell_int(JOURNAL_RUN_STARTED);

    return store_query(
        store,
        "SELECT r.id, r.started_utc_us, r.program, r.settings_hash, r.settings, r.is_simulated,"
        " r.setup, r.memory, r.public_key, coalesce(j.text, '') FROM run r"
        " LEFT JOIN journal j ON j.run = r.id AND j.code = ? ORDER BY r.id",
        &started, 1, check_run, NULL, f);
}
