#include "simulator/scenario.h"

#include "support/folder.h"
#include "support/support.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static struct scenario scenario;
static struct fault f;

/* The command line "run <words>", cut at blanks; "%" stands for the path. */
static char path[TEST_FOLDER_MAX];

static enum status options_take(const char *words)
{
    static char line[256];
    char *argv[24], *rest = NULL;
    int argc = 0;

    (void)snprintf(line, sizeof line, "run %s", words);
    for (char *word = strtok_r(line, " ", &rest); word != NULL; word = strtok_r(NULL, " ", &rest))
        argv[argc++] = strcmp(word, "%") == 0 ? path : word;
    argv[argc] = NULL;
    return scenario_options(argc, argv, &scenario, &f);
}

START_TEST(options_are_taken)
{
    enum status status = options_take(
        "--seed 7 --port=1502 --water-c 9.5 --acid lactic --clock /run/c --rate 60 --fixed-power");

    ck_assert(status == ST_OK);
    ck_assert_uint_eq(scenario.seed, 7);
    ck_assert_int_eq(scenario.port, 1502);
    ck_assert_double_eq(scenario.declared.water_c, 9.5);
    ck_assert_int_eq(scenario.declared.acid, ACID_LACTIC);
    ck_assert_str_eq(scenario.clock_path, "/run/c");
    ck_assert_double_eq(scenario.rate, 60);
    ck_assert(scenario.declared.fixed_power && !scenario.declared.fixed_speed);
    ck_assert_double_eq(scenario.declared.capacity_l, 800);
}
END_TEST

START_TEST(a_value_out_of_range_is_named_with_its_range)
{
    enum status status = options_take("--water-c 55");

    ck_assert(status == ST_RANGE);
    ck_assert_str_eq(f.text, "--water-c is \"55\"; write a number from 1 to 40");
}
END_TEST

START_TEST(a_number_with_a_tail_is_refused)
{
    enum status status = options_take("--seed 7x");

    ck_assert(status == ST_RANGE);
}
END_TEST

START_TEST(a_fraction_where_a_whole_number_belongs_is_refused)
{
    enum status status = options_take("--port 1.5");

    ck_assert(status == ST_RANGE);
    ck_assert_ptr_nonnull(strstr(f.text, "whole number"));
}
END_TEST

START_TEST(an_unknown_option_is_named)
{
    enum status status = options_take("--colour blue");

    ck_assert(status == ST_NOT_FOUND);
    ck_assert_ptr_nonnull(strstr(f.text, "--colour"));
}
END_TEST

START_TEST(an_unknown_acid_is_named)
{
    enum status status = options_take("--acid vitriol");

    ck_assert(status == ST_RANGE);
    ck_assert_ptr_nonnull(strstr(f.text, "citric"));
}
END_TEST

START_TEST(a_word_too_much_is_named)
{
    enum status status = options_take("now");

    ck_assert(status == ST_NOT_FOUND);
    ck_assert_ptr_nonnull(strstr(f.text, "now"));
}
END_TEST

static void file_write(const char *text)
{
    int fd;

    (void)test_folder_template(path, "sw-scenario");
    fd = mkstemp(path);
    ck_assert_int_ge(fd, 0);
    ck_assert_int_eq(write(fd, text, strlen(text)), (int)strlen(text));
    close(fd);
}

START_TEST(a_file_is_read_and_options_win_over_it)
{
    file_write(
        "seed: 42\nrate: 20\ntank:\n  water_c: 8\n  acid: acetic\n"
        "events:\n  - at_s: 600\n    act: fault stirrer stopped\n  - at_s: 700.5\n    act: fault clear\n");
    ck_assert(options_take("--rate 5 --scenario %") == ST_OK);
    ck_assert_uint_eq(scenario.seed, 42);
    ck_assert_double_eq(scenario.rate, 5);
    ck_assert_double_eq(scenario.declared.water_c, 8);
    ck_assert_int_eq(scenario.declared.acid, ACID_ACETIC);
    ck_assert_double_eq(scenario.declared.capacity_l, 800);
    ck_assert_int_eq(scenario.event_count, 2);
    ck_assert_int_eq(scenario.events[1].at_us, 700500000);
    ck_assert_str_eq(scenario.events[0].act, "fault stirrer stopped");
    unlink(path);
}
END_TEST

START_TEST(a_file_with_errors_is_not_used)
{
    file_write("seed: 42\ncolour: blue\ntank:\n  water_c: 80\n");
    ck_assert(options_take("--scenario %") == ST_SETTINGS);
    unlink(path);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("scenario");
    TCase *tests = tcase_create("scenario");

    tcase_add_test(tests, options_are_taken);
    tcase_add_test(tests, a_value_out_of_range_is_named_with_its_range);
    tcase_add_test(tests, a_number_with_a_tail_is_refused);
    tcase_add_test(tests, a_fraction_where_a_whole_number_belongs_is_refused);
    tcase_add_test(tests, an_unknown_option_is_named);
    tcase_add_test(tests, an_unknown_acid_is_named);
    tcase_add_test(tests, a_word_too_much_is_named);
    tcase_add_test(tests, a_file_is_read_and_options_win_over_it);
    tcase_add_test(tests, a_file_with_errors_is_not_used);
    suite_add_tcase(suite, tests);
    return suite;
}
