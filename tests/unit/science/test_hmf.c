#include "random_input.h"
#include "science/growth.h"
#include "science/hmf.h"
#include "support/support.h"

#include <math.h>

START_TEST(the_time_is_the_inverse_of_what_has_formed)
{
    uint64_t seed = 21;
    int answered = 0;

    for (int i = 0; i < 4000; i++) {
        double temp_c = random_between(&seed, 0, 105);
        double ph = random_between(&seed, 2, 8);
        double strength_pct = random_between(&seed, 1, 85);
        double wanted = pow(10, random_between(&seed, -3, 3));
        struct span hours, formed;

        if (hmf_time_eval(temp_c, ph, strength_pct, wanted, &hours) != ST_OK)
            continue;
        answered++;
        ck_assert(hours.low <= hours.best && hours.best <= hours.high);
        ck_assert_int_eq(hmf_formed_eval(temp_c, ph, strength_pct, hours.low, &formed), ST_OK);
        ck_near(formed.high, wanted, 1e-9 * wanted);
        if (hours.best < GROWTH_HOURS_MAX &&
            hmf_formed_eval(temp_c, ph, strength_pct, hours.best, &formed) == ST_OK)
            ck_near(formed.best, wanted, 1e-9 * wanted);
        if (hours.high < GROWTH_HOURS_MAX &&
            hmf_formed_eval(temp_c, ph, strength_pct, hours.high, &formed) == ST_OK)
            ck_near(formed.low, wanted, 1e-9 * wanted);
    }
    ck_assert_int_gt(answered, 1000);
}
END_TEST

START_TEST(a_long_time_never_hides_the_short_one)
{
    struct span hours, formed;

    ck_assert_int_eq(hmf_time_eval(25, 7, 62, 40, &hours), ST_OK);
    ck_assert_double_lt(hours.low, GROWTH_HOURS_MAX);
    ck_near(hours.high, GROWTH_HOURS_MAX, 0);
    ck_assert_int_eq(hmf_formed_eval(25, 7, 62, hours.low, &formed), ST_OK);
    ck_near(formed.high, 40, 40e-9);
    ck_assert_int_eq(hmf_honey_time_eval(10, 1000, &hours), ST_OK);
    ck_assert_double_lt(hours.low, GROWTH_HOURS_MAX);
    ck_near(hours.high, GROWTH_HOURS_MAX, 0);
}
END_TEST

START_TEST(honey_is_as_fast_as_ten_kelvin_five_times_says)
{
    struct span cool, warm;

    /* "five times for 10 K": popular statement, met by the fit within a tenth around 50 degC */
    ck_assert_int_eq(hmf_honey_rate_eval(50, &cool), ST_OK);
    ck_assert_int_eq(hmf_honey_rate_eval(60, &warm), ST_OK);
    ck_near(warm.best / cool.best, 5, 0.5);
}
END_TEST

START_TEST(the_spread_is_five_and_grows_outside_what_was_measured)
{
    for (double temp_c = 0; temp_c <= 105; temp_c += 2.5) {
        struct span rate;

        ck_assert_int_eq(hmf_honey_rate_eval(temp_c, &rate), ST_OK);
        if (temp_c >= 30 && temp_c <= 80) {
            ck_near(rate.high / rate.best, 5, 1e-9);
            ck_near(rate.best / rate.low, 5, 1e-9);
        } else {
            ck_assert_double_gt(rate.high / rate.best, 5);
            ck_assert_double_gt(rate.best / rate.low, 5);
        }
    }
}
END_TEST

/* Zeng and others (2006): 84.4 kJ/mol, the least of three honeys; acacia honey (2012): 173.1, the most. From
 * the nearer end of 30-80 degC on, one of them makes each end. */
