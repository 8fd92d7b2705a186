#include "random_input.h"
#include "science/uncertainty.h"
#include "support/support.h"

#include <math.h>

#define COUNT(array) (sizeof(array) / sizeof(array)[0])
#define UNTOUCHED (-77.125)

static const double BAD[] = {(double)NAN, INFINITY, -INFINITY, 1e300, -1e300};

static struct uncertainty_component plain(double u, double freedom)
{
    return (struct uncertainty_component){
        .shape = UNCERTAINTY_NORMAL, .value = u, .k = 1, .sensitivity = 1, .freedom = freedom};
}

static struct uncertainty_result combined(const struct uncertainty_component *components, size_t count)
{
    struct uncertainty_result result = {0};

    ck_assert_int_eq(uncertainty_combine_eval(components, count, NULL, 0, &result), ST_OK);
    return result;
}

/* ---- Student's t --------------------------------------------------------------------------- */

START_TEST(t_and_probability_are_each_others_inverse)
{
    uint64_t seed = 21;

    for (int i = 0; i < 300; i++) {
        double p = random_between(&seed, 10, 99.9), nu = pow(10, random_between(&seed, 0, 6)), t, back;

        ck_assert_int_eq(uncertainty_t_eval(p, nu, &t), ST_OK);
        ck_assert_int_eq(uncertainty_coverage_eval(t, nu, &back), ST_OK);
        ck_assert_double_eq_tol(back, p, 1e-9);
    }
}
END_TEST

/* Closed forms: 1 degree of freedom 2/pi atan t, 2: t/sqrt(2 + t^2), without limit erf(t/sqrt 2). */
START_TEST(one_two_and_very_many_degrees_of_freedom_have_closed_forms)
{
    for (double t = 0; t <= 30; t += 0.25) {
        double p;

        ck_assert_int_eq(uncertainty_coverage_eval(t, 1, &p), ST_OK);
        ck_assert_double_eq_tol(p, 200 / acos(-1) * atan(t), 1e-9);
        ck_assert_int_eq(uncertainty_coverage_eval(t, 2, &p), ST_OK);
        ck_assert_double_eq_tol(p, 100 * t / sqrt(2 + t * t), 1e-9);
        ck_assert_int_eq(uncertainty_coverage_eval(t, 1e6, &p), ST_OK);
        ck_assert_double_eq_tol(p, 100 * erf(t / sqrt(2)), 1e-4);
    }
}
END_TEST

/* Independent: Simpson's rule over the density, at degrees of freedom with no closed form. */
START_TEST(the_probability_is_the_area_under_the_density)
{
    static const double FREEDOM[] = {3.7, 16.7, 425};

    for (size_t f = 0; f < COUNT(FREEDOM); f++) {
        double nu = FREEDOM[f], sum = 0, p, front;

        front = exp(lgamma((nu + 1) / 2) - lgamma(nu / 2)) / sqrt(nu * acos(-1));
        for (int i = 0; i <= 2000; i++) {
            double x = i * 2.5 / 2000;

            sum += (i == 0 || i == 2000 ? 1 : i % 2 == 1 ? 4 : 2) * pow(1 + x * x / nu, -(nu + 1) / 2);
        }
        ck_assert_int_eq(uncertainty_coverage_eval(2.5, nu, &p), ST_OK);
        ck_assert_double_eq_tol(p, 200 * front * sum * 2.5 / 6000, 1e-8);
    }
}
END_TEST

START_TEST(t_falls_with_the_freedom_and_rises_with_the_probability)
{
    double t, last = 1000;

    for (double nu = 1; nu <= 1e6; nu *= 1.7) {
        ck_assert_int_eq(uncertainty_t_eval(95, nu, &t), ST_OK);
        ck_assert_double_lt(t, last);
        last = t;
    }
    last = 0;
    for (double p = 10; p <= 99.9; p += 0.5) {
        ck_assert_int_eq(uncertainty_t_eval(p, 5, &t), ST_OK);
        ck_assert_double_gt(t, last);
        last = t;
    }
}
END_TEST

