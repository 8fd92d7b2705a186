#include "random_input.h"
#include "science/blend.h"
#include "science/sucrose.h"
#include "support/support.h"

#include <string.h>

#define UNTOUCHED (-12345.678)

/* ---- every function alike ---------------------------------------------------------------- */

static enum status call(int which, const double a[6], double out[2])
{
    const struct blend_heel heel = {a[0], a[1], a[2], a[3], a[4], a[5]};

    switch (which) {
    case 0:
        return blend_thin_eval(a[0], a[1], a[2], out);
    case 1:
        return blend_thicken_eval(a[0], a[1], a[2], out);
    case 2:
        return blend_two_eval(a[0], a[1], a[2], a[3], out);
    case 3:
        return blend_parts_eval(a[0], a[1], a[2], a[3], out, out + 1);
    case 4:
        return blend_heel_eval(&heel, out, out + 1);
    case 5:
        return blend_evaporated_eval(a[0], a[1], a[2], out);
    default:
        return blend_bags_missed_eval(a[0], a[1], a[2], a[3], out);
    }
}
#define CALLS 7
static const int INPUTS[CALLS] = {3, 3, 4, 4, 6, 3, 4};
static const double GOOD[CALLS][6] = {
    {100, 67, 50}, {100, 50, 60},     {10, 67, 7, 50}, {17, 67, 50, 60}, {150, 60, 20, 1000, 66, 50},
    {500, 60, 2},  {800, 400, 25, 1},
};

START_TEST(what_is_not_a_number_or_below_its_range_is_refused_at_every_argument)
{
    const double bad[5] = {(double)NAN, (double)INFINITY, -(double)INFINITY, -2000, 1e7};

    for (int which = 0; which < CALLS; which++)
        for (int at = -1; at < INPUTS[which]; at++)
            for (int b = 0; b < 5; b++) {
                double a[6];
                double out[2] = {UNTOUCHED, UNTOUCHED};

                memcpy(a, GOOD[which], sizeof a);
                if (at < 0) { /* the good arguments are good */
                    ck_assert_int_eq(call(which, a, out), ST_OK);
                    continue;
                }
                a[at] = bad[b];
                ck_assert_msg(call(which, a, out) == ST_RANGE, "function %d, argument %d, %g", which, at,
                              bad[b]);
                ck_assert(out[0] == UNTOUCHED && out[1] == UNTOUCHED);
            }
}
END_TEST

START_TEST(any_finite_input_is_answered_by_no_less_than_nothing_or_refused)
{
    static const double MAX[CALLS][6] = {
        {1000, 100, 100},
        {1000, 100, 99},
        {1000, 100, 1000, 100},
        {1000, 100, 100, 100},
        {1000, 85, 105, 5000, 85, 105},
        {1000, 100, 500},
        {1000, 1000, 25, 20},
    };
    uint64_t seed = 13;
    int answered = 0;

    for (int i = 0; i < 100000; i++) {
        double a[6] = {0};
        double out[2] = {UNTOUCHED, 0};

        for (int k = 0; k < INPUTS[i % CALLS]; k++)
            a[k] = random_finite(&seed, 0, MAX[i % CALLS][k]);
        if (call(i % CALLS, a, out) == ST_OK) {
            ck_assert_msg(isfinite(out[0]) && out[0] >= 0 && out[1] >= 0, "function %d gave %g and %g",
                          i % CALLS, out[0], out[1]);
            answered++;
        } else {
            ck_assert(out[0] == UNTOUCHED && out[1] == 0);
        }
    }
    ck_assert_int_gt(answered, 30000);
}
END_TEST

/* ---- dilution ------------------------------------------------------------------------ */

START_TEST(thinning_keeps_the_sugar_and_thickening_keeps_the_water)
{
    uint64_t seed = 14;

    for (int i = 0; i < 10000; i++) {
        double kg = random_between(&seed, 1, 2000);
        double low = random_between(&seed, 1, 98);
        double high = random_between(&seed, low, 99);
        double added = 0;

        ck_assert_int_eq(blend_thin_eval(kg, high, low, &added), ST_OK);
        ck_near((kg + added) * low, kg * high, 1e-9 * kg * high);
        ck_assert_int_eq(blend_thicken_eval(kg, low, high, &added), ST_OK);
        ck_near((kg + added) * (100 - high), kg * (100 - low), 1e-9 * kg * (100 - low));
    }
}
END_TEST

