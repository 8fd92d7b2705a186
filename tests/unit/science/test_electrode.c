#include "random_input.h"
#include "science/electrode.h"
#include "support/support.h"

#include <math.h>

static const double BAD[] = {(double)NAN, INFINITY, -INFINITY, 1e300, -1e300};
#define BAD_COUNT (sizeof BAD / sizeof BAD[0])
#define UNTOUCHED (-77.125)

static const struct electrode IDEAL = {1, 0, 7, 25};

START_TEST(the_slope_grows_with_the_absolute_temperature)
{
    double cold, hot, last = 0;

    ck_assert_int_eq(electrode_slope_eval(0, &cold), ST_OK);
    ck_assert_int_eq(electrode_slope_eval(100, &hot), ST_OK);
    ck_assert_double_eq_tol(hot / cold, 373.15 / 273.15, 1e-12);
    for (double t = 0; t <= 100; t += 5) {
        double slope;

        ck_assert_int_eq(electrode_slope_eval(t, &slope), ST_OK);
        ck_assert_double_gt(slope, last);
        last = slope;
    }
}
END_TEST

START_TEST(millivolts_come_back_as_the_ph_they_were_made_from)
{
    uint64_t seed = 11;

    for (int i = 0; i < 20000; i++) {
        const struct electrode e = {random_between(&seed, 0.5, 1.2), random_between(&seed, -200, 200),
                                    random_between(&seed, 5, 9), random_between(&seed, 0, 100)};
        double ph = random_between(&seed, -1.999, 15.999), t = random_between(&seed, 0, 100), emf, back;

        ck_assert_int_eq(electrode_emf_eval(&e, ph, t, &emf), ST_OK);
        ck_assert_int_eq(electrode_ph_eval(&e, emf, t, &back), ST_OK);
        ck_assert_double_eq_tol(back, ph, 1e-9);
    }
}
END_TEST

START_TEST(the_offset_is_read_at_ph_7_and_the_temperature_of_the_calibration)
{
    const struct electrode e = {0.93, -14, 6.2, 40};
    double emf;

    ck_assert_int_eq(electrode_emf_eval(&e, 7, 40, &emf), ST_OK);
    ck_assert_double_eq_tol(emf, -14, 1e-12);
}
END_TEST

START_TEST(at_the_isopotential_ph_temperature_changes_nothing)
{
    const struct electrode e = {0.98, 5, 6.5, 25};
    double cold, hot;

    ck_assert_int_eq(electrode_emf_eval(&e, 6.5, 10, &cold), ST_OK);
    ck_assert_int_eq(electrode_emf_eval(&e, 6.5, 80, &hot), ST_OK);
    ck_assert_double_eq_tol(cold, hot, 1e-9);
}
END_TEST

START_TEST(two_points_give_back_the_electrode_they_were_taken_with)
{
    uint64_t seed = 12;

    for (int i = 0; i < 2000; i++) {
        const struct electrode e = {random_between(&seed, 0.5, 1.2), random_between(&seed, -200, 200), 7, 25};
        double t = random_between(&seed, 0, 100), slope;
        struct electrode_point points[2] = {{4.01, 0}, {random_between(&seed, 5.1, 10), 0}};
        struct electrode_line line;

        for (int p = 0; p < 2; p++)
            ck_assert_int_eq(electrode_emf_eval(&e, points[p].ph, t, &points[p].emf_mv), ST_OK);
        ck_assert_int_eq(electrode_line_eval(points, 2, &line), ST_OK);
        ck_assert_int_eq(electrode_efficiency_eval(line.slope_mv, t, &slope), ST_OK);
        ck_assert_double_eq_tol(slope, e.slope, 1e-9);
        ck_assert_double_eq_tol(line.offset_mv, e.offset_mv, 1e-9);
        ck_assert(line.residual_mv[0] == 0 && line.residual_mv[1] == 0 && line.deviation_mv == 0);
    }
}
END_TEST

