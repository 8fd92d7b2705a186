#include "random_input.h"
#include "science/ratio.h"
#include "support/support.h"

#include <stdbool.h>
#include <string.h>

#define LONG_TEXT "2:1 by weight by weight by weight by weight by weight by weight by weight by weight"

static double strength_of(const char *text)
{
    struct ratio r;
    struct fault f;
    double pct = 0;

    ck_assert_msg(ratio_parse(text, &r, &f) == ST_OK, "\"%s\": %s", text, f.text);
    ck_assert_int_eq(ratio_strength_eval(&r, &pct), ST_OK);
    return pct;
}

START_TEST(the_same_ratio_is_read_in_many_spellings)
{
    ck_near(strength_of("5:3 by weight"), 62.5, 1e-9);
    ck_near(strength_of("  5 : 3   BY  Weight "), 62.5, 1e-9);
    ck_near(strength_of("5:3 by weight, sugar first"), 62.5, 1e-9);
    ck_near(strength_of("3:5 by weight, water first"), 62.5, 1e-9);
    ck_near(strength_of("3:5 by weight water first"), 62.5, 1e-9);
    ck_near(strength_of("2.5:1.5 by mass"), 62.5, 1e-9);
    ck_near(strength_of("1:1 kg/L"), strength_of("1:1 kg per litre"), 1e-12);
    ck_near(strength_of("2:1 lb per imp pint"), strength_of("2:1 lb per imperial pint"), 1e-12);
    ck_near(strength_of("16:1 lb per imperial gallon"), strength_of("2:1 lb per imperial pint"), 1e-9);
    ck_near(strength_of("16:1 lb per US gallon"), strength_of("2:1 lb per US pint"), 1e-9);
    ck_near(strength_of("7:1 lb made up to US gal"), strength_of("7:1 lb made up to us gallons"), 1e-12);
}
END_TEST

START_TEST(two_to_one_alone_is_refused_and_the_reason_said)
{
    struct ratio r = {7, 7, RATIO_KG_PER_L, RATIO_WATER_FIRST};
    struct fault f;

    ck_assert_int_eq(ratio_parse("2:1", &r, &f), ST_RANGE);
    ck_assert_msg(strstr(f.text, "66.7 %") != NULL && strstr(f.text, "63.0 %") != NULL &&
                      strstr(f.text, "61.5 %") != NULL && strstr(f.text, "by weight") != NULL,
                  "%s", f.text);
    ck_assert(r.first == 7 && r.second == 7 && r.basis == RATIO_KG_PER_L); /* untouched */
    ck_assert_int_eq(ratio_parse("1:2, water first", &r, &f), ST_RANGE);
    ck_assert_msg(strstr(f.text, "66.7 %") != NULL, "%s", f.text);
}
END_TEST

START_TEST(a_pint_or_gallon_of_no_country_is_refused)
{
    static const char *const TEXTS[] = {"2:1 lb per pint", "8:1 lb per gallon", "8:1 lb per gal",
                                        "8:1 lb made up to gallons"};
    struct ratio r;
    struct fault f;

    for (size_t i = 0; i < 4; i++) {
        ck_assert_int_eq(ratio_parse(TEXTS[i], &r, &f), ST_RANGE);
        ck_assert_msg(strstr(f.text, "imperial") != NULL && strstr(f.text, "us") != NULL, "%s", f.text);
    }
}
END_TEST

START_TEST(what_is_no_ratio_is_refused_with_a_sentence)
{
    static const char *const TEXTS[] = {"",
                                        "2",
                                        "2:",
                                        ":1 by weight",
                                        "2/1 by weight",
                                        "-2:1 by weight",
                                        "0:1 by weight",
                                        "2:0 by weight",
                                        "2:1 by wieght",
                                        "2:1 by weight please",
                                        "1,5:1 by weight",
                                        "2:1,5 by weight",
                                        "1.2.3:1 by weight",
                                        "1e3:1 by weight",
                                        "20000:1 by weight",
                                        "1234567890123456:1 by weight",
                                        "nan:1 by weight",
                                        "5:3 kg made up to litres",
                                        "11:1 lb made up to us gallons",
                                        "1:13 lb made up to imperial gallons, water first",
                                        LONG_TEXT};
    struct ratio r;
    struct fault f;

    for (size_t i = 0; i < sizeof TEXTS / sizeof TEXTS[0]; i++) {
        memset(&f, 0, sizeof f);
        ck_assert_msg(ratio_parse(TEXTS[i], &r, &f) == ST_RANGE, "\"%s\" was taken", TEXTS[i]);
        ck_assert_msg(strlen(f.text) > 20 && strlen(f.text) < sizeof f.text - 1, "\"%s\": %s", TEXTS[i],
                      f.text);
        ck_assert_str_eq(f.where, "ratio");
    }
    ck_assert_int_eq(ratio_parse(NULL, &r, NULL), ST_RANGE);
}
END_TEST