START_TEST(outside_what_was_measured_the_ends_keep_the_published_activation_energies)
{
    struct span at, away;
    const double steps[][2] = {{30, 0}, {30, 10}, {80, 95}, {80, 105}};

    for (size_t i = 0; i < sizeof steps / sizeof steps[0]; i++) {
        double kelvin = (1 / (steps[i][0] + 273.15) - 1 / (steps[i][1] + 273.15)) / 8.314462618;
        double flat = exp(84400 * kelvin), steep = exp(173100 * kelvin);

        ck_assert_int_eq(hmf_honey_rate_eval(steps[i][0], &at), ST_OK);
        ck_assert_int_eq(hmf_honey_rate_eval(steps[i][1], &away), ST_OK);
        ck_near(away.high / at.high, fmax(flat, steep), 1e-9 * fmax(flat, steep));
        ck_near(away.low / at.low, fmin(flat, steep), 1e-9 * fmin(flat, steep));
    }
}
END_TEST

START_TEST(acid_below_ph_4_widens_the_spread_to_ten_at_3)
{
    struct span four, three, seven;

    ck_assert_int_eq(hmf_rate_eval(60, 4, 38, &four), ST_OK);
    ck_assert_int_eq(hmf_rate_eval(60, 3, 38, &three), ST_OK);
    ck_assert_int_eq(hmf_rate_eval(60, 7, 38, &seven), ST_OK);
    ck_near(four.high / four.best, 5, 1e-9);
    ck_near(three.high / three.best, 10, 1e-9);
    ck_near(three.best / three.low, 10, 1e-9);
    ck_near(seven.high / seven.best, 5, 1e-9);
    ck_near(three.best, four.best, 0);
}
END_TEST

START_TEST(syrup_with_as_much_fructose_as_honey_is_as_fast_as_honey)
{
    struct span syrup, honey;

    ck_assert_int_eq(hmf_rate_eval(60, 4, 100 * HMF_HONEY_FRUCTOSE, &syrup), ST_OK);
    ck_assert_int_eq(hmf_honey_rate_eval(60, &honey), ST_OK);
    ck_near(syrup.best / honey.best, 1, 1e-12);
}
END_TEST

START_TEST(warmth_acid_strength_and_time_only_ever_form_more)
{
    struct span before, now;

    ck_assert_int_eq(hmf_formed_eval(0, 4, 62, 10, &before), ST_OK);
    for (double temp_c = 1; temp_c <= 105; temp_c++, before = now) {
        ck_assert_int_eq(hmf_formed_eval(temp_c, 4, 62, 10, &now), ST_OK);
        ck_assert(now.low > before.low && now.best > before.best && now.high > before.high);
    }
    ck_assert_int_eq(hmf_formed_eval(60, 8, 62, 10, &before), ST_OK);
    for (double ph = 7.9; ph >= 4; ph -= 0.1, before = now) { /* below 4 the low end widens downwards */
        ck_assert_int_eq(hmf_formed_eval(60, ph, 62, 10, &now), ST_OK);
        ck_assert(now.low > before.low && now.best > before.best && now.high > before.high);
    }
    ck_assert_int_eq(hmf_formed_eval(60, 4, 62, 0, &before), ST_OK);
    ck_near(before.high, 0, 0);
    for (double hours = 1; hours < 1000; hours += 10, before = now) {
        ck_assert_int_eq(hmf_formed_eval(60, 4, 62, hours, &now), ST_OK);
        ck_assert(now.low > before.low && now.best > before.best && now.high > before.high);
    }
}
END_TEST

START_TEST(what_is_no_estimate_any_more_is_refused)
{
    struct span span = {-1, -1, -1};

    ck_assert_int_eq(hmf_formed_eval(105, 2, 85, 1e6, &span), ST_RANGE);
    ck_assert_int_eq(hmf_time_eval(0, 8, 50, 40, &span), ST_RANGE);
    ck_assert_int_eq(hmf_honey_time_eval(0, 1000, &span), ST_RANGE);
    ck_assert(span.low == -1 && span.best == -1 && span.high == -1);
}
END_TEST

