/* Samples, scan inputs and certificates as the database keeps them. */
#include "records/records.h"

#include "records/certificate.h"
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

START_TEST(samples_end_with_the_batch_and_not_with_the_reset)
{
    struct records *records = kit_open(&settings);
    struct scan_out out = {0};

    for (int i = 1; i <= 305; i++)
        kit_post(records, i * 100000, &out, &memory);
    memory.outcome = OUTCOME_MET; /* and still there until someone says reset */
    memory.state = STATE_COMPLETE;
    for (int i = 306; i <= 900; i++)
        kit_post(records, i * 100000, &out, &memory);
    records_close(records);
    ck_assert_int_eq(kit_count("SELECT count(DISTINCT scan_us) FROM sample"), 4);
    ck_assert_int_eq(kit_count("SELECT max(scan_us) FROM sample"), 30100000);
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
    kit_event(&out, EVENT_STATE, STATE_RUNNING, 0, 0);
    out.events[0].b = STATE_HOLDING;
    kit_post(records, scan_us + 110000, &out, &memory);
    out = (struct scan_out){0};
    kit_event(&out, EVENT_STATE, STATE_HELD, 0, 0);
    out.events[0].b = STATE_RESTARTING;
    kit_post(records, scan_us + 180000, &out, &memory);
    out = (struct scan_out){0};
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
    ck_assert_ptr_nonnull(strstr(read_file("certificates/2026-0002.txt"), "The batch was held for 0.0 min."));
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

START_TEST(files_that_cannot_be_written_are_told_and_hold_up_nothing)
{
    struct records *records = kit_open(&settings);
    struct records_status status;

    ck_assert_int_eq(rmdir(kit_file("certificates")), 0);
    run_batch(records, "2026-0001", 100000);
    for (int i = 0; i < 3000 && kit_count("SELECT count(*) FROM certificate") == 0; i++)
        kit_sleep_ms(10);
    post_one(records, 900000, EVENT_INTENT_DOSE, 0, 1);
    ck_assert(kit_wait_durable(records, 1));
    kit_sleep_ms(50);
    records_status_get(records, &status);
    ck_assert(status.is_failing);
    ck_assert_msg(strstr(status.text, "safe in the database") != NULL, "%s", status.text);
    ck_assert_int_eq(mkdir(kit_file("certificates"), 0750), 0);
    for (int i = 0; i < 3000 && status.is_failing; i++) {
        kit_sleep_ms(10);
        records_status_get(records, &status);
    }
    ck_assert(!status.is_failing);
    records_close(records);
    ck_assert_ptr_nonnull(strstr(read_file("certificates/2026-0001.txt"), "END OF CERTIFICATE 1"));
    ck_assert_int_eq(kit_count("SELECT count(*) FROM journal WHERE kind = 'run_ended'"), 1);
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
    Suite *suite = suite_create("content of the record");
    TCase *tests = tcase_create("records");

    tcase_add_checked_fixture(tests, begin, kit_end);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, samples_come_every_ten_seconds_while_a_batch_is_open);
    tcase_add_test(tests, samples_end_with_the_batch_and_not_with_the_reset);
    tcase_add_test(tests, the_scan_inputs_of_a_run_can_be_read_back);
    tcase_add_test(tests, what_is_not_urgent_is_on_disk_soon_when_nothing_else_happens);
    tcase_add_test(tests, the_end_of_a_batch_makes_a_signed_certificate_and_its_files);
    tcase_add_test(tests, missing_certificate_files_are_made_again_at_the_start);
    tcase_add_test(tests, files_that_cannot_be_written_are_told_and_hold_up_nothing);
    tcase_add_test(tests, a_changed_certificate_or_a_cut_journal_stops_the_start);
    tcase_add_test(tests, a_batch_that_ends_twice_keeps_its_first_certificate);
    suite_add_tcase(suite, tests);
    return suite;
}
