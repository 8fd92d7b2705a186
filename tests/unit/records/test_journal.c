#include "records/journal.h"

#include "records/schema.h"
#include "unit/records/kit.h"

#include <math.h>

static struct store *open_prepared(void)
{
    struct store *store = NULL;
    struct fault f = {0};
    char folder[128];

    (void)snprintf(folder, sizeof folder, "%s/records", kit_path);
    (void)mkdir(folder, 0750);
    ck_assert_int_eq(crypto_init(&f), ST_OK);
    ck_assert_msg(store_open_writer(kit_file(SCHEMA_FILE), &store, &f) == ST_OK, "%s", f.text);
    ck_assert_msg(schema_prepare(store, &f) == ST_OK, "%s", f.text);
    return store;
}

#define INSERT_RUN                                                                                           \
    "INSERT INTO run (id, started_utc_us, program, settings_hash, settings, is_simulated, setup, "           \
    "setup_hash,"                                                                                            \
    " public_key) VALUES (1, 0, 'p', 'h', 's', 0, x'00', 'h', 'k')"

static void append_rows(struct store *store, int count)
{
    struct chain chain = {0};
    struct fault f = {0};

    ck_assert_int_eq(store_run(store, INSERT_RUN, &f), ST_OK);
    for (int i = 0; i < count; i++) {
        struct event event = {
            .kind = EVENT_INTENT_DOSE, .a = i, .b = -1, .intent = (uint64_t)i + 1, .value = 2.5};
        struct journal_row row;

        event.value2 = i == 2 ? (double)NAN : -0.0;
        (void)snprintf(event.who.name, sizeof event.who.name, "operator-1");
        (void)snprintf(event.text, sizeof event.text, "row \"%d\" \xc3\xbc", i);
        journal_row_from_event(&event, &row);
        row.run = 1;
        (void)snprintf(row.batch, sizeof row.batch, "2026-0001");
        ck_assert_msg(journal_append(store, &chain, &row, &f) == ST_OK, "%s", f.text);
        ck_assert_int_eq(row.seq, i + 1);
    }
}

START_TEST(an_untouched_chain_holds_and_its_head_is_found)
{
    struct store *store = open_prepared();
    struct chain head;
    struct fault f = {0};

    ck_assert_int_eq(journal_check(store, &head, &f), ST_OK);
    ck_assert_int_eq(head.seq, 0);
    append_rows(store, 5);
    ck_assert_msg(journal_check(store, &head, &f) == ST_OK, "%s", f.text);
    ck_assert_int_eq(head.seq, 5);
    store_close(store);
}
END_TEST

/* Anyone can check a row with any SHA-256 program: 64 zeros, then this line. */
START_TEST(a_row_is_written_in_one_way_only)
{
    struct store *store = open_prepared();
    char hash[CRYPTO_HASH_HEX], text[1024];

    append_rows(store, 1);
    store_close(store);
    (void)snprintf(
        text, sizeof text,
        "%064d{\"a\":0,\"b\":-1,\"batch\":\"2026-0001\",\"code\":%d,\"intent\":1,\"kind\":\"intent_dose\","
        "\"prompt\":0,\"run\":1,\"scan_us\":0,\"seq\":1,\"text\":\"row \\\"0\\\" \xc3\xbc\",\"utc_synced\":"
        "false,\"utc_us\":0,\"value\":2.5,\"value2\":0.0,\"who_door\":0,\"who_name\":\"operator-1\","
        "\"who_role\":0,\"who_uid\":0}",
        0, EVENT_INTENT_DOSE);
    crypto_sha256_hex(text, strlen(text), hash);
    (void)snprintf(text, sizeof text, "SELECT count(*) FROM journal WHERE hash = '%s'", hash);
    ck_assert_int_eq(kit_count(text), 1);
}
END_TEST

START_TEST(a_change_in_any_column_is_found_and_the_row_named)
{
    static const char *const CHANGES[] = {
        "seq = 40",
        "run = 2",
        "batch = '2026-0002'",
        "code = code + 1",
        "kind = 'intent_water'",
        "scan_us = 1",
        "utc_us = 1",
        "utc_synced = 1",
        "utc_synced = 2",
        "a = a + 4294967296",
        "b = b + 1",
        "intent = intent + 1",
        "prompt = prompt + 1",
        "value = value + 1e-9",
        "value = NULL",
        "value2 = 1",
        "who_uid = 7",
        "who_role = 3",
        "who_door = 2",
        "who_name = who_name || 'x'",
        "who_name = who_name || char(0) || 'x'",
        "text = 'other'",
        "json = json || ' '",
        "prev_hash = replace(prev_hash, substr(prev_hash, 1, 1), 'x')",
        "hash = replace(hash, substr(hash, 1, 1), 'x')",
    };

    for (size_t i = 0; i < sizeof CHANGES / sizeof CHANGES[0]; i++) {
        struct store *store;
        struct chain head;
        struct fault f = {0};
        char sql[256];

        kit_end();
        kit_begin();
        store = open_prepared();
        append_rows(store, 5);
        (void)snprintf(
            sql, sizeof sql,
            "PRAGMA foreign_keys=OFF; DROP TRIGGER journal_no_update; UPDATE journal SET %s WHERE seq = 3",
            CHANGES[i]);
        ck_assert_msg(store_run(store, sql, &f) == ST_OK, "%s: %s", sql, f.text);
        ck_assert_msg(journal_check(store, &head, &f) == ST_BAD_REPLY, "%s", CHANGES[i]);
        ck_assert_msg(strstr(f.text, "row 3 of the journal") != NULL, "%s: %s", CHANGES[i], f.text);
        store_close(store);
    }
}
END_TEST

