#include "records/records.h"

#include "unit/records/kit.h"

static struct settings settings;
static struct batch_memory memory;

static void begin(void)
{
    kit_begin();
    kit_settings_make(&settings, false);
    kit_memory_make(&memory, "2026-0001");
}

static void expect_open_refused(const char *why)
{
    struct records *records = NULL;
    struct fault f = {0};

    ck_assert_int_ne(records_open(&settings, NULL, 0, &records, &f), ST_OK);
    ck_assert_ptr_null(records);
    ck_assert_msg(strstr(f.text, why) != NULL, "%s", f.text);
}

static void post_one(struct records *records, int64_t scan_us, enum event_kind kind, int a, uint64_t intent)
{
    struct scan_out out = {0};

    kit_event(&out, kind, a, intent, 2.5);
    kit_post(records, scan_us, &out, &memory);
}

/* ---- opening --------------------------------------------------------------------------------- */

static mode_t mode_of(const char *name)
{
    struct stat facts;

    ck_assert_msg(stat(kit_file(name), &facts) == 0, "%s", name);
    return facts.st_mode & 0777;
}

START_TEST(a_new_record_has_its_files_with_the_right_modes_whatever_the_umask)
{
    struct records *records;
    mode_t before = umask(0);

    records_close(kit_open(&settings));
    (void)umask(0077);
    kit_end();
    kit_begin();
    kit_settings_make(&settings, false);
    records = kit_open(&settings);
    memory.outcome = OUTCOME_MET;
    post_one(records, 100000, EVENT_BATCH_ENDED, OUTCOME_MET, 0);
    records_close(records);
    (void)umask(before);
    ck_assert_int_eq(mode_of(""), 0750);
    ck_assert_int_eq(mode_of("certificates"), 0750);
    ck_assert_int_eq(mode_of("certificates/2026-0001.json"), 0640);
    ck_assert_int_eq(mode_of("certificates/2026-0001.txt"), 0640);
    ck_assert_int_eq(mode_of("record.db"), 0640);
    ck_assert_int_eq(mode_of("record.db-wal"), 0640); /* persists after close */
    ck_assert_int_eq(mode_of("record.db-shm"), 0640);
    ck_assert_int_eq(mode_of("signing.key"), 0600);
}
END_TEST

START_TEST(each_run_is_written_with_all_a_replay_needs)
{
    records_close(kit_open(&settings));
    records_close(kit_open(&settings));
    ck_assert_int_eq(kit_count("SELECT count(*) FROM run"), 2);
    ck_assert_int_eq(kit_count("SELECT count(*) FROM run WHERE length(setup) > 500 AND length(settings) > 50"
                               " AND length(setup_hash) = 64 AND memory IS NULL AND program <> ''"),
                     2);
    ck_assert_int_eq(kit_count("SELECT count(*) FROM journal WHERE kind = 'run_started'"), 2);
    ck_assert_int_eq(kit_count("SELECT count(*) FROM journal WHERE kind = 'run_ended'"), 2);
}
END_TEST

START_TEST(a_second_daemon_is_refused)
{
    struct records *records = kit_open(&settings);

    expect_open_refused("another daemon");
    records_close(records);
    records_close(NULL);
}
END_TEST

START_TEST(a_changed_row_stops_the_start_and_is_named)
{
    struct records *records = kit_open(&settings);

    post_one(records, 100000, EVENT_BATCH_STARTED, 0, 0);
    records_close(records);
    kit_tamper("DROP TRIGGER journal_no_update; UPDATE journal SET utc_us = utc_us + 1 WHERE seq = 2");
    expect_open_refused("row 2 of the journal is not what was written");
}
END_TEST

START_TEST(changed_settings_of_an_old_run_stop_the_start)
{
    records_close(kit_open(&settings));
    kit_tamper("DROP TRIGGER run_no_update; UPDATE run SET settings = settings || ' '");
    expect_open_refused("the entry of run 1");
}
END_TEST

START_TEST(a_damaged_file_is_refused_with_what_to_do)
{
    FILE *file;

    records_close(kit_open(&settings));
    file = fopen(kit_file("record.db"), "r+b");
    ck_assert_ptr_nonnull(file);
    (void)fputs("this is no database at all", file);
    (void)fclose(file);
    (void)remove(kit_file("record.db-wal"));
    expect_open_refused("");
}
END_TEST

START_TEST(an_impossible_folder_is_refused_with_a_sentence)
{
    (void)snprintf(settings.records_path, sizeof settings.records_path, "%s/not/there", kit_path);
    expect_open_refused("could not be made");
}
END_TEST

/* ---- intentions ------------------------------------------------------------------------------ */

START_TEST(an_intention_is_acknowledged_when_it_is_on_disk)
{
    struct records *records = kit_open(&settings);
    struct records_status status;

    records_status_get(records, &status);
    ck_assert_uint_eq(status.durable_intent, 0);
    ck_assert(!status.is_failing);
    for (uint64_t i = 1; i <= 20; i++) {
        char sql[128];

        post_one(records, (int64_t)i * 100000, i % 2 == 0 ? EVENT_INTENT_DOSE : EVENT_INTENT_WATER, 0, i);
        ck_assert(kit_wait_durable(records, i));
        (void)snprintf(sql, sizeof sql, "SELECT count(*) FROM journal WHERE intent = %d", (int)i);
        ck_assert_int_eq(kit_count(sql), 1);
    }
    records_close(records);
}
END_TEST