/* ---- budgets --------------------------------------------------------------------------------- */

/* From memory: JCGM 100:2008 H.1, end gauge, in nm: standard 25 (18 degrees of freedom), difference 9.7
 * (25.6), expansion 2.9 (50), temperature difference 16.6 (2): u 32, 16 degrees of freedom, U99 93. */
START_TEST(the_end_gauge_of_the_gum_comes_out_as_printed)
{
    const struct uncertainty_component gauge[] = {plain(25, 18), plain(9.7, 25.6), plain(2.9, 50),
                                                  plain(16.6, 2)};
    struct uncertainty_result result = combined(gauge, COUNT(gauge));
    double t;

    ck_assert_double_eq_tol(result.standard_u, 32, 0.5);
    ck_assert_double_eq(floor(result.freedom), 16);
    ck_assert_int_eq(uncertainty_t_eval(99, floor(result.freedom), &t), ST_OK);
    ck_assert_double_eq_tol(t, 2.92, 0.005);
    ck_assert_double_eq_tol(t * 32, 93, 0.5); /* the guide multiplies with the rounded u */
}
END_TEST

/* Worked example: the shares of the refractometer's budget in % of the variance. */
START_TEST(the_refractometers_budget_has_the_shares_of_the_worked_example)
{
    static const double SHARES[] = {64.6, 16.2, 9.7, 5.0, 4.4};
    const struct uncertainty_strength inputs = {0.10, 0.05, 0.05, 5, 0.2, 0.03, 0.01};
    const struct uncertainty_component components[] = {
        {.shape = UNCERTAINTY_RECTANGULAR, .value = 0.10, .sensitivity = 1},
        {.shape = UNCERTAINTY_RECTANGULAR, .value = 0.05, .sensitivity = 1},
        {.shape = UNCERTAINTY_READINGS, .value = 0.05, .readings = 5, .sensitivity = 1},
        {.shape = UNCERTAINTY_NORMAL, .value = 0.2, .k = 1, .sensitivity = 0.08},
        {.shape = UNCERTAINTY_NORMAL, .value = 0.03, .k = 2, .sensitivity = 1},
    };
    struct uncertainty_result result;

    ck_assert_int_eq(uncertainty_strength_eval(&inputs, &result), ST_OK);
    for (size_t i = 0; i < COUNT(components); i++) {
        double u;

        ck_assert_int_eq(uncertainty_standard_eval(&components[i], &u), ST_OK);
        ck_assert_double_eq_tol(100 * u * u / result.standard_u / result.standard_u, SHARES[i], 0.06);
    }
    ck_assert(result.k > 2 && result.k < 2.01);
}
END_TEST

/* JCGM 100:2008 5.2.2, example: ten resistors of 1000 ohm, 0.1 ohm each, in series: 1 ohm when all were
 * compared with one standard, 0.32 ohm when independent. */
START_TEST(ten_resistors_in_series_are_worse_when_they_share_their_standard)
{
    struct uncertainty_component resistors[10];
    struct uncertainty_correlation correlations[45];
    struct uncertainty_result result;
    size_t pairs = 0;

    for (size_t i = 0; i < 10; i++) {
        resistors[i] = plain(0.1, 0);
        for (size_t j = 0; j < i; j++)
            correlations[pairs++] = (struct uncertainty_correlation){i, j, 1};
    }
    ck_assert_double_eq_tol(combined(resistors, 10).standard_u, 0.32, 0.005);
    ck_assert_int_eq(uncertainty_combine_eval(resistors, 10, correlations, pairs, &result), ST_OK);
    ck_assert_double_eq_tol(result.standard_u, 1, 1e-9);
}
END_TEST

