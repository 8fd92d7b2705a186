#include "records/canonical.h"
#include "records/decision.h"
#include "records/queue.h"
#include "support/support.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- canonical ----------------------------------------------------------------------------- */

static void expect_decimal(double value, int decimals, const char *expected)
{
    char text[DECIMAL_MAX];

    canonical_decimal(value, decimals, text);
    ck_assert_str_eq(text, expected);
}

START_TEST(decimals_are_written_without_the_help_of_a_locale)
{
    expect_decimal(61.5, 2, "61.50");
    expect_decimal(-0.004, 2, "0.00");
    expect_decimal(-0.25, 2, "-0.25");
    expect_decimal(-12.05, 1, "-12.1");
    expect_decimal(0.05, 2, "0.05");
    expect_decimal(99.999, 2, "100.00");
    expect_decimal(7.5, 0, "8");
    expect_decimal(1e12, 6, "1000000000000.000000");
    expect_decimal((double)NAN, 2, "unknown");
    expect_decimal((double)INFINITY, 2, "unknown");
    expect_decimal(1e13, 2, "unknown");
}
END_TEST

START_TEST(times_are_utc)
{
    char text[UTC_MAX];

    canonical_utc(1772366400000000, text);
    ck_assert_str_eq(text, "2026-03-01T12:00:00Z");
    canonical_utc(-1, text);
    ck_assert_str_eq(text, "1969-12-31T23:59:59Z");
    canonical_utc(INT64_MAX, text);
    ck_assert_str_eq(text, "unknown");
}
END_TEST

static void expect_text(const char *from, size_t size, const char *expected)
{
    char to[32];

    canonical_text(from, to, size);
    ck_assert_str_eq(to, expected);
}

START_TEST(texts_from_outside_become_clean_utf_8)
{
    expect_text("honey", 32, "honey");
    expect_text("M\xc3\xbchle", 32, "M\xc3\xbchle");
    expect_text("M\xc3\xbchle", 3, "M");    /* no half characters */
    expect_text("a\nb\x7f", 32, "a?b?");    /* nothing may forge a line */
    expect_text("\xc3", 32, "?");           /* cut off */
    expect_text("\xc0\xaf", 32, "??");      /* overlong */
    expect_text("\xed\xa0\x80", 32, "???"); /* surrogate */
    expect_text("\xf0\x9f\x90\x9d", 32, "\xf0\x9f\x90\x9d");
    expect_text("\xf4\x90\x80\x80", 32, "????"); /* beyond U+10FFFF */
    expect_text("abcdef", 4, "abc");
}
END_TEST

START_TEST(json_is_compact_and_sorted)
{
    json_t *json = json_pack("{s:i, s:s, s:[b,n]}", "b", 2, "a", "x/\xc3\xbc\"", "c", 1);
    char *text = canonical_json(json);

    ck_assert_str_eq(text, "{\"a\":\"x/\xc3\xbc\\\"\",\"b\":2,\"c\":[true,null]}");
    free(text);
    json_decref(json);
}
END_TEST

/* ---- queue --------------------------------------------------------------------------------- */

START_TEST(items_come_out_in_order_round_and_round)
{
    struct queue *q = queue_new(1024);
    unsigned char item[120];
    unsigned put = 0, taken = 0;

    for (int round = 0; round < 500; round++) {
        uint64_t position, end;
        const unsigned char *seen;
        uint32_t kind;

        for (int i = 0; i < 5; i++) {
            memset(item, (int)(put & 255), sizeof item);
            ck_assert(queue_put(q, put, item, 1 + put % sizeof item, true));
            put++;
        }
        position = queue_start(q);
        end = queue_end(q);
        while ((seen = queue_walk(q, &position, end, &kind)) != NULL) {
            ck_assert_uint_eq(kind, taken);
            ck_assert_uint_eq(seen[taken % sizeof item], taken & 255);
            taken++;
        }
        queue_drop(q, end);
    }
    ck_assert_uint_eq(taken, put);
    queue_free(q);
}
END_TEST

START_TEST(a_full_queue_says_so_and_keeps_room_for_what_is_vital)
{
    struct queue *q = queue_new(1024);
    unsigned char item[56] = {0};
    int plain = 0, vital = 0;

    while (queue_put(q, 1, item, sizeof item, false))
        plain++;
    while (queue_put(q, 2, item, sizeof item, true))
        vital++;
    ck_assert_int_eq(plain, 12);
    ck_assert_int_eq(vital, 4);
    ck_assert_uint_eq(queue_fill_pct(q), 100);
    ck_assert(!queue_put(q, 3, item, 4096, true));
    queue_drop(q, queue_end(q));
    ck_assert(queue_put(q, 1, item, sizeof item, false));
    queue_free(q);
    queue_free(NULL);
}
END_TEST