START_TEST(a_numbering_that_begins_anew_is_not_confirmed_by_the_old_one)
{
    struct records *records = kit_open(&settings);
    struct records_status status;

    post_one(records, 100000, EVENT_INTENT_DOSE, 0, 50);
    ck_assert(kit_wait_durable(records, 50));
    post_one(records, 200000, EVENT_INTENT_DOSE, 0, 1);
    records_status_get(records, &status);
    ck_assert_uint_le(status.durable_intent, 1);
    ck_assert(kit_wait_durable(records, 1));
    records_close(records);
}
END_TEST

/* ---- memory ---------------------------------------------------------------------------------- */

START_TEST(the_newest_memory_comes_back_bit_for_bit)
{
    struct records *records = kit_open(&settings);
    struct batch_memory back;

    ck_assert(!records_restore(records, &back));
    post_one(records, 100000, EVENT_BATCH_STARTED, 0, 0);
    memory.water_in_l = 17.25;
    memory.alkalinity_meq_kg = 4.4999999;
    post_one(records, 200000, EVENT_SUGAR, 1, 0);
    records_close(records);
    records = kit_open(&settings);
    ck_assert(records_restore(records, &back));
    ck_assert_int_eq(memcmp(&back, &memory, sizeof back), 0);
    records_close(records);
    ck_assert_int_eq(kit_count("SELECT length(memory) FROM run WHERE id = 2"), sizeof memory);
    ck_assert_int_le(kit_count("SELECT count(*) FROM memory"), 2);
}
END_TEST

START_TEST(an_ended_batch_is_not_restored)
{
    struct records *records = kit_open(&settings);
    struct batch_memory back;

    memory.outcome = OUTCOME_MET;
    post_one(records, 100000, EVENT_BATCH_ENDED, OUTCOME_MET, 0);
    records_close(records);
    records = kit_open(&settings);
    ck_assert(!records_restore(records, &back));
    records_close(records);
}
END_TEST

static void expect_memory_refused(const char *change, const char *why)
{
    struct records *records = kit_open(&settings);
    struct records_status status;
    struct batch_memory back;

    post_one(records, 100000, EVENT_BATCH_STARTED, 0, 0);
    records_close(records);
    kit_tamper(change);
    records = kit_open(&settings);
    ck_assert(!records_restore(records, &back));
    records_status_get(records, &status);
    ck_assert_msg(strstr(status.text, why) != NULL, "%s", status.text);
    records_close(records);
    ck_assert_int_ge(kit_count("SELECT count(*) FROM journal WHERE kind = 'memory_refused' AND text <> ''"),
                     1);
}

START_TEST(a_memory_of_another_layout_size_or_hash_is_refused_and_never_guessed)
{
    expect_memory_refused("UPDATE memory SET layout = 99", "layout 99");
    expect_memory_refused("UPDATE memory SET bytes = zeroblob(10), size = 10", "does not match");
    expect_memory_refused("UPDATE memory SET bytes = zeroblob(size)", "does not match");
}
END_TEST

/* ---- batch numbers --------------------------------------------------------------------------- */

static void expect_id(struct records *records, int64_t utc_us, const char *expected)
{
    char id[24];

    records_next_batch_id(records, utc_us, id);
    ck_assert_str_eq(id, expected);
}

START_TEST(batch_numbers_count_in_each_year_and_are_never_given_twice)
{
    struct records *records = kit_open(&settings);

    expect_id(records, KIT_UTC_US, "2026-0001");
    expect_id(records, KIT_UTC_US, "2026-0002");
    expect_id(records, KIT_UTC_US + 365 * 86400000000LL, "2027-0001");
    expect_id(records, KIT_UTC_US, "2026-0003");
    records_close(records);
    records = kit_open(&settings);
    expect_id(records, KIT_UTC_US, "2026-0004");
    expect_id(records, KIT_UTC_US + 365 * 86400000000LL, "2027-0002");
    expect_id(records, 0, "1970-0001");
    records_close(records);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("records");
    TCase *tests = tcase_create("records");

    tcase_add_checked_fixture(tests, begin, kit_end);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, a_new_record_has_its_files_with_the_right_modes_whatever_the_umask);
    tcase_add_test(tests, each_run_is_written_with_all_a_replay_needs);
    tcase_add_test(tests, a_second_daemon_is_refused);
    tcase_add_test(tests, a_changed_row_stops_the_start_and_is_named);
    tcase_add_test(tests, changed_settings_of_an_old_run_stop_the_start);
    tcase_add_test(tests, a_damaged_file_is_refused_with_what_to_do);
    tcase_add_test(tests, an_impossible_folder_is_refused_with_a_sentence);
    tcase_add_test(tests, an_intention_is_acknowledged_when_it_is_on_disk);
    tcase_add_test(tests, a_numbering_that_begins_anew_is_not_confirmed_by_the_old_one);
    tcase_add_test(tests, the_newest_memory_comes_back_bit_for_bit);
    tcase_add_test(tests, an_ended_batch_is_not_restored);
    tcase_add_test(tests, a_memory_of_another_layout_size_or_hash_is_refused_and_never_guessed);
    tcase_add_test(tests, batch_numbers_count_in_each_year_and_are_never_given_twice);
    suite_add_tcase(suite, tests);
    return suite;
}