START_TEST(a_ratio_that_is_not_positive_and_finite_has_no_strength)
{
    const double bad[] = {0, -1, (double)NAN, (double)INFINITY, -(double)INFINITY};
    double pct = -5;

    for (size_t i = 0; i < 5; i++) {
        struct ratio a = {bad[i], 1, RATIO_BY_WEIGHT, RATIO_SUGAR_FIRST};
        struct ratio b = {1, bad[i], RATIO_BY_WEIGHT, RATIO_SUGAR_FIRST};

        ck_assert_int_eq(ratio_strength_eval(&a, &pct), ST_RANGE);
        ck_assert_int_eq(ratio_strength_eval(&b, &pct), ST_RANGE);
    }
    ck_assert(pct == -5);
}
END_TEST

START_TEST(a_ratio_without_a_basis_or_an_order_has_no_strength)
{
    static const struct ratio NONE[] = {
        {0},
        {.first = 2, .second = 1},
        {2, 1, RATIO_BASIS_NONE, RATIO_SUGAR_FIRST},
        {2, 1, RATIO_BASIS_COUNT, RATIO_SUGAR_FIRST},
        {2, 1, RATIO_BY_WEIGHT, RATIO_ORDER_NONE},
    };
    double out = -5;

    for (size_t i = 0; i < sizeof NONE / sizeof NONE[0]; i++) {
        ck_assert_int_eq(ratio_strength_eval(&NONE[i], &out), ST_RANGE);
        ck_assert_int_eq(ratio_second_eval(2, 50, NONE[i].basis, NONE[i].order, &out), ST_RANGE);
    }
    ck_assert(out == -5);
    ck_assert_str_eq(ratio_basis_words(RATIO_BASIS_NONE), "");
    ck_assert_str_eq(ratio_basis_words(RATIO_BASIS_COUNT), "");
    ck_assert_str_eq(ratio_order_words(RATIO_ORDER_NONE), "");
    ck_assert_str_eq(ratio_order_words((enum ratio_order)7), "");
}
END_TEST

static enum ratio_basis basis_at(int i)
{
    return (enum ratio_basis)(RATIO_BY_WEIGHT + i % (RATIO_BASIS_COUNT - RATIO_BY_WEIGHT));
}

START_TEST(any_positive_ratio_is_between_0_and_100_and_turns_round)
{
    uint64_t seed = 5;

    for (int i = 0; i < 100000; i++) {
        double a = fabs(random_finite(&seed, 0.001, 10));
        double b = fabs(random_finite(&seed, 0.001, 10));
        struct ratio sugar = {a, b, basis_at(i), RATIO_SUGAR_FIRST};
        struct ratio water = {b, a, sugar.basis, RATIO_WATER_FIRST};
        double pct = 0;
        double turned = 0;

        if (ratio_strength_eval(&sugar, &pct) != ST_OK)
            continue; /* 0, or more sugar than fits */
        ck_assert(pct >= 0 && pct <= 100);
        ck_assert_int_eq(ratio_strength_eval(&water, &turned), ST_OK);
        ck_assert(pct == turned);
    }
}
END_TEST

START_TEST(every_basis_is_read_by_its_own_words)
{
    for (int i = RATIO_BY_WEIGHT; i < RATIO_BASIS_COUNT; i++) {
        char text[64] = "3:5 ";
        struct ratio r;

        strcat(text, ratio_basis_words((enum ratio_basis)i));
        ck_assert_int_eq(ratio_parse(text, &r, NULL), ST_OK);
        ck_assert(r.basis == (enum ratio_basis)i && r.first == 3 && r.second == 5);
    }
}
END_TEST

/* Calculated by others: 1 kg made up to a litre is 73.1 %, put into a litre of water 50.04 %. */
START_TEST(made_up_to_a_litre_is_not_put_into_a_litre)
{
    ck_near(strength_of("1:1 kg made up to litres"), 73.1, 0.1);
    ck_near(strength_of("1:1 kg per litre"), 50.045, 0.001);
    ck_near(strength_of("8.345404:1 lb made up to us gallons"), strength_of("1:1 kg made up to litres"),
            1e-4);
    ck_near(strength_of("10.022413:1 lb made up to imperial gallons"),
            strength_of("1:1 kg made up to litres"), 1e-4);
    ck_near(strength_of("1:1.6 kg made up to litres, sugar first"),
            strength_of("1.6:1 kg made up to litres, water first"), 1e-12);
}
END_TEST

