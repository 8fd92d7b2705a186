#include "records/records.h"

#include "records/certificate.h"
#include "unit/records/kit.h"

#include <fcntl.h>
#include <math.h>
#include <signal.h>
#include <sys/resource.h>

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
    mode_t before = umask(0);

    records_close(kit_open(&settings));
    (void)umask(0077);
    kit_end();
    kit_begin();
    kit_settings_make(&settings, false);
    records_close(kit_open(&settings));
    (void)umask(before);
    ck_assert_int_eq(mode_of(""), 0750);
    ck_assert_int_eq(mode_of("certificates"), 0750);
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

/* ---- disk full ------------------------------------------------------------------------------- */

static void limit_file_size(rlim_t bytes)
{
    struct rlimit limit;

    ck_assert_int_eq(getrlimit(RLIMIT_FSIZE, &limit), 0);
    limit.rlim_cur = bytes;
    ck_assert_int_eq(setrlimit(RLIMIT_FSIZE, &limit), 0);
}

static rlim_t size_of(const char *name)
{
    struct stat facts;

    return stat(kit_file(name), &facts) == 0 ? (rlim_t)facts.st_size : 0;
}

static bool wait_failing(struct records *records, bool expected)
{
    struct records_status status = {0};

    for (int i = 0; i < 500; i++) {
        records_status_get(records, &status);
        if (status.is_failing == expected)
            return true;
        kit_sleep_ms(10);
    }
    return false;
}

/* No file may grow: what the disk says when it is full. */
START_TEST(a_full_disk_confirms_nothing_is_told_and_loses_nothing)
{
    struct records *records = kit_open(&settings);
    struct records_status status;

    (void)signal(SIGXFSZ, SIG_IGN);
    post_one(records, 100000, EVENT_INTENT_DOSE, 0, 1);
    ck_assert(kit_wait_durable(records, 1));
    limit_file_size(size_of("record.db-wal"));
    for (int i = 0; i < 200; i++)
        post_one(records, 200000 + i * 100000, EVENT_INTENT_DOSE, i, (uint64_t)i + 2);
    ck_assert(wait_failing(records, true));
    records_status_get(records, &status);
    ck_assert_uint_lt(status.durable_intent, 201);
    ck_assert_msg(strlen(status.text) > 20, "%s", status.text);
    ck_assert_uint_eq(status.lost, 0);
    ck_assert(!records->is_busy);
    limit_file_size(RLIM_INFINITY);
    ck_assert(kit_wait_durable(records, 201));
    ck_assert(wait_failing(records, false));
    records_close(records);
    ck_assert_int_eq(kit_count("SELECT count(DISTINCT intent) FROM journal WHERE intent > 0"), 201);
    records_close(kit_open(&settings)); /* the chain holds */
}
END_TEST

START_TEST(the_sentence_for_a_full_disk_says_what_to_do)
{
    struct records *records = kit_open(&settings);
    struct records_status status;
    struct fault f = {0};

    pthread_mutex_lock(&records->mutex); /* the writer is at rest: nothing is queued */
    ck_assert_int_eq(store_run(records->store, "PRAGMA max_page_count = 1", &f), ST_OK);
    pthread_mutex_unlock(&records->mutex);
    for (int i = 0; i < 200; i++)
        post_one(records, 200000 + i * 100000, EVENT_INTENT_WATER, i, (uint64_t)i + 1);
    ck_assert(wait_failing(records, true));
    records_status_get(records, &status);
    ck_assert_msg(strstr(status.text, "disk is full") != NULL, "%s", status.text);
    ck_assert_uint_lt(status.durable_intent, 200);
    pthread_mutex_lock(&records->mutex); /* between two tries, one second apart */
    ck_assert_int_eq(store_run(records->store, "PRAGMA max_page_count = 1000000", &f), ST_OK);
    pthread_mutex_unlock(&records->mutex);
    ck_assert(kit_wait_durable(records, 200));
    records_close(records);
    ck_assert_int_eq(kit_count("SELECT count(DISTINCT intent) FROM journal WHERE intent > 0"), 200);
}
END_TEST