START_TEST(least_squares_leave_residuals_that_sum_to_zero_and_do_not_lean)
{
    const struct electrode_point points[] = {
        {1.68, 308}, {4.01, 179}, {6.86, 6}, {9.18, -131}, {10.01, -173}};
    struct electrode_line line;
    double sum = 0, lean = 0, squares = 0;

    ck_assert_int_eq(electrode_line_eval(points, 5, &line), ST_OK);
    for (int i = 0; i < 5; i++) {
        sum += line.residual_mv[i];
        lean += line.residual_mv[i] * points[i].ph;
        squares += line.residual_mv[i] * line.residual_mv[i];
    }
    ck_assert_double_eq_tol(sum, 0, 1e-9);
    ck_assert_double_eq_tol(lean, 0, 1e-8);
    ck_assert_double_eq_tol(line.deviation_mv, sqrt(squares / 3), 1e-12);
}
END_TEST

START_TEST(exchanged_buffers_show_as_a_negative_slope)
{
    const struct electrode_point points[] = {{7, 177}, {4, 0}};
    struct electrode_line line;

    ck_assert_int_eq(electrode_line_eval(points, 2, &line), ST_OK);
    ck_assert_double_lt(line.slope_mv, -58);
}
END_TEST

START_TEST(points_too_close_too_few_or_too_many_are_refused)
{
    const struct electrode_point points[ELECTRODE_POINTS_MAX + 1] = {{6.86, 0}, {7.00, -8}, {7.1, -9},
                                                                     {7.2, -1}, {7.3, 0},   {10, -170}};
    struct electrode_line line = {.slope_mv = UNTOUCHED};

    ck_assert_int_eq(electrode_line_eval(points, 2, &line), ST_RANGE);
    ck_assert_int_eq(electrode_line_eval(points, 1, &line), ST_RANGE);
    ck_assert_int_eq(electrode_line_eval(points, 0, &line), ST_RANGE);
    ck_assert_int_eq(electrode_line_eval(points, ELECTRODE_POINTS_MAX + 1, &line), ST_RANGE);
    for (size_t i = 0; i < BAD_COUNT; i++) {
        const struct electrode_point bad_ph[] = {{4, 177}, {BAD[i], 0}};
        const struct electrode_point bad_emf[] = {{4, BAD[i]}, {7, 0}};

        ck_assert_int_eq(electrode_line_eval(bad_ph, 2, &line), ST_RANGE);
        ck_assert_int_eq(electrode_line_eval(bad_emf, 2, &line), ST_RANGE);
    }
    ck_assert_double_eq(line.slope_mv, UNTOUCHED);
}
END_TEST

/* The stated errors are what the two readings differ by. */
START_TEST(the_errors_are_those_of_an_electrode_read_with_wrong_settings)
{
    const struct electrode shifted = {1, 0, 7.5, 25};
    double emf, read, error;

    ck_assert_int_eq(electrode_emf_eval(&IDEAL, 4, 60, &emf), ST_OK);
    ck_assert_int_eq(electrode_ph_eval(&IDEAL, emf, 25, &read), ST_OK);
    ck_assert_int_eq(electrode_temperature_error_eval(4, 60, 25, 7, &error), ST_OK);
    ck_assert_double_eq_tol(read - 4, error, 1e-9);
    ck_assert_int_eq(electrode_ph_eval(&shifted, emf, 60, &read), ST_OK);
    ck_assert_int_eq(electrode_iso_error_eval(0.5, 25, 60, &error), ST_OK);
    ck_assert_double_eq_tol(read - 4, error, 1e-9);
}
END_TEST

/* Our derivation: smallest between the buffers, growing outside; at a buffer only that buffer counts. */
START_TEST(the_uncertainty_is_smallest_between_the_buffers)
{
    const struct electrode_doubt doubt = {4, 7, 0.01, 0.02, 0.3, 0};
    double at_first, middle, far, k, emf;

    ck_assert_int_eq(electrode_slope_eval(25, &k), ST_OK);
    emf = 0.3 / k;
    ck_assert_int_eq(electrode_uncertainty_eval(&doubt, 4, 25, &at_first), ST_OK);
    ck_assert_double_eq_tol(at_first, sqrt(0.0001 + 2 * emf * emf), 1e-12);
    ck_assert_int_eq(electrode_uncertainty_eval(&doubt, 5, 25, &middle), ST_OK);
    ck_assert_int_eq(electrode_uncertainty_eval(&doubt, 10, 25, &far), ST_OK);
    ck_assert(middle < at_first && far > 2 * middle);
}
END_TEST

