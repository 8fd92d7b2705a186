#include "records/reading.h"

#include "records/certificate.h"
#include "unit/records/kit.h"

#include <grp.h>
#include <sys/wait.h>

static struct settings settings;
static struct batch_memory memory;

static void begin(void)
{
    kit_begin();
    kit_settings_make(&settings, true);
    kit_memory_make(&memory, "2026-0001");
}

static struct record_reader *open_reader(void)
{
    struct record_reader *reader = NULL;
    struct fault f = {0};

    ck_assert_msg(record_reader_open(settings.records_path, &reader, &f) == ST_OK, "%s", f.text);
    return reader;
}

static void post_one(struct records *records, int64_t scan_us, enum event_kind kind, int a, double value)
{
    struct scan_out out = {0};

    kit_event(&out, kind, a, 0, value);
    kit_post(records, scan_us, &out, &memory);
}

static void write_two_batches(struct records *records)
{
    post_one(records, 100000, EVENT_BATCH_STARTED, 0, 0);
    post_one(records, 200000, EVENT_MEASURED, MEASURED_STRENGTH_PCT, 61.43);
    memory.outcome = OUTCOME_MET;
    post_one(records, 300000, EVENT_BATCH_ENDED, OUTCOME_MET, 0);
    kit_memory_make(&memory, "2026-0002");
    post_one(records, 400000, EVENT_BATCH_STARTED, 0, 0);
}

static const char *text_of(const json_t *object, const char *name)
{
    const char *text = json_string_value(json_object_get(object, name));

    return text == NULL ? "(none)" : text;
}

static void expect_both_batches(void)
{
    struct record_reader *reader = open_reader();
    struct fault f = {0};
    json_t *list = record_reader_batches(reader, 10, &f);
    const json_t *newest, *oldest;

    ck_assert_msg(list != NULL, "%s", f.text);
    ck_assert_uint_eq(json_array_size(list), 2);
    newest = json_array_get(list, 0);
    oldest = json_array_get(list, 1);
    ck_assert_str_eq(text_of(newest, "batch"), "2026-0002");
    ck_assert_str_eq(text_of(newest, "outcome"), "open");
    ck_assert(json_is_null(json_object_get(newest, "ended")));
    ck_assert(json_is_false(json_object_get(newest, "certificate")));
    ck_assert_str_eq(text_of(oldest, "batch"), "2026-0001");
    ck_assert_str_eq(text_of(oldest, "outcome"), "met");
    ck_assert_str_eq(text_of(oldest, "started"), "2026-03-01T12:00:00Z");
    ck_assert(json_is_true(json_object_get(oldest, "certificate")));
    ck_assert(json_is_true(json_object_get(oldest, "simulated")));
    ck_near(json_real_value(json_object_get(oldest, "strength_pct")), 61.43, 1e-12);
    json_decref(list);
    record_reader_close(reader);
}

static void wait_for_certificate(void)
{
    for (int i = 0; i < 3000 && kit_count("SELECT count(*) FROM journal WHERE code = 0") < 2; i++)
        kit_sleep_ms(10);
}

START_TEST(batches_can_be_listed_with_and_without_a_running_daemon)
{
    struct records *records = kit_open(&settings);

    write_two_batches(records);
    wait_for_certificate();
    expect_both_batches();
    records_close(records);
    expect_both_batches();
}
END_TEST

START_TEST(certificates_are_given_as_stored)
{
    struct records *records = kit_open(&settings);
    struct record_reader *reader;
    struct fault f = {0};
    char *json, *text, *by_number;

    write_two_batches(records);
    records_close(records);
    reader = open_reader();
    json = record_reader_certificate_json(reader, NULL, &f);
    by_number = record_reader_certificate_json(reader, "2026-0001", &f);
    text = record_reader_certificate_text(reader, "2026-0001", &f);
    ck_assert_int_eq(certificate_verify(json, NULL, &f), ST_OK);
    ck_assert_str_eq(json, by_number);
    ck_assert_ptr_nonnull(strstr(text, "SIMULATED"));
    ck_assert_ptr_null(record_reader_certificate_text(reader, "2026-0002", &f));
    ck_assert_ptr_nonnull(strstr(f.text, "no certificate of this batch"));
    free(json);
    free(by_number);
    free(text);
    record_reader_close(reader);
}
END_TEST

