/* Numbers as people type and read them. */
#include "client/numbers.h"
#include "support/support.h"

#include <math.h>
#include <string.h>

/* The client is a program, not a library. */
#include "client/numbers.c" // NOLINT(bugprone-suspicious-include)

static struct fault fault;

START_TEST(plain_numbers_are_read)
{
    static const struct {
        const char *text;
        double value;
    } PLAIN[] = {{"0", 0},    {"61.9", 61.9}, {"-5", -5},  {"+3.25", 3.25},
                 {".5", 0.5}, {"007", 7},     {"600", 600}};

    for (size_t i = 0; i < sizeof PLAIN / sizeof PLAIN[0]; i++) {
        double value = -1;
        ck_assert_msg(number_parse("--x", PLAIN[i].text, &value, &fault) == ST_OK, "%s", fault.text);
        ck_near(value, PLAIN[i].value, 1e-12);
    }
}
END_TEST

START_TEST(a_decimal_comma_is_refused_with_the_way_to_write_it)
{
    double value = -1;

    ck_assert_int_eq(number_parse("--strength", "61,9", &value, &fault), ST_RANGE);
    ck_assert_ptr_nonnull(strstr(fault.text, "write 61.9"));
    ck_assert_ptr_nonnull(strstr(fault.text, "--strength"));
    ck_near(value, -1, 0);
}
END_TEST

START_TEST(what_is_not_a_number_is_refused)
{
    static const char *const NONE[] = {"",
                                       "x",
                                       ".",
                                       "-",
                                       "1e3",
                                       "0x10",
                                       "inf",
                                       "nan",
                                       "600L",
                                       "62.5%",
                                       "6 2",
                                       "1.2.3",
                                       "--5",
                                       "1,234.5",
                                       "1,2,3",
                                       " 5",
                                       "11111111111111111111111111111111111111111111111111"};
    double value = -1;

    for (size_t i = 0; i < sizeof NONE / sizeof NONE[0]; i++) {
        ck_assert_msg(number_parse("--x", NONE[i], &value, &fault) == ST_RANGE, "\"%s\" was taken", NONE[i]);
        ck_near(value, -1, 0);
    }
    ck_assert_int_eq(number_parse("--litres", "600L", &value, &fault), ST_RANGE);
    ck_assert_ptr_nonnull(strstr(fault.text, "write 600 alone"));
}
END_TEST

START_TEST(whole_numbers_have_limits)
{
    int value = -1;

    ck_assert_int_eq(number_whole_parse("--limit", "1000", 1, 1000, &value, &fault), ST_OK);
    ck_assert_int_eq(value, 1000);
    ck_assert_int_eq(number_whole_parse("--limit", "0", 1, 1000, &value, &fault), ST_RANGE);
    ck_assert_int_eq(number_whole_parse("--limit", "1001", 1, 1000, &value, &fault), ST_RANGE);
    ck_assert_int_eq(number_whole_parse("--limit", "-1", 1, 1000, &value, &fault), ST_RANGE);
    ck_assert_int_eq(number_whole_parse("--limit", "5.0", 1, 1000, &value, &fault), ST_RANGE);
    ck_assert_int_eq(number_whole_parse("--limit", "99999999999999999999", 1, 1000, &value, &fault),
                     ST_RANGE);
    ck_assert_int_eq(value, 1000);
}
END_TEST

START_TEST(numbers_are_printed_with_their_decimals_or_as_unknown)
{
    char out[NUMBER_TEXT_MAX];

    ck_assert_str_eq(number_print(61.9, 2, out), "61.90");
    ck_assert_str_eq(number_print(600, 0, out), "600");
    ck_assert_str_eq(number_print(NAN, 1, out), "unknown");
    ck_assert_str_eq(number_print(INFINITY, 1, out), "unknown");
    ck_assert_str_eq(number_print(1e300, 1, out), "unknown");
}
END_TEST

START_TEST(durations_are_printed_as_people_say_them)
{
    static const struct {
        double seconds;
        const char *text;
    } TIMES[] = {{0, "0 s"},           {45, "45 s"},          {89.4, "89 s"},          {90, "2 min"},
                 {720, "12 min"},      {5399, "90 min"},      {47.49 * 60, "47 min"},  {7229.9, "2 h 00 min"},
                 {5400, "1 h 30 min"}, {11100, "3 h 05 min"}, {129599, "36 h 00 min"}, {129600, "1 d 12 h"},
                 {183600, "2 d 3 h"},  {-1, "unknown"},       {NAN, "unknown"},        {1e12, "unknown"}};
    char out[NUMBER_TEXT_MAX];

    for (size_t i = 0; i < sizeof TIMES / sizeof TIMES[0]; i++)
        ck_assert_str_eq(duration_print(TIMES[i].seconds, out), TIMES[i].text);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("numbers");
    TCase *tests = tcase_create("numbers");

    tcase_add_test(tests, plain_numbers_are_read);
    tcase_add_test(tests, a_decimal_comma_is_refused_with_the_way_to_write_it);
    tcase_add_test(tests, what_is_not_a_number_is_refused);
    tcase_add_test(tests, whole_numbers_have_limits);
    tcase_add_test(tests, numbers_are_printed_with_their_decimals_or_as_unknown);
    tcase_add_test(tests, durations_are_printed_as_people_say_them);
    suite_add_tcase(suite, tests);
    return suite;
}
