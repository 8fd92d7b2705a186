#include "science/buffer.h"
#include "support/support.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#define UNTOUCHED (-77.125)

static double ph_at(enum buffer buffer, double temp_c)
{
    double ph = UNTOUCHED;

    ck_assert_msg(buffer_ph_eval(buffer, temp_c, &ph) == ST_OK, "%s at %g", buffer_name(buffer), temp_c);
    return ph;
}

START_TEST(every_buffer_has_a_name_of_its_own_and_a_range_that_is_kept)
{
    for (int i = 0; i < BUFFER_COUNT; i++) {
        enum buffer b = (enum buffer)i;
        double low, high, out = UNTOUCHED;

        ck_assert(strlen(buffer_name(b)) > 0);
        for (int other = 0; other < i; other++)
            ck_assert_str_ne(buffer_name(b), buffer_name((enum buffer)other));
        ck_assert_int_eq(buffer_range_eval(b, &low, &high), ST_OK);
        ck_assert(ph_at(b, low) > 1.6 && ph_at(b, high) > 1.6);
        ck_assert_int_eq(buffer_ph_eval(b, low - 1e-6, &out), ST_RANGE);
        ck_assert_int_eq(buffer_ph_eval(b, high + 1e-6, &out), ST_RANGE);
        ck_assert_int_eq(buffer_change_eval(b, high + 1e-6, &out), ST_RANGE);
        ck_assert_int_eq(buffer_uncertainty_eval(b, low - 1e-6, &out), ST_RANGE);
        ck_assert_double_eq(out, UNTOUCHED);
    }
}
END_TEST

START_TEST(what_is_no_buffer_or_no_temperature_is_refused)
{
    const double bad[] = {(double)NAN, INFINITY, -INFINITY, 1e300};
    double low = UNTOUCHED, out = UNTOUCHED;

    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        ck_assert_int_eq(buffer_ph_eval(BUFFER_PHOSPHATE, bad[i], &out), ST_RANGE);
        ck_assert_int_eq(buffer_change_eval(BUFFER_PHOSPHATE, bad[i], &out), ST_RANGE);
        ck_assert_int_eq(buffer_uncertainty_eval(BUFFER_PHOSPHATE, bad[i], &out), ST_RANGE);
    }
    ck_assert_int_eq(buffer_ph_eval(BUFFER_COUNT, 25, &out), ST_RANGE);
    ck_assert_int_eq(buffer_change_eval(BUFFER_COUNT, 25, &out), ST_RANGE);
    ck_assert_int_eq(buffer_uncertainty_eval(BUFFER_COUNT, 25, &out), ST_RANGE);
    ck_assert_int_eq(buffer_range_eval((enum buffer)(-1), &low, &out), ST_RANGE);
    ck_assert(low == UNTOUCHED && out == UNTOUCHED);
    ck_assert_ptr_null(buffer_name(BUFFER_COUNT));
    ck_assert_ptr_null(buffer_name((enum buffer)(-1)));
}
END_TEST

START_TEST(the_curve_and_its_slope_have_no_jumps)
{
    for (int i = 0; i < BUFFER_COUNT; i++) {
        enum buffer b = (enum buffer)i;
        double low, high;

        ck_assert_int_eq(buffer_range_eval(b, &low, &high), ST_OK);
        for (double t = low; t + 0.01 <= high; t += 0.01) {
            double a, c;

            ck_assert_int_eq(buffer_change_eval(b, t, &a), ST_OK);
            ck_assert_int_eq(buffer_change_eval(b, t + 0.01, &c), ST_OK);
            ck_assert_msg(fabs(ph_at(b, t + 0.01) - ph_at(b, t)) < 5e-4, "%s at %g", buffer_name(b), t);
            ck_assert_msg(fabs(c - a) < 5e-5, "%s: slope jumps by %g at %g", buffer_name(b), c - a, t);
            ck_assert_double_eq_tol((ph_at(b, t + 0.01) - ph_at(b, t)) / 0.01, (a + c) / 2, 1e-6);
        }
    }
}
END_TEST

/* Chemistry: borate, carbonate and calcium hydroxide lose pH all the way, tetroxalate only gains. */
START_TEST(alkaline_buffers_fall_and_tetroxalate_rises_over_the_whole_range)
{
    static const struct {
        enum buffer buffer;
        double sign;
    } ROWS[] = {{BUFFER_BORATE, -1}, {BUFFER_CARBONATE, -1}, {BUFFER_HYDROXIDE, -1}, {BUFFER_TETROXALATE, 1}};

    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        double low, high;

        ck_assert_int_eq(buffer_range_eval(ROWS[i].buffer, &low, &high), ST_OK);
        for (double t = low; t <= high; t += 0.25) {
            double change;

            ck_assert_int_eq(buffer_change_eval(ROWS[i].buffer, t, &change), ST_OK);
            ck_assert_msg(change * ROWS[i].sign > 0, "%s at %g", buffer_name(ROWS[i].buffer), t);
        }
    }
}
END_TEST