static void refuse(enum status status, double out)
{
    ck_assert_int_eq(status, ST_RANGE);
    ck_assert_double_eq(out, UNTOUCHED);
}

START_TEST(what_is_no_number_or_out_of_range_is_refused_everywhere)
{
    for (size_t i = 0; i < BAD_COUNT; i++) {
        double out = UNTOUCHED, bad = BAD[i];
        const struct electrode electrodes[] = {
            {bad, 0, 7, 25}, {1, bad, 7, 25}, {1, 0, bad, 25}, {1, 0, 7, bad}};
        const struct electrode_doubt doubts[] = {{bad, 7, 0, 0, 0, 0}, {4, bad, 0, 0, 0, 0},
                                                 {4, 7, bad, 0, 0, 0}, {4, 7, 0, bad, 0, 0},
                                                 {4, 7, 0, 0, bad, 0}, {4, 7, 0, 0, 0, bad}};

        for (size_t e = 0; e < sizeof electrodes / sizeof electrodes[0]; e++) {
            refuse(electrode_ph_eval(&electrodes[e], 0, 25, &out), out);
            refuse(electrode_emf_eval(&electrodes[e], 7, 25, &out), out);
        }
        for (size_t d = 0; d < sizeof doubts / sizeof doubts[0]; d++)
            refuse(electrode_uncertainty_eval(&doubts[d], 5, 25, &out), out);
        refuse(electrode_slope_eval(bad, &out), out);
        refuse(electrode_efficiency_eval(bad, 25, &out), out);
        refuse(electrode_efficiency_eval(59, bad, &out), out);
        refuse(electrode_ph_eval(&IDEAL, bad, 25, &out), out);
        refuse(electrode_ph_eval(&IDEAL, 0, bad, &out), out);
        refuse(electrode_emf_eval(&IDEAL, bad, 25, &out), out);
        refuse(electrode_emf_eval(&IDEAL, 7, bad, &out), out);
    }
}
END_TEST

START_TEST(a_potential_far_outside_the_scale_is_no_ph)
{
    double out = UNTOUCHED;
    const struct electrode_doubt close = {6.86, 7.00, 0.01, 0.01, 0.3, 0};

    refuse(electrode_ph_eval(&IDEAL, 600, 25, &out), out);
    refuse(electrode_ph_eval(&IDEAL, -600, 25, &out), out);
    refuse(electrode_slope_eval(-0.001, &out), out);
    refuse(electrode_slope_eval(100.001, &out), out);
    refuse(electrode_uncertainty_eval(&close, 6.9, 25, &out), out);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("electrode");
    TCase *all = tcase_create("all");

    tcase_add_test(all, the_slope_grows_with_the_absolute_temperature);
    tcase_add_test(all, millivolts_come_back_as_the_ph_they_were_made_from);
    tcase_add_test(all, the_offset_is_read_at_ph_7_and_the_temperature_of_the_calibration);
    tcase_add_test(all, at_the_isopotential_ph_temperature_changes_nothing);
    tcase_add_test(all, two_points_give_back_the_electrode_they_were_taken_with);
    tcase_add_test(all, least_squares_leave_residuals_that_sum_to_zero_and_do_not_lean);
    tcase_add_test(all, exchanged_buffers_show_as_a_negative_slope);
    tcase_add_test(all, points_too_close_too_few_or_too_many_are_refused);
    tcase_add_test(all, the_errors_are_those_of_an_electrode_read_with_wrong_settings);
    tcase_add_test(all, the_uncertainty_is_smallest_between_the_buffers);
    tcase_add_test(all, what_is_no_number_or_out_of_range_is_refused_everywhere);
    tcase_add_test(all, a_potential_far_outside_the_scale_is_no_ph);
    suite_add_tcase(suite, all);
    return suite;
}
