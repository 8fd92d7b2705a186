/* Lines for the service manager, and signals. */
#include "runtime/log.h"
#include "runtime/service.h"
#include "support/support.h"

#include <errno.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static int kept;
static FILE *file;
static char text[65536];

static void catch_start(void)
{
    (void)fflush(stderr);
    kept = dup(STDERR_FILENO);
    file = tmpfile();
    ck_assert_ptr_nonnull(file);
    ck_assert_int_ge(dup2(fileno(file), STDERR_FILENO), 0);
}

static const char *catch_end(void)
{
    size_t length;

    (void)fflush(stderr);
    (void)dup2(kept, STDERR_FILENO);
    (void)close(kept);
    rewind(file);
    length = fread(text, 1, sizeof text - 1, file);
    text[length] = '\0';
    (void)fclose(file);
    return text;
}

START_TEST(lines_carry_their_priority)
{
    catch_start();
    log_info("clock", "scan %d", 7);
    log_warnx("tank", "odd");
    errno = ENOENT;
    log_warn("record", "could not open");
    log_fatalx("daemon", "no way");
    log_fault("check", &(struct fault){.where = "tank.yaml:4", .text = "unknown key"});
    ck_assert_str_eq(catch_end(), "<6>clock: scan 7\n<4>tank: odd\n"
                                  "<4>record: could not open: No such file or directory\n"
                                  "<2>daemon: no way\n<4>check: tank.yaml:4: unknown key\n");
}
END_TEST

START_TEST(a_line_from_outside_cannot_forge_another)
{
    catch_start();
    log_warnx("forged", "%s", "name\n<2>daemon: fire\x1b[2J");
    ck_assert_str_eq(catch_end(), "<4>forged: name <2>daemon: fire [2J\n");
}
END_TEST

START_TEST(a_source_that_floods_is_held_back_and_others_are_heard)
{
    const char *seen;
    int lines = 0;

    catch_start();
    for (int i = 0; i < 3 * LOG_BURST; i++)
        log_warnx("flood", "again");
    log_fatalx("flood", "the end");
    log_info("other", "still here");
    seen = catch_end();
    for (const char *at = seen; (at = strstr(at, "again")) != NULL; at++)
        lines++;
    ck_assert_int_eq(lines, LOG_BURST);
    ck_assert_ptr_nonnull(strstr(seen, "<2>flood: the end"));
    ck_assert_ptr_nonnull(strstr(seen, "still here"));
}
END_TEST

/* A pipe that nobody reads takes some 64 KiB; more would wait for ever. */
START_TEST(a_reader_that_does_not_read_stops_nobody)
{
    char source[8];
    int pipe_fds[2];

    ck_assert_int_eq(pipe(pipe_fds), 0);
    kept = dup(STDERR_FILENO);
    ck_assert_int_ge(dup2(pipe_fds[1], STDERR_FILENO), 0);
    for (int i = 0; i < 400; i++) { /* 20 sources, 20 lines of some 400 bytes each: 160 KiB */
        (void)snprintf(source, sizeof source, "s%d", i % 20);
        log_warnx(source, "%0400d", 0);
    }
    (void)dup2(kept, STDERR_FILENO);
    (void)close(kept);
    (void)close(pipe_fds[0]);
    (void)close(pipe_fds[1]);
}
END_TEST

static atomic_int stops;

static void count_stop(void *context)
{
    atomic_fetch_add((atomic_int *)context, 1);
}

START_TEST(a_signal_becomes_one_call_in_an_ordinary_thread)
{
    atomic_store(&stops, 0);
    service_signals_stop(); /* without a start: nothing */
    ck_assert_int_eq(service_signals_start(count_stop, &stops, NULL), ST_OK);
    ck_assert(!service_stop_requested());
    ck_assert_int_eq(kill(getpid(), SIGTERM), 0);
    for (int i = 0; i < 500 && atomic_load(&stops) == 0; i++)
        (void)usleep(10000);
    ck_assert_int_eq(atomic_load(&stops), 1);
    ck_assert(service_stop_requested());
    ck_assert_int_eq(raise(SIGPIPE), 0); /* ignored */
    service_signals_stop();
    ck_assert_int_eq(atomic_load(&stops), 1);
}
END_TEST

START_TEST(without_a_service_manager_telling_it_is_nothing)
{
    (void)unsetenv("NOTIFY_SOCKET");
    (void)unsetenv("WATCHDOG_USEC");
    service_ready();
    service_status("scan %d", 1);
    service_watchdog();
    service_stopping();
    ck_assert_int_eq(service_watchdog_us(), 0);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("log");
    TCase *tcase = tcase_create("all");

    tcase_add_test(tcase, lines_carry_their_priority);
    tcase_add_test(tcase, a_line_from_outside_cannot_forge_another);
    tcase_add_test(tcase, a_source_that_floods_is_held_back_and_others_are_heard);
    tcase_add_test(tcase, a_reader_that_does_not_read_stops_nobody);
    tcase_add_test(tcase, a_signal_becomes_one_call_in_an_ordinary_thread);
    tcase_add_test(tcase, without_a_service_manager_telling_it_is_nothing);
    suite_add_tcase(suite, tcase);
    return suite;
}
