#include "random_input.h"
#include "science/arrhenius.h"
#include "science/growth.h"
#include "science/inversion.h"
#include "support/support.h"

#include <math.h>

static const double ABSURD[] = {-1e300, 1e300, -1, 1e9, INFINITY, -INFINITY, (double)NAN};
#define ABSURD_COUNT (sizeof ABSURD / sizeof ABSURD[0])

START_TEST(the_time_is_the_inverse_of_the_share)
{
    uint64_t seed = 11;

    for (int i = 0; i < 2000; i++) {
        double temp_c = random_between(&seed, 0, 105);
        double ph = random_between(&seed, 2, 8);
        double strength_pct = random_between(&seed, 0, 85);
        double wanted = random_between(&seed, 1e-3, 99.9);
        struct span hours, share;

        if (inversion_time_eval(temp_c, ph, strength_pct, wanted, &hours) != ST_OK)
            continue;
        ck_assert_int_eq(inversion_share_eval(temp_c, ph, strength_pct, hours.best, &share), ST_OK);
        if (hours.best < GROWTH_HOURS_MAX)
            ck_near(share.best, wanted, 1e-9 * wanted);
        ck_assert_int_eq(inversion_share_eval(temp_c, ph, strength_pct, hours.low, &share), ST_OK);
        ck_near(share.high, wanted, 1e-9 * wanted);
        ck_assert_int_eq(inversion_share_eval(temp_c, ph, strength_pct, hours.high, &share), ST_OK);
        if (hours.high < GROWTH_HOURS_MAX)
            ck_near(share.low, wanted, 1e-9 * wanted);
    }
}
END_TEST

START_TEST(warmth_acid_and_time_only_ever_invert_more)
{
    struct span before, now;

    ck_assert_int_eq(inversion_share_eval(0, 4, 62, 10, &before), ST_OK);
    for (double temp_c = 1; temp_c <= 105; temp_c++, before = now) {
        ck_assert_int_eq(inversion_share_eval(temp_c, 4, 62, 10, &now), ST_OK);
        ck_assert(now.low > before.low && now.best > before.best && now.high > before.high);
    }
    ck_assert_int_eq(inversion_rate_eval(60, 8, 62, &before), ST_OK);
    for (double ph = 7.9; ph >= 2; ph -= 0.1, before = now) {
        ck_assert_int_eq(inversion_rate_eval(60, ph, 62, &now), ST_OK);
        ck_assert(now.low > before.low && now.best > before.best && now.high > before.high);
    }
    ck_assert_int_eq(inversion_share_eval(60, 4, 62, 0, &before), ST_OK);
    ck_near(before.high, 0, 0);
    for (double hours = 1; hours < 100; hours++, before = now) {
        ck_assert_int_eq(inversion_share_eval(60, 4, 62, hours, &now), ST_OK);
        ck_assert(now.low > before.low && now.best > before.best && now.high > before.high);
    }
}
END_TEST

START_TEST(one_ph_unit_is_a_factor_of_ten)
{
    struct span four, five;

    ck_assert_int_eq(inversion_rate_eval(60, 4, 62, &four), ST_OK);
    ck_assert_int_eq(inversion_rate_eval(60, 5, 62, &five), ST_OK);
    ck_near(four.best / five.best, 10, 1e-3); /* the salt effect of 1e-4 mol/L is in it */
}
END_TEST

START_TEST(the_band_holds_both_correlations_with_their_own_spread)
{
    for (double strength = 0; strength <= 85; strength += 5)
        for (double temp_c = 25; temp_c <= 105; temp_c += 10) {
            struct span rate;
            double other;

            ck_assert_int_eq(inversion_rate_eval(temp_c, 4, strength, &rate), ST_OK);
            ck_assert_int_eq(inversion_vukov_rate_eval(temp_c, 4, strength, &other), ST_OK);
            ck_assert_double_le(rate.low, 0.75 * other); /* 0.7, and 5 % for the activation energies */
            ck_assert_double_ge(rate.high, 1.3 * other);
            ck_near(rate.high / rate.best, 2.6, 1e-9);
            ck_assert_double_le(rate.low, 0.3500001 * rate.best);
        }
}
END_TEST

/* The range of the activation energy must stay inside the 30 % of the correlation, over the whole range
 * of temperatures: so says the contract. */