START_TEST(the_second_number_is_the_inverse_of_the_strength_in_every_basis_and_order)
{
    uint64_t seed = 17;
    int answered = 0;

    for (int i = 0; i < 200000; i++) {
        enum ratio_basis basis = basis_at(i);
        enum ratio_order order = random_next(&seed) % 2 == 0 ? RATIO_SUGAR_FIRST : RATIO_WATER_FIRST;
        double first = pow(10, random_between(&seed, -3, 3));
        double wanted = random_between(&seed, 0.001, basis < RATIO_KG_MADE_UP_TO_L ? 99.999 : 85);
        struct ratio ratio = {first, 0, basis, order};
        double pct = -5;

        ck_assert_int_eq(ratio_second_eval(first, wanted, basis, order, &ratio.second), ST_OK);
        if (ratio_strength_eval(&ratio, &pct) != ST_OK) /* a hair above 85 % */
            continue;
        ck_near(pct, wanted, 1e-9);
        answered++;
    }
    ck_assert_int_gt(answered, 199900);
}
END_TEST

START_TEST(a_second_number_out_of_range_is_refused)
{
    const double bad[] = {0, -1, 2e9, (double)NAN, (double)INFINITY, -(double)INFINITY};
    double second = -5;

    for (size_t i = 0; i < 6; i++) {
        ck_assert_int_eq(ratio_second_eval(bad[i], 50, RATIO_BY_WEIGHT, RATIO_SUGAR_FIRST, &second),
                         ST_RANGE);
        ck_assert_int_eq(ratio_second_eval(1, bad[i], RATIO_BY_WEIGHT, RATIO_SUGAR_FIRST, &second), ST_RANGE);
    }
    ck_assert_int_eq(ratio_second_eval(1, 100, RATIO_BY_WEIGHT, RATIO_SUGAR_FIRST, &second), ST_RANGE);
    ck_assert_int_eq(ratio_second_eval(1, 85.001, RATIO_KG_MADE_UP_TO_L, RATIO_SUGAR_FIRST, &second),
                     ST_RANGE);
    ck_assert_int_eq(ratio_second_eval(1e8, 0.001, RATIO_BY_WEIGHT, RATIO_SUGAR_FIRST, &second), ST_RANGE);
    ck_assert_int_eq(ratio_second_eval(1, 50, RATIO_BASIS_COUNT, RATIO_SUGAR_FIRST, &second), ST_RANGE);
    ck_assert_int_eq(ratio_second_eval(1, 50, RATIO_BY_WEIGHT, (enum ratio_order)7, &second), ST_RANGE);
    ck_near(second, -5, 0);
}
END_TEST

START_TEST(random_bytes_are_read_or_refused)
{
    static const char ALPHABET[] = "0123456789.:, byweightlpmfrsu/\t";
    uint64_t seed = 3;

    for (int i = 0; i < 100000; i++) {
        char text[48];
        size_t n = random_next(&seed) % (sizeof text - 1);
        struct ratio r;
        double pct = 0;

        for (size_t k = 0; k < n; k++)
            text[k] = ALPHABET[random_next(&seed) % (sizeof ALPHABET - 1)];
        text[n] = '\0';
        if (ratio_parse(text, &r, NULL) == ST_OK)
            ck_assert_int_eq(ratio_strength_eval(&r, &pct), ST_OK);
    }
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("ratio");
    TCase *all = tcase_create("all");

    tcase_add_test(all, the_same_ratio_is_read_in_many_spellings);
    tcase_add_test(all, two_to_one_alone_is_refused_and_the_reason_said);
    tcase_add_test(all, a_pint_or_gallon_of_no_country_is_refused);
    tcase_add_test(all, what_is_no_ratio_is_refused_with_a_sentence);
    tcase_add_test(all, a_ratio_that_is_not_positive_and_finite_has_no_strength);
    tcase_add_test(all, a_ratio_without_a_basis_or_an_order_has_no_strength);
    tcase_add_test(all, any_positive_ratio_is_between_0_and_100_and_turns_round);
    tcase_add_test(all, every_basis_is_read_by_its_own_words);
    tcase_add_test(all, made_up_to_a_litre_is_not_put_into_a_litre);
    tcase_add_test(all, the_second_number_is_the_inverse_of_the_strength_in_every_basis_and_order);
    tcase_add_test(all, a_second_number_out_of_range_is_refused);
    tcase_add_test(all, random_bytes_are_read_or_refused);
    suite_add_tcase(suite, all);
    return suite;
}