START_TEST(what_is_asked_the_wrong_way_round_is_refused)
{
    double out = UNTOUCHED;

    ck_assert_int_eq(blend_thin_eval(100, 50, 60, &out), ST_RANGE);
    ck_assert_int_eq(blend_thicken_eval(100, 60, 50, &out), ST_RANGE);
    ck_assert_int_eq(blend_thin_eval(100, 50, 0.5, &out), ST_RANGE);
    ck_assert_int_eq(blend_thicken_eval(100, 50, 99.5, &out), ST_RANGE);
    ck_assert(out == UNTOUCHED);
    ck_assert_int_eq(blend_thin_eval(100, 60, 60, &out), ST_OK);
    ck_assert(out == 0);
}
END_TEST

/* ---- two syrups ----------------------------------------------------------------------- */

START_TEST(the_parts_for_a_strength_mix_to_that_strength)
{
    uint64_t seed = 15;

    for (int i = 0; i < 10000; i++) {
        double total = random_between(&seed, 1, 2000);
        double first = random_between(&seed, 0, 100);
        double second = random_between(&seed, 0, 100);
        double wanted = first + random_between(&seed, 0, 1) * (second - first);
        double a = 0;
        double b = 0;
        double strength = 0;

        ck_assert_int_eq(blend_parts_eval(total, first, second, wanted, &a, &b), ST_OK);
        ck_near(a + b, total, 1e-9 * total);
        ck_assert_int_eq(blend_two_eval(a, first, b, second, &strength), ST_OK);
        ck_near(strength, wanted, 1e-9);
        ck_near(a * first + b * second, total * wanted, 1e-9 * total * 100);
    }
}
END_TEST

START_TEST(a_strength_that_is_not_between_the_two_is_refused)
{
    double a = UNTOUCHED;
    double b = UNTOUCHED;

    ck_assert_int_eq(blend_parts_eval(17, 67, 50, 67.001, &a, &b), ST_RANGE);
    ck_assert_int_eq(blend_parts_eval(17, 67, 50, 49.999, &a, &b), ST_RANGE);
    ck_assert_int_eq(blend_parts_eval(17, 60, 60, 60, &a, &b), ST_RANGE);
    ck_assert(a == UNTOUCHED && b == UNTOUCHED);
    ck_assert_int_eq(blend_parts_eval(17, 67, 50, 67, &a, &b), ST_OK);
    ck_assert(a == 17 && b == 0);
    ck_assert_int_eq(blend_parts_eval(17, 67, 50, 50, &a, &b), ST_OK);
    ck_assert(a == 0 && b == 17);
}
END_TEST

/* ---- heel ---------------------------------------------------------------------------- */

START_TEST(heel_and_what_is_added_are_the_target)
{
    uint64_t seed = 16;
    int answered = 0;

    for (int i = 0; i < 10000; i++) {
        struct blend_heel heel = {random_between(&seed, 0, 400), random_between(&seed, 0, 80),
                                  random_between(&seed, 0, 105), random_between(&seed, 0, 1500),
                                  random_between(&seed, 0, 80),  random_between(&seed, 0, 105)};
        double sugar = 0;
        double water = 0;
        double heel_sugar = 0;
        double heel_water = 0;
        double litres = 0;

        if (blend_heel_eval(&heel, &sugar, &water) != ST_OK)
            continue;
        ck_assert_int_eq(
            sucrose_parts_eval(heel.heel_l, heel.heel_pct, heel.heel_c, &heel_sugar, &heel_water), ST_OK);
        sugar += heel_sugar;
        water += heel_water;
        ck_assert_int_eq(sucrose_mix_volume_eval(sugar, water, heel.target_c, &litres), ST_OK);
        ck_near(litres, heel.target_l, 1e-9 * heel.target_l);
        ck_near(100 * sugar / (sugar + water), heel.target_pct, 1e-9);
        answered++;
    }
    ck_assert_int_gt(answered, 5000);
}
END_TEST

START_TEST(a_heel_with_too_much_sugar_or_water_is_refused)
{
    struct blend_heel heel = {150, 60, 20, 1000, 66.667, 20};
    double sugar = UNTOUCHED;
    double water = UNTOUCHED;

    heel.target_l = 120; /* too much of both */
    ck_assert_int_eq(blend_heel_eval(&heel, &sugar, &water), ST_RANGE);
    heel.target_l = 160; /* 66.667 % of 160 L holds less water than the heel */
    ck_assert_int_eq(blend_heel_eval(&heel, &sugar, &water), ST_RANGE);
    heel.target_pct = 50; /* and 50 % less sugar */
    ck_assert_int_eq(blend_heel_eval(&heel, &sugar, &water), ST_RANGE);
    ck_assert(sugar == UNTOUCHED && water == UNTOUCHED);
}
END_TEST