START_TEST(what_finds_no_room_is_counted_and_the_journal_says_how_many)
{
    struct records *records = kit_open(&settings);
    struct records_status status;
    struct scan_out out = {0};
    char sql[160];

    (void)signal(SIGXFSZ, SIG_IGN);
    limit_file_size(1);
    for (int i = 0; i < SCAN_EVENTS_MAX; i++)
        kit_event(&out, EVENT_QUALITY, POINT_TANK_TEMP_C, 0, 0);
    for (int i = 0; i < 600; i++)
        kit_post(records, 200000 + i * 100000, &out, &memory);
    records_status_get(records, &status);
    ck_assert_uint_gt(status.lost, 1000);
    ck_assert(wait_failing(records, true));
    limit_file_size(RLIM_INFINITY);
    ck_assert(wait_failing(records, false));
    records_status_get(records, &status);
    records_close(records);
    (void)snprintf(sql, sizeof sql, "SELECT sum(a) = %llu FROM journal WHERE kind = 'lost'",
                   (unsigned long long)status.lost);
    ck_assert_int_eq(kit_count(sql), 1);
    records_close(kit_open(&settings));
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

/* ---- samples, scan inputs --------------------------------------------------------------------- */

START_TEST(samples_come_every_ten_seconds_while_a_batch_is_open)
{
    struct records *records = kit_open(&settings);
    struct scan_out out = {0};

    for (int i = 1; i <= 305; i++)
        kit_post(records, i * 100000, &out, &memory);
    memory.has_batch = false;
    for (int i = 306; i <= 600; i++)
        kit_post(records, i * 100000, &out, &memory);
    records_close(records);
    ck_assert_int_eq(kit_count("SELECT count(DISTINCT scan_us) FROM sample"), 4);
    ck_assert_int_eq(kit_count("SELECT count(*) FROM sample"), 12); /* three bound points */
    ck_assert_int_eq(kit_count("SELECT count(*) FROM sample WHERE point = 'tank_temp_c' AND value = 45.5"
                               " AND quality = 'good'"),
                     4);
    ck_assert_int_eq(kit_count("SELECT count(*) FROM sample WHERE point = 'acidity_ph' AND value IS NULL"
                               " AND quality = 'bad' AND reason = 'no_reading'"),
                     4);
}
END_TEST

struct replay {
    int scans;
    int64_t last_us;
};

static enum status replay_chunk(void *context, struct store_row *row, struct fault *f)
{
    struct replay *replay = context;
    struct flight flight;
    struct scan_in in;
    size_t size, used;
    const unsigned char *bytes = row_blob(row, 0, &size);

    flight_start(&flight);
    for (size_t at = 0; at < size; at += used, replay->scans++) {
        enum status code = flight_decode(&flight, bytes + at, size - at, &used, &in, f);

        if (code != ST_OK)
            return code;
        ck_assert_int_eq(in.scan_us, replay->last_us + SCAN_PERIOD_US);
        ck_assert_double_eq(in.readings[0].reading.value, 45.5);
        replay->last_us = in.scan_us;
    }
    return ST_OK;
}

START_TEST(the_scan_inputs_of_a_run_can_be_read_back)
{
    struct records *records = kit_open(&settings);
    struct scan_out out = {0};
    struct replay replay = {0};
    struct store *store = NULL;
    struct fault f = {0};

    for (int i = 1; i <= 1234; i++)
        kit_post(records, i * 100000, &out, &memory);
    records_close(records);
    ck_assert_int_eq(store_open_reader(kit_file(SCHEMA_FILE), &store, &f), ST_OK);
    ck_assert_int_eq(
        store_query(store, "SELECT bytes FROM flight ORDER BY seq", NULL, 0, replay_chunk, &replay, &f),
        ST_OK);
    ck_assert_int_eq(replay.scans, 1234);
    store_close(store);
    ck_assert_int_le(kit_count("SELECT sum(length(bytes)) FROM flight"), 1234 * 4);
}
END_TEST

START_TEST(what_is_not_urgent_is_on_disk_soon_when_nothing_else_happens)
{
    struct records *records = kit_open(&settings);
    struct scan_out out = {0};

    for (int i = 1; i <= 30; i++)
        kit_post(records, i * 100000, &out, &memory);
    kit_sleep_ms(2500);
    ck_assert_int_ge(kit_count("SELECT count(*) FROM flight"), 1);
    records_close(records);
}
END_TEST

/* ---- certificates ------------------------------------------------------------------------------ */

static void run_batch(struct records *records, const char *batch, int64_t scan_us)
{
    struct scan_out out = {0};

    kit_memory_make(&memory, batch);
    post_one(records, scan_us, EVENT_BATCH_STARTED, 0, 0);
    post_one(records, scan_us + 100000, EVENT_TRIPPED, TRIP_STIRRER, 0);
    kit_event(&out, EVENT_MEASURED, MEASURED_SYRUP_PH, 0, 4.93);
    out.events[0].value2 = 0.05;
    kit_event(&out, EVENT_BATCH_ENDED, OUTCOME_MET, 0, 0);
    memory.outcome = OUTCOME_MET;
    kit_post(records, scan_us + 200000, &out, &memory);
}

static char *read_file(const char *name)
{
    static char buffer[65536];
    FILE *file = fopen(kit_file(name), "rb");
    size_t size;

    ck_assert_msg(file != NULL, "%s", name);
    size = fread(buffer, 1, sizeof buffer - 1, file);
    (void)fclose(file);
    buffer[size] = '\0';
    return buffer;
}

START_TEST(the_end_of_a_batch_makes_a_signed_certificate_and_its_files)
{
    struct records *records = kit_open(&settings);
    struct fault f = {0};

    run_batch(records, "2026-0001", 100000);
    run_batch(records, "2026-0002", 900000);
    records_close(records);
    ck_assert_int_eq(kit_count("SELECT count(*) FROM certificate"), 2);
    ck_assert_msg(certificate_verify(read_file("certificates/2026-0002.json"), NULL, &f) == ST_OK, "%s",
                  f.text);
    ck_assert_ptr_nonnull(strstr(read_file("certificates/2026-0002.json"), "\"expanded_u\":\"0.10\""));
    ck_assert_ptr_nonnull(strstr(read_file("certificates/2026-0002.txt"), "Tripped"));
    ck_assert_int_eq(mode_of("certificates/2026-0001.json"), 0640);
    records_close(kit_open(&settings)); /* chain of certificates checked */
}
END_TEST

START_TEST(missing_certificate_files_are_made_again_at_the_start)
{
    struct records *records = kit_open(&settings);

    run_batch(records, "2026-0001", 100000);
    records_close(records);
    ck_assert_int_eq(remove(kit_file("certificates/2026-0001.json")), 0);
    ck_assert_int_eq(remove(kit_file("certificates/2026-0001.txt")), 0);
    records_close(kit_open(&settings));
    ck_assert_int_eq(certificate_verify(read_file("certificates/2026-0001.json"), NULL, NULL), ST_OK);
    ck_assert_ptr_nonnull(strstr(read_file("certificates/2026-0001.txt"), "END OF CERTIFICATE 1"));
}
END_TEST

static void expect_found(const char *change, const char *why)
{
    struct records *records;

    kit_end();
    kit_begin();
    kit_settings_make(&settings, false);
    records = kit_open(&settings);
    run_batch(records, "2026-0001", 100000);
    run_batch(records, "2026-0002", 900000);
    records_close(records);
    kit_tamper(change);
    expect_open_refused(why);
}

START_TEST(a_changed_certificate_or_a_cut_journal_stops_the_start)
{
    expect_found("DROP TRIGGER certificate_no_update;"
                 "UPDATE certificate SET json = replace(json, '61.43', '61.50') WHERE serial = 1",
                 "certificate 1 (batch 2026-0001) the certificate was changed");
    expect_found("DROP TRIGGER certificate_no_update;"
                 "UPDATE certificate SET text = replace(text, '61.43', '61.50') WHERE serial = 2",
                 "has a text that does not say what was signed");
    expect_found("DROP TRIGGER certificate_no_delete; DELETE FROM certificate WHERE serial = 1",
                 "does not have the next number");
    expect_found("DROP TRIGGER journal_no_delete; DELETE FROM journal WHERE seq > 6",
                 "rests on journal rows that are missing");
}
END_TEST

START_TEST(a_batch_that_ends_twice_keeps_its_first_certificate)
{
    struct records *records = kit_open(&settings);

    run_batch(records, "2026-0001", 100000);
    run_batch(records, "2026-0001", 900000);
    records_close(records);
    ck_assert_int_eq(kit_count("SELECT count(*) FROM certificate"), 1);
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
    tcase_add_test(tests, a_full_disk_confirms_nothing_is_told_and_loses_nothing);
    tcase_add_test(tests, the_sentence_for_a_full_disk_says_what_to_do);
    tcase_add_test(tests, what_finds_no_room_is_counted_and_the_journal_says_how_many);
    tcase_add_test(tests, the_newest_memory_comes_back_bit_for_bit);
    tcase_add_test(tests, an_ended_batch_is_not_restored);
    tcase_add_test(tests, a_memory_of_another_layout_size_or_hash_is_refused_and_never_guessed);
    tcase_add_test(tests, batch_numbers_count_in_each_year_and_are_never_given_twice);
    tcase_add_test(tests, samples_come_every_ten_seconds_while_a_batch_is_open);
    tcase_add_test(tests, the_scan_inputs_of_a_run_can_be_read_back);
    tcase_add_test(tests, what_is_not_urgent_is_on_disk_soon_when_nothing_else_happens);
    tcase_add_test(tests, the_end_of_a_batch_makes_a_signed_certificate_and_its_files);
    tcase_add_test(tests, missing_certificate_files_are_made_again_at_the_start);
    tcase_add_test(tests, a_changed_certificate_or_a_cut_journal_stops_the_start);
    tcase_add_test(tests, a_batch_that_ends_twice_keeps_its_first_certificate);
    suite_add_tcase(suite, tests);
    return suite;
}
