/* A disk that is full, and a disk that is full for long. */
#include "records/records.h"

#include "unit/records/kit.h"

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

static void post_one(struct records *records, int64_t scan_us, enum event_kind kind, int a, uint64_t intent)
{
    struct scan_out out = {0};

    kit_event(&out, kind, a, intent, 2.5);
    kit_post(records, scan_us, &out, &memory);
}

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

/* Waits up to a minute: a queue full of rows takes seconds of work, and the machine may be busy. */
static bool wait_failing(struct records *records, bool expected)
{
    struct records_status status = {0};

    for (int i = 0; i < 6000; i++) {
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

Suite *test_suite(void)
{
    Suite *suite = suite_create("records on a full disk");
    TCase *tests = tcase_create("records");

    tcase_add_checked_fixture(tests, begin, kit_end);
    tcase_set_timeout(tests, 100);
    tcase_add_test(tests, a_full_disk_confirms_nothing_is_told_and_loses_nothing);
    tcase_add_test(tests, the_sentence_for_a_full_disk_says_what_to_do);
    tcase_add_test(tests, what_finds_no_room_is_counted_and_the_journal_says_how_many);
    suite_add_tcase(suite, tests);
    return suite;
}
