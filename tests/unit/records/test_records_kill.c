/* The promise everything rests on: what was acknowledged is there after the power has gone. */
#include "records/records.h"

#include "unit/records/kit.h"

#include <signal.h>
#include <sys/wait.h>

#define KILLS 20

/* The child: write intentions as fast as they are acknowledged, and say so after each. */
static void child_main(const struct settings *settings, int to_parent, uint64_t next)
{
    struct records *records = NULL;
    struct batch_memory memory;
    struct fault f = {0};

    if (records_open(settings, NULL, 0, &records, &f) != ST_OK) {
        (void)fprintf(stderr, "child: %s\n", f.text);
        _exit(3);
    }
    kit_memory_make(&memory, "2026-0001");
    for (;; next++) {
        struct scan_out out = {0};
        struct records_status status = {0};

        memory.next_intent = next + 1;
        kit_event(&out, EVENT_INTENT_DOSE, 0, next, 2.5);
        kit_post(records, (int64_t)next * 100000, &out, &memory);
        while (status.durable_intent != next)
            records_status_get(records, &status);
        if (write(to_parent, &next, sizeof next) != (ssize_t)sizeof next)
            _exit(4);
    }
}

/* The highest number the child acknowledged before it was killed after so many milliseconds. */
static uint64_t kill_after(const struct settings *settings, long ms, uint64_t next)
{
    uint64_t number, acknowledged = next - 1;
    int pipe_ends[2], status;
    pid_t child;

    ck_assert_int_eq(pipe(pipe_ends), 0);
    child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0)
        child_main(settings, pipe_ends[1], next);
    (void)close(pipe_ends[1]);
    ck_assert_int_eq(read(pipe_ends[0], &number, sizeof number), sizeof number); /* it is under way */
    acknowledged = number;
    kit_sleep_ms(ms);
    ck_assert_int_eq(kill(child, SIGKILL), 0);
    while (read(pipe_ends[0], &number, sizeof number) == (ssize_t)sizeof number)
        acknowledged = number;
    (void)close(pipe_ends[0]);
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert(WIFSIGNALED(status));
    return acknowledged;
}

START_TEST(every_acknowledged_intention_survives_a_kill)
{
    struct settings settings;
    uint64_t next = 1;

    kit_settings_make(&settings, false);
    for (int i = 0; i < KILLS; i++) {
        uint64_t acknowledged = kill_after(&settings, 7 + i * 3, next);
        struct records *records;
        struct batch_memory back;
        char sql[128];

        ck_assert_uint_ge(acknowledged, next);
        records = kit_open(&settings); /* also checks the whole chain */
        ck_assert(records_restore(records, &back));
        ck_assert_uint_gt(back.next_intent, acknowledged); /* memory and events agree */
        (void)snprintf(
            sql, sizeof sql,
            "SELECT count(DISTINCT intent) FROM journal WHERE kind = 'intent_dose' AND intent <= %llu",
            (unsigned long long)acknowledged);
        ck_assert_uint_eq((uint64_t)kit_count(sql), acknowledged);
        (void)snprintf(sql, sizeof sql, "SELECT max(intent) = %llu FROM journal",
                       (unsigned long long)back.next_intent - 1);
        ck_assert_int_eq(kit_count(sql), 1);
        records_close(records);
        next = back.next_intent;
    }
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("records under kill -9");
    TCase *tests = tcase_create("kill");

    tcase_add_checked_fixture(tests, kit_begin, kit_end);
    tcase_set_timeout(tests, 100);
    tcase_add_test(tests, every_acknowledged_intention_survives_a_kill);
    suite_add_tcase(suite, tests);
    return suite;
}
