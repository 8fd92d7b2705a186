/* Tank time: real, granted by a simulator (played here), and after that simulator is gone. */
#include "runtime/clock.h"
#include "runtime/realtime.h"
#include "support/folder.h"
#include "support/support.h"

#include <inttypes.h>
#include <pthread.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <unistd.h>

static struct clock *tank_clock;

/* ---- real time --------------------------------------------------------------------------- */

START_TEST(real_scans_come_every_100_ms)
{
    struct clock_time first, now;
    int64_t last_us;

    ck_assert_int_eq(clock_open(NULL, 1, &tank_clock, NULL), ST_OK);
    ck_assert(clock_wait_scan(tank_clock, &first));
    last_us = first.tank_us;
    for (int i = 0; i < 5; i++) {
        ck_assert(clock_wait_scan(tank_clock, &now));
        ck_assert(now.tank_us > last_us);
        last_us = now.tank_us;
    }
    ck_assert_int_ge(now.tank_us - first.tank_us, 400000);
    ck_assert_int_le(now.tank_us - first.tank_us, 1500000); /* a loaded machine may leave beats out */
    ck_assert(now.utc_us > 1600000000000000);
    ck_assert(!clock_lost_simulator(tank_clock));
    clock_stop(tank_clock);
    ck_assert(!clock_wait_scan(tank_clock, &now));
    clock_close(tank_clock);
}
END_TEST

START_TEST(a_scan_that_begins_late_says_so)
{
    struct clock_time now;
    int late = 0;

    ck_assert_int_eq(clock_open(NULL, 0, &tank_clock, NULL), ST_OK);
    ck_assert(clock_wait_scan(tank_clock, &now));
    realtime_sleep_until(realtime_now_us() + 170000);
    ck_assert(clock_wait_scan(tank_clock, &now));
    ck_assert(now.is_late);
    for (int i = 0; i < 5; i++) {
        ck_assert(clock_wait_scan(tank_clock, &now));
        late += now.is_late;
    }
    ck_assert_int_lt(late, 5);
    clock_close(tank_clock);
}
END_TEST

START_TEST(a_pass_comes_before_its_scan)
{
    struct clock_time now;
    int64_t pass_us = 0;

    ck_assert_int_eq(clock_open(NULL, 1, &tank_clock, NULL), ST_OK);
    ck_assert(clock_wait_pass(tank_clock, 0, &pass_us));
    ck_assert(clock_wait_scan(tank_clock, &now));
    ck_assert(pass_us <= now.tank_us);
    clock_stop(tank_clock);
    ck_assert(!clock_wait_pass(tank_clock, 0, &pass_us));
    clock_close(tank_clock);
    clock_close(NULL);
}
END_TEST

/* ---- simulated time ------------------------------------------------------------------------ */

static char path[TEST_FOLDER_MAX + 24];
static int listening, connected;
static pthread_t bus;
static atomic_int passes;
static atomic_llong pass_us;
static atomic_int pass_takes_us;

static void *bus_run(void *unused)
{
    int64_t tank_us = 0;

    (void)unused;
    while (clock_wait_pass(tank_clock, 0, &tank_us)) {
        (void)usleep((useconds_t)atomic_load(&pass_takes_us));
        atomic_store(&pass_us, tank_us);
        atomic_fetch_add(&passes, 1);
    }
    return NULL;
}

static void simulator_start(void)
{
    struct sockaddr_un address = {.sun_family = AF_UNIX};
    struct fault f = {0};
    char folder[TEST_FOLDER_MAX];

    (void)snprintf(path, sizeof path, "%s/sw-clock-%d", test_folder(folder), (int)getpid());
    strcpy(address.sun_path, path);
    (void)unlink(path);
    listening = socket(AF_UNIX, SOCK_STREAM, 0);
    ck_assert_int_eq(bind(listening, (struct sockaddr *)&address, sizeof address), 0);
    ck_assert_int_eq(listen(listening, 1), 0);
    atomic_store(&passes, 0);
    atomic_store(&pass_us, 0);
    atomic_store(&pass_takes_us, 0);
    ck_assert_msg(clock_open(path, 2, &tank_clock, &f) == ST_OK, "%s", f.text);
    connected = accept(listening, NULL, NULL);
    ck_assert_int_eq(pthread_create(&bus, NULL, bus_run, NULL), 0);
    clock_join(tank_clock, 0);
}