START_TEST(inputs_that_cancel_leave_nothing)
{
    struct uncertainty_component two[] = {plain(0.3, 7), plain(0.3, 4)};
    const struct uncertainty_correlation correlation = {0, 1, 1};
    struct uncertainty_result result;

    two[1].sensitivity = -1;
    ck_assert_int_eq(uncertainty_combine_eval(two, 2, &correlation, 1, &result), ST_OK);
    ck_assert(result.standard_u == 0 && result.expanded_u == 0);
    ck_assert_double_eq(result.freedom, 4);
}
END_TEST

START_TEST(correlations_that_cannot_be_are_refused)
{
    const struct uncertainty_component three[] = {plain(1, 0), plain(1, 0), plain(1, 0)};
    const struct uncertainty_correlation impossible[] = {{0, 1, -1}, {1, 2, -1}, {0, 2, -1}};
    const struct uncertainty_correlation itself = {1, 1, 0.5}, missing = {0, 3, 0.5}, strong = {0, 1, 1.01};
    struct uncertainty_result result = {.k = UNTOUCHED};

    ck_assert_int_eq(uncertainty_combine_eval(three, 3, impossible, 3, &result), ST_RANGE);
    ck_assert_int_eq(uncertainty_combine_eval(three, 3, &itself, 1, &result), ST_RANGE);
    ck_assert_int_eq(uncertainty_combine_eval(three, 3, &missing, 1, &result), ST_RANGE);
    ck_assert_int_eq(uncertainty_combine_eval(three, 3, &strong, 1, &result), ST_RANGE);
    ck_assert_double_eq(result.k, UNTOUCHED);
}
END_TEST

START_TEST(the_effective_freedom_lies_between_the_smallest_and_the_sum)
{
    uint64_t seed = 22;

    for (int i = 0; i < 2000; i++) {
        struct uncertainty_component c[4];
        double smallest = 1e9, sum = 0;
        struct uncertainty_result result;

        for (int j = 0; j < 4; j++) {
            c[j] = plain(random_between(&seed, 1e-6, 1), random_between(&seed, 1, 50));
            smallest = fmin(smallest, c[j].freedom);
            sum += c[j].freedom;
        }
        result = combined(c, 4);
        ck_assert(result.freedom >= smallest - 1e-9 && result.freedom <= sum + 1e-9);
        ck_assert_double_eq_tol(result.expanded_u, result.k * result.standard_u, 1e-12);
        ck_assert(result.k >= 2);
    }
}
END_TEST

START_TEST(nothing_unknown_is_nothing_and_tiny_is_not_lost)
{
    const struct uncertainty_component none = plain(0, 0);
    const struct uncertainty_component tiny[] = {plain(1e-100, 4), plain(1e-100, 4)};

    ck_assert(combined(&none, 1).standard_u == 0);
    ck_assert_double_eq(combined(&none, 1).freedom, UNCERTAINTY_FREEDOM_MAX);
    ck_assert_double_eq_tol(combined(tiny, 2).freedom, 8, 1e-9);
}
END_TEST

/* ---- ready budgets ------------------------------------------------------------------------------- */

START_TEST(ph_is_known_best_at_7_and_each_input_only_adds)
{
    const struct uncertainty_ph at_7 = {0.02, 0.03, 0.03, 1, 7, 25}, at_4 = {0.02, 0.03, 0.03, 1, 4, 25};
    struct uncertainty_result best, worse;

    ck_assert_int_eq(uncertainty_ph_eval(&at_7, &best), ST_OK);
    ck_assert_int_eq(uncertainty_ph_eval(&at_4, &worse), ST_OK);
    ck_assert_double_lt(best.standard_u, worse.standard_u);
    ck_assert_double_eq_tol(best.standard_u, sqrt(2 * 0.01 * 0.01 + 2 * 0.03 * 0.03 / 3), 1e-12);
}
END_TEST