START_TEST(the_activation_energies_stay_within_the_spread)
{
    for (double temp_c = 0; temp_c <= 105; temp_c += 5) {
        struct span factor;

        ck_assert_int_eq(inversion_warming_eval(INVERSION_MEASURED_C, temp_c, &factor), ST_OK);
        ck_assert_double_le(factor.high, 1.3 * factor.best);
        ck_assert_double_ge(factor.low, 0.7 * factor.best);
    }
}
END_TEST

START_TEST(sugar_and_water_become_hexoses_and_no_mass_is_lost)
{
    uint64_t seed = 12;

    for (int i = 0; i < 2000; i++) {
        double sugar_kg = random_between(&seed, 0, 1000);
        double water_kg = random_between(&seed, 0, 1000);
        struct inversion_masses m;

        if (inversion_masses_eval(sugar_kg, water_kg, random_between(&seed, 0, 100), &m) != ST_OK)
            continue;
        ck_near(m.sucrose_kg + m.hexose_kg + m.water_kg, sugar_kg + water_kg, 1e-9);
        ck_assert(m.sucrose_kg >= 0 && m.hexose_kg >= 0 && m.water_kg >= 0);
    }
}
END_TEST

START_TEST(without_enough_water_nothing_inverts_to_the_end)
{
    struct inversion_masses m = {-1, -1, -1};

    ck_assert_int_eq(inversion_masses_eval(1, 0.0526, 100, &m), ST_RANGE);
    ck_assert(m.sucrose_kg == -1 && m.hexose_kg == -1 && m.water_kg == -1);
    ck_assert_int_eq(inversion_masses_eval(1, 0.0527, 100, &m), ST_OK);
    /* both halves of the hexoses are alike */
    ck_near(m.hexose_kg / 2, INVERSION_FRUCTOSE_KG_KG, 1e-12);
}
END_TEST

START_TEST(the_two_correlations_are_as_far_apart_as_the_contract_says)
{
    static const double ROWS[][2] = {{60, 3.5}, {66.7, 4.4}, {70, 5.0}, {80, 8.0}, {85, 10.9}};

    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        struct span rate;
        double other;

        ck_assert_int_eq(inversion_rate_eval(60, 4, ROWS[i][0], &rate), ST_OK);
        ck_assert_int_eq(inversion_vukov_rate_eval(60, 4, ROWS[i][0], &other), ST_OK);
        ck_near(rate.best / other, ROWS[i][1], 0.05);
    }
}
END_TEST

START_TEST(a_long_time_is_held_at_the_limit_and_only_a_short_one_beyond_it_is_no_number)
{
    struct span hours = {-1, -1, -1};

    ck_assert_int_eq(inversion_time_eval(20, 6, 70, 50, &hours), ST_OK);
    ck_assert_double_lt(hours.low, GROWTH_HOURS_MAX);
    ck_near(hours.high, GROWTH_HOURS_MAX, 0);
    hours = (struct span){-1, -1, -1};
    ck_assert_int_eq(inversion_time_eval(0, 8, 62, 50, &hours), ST_RANGE);
    ck_assert(hours.low == -1 && hours.best == -1 && hours.high == -1);
}
END_TEST

START_TEST(the_edges_are_within_and_a_hair_outside_is_not)
{
    struct span rate;
    double other;

    ck_assert_int_eq(inversion_rate_eval(0, 8, 0, &rate), ST_OK);
    ck_assert_int_eq(inversion_rate_eval(105, 2, 85, &rate), ST_OK);
    ck_assert_int_eq(inversion_rate_eval(105.0001, 2, 85, &rate), ST_RANGE);
    ck_assert_int_eq(inversion_rate_eval(105, 1.9999, 85, &rate), ST_RANGE);
    ck_assert_int_eq(inversion_rate_eval(105, 2, 85.0001, &rate), ST_RANGE);
    ck_assert_int_eq(inversion_vukov_rate_eval(0, 1, 0, &other), ST_OK);
    ck_assert_int_eq(inversion_vukov_rate_eval(105, 8, 85, &other), ST_OK);
    ck_assert_int_eq(inversion_vukov_rate_eval(105.0001, 8, 85, &other), ST_RANGE);
    ck_assert_int_eq(inversion_acid_rate_eval(1e-8, 0, 0, &other), ST_OK);
    ck_assert_int_eq(inversion_acid_rate_eval(0.2, 1300, 105, &other), ST_OK);
    ck_assert_int_eq(inversion_acid_rate_eval(0.2001, 1300, 105, &other), ST_RANGE);
}
END_TEST