START_TEST(a_missing_row_and_a_rewritten_one_are_found)
{
    struct store *store = open_prepared();
    struct chain head;
    struct fault f = {0};

    append_rows(store, 5);
    ck_assert_int_eq(
        store_run(store, "DROP TRIGGER journal_no_delete; DELETE FROM journal WHERE seq = 2", &f), ST_OK);
    ck_assert_int_eq(journal_check(store, &head, &f), ST_BAD_REPLY);
    ck_assert_ptr_nonnull(strstr(f.text, "row 2 of the journal is missing"));
    store_close(store);
}
END_TEST

static void rows_in_each_table(struct store *store)
{
    struct fault f = {0};

    append_rows(store, 2);
    ck_assert_int_eq(
        store_run(store,
                  "INSERT INTO sample VALUES (1, 1, 'tank_temp_c', 'b', 1, 2.0, 'good', '');"
                  "INSERT INTO flight VALUES (1, 1, 1, 1, 1, x'00', 'h');"
                  "INSERT INTO batch_number VALUES ('b', 2026, 1, 1);"
                  "INSERT INTO certificate VALUES (1, 'b', 1, 'met', 0, 61.5, '{}', 's', 't', 1, 'h')",
                  &f),
        ST_OK);
}

START_TEST(append_only_tables_refuse_update_and_delete)
{
    static const char *const TABLES[] = {"run", "journal", "sample", "flight", "batch_number", "certificate"};
    struct store *store = open_prepared();
    struct fault f = {0};

    rows_in_each_table(store);
    for (size_t i = 0; i < sizeof TABLES / sizeof TABLES[0]; i++) {
        char sql[128];

        (void)snprintf(sql, sizeof sql, "DELETE FROM %s", TABLES[i]);
        ck_assert_msg(store_run(store, sql, &f) == ST_REFUSED, "%s", sql);
        ck_assert_ptr_nonnull(strstr(f.text, "append-only"));
        (void)snprintf(sql, sizeof sql, "UPDATE %s SET rowid = rowid", TABLES[i]);
        if (strcmp(TABLES[i], "sample") == 0)
            (void)snprintf(sql, sizeof sql, "UPDATE sample SET value = 3");
        ck_assert_msg(store_run(store, sql, &f) == ST_REFUSED, "%s", sql);
    }
    store_close(store);
}
END_TEST

/* What INSERT OR REPLACE tries on a row that exists, and how the row is counted if it did. */
static const struct {
    const char *row;
    const char *replaced;
    bool is_loud; /* the writer's own INSERT OR IGNORE needs the other two to be quiet */
} REPLACES[] = {
    {"run SELECT 1, 0, 'other', 'h', 's', 0, x'00', 'h', NULL, NULL, 'k'", "run WHERE program = 'other'",
     true},
    {"journal SELECT 1, run, 'other', code, kind, scan_us, utc_us, utc_synced, a, b, intent, prompt, value,"
     " value2, who_uid, who_role, who_door, who_name, text, json, prev_hash, hash FROM journal WHERE seq = 2",
     "journal WHERE batch = 'other'", true},
    {"flight VALUES (1, 1, 9, 9, 9, x'00', 'h')", "flight WHERE scans = 9", true},
    {"certificate VALUES (1, 'c', 1, 'met', 0, 61.5, '{}', 's', 't', 1, 'h')",
     "certificate WHERE batch = 'c'", true},
    {"certificate VALUES (2, 'b', 1, 'met', 0, 61.5, '{}', 's', 't', 1, 'h')", "certificate WHERE serial = 2",
     true},
    {"sample VALUES (1, 1, 'tank_temp_c', 'b', 1, 9.0, 'good', '')", "sample WHERE value = 9", false},
    {"batch_number VALUES ('b', 2027, 1, 1)", "batch_number WHERE year = 2027", false},
};

START_TEST(append_only_tables_keep_a_row_that_would_be_replaced)
{
    struct store *store = open_prepared();
    struct fault f = {0};

    rows_in_each_table(store);
    for (size_t i = 0; i < sizeof REPLACES / sizeof REPLACES[0]; i++) {
        int64_t found = -1;
        char sql[512];

        (void)snprintf(sql, sizeof sql, "INSERT OR REPLACE INTO %s", REPLACES[i].row);
        ck_assert_msg(store_run(store, sql, &f) == (REPLACES[i].is_loud ? ST_REFUSED : ST_OK), "%s: %s", sql,
                      f.text);
        if (REPLACES[i].is_loud)
            ck_assert_ptr_nonnull(strstr(f.text, "append-only"));
        (void)snprintf(sql, sizeof sql, "SELECT count(*) FROM %s", REPLACES[i].replaced);
        ck_assert_int_eq(store_number(store, sql, NULL, 0, &found, NULL, &f), ST_OK);
        ck_assert_msg(found == 0, "%s", sql);
    }
    ck_assert_int_eq(
        store_run(store, "INSERT INTO flight SELECT NULL, run, 2, 2, 1, bytes, hash FROM flight", &f), ST_OK);
    store_close(store);
}
END_TEST