START_TEST(a_mark_is_a_multiple_and_an_unknown_one_is_refused)
{
    double times = -1;

    ck_assert_int_eq(hmf_against_mark_eval(10, (enum hmf_mark)HMF_MARK_COUNT, &times), ST_RANGE);
    ck_assert_int_eq(hmf_against_mark_eval(10, (enum hmf_mark) - 1, &times), ST_RANGE);
    ck_assert_int_eq(hmf_against_mark_eval((double)NAN, HMF_AIM, &times), ST_RANGE);
    ck_assert(times == -1);
    ck_assert_int_eq(hmf_against_mark_eval(10, HMF_LIMIT, &times), ST_OK);
    ck_near(times, 0.25, 0);
    ck_assert_ptr_null(hmf_mark_name(HMF_MARK_COUNT));
    ck_assert_ptr_null(hmf_mark_name(-1));
    ck_assert_str_eq(hmf_mark_name(HMF_LIMIT), "limit");
}
END_TEST

START_TEST(absurd_arguments_are_refused_and_nothing_is_written)
{
    static const double ABSURD[] = {-1e300, 1e300, -1, 1e9, INFINITY, -INFINITY, (double)NAN};

    for (size_t i = 0; i < sizeof ABSURD / sizeof ABSURD[0]; i++) {
        double x = ABSURD[i];
        struct span span = {-1, -1, -1};

        ck_assert_int_eq(hmf_honey_rate_eval(x, &span), ST_RANGE);
        ck_assert_int_eq(hmf_honey_time_eval(x, 30, &span), ST_RANGE);
        ck_assert_int_eq(hmf_honey_time_eval(60, x, &span), ST_RANGE);
        ck_assert_int_eq(hmf_rate_eval(x, 4, 38, &span), ST_RANGE);
        ck_assert_int_eq(hmf_rate_eval(60, x, 38, &span), ST_RANGE);
        ck_assert_int_eq(hmf_rate_eval(60, 4, x, &span), ST_RANGE);
        ck_assert_int_eq(hmf_formed_eval(x, 4, 62, 1, &span), ST_RANGE);
        ck_assert_int_eq(hmf_formed_eval(60, x, 62, 1, &span), ST_RANGE);
        ck_assert_int_eq(hmf_formed_eval(60, 4, x, 1, &span), ST_RANGE);
        ck_assert_int_eq(hmf_formed_eval(60, 4, 62, x, &span), ST_RANGE);
        ck_assert_int_eq(hmf_time_eval(x, 4, 62, 1, &span), ST_RANGE);
        ck_assert_int_eq(hmf_time_eval(60, x, 62, 1, &span), ST_RANGE);
        ck_assert_int_eq(hmf_time_eval(60, 4, x, 1, &span), ST_RANGE);
        ck_assert_int_eq(hmf_time_eval(60, 4, 62, x, &span), ST_RANGE);
        ck_assert(span.low == -1 && span.best == -1 && span.high == -1);
    }
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("hmf");
    TCase *all = tcase_create("all");

    tcase_add_test(all, the_time_is_the_inverse_of_what_has_formed);
    tcase_add_test(all, a_long_time_never_hides_the_short_one);
    tcase_add_test(all, honey_is_as_fast_as_ten_kelvin_five_times_says);
    tcase_add_test(all, the_spread_is_five_and_grows_outside_what_was_measured);
    tcase_add_test(all, outside_what_was_measured_the_ends_keep_the_published_activation_energies);
    tcase_add_test(all, acid_below_ph_4_widens_the_spread_to_ten_at_3);
    tcase_add_test(all, syrup_with_as_much_fructose_as_honey_is_as_fast_as_honey);
    tcase_add_test(all, warmth_acid_strength_and_time_only_ever_form_more);
    tcase_add_test(all, what_is_no_estimate_any_more_is_refused);
    tcase_add_test(all, a_mark_is_a_multiple_and_an_unknown_one_is_refused);
    tcase_add_test(all, absurd_arguments_are_refused_and_nothing_is_written);
    suite_add_tcase(suite, all);
    return suite;
}