START_TEST(the_journal_is_told_in_sentences_oldest_first)
{
    struct records *records = kit_open(&settings);
    struct record_reader *reader;
    struct fault f = {0};
    json_t *rows;

    write_two_batches(records);
    records_close(records);
    reader = open_reader();
    rows = record_reader_journal(reader, "2026-0001", 100, &f);
    ck_assert_uint_eq(json_array_size(rows), 3);
    ck_assert_str_eq(text_of(json_array_get(rows, 0), "event"), "batch_started");
    ck_assert_str_eq(text_of(json_array_get(rows, 2), "event"), "batch_ended");
    ck_assert_str_eq(text_of(json_array_get(rows, 0), "door"), "self");
    ck_assert_ptr_nonnull(strstr(text_of(json_array_get(rows, 1), "sentence"), "61.43"));
    json_decref(rows);
    rows = record_reader_journal(reader, NULL, 100, &f);
    ck_assert_uint_eq(json_array_size(rows), 1);
    json_decref(rows);
    ck_assert_ptr_null(record_reader_journal(reader, "2019-0001", 100, &f));
    ck_assert_ptr_nonnull(strstr(f.text, "no batch with this number"));
    record_reader_close(reader);
}
END_TEST

START_TEST(no_record_is_told_as_such)
{
    struct record_reader *reader = NULL;
    struct fault f = {0};

    ck_assert_int_eq(record_reader_open(settings.records_path, &reader, &f), ST_NOT_FOUND);
    ck_assert_ptr_null(reader);
    ck_assert_ptr_nonnull(strstr(f.text, "no record yet"));
    records_close(kit_open(&settings));
    reader = open_reader();
    ck_assert_ptr_null(record_reader_certificate_json(reader, NULL, &f));
    ck_assert_ptr_nonnull(strstr(f.text, "no batch has ended"));
    ck_assert_ptr_null(record_reader_journal(reader, NULL, 10, &f));
    record_reader_close(reader);
    record_reader_close(NULL);
}
END_TEST

/* Another user of the same group, who may write nothing. */
static int read_as_group_member(void)
{
    struct record_reader *reader = NULL;
    struct fault f = {0};
    json_t *list;

    if (setgroups(0, NULL) != 0 || setgid(54321) != 0 || setuid(54322) != 0)
        return 2;
    if (record_reader_open(settings.records_path, &reader, &f) != ST_OK) {
        (void)fprintf(stderr, "%s\n", f.text);
        return 3;
    }
    list = record_reader_batches(reader, 10, &f);
    if (list == NULL)
        (void)fprintf(stderr, "%s\n", f.text);
    return list != NULL && json_array_size(list) == 2 ? 0 : 4;
}

static void expect_readable_by_group(void)
{
    int status;
    pid_t child = fork();

    ck_assert_int_ge(child, 0);
    if (child == 0)
        _exit(read_as_group_member());
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "the reader ended with %d",
                  WEXITSTATUS(status));
}

START_TEST(the_group_can_read_with_and_without_a_running_daemon)
{
    static const char *const NAMES[] = {"", "record.db", "record.db-wal", "record.db-shm"};
    struct records *records;

    if (geteuid() != 0)
        return; /* only the superuser can become somebody else; the modes are tested elsewhere */
    records = kit_open(&settings);
    write_two_batches(records);
    wait_for_certificate();
    ck_assert_int_eq(chmod(kit_path, 0755), 0);
    for (size_t i = 0; i < 4; i++)
        ck_assert_int_eq(chown(kit_file(NAMES[i]), 0, 54321), 0);
    expect_readable_by_group();
    records_close(records);
    expect_readable_by_group();
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("reading the record");
    TCase *tests = tcase_create("reading");

    tcase_add_checked_fixture(tests, begin, kit_end);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, batches_can_be_listed_with_and_without_a_running_daemon);
    tcase_add_test(tests, certificates_are_given_as_stored);
    tcase_add_test(tests, the_journal_is_told_in_sentences_oldest_first);
    tcase_add_test(tests, no_record_is_told_as_such);
    tcase_add_test(tests, the_group_can_read_with_and_without_a_running_daemon);
    suite_add_tcase(suite, tests);
    return suite;
}