START_TEST(tables_are_strict)
{
    struct store *store = open_prepared();
    struct fault f = {0};

    ck_assert_int_ne(store_run(store, "INSERT INTO batch_number VALUES ('b', 'soon', 1, 1)", &f), ST_OK);
    store_close(store);
}
END_TEST

START_TEST(another_layout_or_another_program_is_refused_with_a_sentence)
{
    struct store *store = open_prepared();
    struct fault f = {0};

    ck_assert_int_eq(store_run(store, "PRAGMA user_version = 7", &f), ST_OK);
    ck_assert_int_eq(schema_prepare(store, &f), ST_REFUSED);
    ck_assert_ptr_nonnull(strstr(f.text, "layout 7, this program reads layout 1"));
    ck_assert_int_eq(store_run(store, "PRAGMA application_id = 7", &f), ST_OK);
    ck_assert_int_eq(schema_prepare(store, &f), ST_REFUSED);
    ck_assert_ptr_nonnull(strstr(f.text, "no record of this program"));
    store_close(store);
}
END_TEST

static enum status count_row(void *context, const struct journal_row *row, struct fault *f)
{
    int *count = context;

    (void)f;
    ck_assert_int_eq(row->a, 3 + *count);
    ++*count;
    return ST_OK;
}

START_TEST(the_newest_rows_of_a_batch_come_oldest_first)
{
    struct store *store = open_prepared();
    struct fault f = {0};
    int count = 0;

    append_rows(store, 5);
    ck_assert_int_eq(journal_each(store, "2026-0001", 2, count_row, &count, &f), ST_OK);
    ck_assert_int_eq(count, 2);
    ck_assert_int_eq(journal_each(store, "2026-0009", 2, count_row, &count, &f), ST_OK);
    ck_assert_int_eq(count, 2);
    store_close(store);
}
END_TEST

/* A flipped bit of the file either hits nothing of the journal, or is told. */
START_TEST(a_flipped_bit_in_the_file_never_changes_a_row_unseen)
{
    static unsigned char file[1 << 18];
    struct store *store = open_prepared();
    struct chain before, head;
    struct fault f = {0};
    size_t size;
    FILE *stream;
    int found = 0;

    append_rows(store, 40);
    ck_assert_int_eq(journal_check(store, &before, &f), ST_OK);
    ck_assert_int_eq(store_run(store, "PRAGMA wal_checkpoint(TRUNCATE)", &f), ST_OK);
    store_close(store);
    stream = fopen(kit_file(SCHEMA_FILE), "rb");
    ck_assert_ptr_nonnull(stream);
    size = fread(file, 1, sizeof file, stream);
    (void)fclose(stream);
    for (int i = 0; i < 150; i++) {
        size_t at = (size_t)i * 7919 * 13 % size;
        enum status code;

        file[at] ^= (unsigned char)(1 << (i % 8));
        stream = fopen(kit_file(SCHEMA_FILE), "wb");
        ck_assert_ptr_nonnull(stream);
        ck_assert_uint_eq(fwrite(file, 1, size, stream), size);
        (void)fclose(stream);
        file[at] ^= (unsigned char)(1 << (i % 8));
        code = store_open_writer(kit_file(SCHEMA_FILE), &store, &f);
        if (code == ST_OK)
            code = schema_check(store, &f);
        if (code == ST_OK)
            code = journal_check(store, &head, &f);
        if (code == ST_OK)
            ck_assert_int_eq(memcmp(&head, &before, sizeof head), 0);
        else
            found++;
        store_close(store);
    }
    ck_assert_int_gt(found, 10);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("journal");
    TCase *tests = tcase_create("journal");

    tcase_add_checked_fixture(tests, kit_begin, kit_end);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, an_untouched_chain_holds_and_its_head_is_found);
    tcase_add_test(tests, a_row_is_written_in_one_way_only);
    tcase_add_test(tests, a_change_in_any_column_is_found_and_the_row_named);
    tcase_add_test(tests, a_missing_row_and_a_rewritten_one_are_found);
    tcase_add_test(tests, append_only_tables_refuse_update_and_delete);
    tcase_add_test(tests, append_only_tables_keep_a_row_that_would_be_replaced);
    tcase_add_test(tests, tables_are_strict);
    tcase_add_test(tests, another_layout_or_another_program_is_refused_with_a_sentence);
    tcase_add_test(tests, the_newest_rows_of_a_batch_come_oldest_first);
    tcase_add_test(tests, a_flipped_bit_in_the_file_never_changes_a_row_unseen);
    suite_add_tcase(suite, tests);
    return suite;
}