START_TEST(a_volume_is_mass_through_density_at_every_edge)
{
    static const double STRENGTHS[] = {0, 40, 85}, TEMPS[] = {0, 50, 100};

    for (size_t s = 0; s < 3; s++)
        for (size_t t = 0; t < 3; t++) {
            const struct uncertainty_volume in = {100, 0, STRENGTHS[s], 0.2, TEMPS[t], 1};
            struct uncertainty_result result;
            double volume_l;

            ck_assert_int_eq(uncertainty_volume_eval(&in, &volume_l, &result), ST_OK);
            ck_assert(volume_l > 65 && volume_l < 105);
            ck_assert(result.standard_u > 0.03 && result.standard_u < 0.5);
        }
}
END_TEST

START_TEST(a_mass_is_known_no_better_than_its_repeatability_in_one_run)
{
    const struct uncertainty_mass few = {100, 0, 0.5, 3, 0, 0}, many = {100, 0, 0.5, 1000, 0, 0};
    struct uncertainty_result result;

    ck_assert_int_eq(uncertainty_mass_eval(&many, &result), ST_OK);
    ck_assert_double_eq_tol(result.standard_u, 0.5, 0.001);
    ck_assert_int_eq(uncertainty_mass_eval(&few, &result), ST_OK);
    ck_assert_double_eq_tol(result.standard_u, 0.5 * sqrt(4.0 / 3), 1e-9);
    ck_assert_double_eq_tol(result.freedom, 2, 1e-9);
}
END_TEST

/* ---- ranges --------------------------------------------------------------------------------------- */

START_TEST(a_bad_component_is_refused_alone_and_in_a_budget)
{
    for (size_t i = 0; i < COUNT(BAD); i++) {
        const struct uncertainty_component bad[] = {
            {UNCERTAINTY_NORMAL, BAD[i], 2, 0, 1, 0},     {UNCERTAINTY_NORMAL, 1, BAD[i], 0, 1, 0},
            {UNCERTAINTY_READINGS, 1, 0, BAD[i], 1, 0},   {UNCERTAINTY_RECTANGULAR, 1, 0, 0, BAD[i], 0},
            {UNCERTAINTY_TRIANGULAR, 1, 0, 0, 1, BAD[i]}, {UNCERTAINTY_SHAPE_COUNT, 1, 2, 5, 1, 0},
        };

        for (size_t b = 0; b < COUNT(bad); b++) {
            const struct uncertainty_component both[] = {plain(1, 0), bad[b]};
            struct uncertainty_result result = {.k = UNTOUCHED};
            double u = UNTOUCHED;

            ck_assert_int_eq(uncertainty_standard_eval(&bad[b], &u), ST_RANGE);
            ck_assert_int_eq(uncertainty_combine_eval(both, 2, NULL, 0, &result), ST_RANGE);
            ck_assert(u == UNTOUCHED && result.k == UNTOUCHED);
        }
    }
}
END_TEST

START_TEST(budgets_of_nothing_or_too_much_are_refused)
{
    struct uncertainty_component many[UNCERTAINTY_COMPONENTS_MAX + 1];
    struct uncertainty_result result;

    for (size_t i = 0; i < COUNT(many); i++)
        many[i] = plain(1, 0);
    ck_assert_int_eq(uncertainty_combine_eval(many, 0, NULL, 0, &result), ST_RANGE);
    ck_assert_int_eq(uncertainty_combine_eval(many, COUNT(many), NULL, 0, &result), ST_RANGE);
    ck_assert_double_eq_tol(combined(many, UNCERTAINTY_COMPONENTS_MAX).standard_u, 4, 1e-12);
}
END_TEST