static void simulator_end(void)
{
    clock_stop(tank_clock);
    (void)pthread_join(bus, NULL);
    clock_close(tank_clock);
    if (connected >= 0)
        (void)close(connected);
    (void)close(listening);
    (void)unlink(path);
}

static void grant(int64_t tank_us)
{
    char line[64];
    int length = snprintf(line, sizeof line, "grant %" PRId64 " %" PRId64 "\n", tank_us, tank_us + 1000000);

    ck_assert_int_eq(write(connected, line, (size_t)length), length);
}

static void expect_done(int64_t tank_us)
{
    char line[64] = "", expected[64];
    int length = snprintf(expected, sizeof expected, "done %" PRId64 "\n", tank_us);

    ck_assert_int_eq(recv(connected, line, (size_t)length, MSG_WAITALL), length);
    ck_assert_str_eq(line, expected);
}

START_TEST(each_grant_gives_one_pass_and_then_one_scan)
{
    struct clock_time now = {0};

    simulator_start();
    grant(100000);
    grant(200000); /* an early grant waits for its turn */
    ck_assert(clock_wait_scan(tank_clock, &now));
    ck_assert_int_eq(now.tank_us, 100000);
    ck_assert_int_eq(now.utc_us, 1100000);
    ck_assert(now.utc_synced && !now.is_late);
    ck_assert_int_eq(atomic_load(&passes), 1);
    ck_assert_int_eq(atomic_load(&pass_us), 100000);
    ck_assert(clock_wait_scan(tank_clock, &now));
    expect_done(100000);
    ck_assert_int_eq(now.tank_us, 200000);
    ck_assert_int_eq(atomic_load(&passes), 2);
    simulator_end();
}
END_TEST

START_TEST(a_slow_pass_delays_the_scan_and_nothing_is_late)
{
    struct clock_time now = {0};

    simulator_start();
    atomic_store(&pass_takes_us, 200000);
    for (int i = 1; i <= 3; i++) {
        grant(i * 100000);
        ck_assert(clock_wait_scan(tank_clock, &now));
        ck_assert_int_eq(atomic_load(&passes), i);
        ck_assert(!now.is_late);
    }
    simulator_end();
}
END_TEST

static void *settle_later(void *unused)
{
    (void)unused;
    (void)usleep(150000);
    atomic_store(&pass_us, -1);
    clock_set_busy(tank_clock, 1, false);
    return NULL;
}

START_TEST(a_busy_record_holds_the_next_grant)
{
    struct clock_time now = {0};
    pthread_t record;

    simulator_start();
    grant(100000);
    ck_assert(clock_wait_scan(tank_clock, &now));
    clock_set_busy(tank_clock, 1, true);
    grant(200000);
    ck_assert_int_eq(pthread_create(&record, NULL, settle_later, NULL), 0);
    ck_assert(clock_wait_scan(tank_clock, &now));
    ck_assert_int_eq(now.tank_us, 200000);
    ck_assert_int_eq(atomic_load(&pass_us), 200000); /* passed after the record had settled */
    (void)pthread_join(record, NULL);
    simulator_end();
}
END_TEST

START_TEST(ten_thousand_grants_take_a_moment)
{
    struct clock_time now = {0};

    simulator_start();
    for (int64_t i = 1; i <= 10000; i++) {
        grant(i * 100000);
        ck_assert(clock_wait_scan(tank_clock, &now));
        if (i > 1)
            expect_done((i - 1) * 100000);
    }
    ck_assert_int_eq(atomic_load(&passes), 10000);
    simulator_end();
}
END_TEST

