#include "settings/scalar.h"
#include "support/support.h"

#include <locale.h>
#include <math.h>
#include <string.h>

static char why[SCALAR_WHY_MAX];

static const struct {
    const char *word;
    double value;
} GOOD[] = {{"40", 40},
            {"-0.5", -0.5},
            {"0", 0},
            {"0.25", 0.25},
            {"1e-5", 1e-5},
            {"1E3", 1000},
            {"2.5e+2", 250},
            {"12345678", 12345678},
            {"-7", -7},
            {"0e0", 0},
            {"9007199254740992", 9007199254740992.0}};

START_TEST(a_plain_number_is_read_whole)
{
    double value = -77;

    ck_assert_msg(scalar_parse_decimal(GOOD[_i].word, &value, why), "%s: %s", GOOD[_i].word, why);
    ck_near(value, GOOD[_i].value, fabs(GOOD[_i].value) * 1e-15);
}
END_TEST

/* The rows of the list of traps: what a common reader takes for another number. */
static const struct {
    const char *word;
    const char *says;
} BAD[] = {
    {"40,5", "write 40.5"},
    {"1,234.5", "after the number"},
    {"40abc", "\"abc\""},
    {"40 C", "\" C\""},
    {"010", "leading zero"},
    {"-007", "leading zero"},
    {"0x10", "hexadecimal"},
    {"0o17", "\"o17\""},
    {"nan", "not a number"},
    {".nan", "begins with a digit"},
    {"inf", "not a number"},
    {"-inf", "not a number"},
    {".5", "begins with a digit"},
    {"5.", "after the decimal point"},
    {"+5", "begins with a digit"},
    {"1e400", "too large"},
    {"1e-400", "too small"},
    {"1e", "\"e\""},
    {"1_000", "after the number"},
    {"--5", "not a number"},
    {"-", "not a number"},
    {" 5", "not a number"},
    {"5 ", "after the number"},
    {"12:30", "after the number"},
    {"123456789012345678901234567890123456", "too many digits"},
    {"1,2222222222222222222222222222222222222222222", "after the number"},
};

START_TEST(a_word_that_is_no_number_is_refused_with_a_reason)
{
    double value = 77;

    ck_assert_msg(!scalar_parse_decimal(BAD[_i].word, &value, why), "\"%s\" was taken for %g", BAD[_i].word,
                  value);
    ck_assert_msg(strstr(why, BAD[_i].says) != NULL, "\"%s\": %s", BAD[_i].word, why);
    ck_near(value, 77, 0);
}
END_TEST

START_TEST(a_whole_number_has_neither_point_nor_exponent)
{
    static const char *const WORDS[] = {"9600.5", "9600.0",  "1e3",  "0x10",
                                        "010",    "9600abc", "12e1", "99999999999999999999"};
    int64_t value = 77;

    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++)
        ck_assert_msg(!scalar_parse_integer(WORDS[i], &value, why), "%s", WORDS[i]);
    ck_assert_int_eq(value, 77);
    ck_assert(scalar_parse_integer("-9600", &value, why));
    ck_assert_int_eq(value, -9600);
}
END_TEST

START_TEST(yes_and_no_are_four_words_in_lower_case)
{
    bool yes = false;

    ck_assert(scalar_parse_yes_no("yes", &yes, why) && yes);
    ck_assert(scalar_parse_yes_no("false", &yes, why) && !yes);
    ck_assert(scalar_parse_yes_no("true", &yes, why) && yes);
    ck_assert(scalar_parse_yes_no("no", &yes, why) && !yes);
    ck_assert(!scalar_parse_yes_no("Yes", &yes, why));
    ck_assert(!scalar_parse_yes_no("on", &yes, why));
    ck_assert(!scalar_parse_yes_no("1", &yes, why));
    ck_assert(!yes);
}
END_TEST

static const struct {
    const char *word;
    double value_s;
} TIMES[] = {{"90 s", 90},    {"90s", 90},          {"15 min", 900},  {"4 h", 14400},
             {"0.5 h", 1800}, {"1 h 30 min", 5400}, {"250 ms", 0.25}, {"1 h 2 min 3 s", 3723}};