START_TEST(bad_numbers_in_a_ready_budget_are_refused_at_every_place)
{
    for (size_t i = 0; i < COUNT(BAD); i++)
        for (size_t at = 0; at < 7; at++) {
            double v[7] = {0.1, 0.1, 0.1, 5, 0.1, 0.1, 0.01};
            struct uncertainty_result result = {.k = UNTOUCHED};
            double volume = UNTOUCHED;

            v[at] = BAD[i];
            const struct uncertainty_strength strength = {v[0], v[1], v[2], v[3], v[4], v[5], v[6]};
            const struct uncertainty_ph ph = {v[0], v[1], v[2], v[3], v[4], v[5]};
            const struct uncertainty_mass mass = {v[0], v[1], v[2], v[3], v[4], v[5]};
            const struct uncertainty_volume cube = {v[0], v[1], v[2], v[3], v[4], v[5]};

            ck_assert_int_eq(uncertainty_strength_eval(&strength, &result), ST_RANGE);
            if (at < 6) {
                ck_assert_int_eq(uncertainty_ph_eval(&ph, &result), ST_RANGE);
                ck_assert_int_eq(uncertainty_mass_eval(&mass, &result), ST_RANGE);
                ck_assert_int_eq(uncertainty_volume_eval(&cube, &volume, &result), ST_RANGE);
            }
            ck_assert(result.k == UNTOUCHED && volume == UNTOUCHED);
        }
}
END_TEST

START_TEST(t_refuses_what_is_outside_its_range)
{
    double out = UNTOUCHED;

    for (size_t i = 0; i < COUNT(BAD); i++) {
        ck_assert_int_eq(uncertainty_t_eval(BAD[i], 5, &out), ST_RANGE);
        ck_assert_int_eq(uncertainty_t_eval(95, BAD[i], &out), ST_RANGE);
        ck_assert_int_eq(uncertainty_coverage_eval(BAD[i], 5, &out), ST_RANGE);
        ck_assert_int_eq(uncertainty_coverage_eval(2, BAD[i], &out), ST_RANGE);
    }
    ck_assert_int_eq(uncertainty_t_eval(95, 0.999, &out), ST_RANGE);
    ck_assert_int_eq(uncertainty_t_eval(99.91, 5, &out), ST_RANGE);
    ck_assert_double_eq(out, UNTOUCHED);
    ck_assert_ptr_null(uncertainty_shape_name(UNCERTAINTY_SHAPE_COUNT));
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("uncertainty");
    TCase *all = tcase_create("all");

    tcase_add_test(all, t_and_probability_are_each_others_inverse);
    tcase_add_test(all, one_two_and_very_many_degrees_of_freedom_have_closed_forms);
    tcase_add_test(all, the_probability_is_the_area_under_the_density);
    tcase_add_test(all, t_falls_with_the_freedom_and_rises_with_the_probability);
    tcase_add_test(all, the_end_gauge_of_the_gum_comes_out_as_printed);
    tcase_add_test(all, the_refractometers_budget_has_the_shares_of_the_worked_example);
    tcase_add_test(all, ten_resistors_in_series_are_worse_when_they_share_their_standard);
    tcase_add_test(all, inputs_that_cancel_leave_nothing);
    tcase_add_test(all, correlations_that_cannot_be_are_refused);
    tcase_add_test(all, the_effective_freedom_lies_between_the_smallest_and_the_sum);
    tcase_add_test(all, nothing_unknown_is_nothing_and_tiny_is_not_lost);
    tcase_add_test(all, ph_is_known_best_at_7_and_each_input_only_adds);
    tcase_add_test(all, a_volume_is_mass_through_density_at_every_edge);
    tcase_add_test(all, a_mass_is_known_no_better_than_its_repeatability_in_one_run);
    tcase_add_test(all, a_bad_component_is_refused_alone_and_in_a_budget);
    tcase_add_test(all, budgets_of_nothing_or_too_much_are_refused);
    tcase_add_test(all, bad_numbers_in_a_ready_budget_are_refused_at_every_place);
    tcase_add_test(all, t_refuses_what_is_outside_its_range);
    suite_add_tcase(suite, all);
    return suite;
}
