#include "records/canonical.h"
#include "records/decision_words.h"
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

START_TEST(every_decision_has_a_name_and_a_sentence_and_what_is_none_is_not_judged)
{
    for (int i = 0; i < DECISION_COUNT; i++) {
        ck_assert_uint_gt(strlen(decision_words_name((enum decision)i)), 0);
        ck_assert_uint_gt(strlen(decision_words_sentence((enum decision)i)), 0);
    }
    ck_assert_str_eq(decision_words_name(DECISION_CONFORMS), "conforms");
    ck_assert_str_eq(decision_words_name(DECISION_COUNT), "not_judged");
    ck_assert_ptr_nonnull(strstr(decision_words_sentence(DECISION_CANNOT_SAY), "Cannot say"));
}
END_TEST

/* The probabilities themselves: tests/unit/science/test_decision.c. */
START_TEST(the_rule_tells_the_risk_of_a_value_that_conforms)
{
    ck_assert_ptr_nonnull(
        strstr(decision_words_rule(), "either one of the two limits with a probability below 2.5 %"));
    ck_assert_ptr_nonnull(strstr(decision_words_rule(), "one or the other of them below 5 %"));
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
    tcase_add_test(tests, every_decision_has_a_name_and_a_sentence_and_what_is_none_is_not_judged);
    tcase_add_test(tests, the_rule_tells_the_risk_of_a_value_that_conforms);
    suite_add_tcase(suite, tests);
    return suite;
}
