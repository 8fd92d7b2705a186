/* One word of the handbook command, read apart. */
#include "client/handbook_value.h"
#include "support/support.h"

#include <string.h>

/* The client is a program, not a library. */
#include "client/handbook_value.c" // NOLINT(bugprone-suspicious-include)

static struct handbook_value value;
static struct fault fault;
static const struct handbook_hint HINT = {"temp=20", "temp=10..40/5"};

static void taken(const char *text, double from, double to, double step, const char *unit, int count)
{
    ck_assert_msg(handbook_value_parse("temp", text, &HINT, &value, &fault) == ST_OK, "%s: %s", text,
                  fault.text);
    ck_near(value.from, from, 0);
    ck_near(value.to, to, 0);
    ck_near(value.step, step, 0);
    ck_assert_str_eq(value.unit, unit);
    ck_assert_int_eq(handbook_value_count(&value), count);
    ck_near(handbook_value_at(&value, 0), from, 0);
}

static void refused(const char *text, const char *part)
{
    value = (struct handbook_value){-1, -2, -3, "untouched"};
    ck_assert_msg(handbook_value_parse("temp", text, &HINT, &value, &fault) == ST_RANGE, "%s was taken",
                  text);
    ck_assert_msg(strstr(fault.text, part) != NULL, "%s: \"%s\" lacks \"%s\"", text, fault.text, part);
    ck_assert_str_eq(value.unit, "untouched");
}

START_TEST(a_word_is_a_name_and_a_text)
{
    char name[HANDBOOK_WORD_NAME_MAX] = "untouched";
    const char *text = NULL;

    ck_assert_int_eq(handbook_word_split("no sign", "temp_c=20", name, &text, &fault), ST_REFUSED);
    ck_assert_int_eq(handbook_word_split("=20", "temp_c=20", name, &text, &fault), ST_REFUSED);
    ck_assert_int_eq(handbook_word_split("", "temp_c=20", name, &text, &fault), ST_REFUSED);
    ck_assert_int_eq(handbook_word_split("a_name_that_is_longer_than_any_input_of_a_function=20", "temp_c=20",
                                         name, &text, &fault),
                     ST_REFUSED);
    ck_assert_str_eq(name, "untouched");
    ck_assert_int_eq(handbook_word_split("temp_c=0..100/10", "temp_c=20", name, &text, &fault), ST_OK);
    ck_assert_str_eq(name, "temp_c");
    ck_assert_str_eq(text, "0..100/10");
    ck_assert_int_eq(handbook_word_split("a==", "temp_c=20", name, &text, &fault), ST_OK);
    ck_assert_str_eq(text, "=");
}
END_TEST

START_TEST(one_value_has_a_unit_or_none)
{
    taken("20", 20, 20, 0, "", 1);
    taken("68degF", 68, 68, 0, "degF", 1);
    taken("68 degF", 68, 68, 0, "degF", 1);
    taken("0.5_1/h", 0.5, 0.5, 0, "1/h", 1);
    taken("-1.5e-3", -1.5e-3, -1.5e-3, 0, "", 1);
    taken("+.5", 0.5, 0.5, 0, "", 1);
    taken("1e", 1, 1, 0, "e", 1);
    taken("5.", 5, 5, 0, ".", 1);
    taken("62.5%", 62.5, 62.5, 0, "%", 1);
    taken("1_000", 1, 1, 0, "000", 1); /* no unit, as its reader will say */
}
END_TEST

START_TEST(a_range_has_a_step_and_its_unit_at_the_end)
{
    taken("0..100/10", 0, 100, 10, "", 11);
    taken("32..212/20degF", 32, 212, 20, "degF", 10);
    taken("100..0/25", 100, 0, 25, "", 5);
    taken("0..95/10", 0, 95, 10, "", 10); /* the end is not met */
    taken("5..5/1", 5, 5, 1, "", 1);
    taken("-0.5..0.5/.25", -0.5, 0.5, 0.25, "", 5);
    taken("0..0.999/0.0001", 0, 0.999, 0.0001, "", 9991);
}
END_TEST