/* ---- decision ------------------------------------------------------------------------------ */

/* The worked example: 60.0 +- 0.5, U = 0.144, after ILAC-G8:09/2019 with w = U: accept
 * 59.644 to 60.356; 60.40 pass, 60.60 fail, both conditional; 60.70 fail. */
START_TEST(the_guard_band_example_is_decided_as_published)
{
    static const struct {
        double measured;
        enum decision expected;
    } CASES[] = {
        {60.0, DECISION_CONFORMS},
        {59.644, DECISION_CONFORMS},
        {60.356, DECISION_CONFORMS},
        {60.357, DECISION_CONFORMS_CONDITIONAL},
        {59.643, DECISION_CONFORMS_CONDITIONAL},
        {60.40, DECISION_CONFORMS_CONDITIONAL},
        {60.5, DECISION_CONFORMS_CONDITIONAL},
        {60.60, DECISION_FAILS_CONDITIONAL},
        {60.644, DECISION_FAILS_CONDITIONAL},
        {60.70, DECISION_FAILS},
        {59.30, DECISION_FAILS},
    };

    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++)
        ck_assert_msg(decision_make(CASES[i].measured, 60, 0.5, 0.144) == CASES[i].expected, "%g",
                      CASES[i].measured);
}
END_TEST

START_TEST(nothing_is_said_when_the_uncertainty_is_larger_than_the_tolerance_or_unknown)
{
    ck_assert_int_eq(decision_make(60, 60, 0.5, 0.51), DECISION_CANNOT_SAY);
    ck_assert_int_eq(decision_make(60, 60, 0.5, 0.5), DECISION_CONFORMS);
    ck_assert_int_eq(decision_make(60, 60, 0.5, 0), DECISION_CANNOT_SAY);
    ck_assert_int_eq(decision_make(60, 60, 0.5, (double)NAN), DECISION_CANNOT_SAY);
    ck_assert_int_eq(decision_make((double)NAN, 60, 0.5, 0.1), DECISION_CANNOT_SAY);
    ck_assert_int_eq(decision_make(60, 60, 0, 0.1), DECISION_CANNOT_SAY);
    ck_assert_ptr_nonnull(strstr(decision_words(DECISION_CANNOT_SAY), "Cannot say"));
}
END_TEST

/* Normal distribution, k = 2; half a tolerance of U up to all of it, from the middle to the guard band. */
START_TEST(the_rule_tells_the_risk_of_a_value_that_conforms)
{
    double worst_one = 0, worst_both = 0;

    for (int tenth = 1; tenth <= 10; tenth++)
        for (int i = 0; i <= 50; i++) {
            double u = tenth * 0.05, off = i * 0.01;
            double above = erfc((0.5 - off) / (u / 2) / sqrt(2)) / 2;
            double below = erfc((0.5 + off) / (u / 2) / sqrt(2)) / 2;

            if (decision_make(60 + off, 60, 0.5, u) != DECISION_CONFORMS)
                continue;
            worst_one = fmax(worst_one, above);
            worst_both = fmax(worst_both, above + below);
        }
    ck_assert_msg(worst_one > 0.022 && worst_one < 0.025, "%g", worst_one);
    ck_assert_msg(worst_both > 0.045 && worst_both < 0.05, "%g", worst_both);
    ck_assert_ptr_nonnull(
        strstr(decision_rule(), "either one of the two limits with a probability below 2.5 %"));
    ck_assert_ptr_nonnull(strstr(decision_rule(), "one or the other of them below 5 %"));
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("parts of the record");
    TCase *tests = tcase_create("parts");

    tcase_add_test(tests, decimals_are_written_without_the_help_of_a_locale);
    tcase_add_test(tests, times_are_utc);
    tcase_add_test(tests, texts_from_outside_become_clean_utf_8);
    tcase_add_test(tests, json_is_compact_and_sorted);
    tcase_add_test(tests, items_come_out_in_order_round_and_round);
    tcase_add_test(tests, a_full_queue_says_so_and_keeps_room_for_what_is_vital);
    tcase_add_test(tests, the_guard_band_example_is_decided_as_published);
    tcase_add_test(tests, nothing_is_said_when_the_uncertainty_is_larger_than_the_tolerance_or_unknown);
    tcase_add_test(tests, the_rule_tells_the_risk_of_a_value_that_conforms);
    suite_add_tcase(suite, tests);
    return suite;
}
