/* Constants of water, and the apparent pH of syrup. */
#include "science/acid_syrup.h"
#include "science/water.h"
#include "support/support.h"

#include <math.h>
#include <stddef.h>

#define UNTOUCHED (-12345.678)

START_TEST(constants_move_smoothly_and_stay_in_bounds_over_their_whole_range)
{
    enum status (*const evals[])(double, double *) = {water_pkw_eval,          water_pk1_eval,
                                                      water_pk2_eval,          water_pkh_eval,
                                                      water_permittivity_eval, water_debye_huckel_eval};

    for (size_t n = 0; n < sizeof evals / sizeof evals[0]; n++)
        for (int t = 0; t < 90; t++) {
            double here = 0;
            double next = 0;

            ck_assert_int_eq(evals[n](t, &here), ST_OK);
            ck_assert_int_eq(evals[n](t + 1, &next), ST_OK);
            ck_near(next / here, 1, 0.02);
        }
}
END_TEST

START_TEST(the_activity_coefficient_is_1_in_pure_water_and_for_what_has_no_charge)
{
    double g = 0;

    for (int charge = -4; charge <= 4; charge++) {
        ck_assert_int_eq(water_activity_coefficient_eval(charge, 0, 25, &g), ST_OK);
        ck_near(g, 1, 1e-15);
    }
    ck_assert_int_eq(water_activity_coefficient_eval(0, 0.3, 25, &g), ST_OK);
    ck_near(g, 1, 1e-15);
}
END_TEST

START_TEST(its_logarithm_grows_with_the_square_of_the_charge)
{
    double single = 0;

    ck_assert_int_eq(water_activity_coefficient_eval(-1, 0.05, 40, &single), ST_OK);
    for (int charge = 2; charge <= 4; charge++) {
        double g = 0;

        ck_assert_int_eq(water_activity_coefficient_eval(charge, 0.05, 40, &g), ST_OK);
        ck_near(log(g), charge * charge * log(single), 1e-12);
    }
}
END_TEST

START_TEST(beyond_half_a_mole_of_ions_the_coefficient_stays)
{
    double at = 0;
    double beyond = 0;

    ck_assert_int_eq(water_activity_coefficient_eval(2, 0.5, 25, &at), ST_OK);
    ck_assert_int_eq(water_activity_coefficient_eval(2, 1, 25, &beyond), ST_OK);
    ck_assert(at == beyond);
}
END_TEST

START_TEST(a_learned_shift_grows_with_the_sugar_in_a_kg_of_water)
{
    double ph = 0;

    ck_assert_int_eq(acid_syrup_ph_eval(4.2, 0, -0.1, &ph), ST_OK);
    ck_near(ph, 4.2, 1e-15);
    /* 34.2297 g of sucrose in 100 g of water is 1 mol/kg */
    ck_assert_int_eq(acid_syrup_ph_eval(4.2, 100 * 34.2297 / 134.2297, -0.1, &ph), ST_OK);
    ck_near(ph, 4.1, 1e-12);
}
END_TEST

START_TEST(the_belief_about_the_shift_holds_nothing_and_both_signs)
{
    const struct span shift = acid_syrup_shift_prior();
    struct span ph;

    /* Below: 0.3 pH at 50 %, 2.92 mol/kg (Guggenheim and Wiseman 1950, continued), and 0.1 for the probe.
     * Above: a consultant's 10 mV at 20 %, 0.73 mol/kg, to 50 mV at 40 %, 1.95; both without data of syrup.
     */
    ck_near(shift.low, -(0.3 + 0.1) / 2.92, 0.005);
    ck_assert(shift.best == 0);
    ck_near(shift.high, 0.3, 1e-12);
    ck_assert(shift.high > 10 / 59.16 / 0.73 && shift.high < 50 / 59.16 / 1.95);
    for (int pct = 1; pct <= 70; pct++) {
        double low = 0;

        ck_assert_int_eq(acid_syrup_span_eval(4.2, pct, &ph), ST_OK);
        ck_assert_int_eq(acid_syrup_ph_eval(4.2, pct, shift.low, &low), ST_OK);
        ck_assert(ph.low < 4.2 && ph.best == 4.2 && ph.high > 4.2 && ph.low == low);
        ck_near(ph.high - 4.2, 0.3 * pct / (100 - pct) / 0.342297, 1e-12);
    }
}
END_TEST

START_TEST(arguments_outside_their_range_are_refused)
{
    const double bad[] = {(double)NAN, (double)INFINITY, -(double)INFINITY, -0.6, 100.01};
    struct span span = {UNTOUCHED, UNTOUCHED, UNTOUCHED};
    double out = UNTOUCHED;

    for (int i = 0; i < 5; i++) {
        ck_assert_int_eq(water_pkw_eval(bad[i], &out), ST_RANGE);
        ck_assert_int_eq(water_pk1_eval(bad[i], &out), ST_RANGE);
        ck_assert_int_eq(water_pk2_eval(bad[i], &out), ST_RANGE);
        ck_assert_int_eq(water_pkh_eval(bad[i], &out), ST_RANGE);
        ck_assert_int_eq(water_permittivity_eval(bad[i], &out), ST_RANGE);
        ck_assert_int_eq(water_debye_huckel_eval(bad[i], &out), ST_RANGE);
        ck_assert_int_eq(water_activity_coefficient_eval(1, bad[i], 25, &out), ST_RANGE);
        ck_assert_int_eq(water_activity_coefficient_eval(1, 0.1, bad[i], &out), ST_RANGE);
        ck_assert_int_eq(acid_syrup_ph_eval(bad[i], 50, 0, &out), ST_RANGE);
        ck_assert_int_eq(acid_syrup_ph_eval(4, bad[i], 0, &out), ST_RANGE);
        ck_assert_int_eq(acid_syrup_ph_eval(4, 50, bad[i], &out), ST_RANGE);
        ck_assert_int_eq(acid_syrup_span_eval(bad[i], 50, &span), ST_RANGE);
        ck_assert_int_eq(acid_syrup_span_eval(4, bad[i], &span), ST_RANGE);
    }
    ck_assert_int_eq(water_activity_coefficient_eval(5, 0.1, 25, &out), ST_RANGE);
    ck_assert_int_eq(water_activity_coefficient_eval(-5, 0.1, 25, &out), ST_RANGE);
    ck_assert(out == UNTOUCHED && span.low == UNTOUCHED && span.best == UNTOUCHED && span.high == UNTOUCHED);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("acid_water");
    TCase *all = tcase_create("all");

    tcase_add_test(all, constants_move_smoothly_and_stay_in_bounds_over_their_whole_range);
    tcase_add_test(all, the_activity_coefficient_is_1_in_pure_water_and_for_what_has_no_charge);
    tcase_add_test(all, its_logarithm_grows_with_the_square_of_the_charge);
    tcase_add_test(all, beyond_half_a_mole_of_ions_the_coefficient_stays);
    tcase_add_test(all, a_learned_shift_grows_with_the_sugar_in_a_kg_of_water);
    tcase_add_test(all, the_belief_about_the_shift_holds_nothing_and_both_signs);
    tcase_add_test(all, arguments_outside_their_range_are_refused);
    suite_add_tcase(suite, all);
    return suite;
}