/* The manual's two decimals would make a plain curve turn between them: 7.00 would rise at 32 degC. */
START_TEST(technical_buffers_never_turn_and_keep_to_the_two_decimals_of_the_manual)
{
    static const struct {
        enum buffer buffer;
        double sign;
        double manual[11]; /* 0 to 50 degC */
    } ROWS[] = {
        {BUFFER_TECHNICAL_4, 1, {4.00, 4.00, 4.00, 4.00, 4.00, 4.00, 4.01, 4.02, 4.03, 4.04, 4.06}},
        {BUFFER_TECHNICAL_7, -1, {7.12, 7.09, 7.06, 7.04, 7.02, 7.00, 6.99, 6.99, 6.98, 6.98, 6.97}},
        {BUFFER_TECHNICAL_10, -1, {10.32, 10.25, 10.18, 10.12, 10.06, 10.01, 9.97, 9.93, 9.89, 9.86, 9.83}},
    };

    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        for (int n = 0; n <= 10; n++)
            ck_assert_double_eq_tol(ph_at(ROWS[i].buffer, 5 * n), ROWS[i].manual[n], 0.005);
        ck_assert_double_eq_tol(ph_at(ROWS[i].buffer, 25), ROWS[i].manual[5], 1e-12);
        for (int t = 0; t <= 1000; t++) {
            double change;

            ck_assert_int_eq(buffer_change_eval(ROWS[i].buffer, t * 0.05, &change), ST_OK);
            ck_assert_msg(change * ROWS[i].sign > 0, "%s turns at %g", buffer_name(ROWS[i].buffer), t * 0.05);
        }
    }
}
END_TEST

/* European Pharmacopoeia 5.0, 2.2.3, at 25 degC; and the names of the technical ones. */
START_TEST(a_buffers_name_in_the_header_goes_with_the_ph_on_its_label)
{
    static const struct {
        const char *name;
        double label;
    } ROWS[] = {{"tetroxalate", 1.68},    {"tartrate", 3.56},       {"citrate", 3.78},
                {"phthalate", 4.01},      {"phosphate-1:1", 6.86},  {"phosphate-1:3.5", 7.41},
                {"borate", 9.18},         {"carbonate", 10.01},     {"calcium-hydroxide", 12.45},
                {"technical-4.00", 4.00}, {"technical-7.00", 7.00}, {"technical-10.01", 10.01}};

    for (int i = 0; i < BUFFER_COUNT; i++) {
        ck_assert_str_eq(buffer_name((enum buffer)i), ROWS[i].name);
        ck_assert_double_eq_tol(ph_at((enum buffer)i, 25), ROWS[i].label, 0.0051);
    }
}
END_TEST

START_TEST(the_686_and_the_700_buffer_are_two_different_buffers)
{
    for (double t = 0; t <= 50; t += 1) {
        double apart = ph_at(BUFFER_TECHNICAL_7, t) - ph_at(BUFFER_PHOSPHATE, t);

        ck_assert_msg(apart > 0.13 && apart < 0.15, "%g apart at %g degC", apart, t);
    }
}
END_TEST

/* Hetzer et al. (1977), 0-60 degC; the entries are this equation every 5 K. */
START_TEST(phthalate_follows_the_equation_of_1977)
{
    for (double t = 0; t <= 60; t += 0.5) {
        double k = t + 273.15;

        ck_assert_double_eq_tol(ph_at(BUFFER_PHTHALATE, t),
                                2073.44 / k - 13.3270 + 0.045199 * k - 3.4846e-5 * k * k, 5e-4);
    }
}
END_TEST

START_TEST(the_uncertainty_is_larger_when_hot_and_for_technical_buffers)
{
    double u;

    ck_assert_int_eq(buffer_uncertainty_eval(BUFFER_PHTHALATE, 60, &u), ST_OK);
    ck_assert_double_eq(u, 0.01);
    ck_assert_int_eq(buffer_uncertainty_eval(BUFFER_PHTHALATE, 60.1, &u), ST_OK);
    ck_assert_double_eq(u, 0.02);
    ck_assert_int_eq(buffer_uncertainty_eval(BUFFER_TECHNICAL_4, 25, &u), ST_OK);
    ck_assert_double_eq(u, 0.02);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("buffer");
    TCase *all = tcase_create("all");

    tcase_add_test(all, every_buffer_has_a_name_of_its_own_and_a_range_that_is_kept);
    tcase_add_test(all, what_is_no_buffer_or_no_temperature_is_refused);
    tcase_add_test(all, the_curve_and_its_slope_have_no_jumps);
    tcase_add_test(all, alkaline_buffers_fall_and_tetroxalate_rises_over_the_whole_range);
    tcase_add_test(all, technical_buffers_never_turn_and_keep_to_the_two_decimals_of_the_manual);
    tcase_add_test(all, a_buffers_name_in_the_header_goes_with_the_ph_on_its_label);
    tcase_add_test(all, the_686_and_the_700_buffer_are_two_different_buffers);
    tcase_add_test(all, phthalate_follows_the_equation_of_1977);
    tcase_add_test(all, the_uncertainty_is_larger_when_hot_and_for_technical_buffers);
    suite_add_tcase(suite, all);
    return suite;
}