START_TEST(absurd_arguments_are_refused_and_nothing_is_written)
{
    for (size_t i = 0; i < ABSURD_COUNT; i++) {
        double x = ABSURD[i];
        struct span span = {-1, -1, -1};
        struct inversion_masses m = {-1, -1, -1};
        double one = -1;

        ck_assert_int_eq(inversion_rate_eval(x, 4, 62, &span), ST_RANGE);
        ck_assert_int_eq(inversion_rate_eval(60, x, 62, &span), ST_RANGE);
        ck_assert_int_eq(inversion_rate_eval(60, 4, x, &span), ST_RANGE);
        ck_assert_int_eq(inversion_warming_eval(x, 60, &span), ST_RANGE);
        ck_assert_int_eq(inversion_warming_eval(60, x, &span), ST_RANGE);
        ck_assert_int_eq(inversion_share_eval(x, 4, 62, 1, &span), ST_RANGE);
        ck_assert_int_eq(inversion_share_eval(60, 4, 62, x, &span), ST_RANGE);
        ck_assert_int_eq(inversion_time_eval(60, 4, x, 1, &span), ST_RANGE);
        ck_assert_int_eq(inversion_time_eval(60, 4, 62, x, &span), ST_RANGE);
        ck_assert_int_eq(inversion_vukov_rate_eval(x, 4, 62, &one), ST_RANGE);
        ck_assert_int_eq(inversion_vukov_rate_eval(60, x, 62, &one), ST_RANGE);
        ck_assert_int_eq(inversion_vukov_rate_eval(60, 4, x, &one), ST_RANGE);
        ck_assert_int_eq(inversion_acid_rate_eval(x, 30, 60, &one), ST_RANGE);
        ck_assert_int_eq(inversion_acid_rate_eval(0.1, x, 60, &one), ST_RANGE);
        ck_assert_int_eq(inversion_acid_rate_eval(0.1, 30, x, &one), ST_RANGE);
        ck_assert_int_eq(inversion_masses_eval(x, 1, 50, &m), ST_RANGE);
        ck_assert_int_eq(inversion_masses_eval(1, x, 50, &m), ST_RANGE);
        ck_assert_int_eq(inversion_masses_eval(1, 1, x, &m), ST_RANGE);
        ck_assert(span.low == -1 && span.best == -1 && span.high == -1 && one == -1 && m.sucrose_kg == -1);
    }
}
END_TEST

START_TEST(the_mean_of_a_growing_share_keeps_its_digits_at_every_size)
{
    /* 1 - (1 - exp(-z))/z; the first three by its series z/2 - z^2/6, the last by hand */
    ck_near(growth_mean(0), 0, 0);
    ck_near(growth_mean(1e-12) / 5e-13, 1, 1e-11);
    ck_near(growth_mean(1e-6) / 4.9999983333337500e-7, 1, 1e-12);
    ck_near(growth_mean(1), exp(-1), 1e-15);
    ck_near(growth_mean(0.5), growth_mean(nextafter(0.5, 1)), 1e-15);
    ck_near(growth_share(0, 1e-12) / 1e-12, 1, 1e-11);
    ck_near(growth_share(1, 5), 1, 0);
    ck_near(arrhenius_factor(108000, 60, 60), 1, 0);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("inversion");
    TCase *all = tcase_create("all");

    tcase_add_test(all, the_time_is_the_inverse_of_the_share);
    tcase_add_test(all, warmth_acid_and_time_only_ever_invert_more);
    tcase_add_test(all, one_ph_unit_is_a_factor_of_ten);
    tcase_add_test(all, the_band_holds_both_correlations_with_their_own_spread);
    tcase_add_test(all, the_activation_energies_stay_within_the_spread);
    tcase_add_test(all, sugar_and_water_become_hexoses_and_no_mass_is_lost);
    tcase_add_test(all, without_enough_water_nothing_inverts_to_the_end);
    tcase_add_test(all, the_two_correlations_are_as_far_apart_as_the_contract_says);
    tcase_add_test(all, a_long_time_is_held_at_the_limit_and_only_a_short_one_beyond_it_is_no_number);
    tcase_add_test(all, the_edges_are_within_and_a_hair_outside_is_not);
    tcase_add_test(all, absurd_arguments_are_refused_and_nothing_is_written);
    tcase_add_test(all, the_mean_of_a_growing_share_keeps_its_digits_at_every_size);
    suite_add_tcase(suite, all);
    return suite;
}
