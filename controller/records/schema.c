#include "records/schema.h"

#define APPLICATION_ID 1400469362 /* "Sywr", marks the file as ours */

static const char TABLES[] =
    "BEGIN IMMEDIATE;"
    "CREATE TABLE run ("
    " id INTEGER PRIMARY KEY, started_utc_us INTEGER NOT NULL, program TEXT NOT NULL,"
    " settings_hash TEXT NOT NULL, settings TEXT NOT NULL, is_simulated INTEGER NOT NULL,"
    " setup BLOB NOT NULL, setup_hash TEXT NOT NULL, memory BLOB, memory_hash TEXT,"
    " public_key TEXT NOT NULL) STRICT;"
    "CREATE TABLE journal ("
    " seq INTEGER PRIMARY KEY, run INTEGER NOT NULL REFERENCES run(id), batch TEXT NOT NULL,"
    " code INTEGER NOT NULL, kind TEXT NOT NULL, scan_us INTEGER NOT NULL, utc_us INTEGER NOT NULL,"
    " utc_synced INTEGER NOT NULL, a INTEGER NOT NULL, b INTEGER NOT NULL, intent INTEGER NOT NULL,"
    " prompt INTEGER NOT NULL, value REAL, value2 REAL, who_uid INTEGER NOT NULL,"
    " who_role INTEGER NOT NULL, who_door INTEGER NOT NULL, who_name TEXT NOT NULL, text TEXT NOT NULL,"
    " json TEXT NOT NULL, prev_hash TEXT NOT NULL, hash TEXT NOT NULL) STRICT;"
    "CREATE INDEX journal_batch ON journal(batch, seq);"
    "CREATE TABLE sample ("
    " run INTEGER NOT NULL REFERENCES run(id), scan_us INTEGER NOT NULL, point TEXT NOT NULL,"
    " batch TEXT NOT NULL, utc_us INTEGER NOT NULL, value REAL, quality TEXT NOT NULL,"
    " reason TEXT NOT NULL, PRIMARY KEY (run, scan_us, point)) STRICT, WITHOUT ROWID;"
    "CREATE INDEX sample_batch ON sample(batch, run, scan_us);"
    "CREATE TABLE flight ("
    " seq INTEGER PRIMARY KEY, run INTEGER NOT NULL REFERENCES run(id), first_scan_us INTEGER NOT NULL,"
    " last_scan_us INTEGER NOT NULL, scans INTEGER NOT NULL, bytes BLOB NOT NULL, hash TEXT NOT NULL) STRICT;"
    "CREATE TABLE memory ("
    " seq INTEGER PRIMARY KEY, run INTEGER NOT NULL REFERENCES run(id), utc_us INTEGER NOT NULL,"
    " layout INTEGER NOT NULL, size INTEGER NOT NULL, bytes BLOB NOT NULL, hash TEXT NOT NULL) STRICT;"
    "CREATE TABLE batch_number ("
    " batch TEXT PRIMARY KEY, year INTEGER NOT NULL, count INTEGER NOT NULL,"
    " given_utc_us INTEGER NOT NULL) STRICT;"
    "CREATE TABLE certificate ("
    " serial INTEGER PRIMARY KEY, batch TEXT NOT NULL UNIQUE, issued_utc_us INTEGER NOT NULL,"
    " outcome TEXT NOT NULL, is_simulated INTEGER NOT NULL, strength_pct REAL, json TEXT NOT NULL,"
    " signature TEXT NOT NULL, text TEXT NOT NULL, head_seq INTEGER NOT NULL, head_hash TEXT NOT NULL) "
    "STRICT;";

/* INSERT OR REPLACE passes the triggers against UPDATE and DELETE; the third one is for it. Where
 * the writer itself says INSERT OR IGNORE, the old row stays without a word. */
#define APPEND_ONLY(table, same, act)                                                                        \
    "CREATE TRIGGER " table "_no_update BEFORE UPDATE ON " table                                             \
    " BEGIN SELECT RAISE(ABORT, 'the record is append-only: " table " cannot be changed'); END;"             \
    "CREATE TRIGGER " table "_no_delete BEFORE DELETE ON " table                                             \
    " BEGIN SELECT RAISE(ABORT, 'the record is append-only: nothing leaves " table "'); END;"                \
    "CREATE TRIGGER " table "_no_replace BEFORE INSERT ON " table " WHEN EXISTS (SELECT 1 FROM " table       \
    " WHERE " same ") BEGIN SELECT " act "; END;"
#define TAKEN "RAISE(ABORT, 'the record is append-only: a row with this key is there already')"
#define STAYS "RAISE(IGNORE)"

static const char *const STEPS[] = {
    TABLES,
    APPEND_ONLY("run", "id = NEW.id", TAKEN),
    APPEND_ONLY("journal", "seq = NEW.seq", TAKEN),
    APPEND_ONLY("sample", "run = NEW.run AND scan_us = NEW.scan_us AND point = NEW.point", STAYS),
    APPEND_ONLY("flight", "seq = NEW.seq", TAKEN),
    APPEND_ONLY("batch_number", "batch = NEW.batch", STAYS),
    APPEND_ONLY("certificate", "serial = NEW.serial OR batch = NEW.batch", TAKEN),
    "PRAGMA application_id=1400469362; PRAGMA user_version=1; COMMIT;",
};

static enum status read_marks(struct store *store, int64_t *application, int64_t *version, struct fault *f)
{
    enum status code = store_number(store, "PRAGMA application_id", NULL, 0, application, NULL, f);

    return code != ST_OK ? code : store_number(store, "PRAGMA user_version", NULL, 0, version, NULL, f);
}

enum status schema_check(struct store *store, struct fault *f)
{
    int64_t application = 0, version = 0;
    enum status code = read_marks(store, &application, &version, f);

    if (code != ST_OK)
        return code;
    if (application == 0 && version == 0)
        return fault_set(f, ST_NOT_FOUND, SCHEMA_FILE, "the record is still empty");
    if (application != APPLICATION_ID)
        return fault_set(f, ST_REFUSED, SCHEMA_FILE,
                         "this file is no record of this program; use another folder for the records");
    if (version != SCHEMA_VERSION)
        return fault_set(
            f, ST_REFUSED, SCHEMA_FILE,
            "the record has layout %lld, this program reads layout %d; use the program that wrote "
            "it, or another folder",
            (long long)version, SCHEMA_VERSION);
    return ST_OK;
}

enum status schema_prepare(struct store *store, struct fault *f)
{
    int64_t tables = 0;
    enum status code = store_number(store, "SELECT count(*) FROM sqlite_schema", NULL, 0, &tables, NULL, f);

    if (code != ST_OK)
        return code;
    if (tables > 0)
        return schema_check(store, f);
    for (size_t i = 0; i < sizeof STEPS / sizeof STEPS[0] && code == ST_OK; i++)
        code = store_run(store, STEPS[i], f);
    if (code != ST_OK)
        store_rollback(store);
    return code;
}