START_TEST(the_steps_meet_the_end_and_never_pass_it)
{
    taken("0..0.3/0.1", 0, 0.3, 0.1, "", 4);
    ck_near(handbook_value_at(&value, 3), 0.3, 0);
    taken("7e-6..21/7", 7e-6, 21, 7, "", 4);
    ck_near(handbook_value_at(&value, 3), 21, 0);
    taken("0.3..0/0.1", 0.3, 0, 0.1, "", 4);
    ck_near(handbook_value_at(&value, 3), 0, 0);
    taken("100..0/25", 100, 0, 25, "", 5);
    ck_near(handbook_value_at(&value, 1), 75, 0);
}
END_TEST

START_TEST(what_cannot_be_read_is_refused_with_the_way_to_write_it)
{
    refused("", "no value");
    refused("warm", "not a number");
    refused("nan", "not a number");
    refused("inf", "not a number");
    refused("-", "not a number");
    refused("1e999", "not a number");
    refused("11111111111111111111111111111111111111111111111111", "not a number");
    refused("62,5", "write temp=62.5");
    refused("1,234.5", "leave the comma out");
    refused("1.234,5", "leave the comma out");
    refused("1,234,567", "leave the comma out");
    refused("62.5,66.7", "each of several values has a call of its own");
    refused("0..10,5/1", "leave the comma out");
    refused("5,", "leave the comma out");
    refused("20...80/10", "three dots");
    refused("20.0...80.0/10", "three dots");
    refused("-.5...5/.25", "temp=10..40/5");
    refused("62.3+-0.15", "temp=62.3. Some functions");
    refused("62.3\u00b10.15", "temp=62.3. Some functions");
    refused("20-80", "two dots and a step: temp=10..40/5");
    refused("20\u201380", "two dots");
    refused("0..100", "no step");
    refused("0..100degC", "no step");
    refused("0..", "not a number");
    refused("0..x/1", "not a number");
    refused("0..100/", "no step");
    refused("0..100/x", "no step");
    refused("0..100/0", "above 0");
    refused("100..0/-10", "above 0");
    refused("0..100/0.001", "at most 10000");
    refused("0..1e300/1e-300", "at most 10000");
    refused("-1e308..1e308/1", "at most 10000");
    refused("32degF..212degF/10", "once");
    refused("0..10..20/1", "two ranges");
    refused("0..5 degC..7", "two ranges");
}
END_TEST

/* A thousand must not become one by following the sentence. */
START_TEST(a_comma_that_may_part_thousands_is_asked_about)
{
    refused("1,000", "write 1000 if you mean a thousand, 1.000 if you mean one");
    refused("-1,000", "write -1000 if you mean thousands, -1.000 if you mean a decimal sign");
    refused("12,500kg", "write 12500 if you mean thousands, 12.500 if");
    refused("0,500", "write temp=0.500");
    refused("1234,567", "write temp=1234.567");
    refused("62,5%", "write temp=62.5%");
    ck_assert_int_eq(handbook_comma_refuse("", "1,000", &fault), ST_RANGE);
    ck_assert_int_eq(strncmp(fault.text, "\"1,000\" can", 11), 0);
    ck_assert_int_eq(handbook_comma_refuse("", "1000", &fault), ST_OK);
}
END_TEST

START_TEST(what_is_printed_is_read_back_to_seven_digits)
{
    const double values[] = {0,     1,      -273.15, 1301.46058771, 1e-9, 6.02214076e23, 123456789,
                             1e300, 4e-320, 0.1};
    char text[HANDBOOK_NUMBER_MAX];
    double again;

    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++) {
        const char *end = handbook_number_read(handbook_number_print(values[i], text), &again);

        ck_assert_msg(end != NULL && *end == '\0', "%s", text);
        ck_near(again, values[i], 5.1e-7 * fabs(values[i]));
    }
    ck_assert_str_eq(handbook_number_print(-0.0, text), "0");
    ck_assert_str_eq(handbook_number_print(1301.46058771, text), "1301.461");
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("handbook value");
    TCase *all = tcase_create("all");

    tcase_add_test(all, a_word_is_a_name_and_a_text);
    tcase_add_test(all, one_value_has_a_unit_or_none);
    tcase_add_test(all, a_range_has_a_step_and_its_unit_at_the_end);
    tcase_add_test(all, the_steps_meet_the_end_and_never_pass_it);
    tcase_add_test(all, what_cannot_be_read_is_refused_with_the_way_to_write_it);
    tcase_add_test(all, a_comma_that_may_part_thousands_is_asked_about);
    tcase_add_test(all, what_is_printed_is_read_back_to_seven_digits);
    suite_add_tcase(suite, all);
    return suite;
}