START_TEST(a_duration_is_read_in_seconds)
{
    double value_s = -1;

    ck_assert_msg(scalar_parse_duration(TIMES[_i].word, &value_s, why), "%s: %s", TIMES[_i].word, why);
    ck_near(value_s, TIMES[_i].value_s, 1e-12);
}
END_TEST

START_TEST(a_duration_without_a_good_unit_is_refused)
{
    static const char *const WORDS[] = {"90",      "4 hours", "1:30",   "-5 s",      "30 min 1 h",
                                        "1 h 1 h", "",        "h",      "nan s",     "1,5 h",
                                        "1e400 s", "010 s",   "4 h 90", "5 s, 3 ms", "0x1 s"};
    double value_s = 77;

    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++)
        ck_assert_msg(!scalar_parse_duration(WORDS[i], &value_s, why), "\"%s\" gave %g", WORDS[i], value_s);
    ck_near(value_s, 77, 0);
}
END_TEST

START_TEST(a_printed_number_reads_back_to_the_same_bits)
{
    static const double VALUES[] = {
        0,   0.1,           1.0 / 3, -2.5,  1e-5,  123456.789, 0.30000000000000004,
        1e7, 5e-324 * 1e20, 4e15,    14400, 77.77, 1e300};

    for (size_t i = 0; i < sizeof VALUES / sizeof VALUES[0]; i++) {
        char word[SCALAR_PRINT_MAX];
        double back = -77;

        scalar_print_decimal(VALUES[i], word);
        ck_assert_msg(scalar_parse_decimal(word, &back, why), "%s: %s", word, why);
        ck_assert_msg(memcmp(&back, &VALUES[i], sizeof back) == 0, "%.17g became %s", VALUES[i], word);
    }
}
END_TEST

START_TEST(a_printed_duration_reads_back_and_is_short)
{
    static const struct {
        double value_s;
        const char *word;
    } PRINTED[] = {{14400, "4 h"}, {900, "15 min"}, {90, "90 s"}, {0.5, "0.5 s"}, {5400, "90 min"}};

    for (size_t i = 0; i < sizeof PRINTED / sizeof PRINTED[0]; i++) {
        char word[SCALAR_PRINT_MAX];
        double back = -77;

        scalar_print_duration(PRINTED[i].value_s, word);
        ck_assert_str_eq(word, PRINTED[i].word);
        ck_assert(scalar_parse_duration(word, &back, why));
        ck_near(back, PRINTED[i].value_s, 0);
    }
}
END_TEST

START_TEST(a_locale_with_a_decimal_comma_changes_nothing)
{
    static const char *const LOCALES[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "C.UTF-8"};
    char word[SCALAR_PRINT_MAX];
    double value = -77;

    for (size_t i = 0; i < sizeof LOCALES / sizeof LOCALES[0]; i++) {
        if (setlocale(LC_ALL, LOCALES[i]) == NULL)
            continue; /* not installed here; C.UTF-8 always is */
        ck_assert(scalar_parse_decimal("40.5", &value, why));
        ck_near(value, 40.5, 0);
        ck_assert(!scalar_parse_decimal("40,5", &value, why));
        scalar_print_decimal(40.5, word);
        ck_assert_str_eq(word, "40.5");
    }
    ck_assert_ptr_nonnull(setlocale(LC_ALL, "C"));
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("scalar");
    TCase *tests = tcase_create("words");

    tcase_add_loop_test(tests, a_plain_number_is_read_whole, 0, (int)(sizeof GOOD / sizeof GOOD[0]));
    tcase_add_loop_test(tests, a_word_that_is_no_number_is_refused_with_a_reason, 0,
                        (int)(sizeof BAD / sizeof BAD[0]));
    tcase_add_test(tests, a_whole_number_has_neither_point_nor_exponent);
    tcase_add_test(tests, yes_and_no_are_four_words_in_lower_case);
    tcase_add_loop_test(tests, a_duration_is_read_in_seconds, 0, (int)(sizeof TIMES / sizeof TIMES[0]));
    tcase_add_test(tests, a_duration_without_a_good_unit_is_refused);
    tcase_add_test(tests, a_printed_number_reads_back_to_the_same_bits);
    tcase_add_test(tests, a_printed_duration_reads_back_and_is_short);
    tcase_add_test(tests, a_locale_with_a_decimal_comma_changes_nothing);
    suite_add_tcase(suite, tests);
    return suite;
}