static void expect_real_time(int64_t from_us)
{
    struct clock_time first = {0}, now = {0};

    ck_assert(clock_wait_scan(tank_clock, &first));
    ck_assert(clock_lost_simulator(tank_clock));
    ck_assert_int_gt(first.tank_us, from_us);
    ck_assert_int_lt(first.tank_us, from_us + 1000000);
    ck_assert_int_eq(first.utc_us - first.tank_us, 1000000);
    ck_assert(!first.utc_synced);
    for (int i = 0; i < 3; i++)
        ck_assert(clock_wait_scan(tank_clock, &now));
    ck_assert_int_ge(now.tank_us - first.tank_us, 200000);
    ck_assert_int_gt(atomic_load(&pass_us), from_us);
}

START_TEST(when_the_simulator_goes_away_time_runs_on)
{
    struct clock_time now = {0};

    simulator_start();
    grant(7000000);
    ck_assert(clock_wait_scan(tank_clock, &now));
    (void)close(connected);
    connected = -1;
    expect_real_time(7000000);
    simulator_end();
}
END_TEST

static const char *const NONSENSE[] = {"grant 7000000 8000000\n", "grant\n", "grant 8000000 9000000 x\n",
                                       "hello\n"};

START_TEST(a_grant_that_makes_no_sense_counts_as_a_lost_simulator)
{
    struct clock_time now = {0};
    size_t length = strlen(NONSENSE[_i]);

    simulator_start();
    grant(7000000);
    ck_assert(clock_wait_scan(tank_clock, &now));
    ck_assert_int_eq(write(connected, NONSENSE[_i], length), (ssize_t)length);
    expect_real_time(7000000);
    simulator_end();
}
END_TEST

static void *stop_later(void *unused)
{
    (void)unused;
    (void)usleep(50000);
    clock_stop(tank_clock);
    return NULL;
}

START_TEST(a_stop_wakes_a_scan_that_waits_for_a_grant)
{
    struct clock_time now = {0};
    pthread_t stopper;

    simulator_start();
    ck_assert_int_eq(pthread_create(&stopper, NULL, stop_later, NULL), 0);
    ck_assert(!clock_wait_scan(tank_clock, &now));
    (void)pthread_join(stopper, NULL);
    simulator_end();
}
END_TEST

START_TEST(without_a_simulator_the_clock_says_what_to_start)
{
    struct fault f = {0};

    ck_assert_int_eq(clock_open("/tmp/there-is-no-simulator-here", 1, &tank_clock, &f), ST_LINK_DOWN);
    ck_assert_ptr_null(tank_clock);
    ck_assert_ptr_nonnull(strstr(f.text, "syrupwright-sim"));
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("clock");
    TCase *tcase = tcase_create("all");

    tcase_set_timeout(tcase, 60);
    tcase_add_test(tcase, real_scans_come_every_100_ms);
    tcase_add_test(tcase, a_scan_that_begins_late_says_so);
    tcase_add_test(tcase, a_pass_comes_before_its_scan);
    tcase_add_test(tcase, each_grant_gives_one_pass_and_then_one_scan);
    tcase_add_test(tcase, a_slow_pass_delays_the_scan_and_nothing_is_late);
    tcase_add_test(tcase, a_busy_record_holds_the_next_grant);
    tcase_add_test(tcase, ten_thousand_grants_take_a_moment);
    tcase_add_test(tcase, when_the_simulator_goes_away_time_runs_on);
    tcase_add_loop_test(tcase, a_grant_that_makes_no_sense_counts_as_a_lost_simulator, 0, 4);
    tcase_add_test(tcase, a_stop_wakes_a_scan_that_waits_for_a_grant);
    tcase_add_test(tcase, without_a_simulator_the_clock_says_what_to_start);
    suite_add_tcase(suite, tcase);
    return suite;
}