START_TEST(a_heel_that_is_the_target_needs_nothing)
{
    uint64_t seed = 17;

    for (int i = 0; i < 10000; i++) {
        double l = random_between(&seed, 0, 2000);
        double pct = random_between(&seed, 0, 85);
        struct blend_heel heel = {l, pct, 40, l, pct, 40};
        double sugar = UNTOUCHED;
        double water = UNTOUCHED;

        ck_assert_int_eq(blend_heel_eval(&heel, &sugar, &water), ST_OK);
        ck_assert(sugar == 0 && water == 0);
    }
}
END_TEST

/* ---- water lost, bags missed ---------------------------------------------------------- */

START_TEST(water_that_went_and_came_back_leaves_the_strength)
{
    uint64_t seed = 18;

    for (int i = 0; i < 10000; i++) {
        double kg = random_between(&seed, 1, 2000);
        double pct = random_between(&seed, 1, 99);
        double lost = kg * (1 - pct / 100) * random_between(&seed, 0, 0.999);
        double after = 0;
        double back = 0;

        ck_assert_int_eq(blend_evaporated_eval(kg, pct, lost, &after), ST_OK);
        ck_assert(after >= pct && after <= 100);
        ck_assert_int_eq(blend_two_eval(kg - lost, after, lost, 0, &back), ST_OK);
        ck_near(back, pct, 1e-9);
    }
}
END_TEST

START_TEST(more_water_than_there_was_cannot_evaporate)
{
    double out = UNTOUCHED;

    ck_assert_int_eq(blend_evaporated_eval(100, 60, 40.001, &out), ST_RANGE);
    ck_assert_int_eq(blend_evaporated_eval(100, 0, 100, &out), ST_RANGE);
    ck_assert(out == UNTOUCHED);
    ck_assert_int_eq(blend_evaporated_eval(100, 60, 40, &out), ST_OK);
    ck_near(out, 100, 1e-9);
}
END_TEST

START_TEST(a_bag_missed_and_a_bag_too_many_undo_each_other)
{
    uint64_t seed = 19;

    for (int i = 0; i < 10000; i++) {
        double sugar = random_between(&seed, 500, 2000);
        double water = random_between(&seed, 100, 2000);
        double missed = floor(random_between(&seed, 0, 20));
        double less = 0;
        double back = 0;

        ck_assert_int_eq(blend_bags_missed_eval(sugar, water, 25, missed, &less), ST_OK);
        ck_near(less, 100 * (sugar - 25 * missed) / (sugar - 25 * missed + water), 1e-9);
        ck_assert_int_eq(blend_bags_missed_eval(sugar - 25 * missed, water, 25, -missed, &back), ST_OK);
        ck_near(back, 100 * sugar / (sugar + water), 1e-9);
    }
}
END_TEST

START_TEST(more_bags_than_there_were_cannot_be_missed)
{
    double out = UNTOUCHED;

    ck_assert_int_eq(blend_bags_missed_eval(100, 50, 25, 5, &out), ST_RANGE);
    ck_assert_int_eq(blend_bags_missed_eval(100, 0, 25, 4, &out), ST_RANGE); /* nothing is left */
    ck_assert(out == UNTOUCHED);
    ck_assert_int_eq(blend_bags_missed_eval(100, 50, 25, 4, &out), ST_OK);
    ck_assert(out == 0);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("blend");
    TCase *all = tcase_create("all");

    tcase_add_test(all, what_is_not_a_number_or_below_its_range_is_refused_at_every_argument);
    tcase_add_test(all, any_finite_input_is_answered_by_no_less_than_nothing_or_refused);
    tcase_add_test(all, thinning_keeps_the_sugar_and_thickening_keeps_the_water);
    tcase_add_test(all, what_is_asked_the_wrong_way_round_is_refused);
    tcase_add_test(all, the_parts_for_a_strength_mix_to_that_strength);
    tcase_add_test(all, a_strength_that_is_not_between_the_two_is_refused);
    tcase_add_test(all, heel_and_what_is_added_are_the_target);
    tcase_add_test(all, a_heel_with_too_much_sugar_or_water_is_refused);
    tcase_add_test(all, a_heel_that_is_the_target_needs_nothing);
    tcase_add_test(all, water_that_went_and_came_back_leaves_the_strength);
    tcase_add_test(all, more_water_than_there_was_cannot_evaporate);
    tcase_add_test(all, a_bag_missed_and_a_bag_too_many_undo_each_other);
    tcase_add_test(all, more_bags_than_there_were_cannot_be_missed);
    suite_add_tcase(suite, all);
    return suite;
}
