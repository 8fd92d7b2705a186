#include "random_input.h"
#include "science/chart.h"
#include "support/support.h"

#include <math.h>

#define COUNT(array) (sizeof(array) / sizeof(array)[0])
#define UNTOUCHED (-77.125)
#define GRID 1601

static const double BAD[] = {(double)NAN, INFINITY, -INFINITY, 1e300, -1e300};

static struct chart_constants constants(size_t n)
{
    struct chart_constants c = {0};

    ck_assert_int_eq(chart_constants_eval(n, &c), ST_OK);
    return c;
}

static double below(double x)
{
    return erfc(-x / sqrt(2)) / 2;
}

/* d2 is the integral of 1 - P(all below x) - P(all above x): integrated here, tabled there. */
START_TEST(d2_is_the_mean_range_of_a_normal_sample)
{
    for (size_t n = CHART_SAMPLE_MIN; n <= CHART_SAMPLE_MAX; n++) {
        double sum = 0;

        for (int i = 0; i < GRID; i++) {
            double x = -8 + i * 0.01;

            sum += 0.01 * (1 - pow(below(x), (double)n) - pow(below(-x), (double)n));
        }
        ck_assert_double_eq_tol(constants(n).d2, sum, 1e-6);
    }
}
END_TEST

/* The mean square of the range over pairs x < y, by sums; two steps cancel the error at the diagonal. */
static double range_deviation(size_t n, double step)
{
    double sum = 0, d2 = constants(n).d2;

    for (double x = -7; x < 7; x += step)
        for (double y = x; y < 7; y += step) {
            double f = 1 - pow(below(y), (double)n) - pow(below(-x), (double)n) +
                       pow(below(y) - below(x), (double)n);

            sum += (y > x ? 2 : 1) * f * step * step;
        }
    return sqrt(sum - d2 * d2);
}

START_TEST(d3_is_the_deviation_of_the_range)
{
    static const size_t SIZES[] = {2, 3, 5, 10, 25};

    for (size_t i = 0; i < COUNT(SIZES); i++) {
        double fine = range_deviation(SIZES[i], 0.05), coarse = range_deviation(SIZES[i], 0.1);

        ck_assert_double_eq_tol(constants(SIZES[i]).d3, (4 * fine - coarse) / 3, 2e-5);
    }
}
END_TEST

START_TEST(c4_is_the_quotient_of_gamma_functions)
{
    for (size_t n = CHART_SAMPLE_MIN; n <= CHART_SAMPLE_MAX; n++) {
        double m = (double)n;

        ck_assert_double_eq_tol(constants(n).c4, sqrt(2 / (m - 1)) * tgamma(m / 2) / tgamma((m - 1) / 2),
                                1e-6);
    }
}
END_TEST

START_TEST(constants_tighten_with_the_size_of_the_sample)
{
    for (size_t n = CHART_SAMPLE_MIN + 1; n <= CHART_SAMPLE_MAX; n++) {
        struct chart_constants a = constants(n - 1), b = constants(n);

        ck_assert(b.d2 > a.d2 && b.c4 > a.c4 && b.a2 < a.a2 && b.a3 < a.a3 && b.e2 < a.e2);
        ck_assert(b.b3 >= a.b3 && b.b4 < a.b4 && b.d3_low >= a.d3_low && b.d4_high < a.d4_high);
    }
}
END_TEST

START_TEST(limits_come_from_the_mean_moving_range)
{
    struct chart_limits limits;

    /* 60.0, 60.2, 59.9, 60.1, 60.3: ranges 0.2, 0.3, 0.2, 0.2 */
    ck_assert_int_eq(chart_limits_eval(60.1, 0.225, &limits), ST_OK);
    ck_assert_double_eq_tol(limits.centre, 60.1, 1e-9);
    ck_assert_double_eq_tol(limits.range_mean, 0.225, 1e-9);
    ck_assert_double_eq_tol(limits.upper, 60.1 + 2.660 * 0.225, 1e-9);
    ck_assert_double_eq_tol(limits.lower, 60.1 - 2.660 * 0.225, 1e-9);
    ck_assert_double_eq_tol(limits.range_upper, 3.267 * 0.225, 1e-9);
    ck_assert_double_eq_tol(limits.sigma, 0.225 / 1.128, 1e-9);
}
END_TEST

static enum chart_rule rule_of(const double *values, size_t count)
{
    enum chart_rule rule = CHART_RULE_COUNT;

    ck_assert_int_eq(chart_rule_eval(values, count, 0, 1, &rule), ST_OK);
    return rule;
}

START_TEST(each_rule_is_found_and_one_point_less_is_not)
{
    const double out[] = {0, 0, -3.01}, on_the_line[] = {0, 0, 3};
    const double two[] = {2.1, 0, 2.1}, two_sides[] = {2.1, 0, -2.1};
    const double four[] = {1.1, 1.1, -0.5, 1.1, 1.1}, three[] = {1.1, 1.1, -0.5, 0.9, 1.1};
    const double eight[] = {.1, .1, .2, .1, .3, .1, .1, .1}, seven[] = {-.1, .1, .2, .1, .3, .1, .1, .1};

    ck_assert_int_eq(rule_of(out, 3), CHART_BEYOND_3);
    ck_assert_int_eq(rule_of(on_the_line, 3), CHART_QUIET);
    ck_assert_int_eq(rule_of(two, 3), CHART_TWO_OF_THREE);
    ck_assert_int_eq(rule_of(two_sides, 3), CHART_QUIET);
    ck_assert_int_eq(rule_of(four, 5), CHART_FOUR_OF_FIVE);
    ck_assert_int_eq(rule_of(three, 5), CHART_QUIET);
    ck_assert_int_eq(rule_of(eight, 8), CHART_EIGHT_IN_A_ROW);
    ck_assert_int_eq(rule_of(seven, 8), CHART_QUIET);
    ck_assert_int_eq(rule_of(eight, 7), CHART_QUIET); /* too few points is no alarm */
}
END_TEST

START_TEST(only_the_last_points_count_and_the_sides_are_alike)
{
    const double old[] = {-9, 9, 0.1, -0.1, 0.1, -0.1, 0.1, -0.1, 0.1, -0.1};
    uint64_t seed = 41;

    ck_assert_int_eq(rule_of(old, 10), CHART_QUIET);
    for (int i = 0; i < 5000; i++) {
        double points[8], mirrored[8];

        for (int j = 0; j < 8; j++) {
            points[j] = random_between(&seed, -3.2, 3.2);
            mirrored[j] = -points[j];
        }
        ck_assert_int_eq(rule_of(points, 8), rule_of(mirrored, 8));
    }
}
END_TEST

/* Western Electric marks the point that completes the rule; what comes after it and is inside is no alarm. */
START_TEST(the_last_point_is_always_one_of_those_that_break_the_rule)
{
    const double back_from_2[] = {-2.5, -2.5, 0}, across[] = {2.5, -2.5, 0.1}, other[] = {2.5, 0.1, 2.5};
    const double back_from_1[] = {1.1, 1.1, 1.1, 1.1, 0.9}, side[] = {1.1, 1.1, 1.1, 1.1, -1.1};
    const double back_from_3[] = {0, 3.5, 0}, eight[] = {1, 1, 1, 1, 1, 1, 1, 1, 0};
    uint64_t seed = 43;

    ck_assert_int_eq(rule_of(back_from_2, 2), CHART_TWO_OF_THREE);
    ck_assert_int_eq(rule_of(back_from_2, 3), CHART_QUIET);
    ck_assert_int_eq(rule_of(across, 3), CHART_QUIET);
    ck_assert_int_eq(rule_of(other, 3), CHART_TWO_OF_THREE);
    ck_assert_int_eq(rule_of(back_from_1, 4), CHART_FOUR_OF_FIVE);
    ck_assert_int_eq(rule_of(back_from_1, 5), CHART_QUIET);
    ck_assert_int_eq(rule_of(side, 5), CHART_QUIET);
    ck_assert_int_eq(rule_of(back_from_3, 3), CHART_QUIET);
    ck_assert_int_eq(rule_of(eight, 8), CHART_EIGHT_IN_A_ROW);
    ck_assert_int_eq(rule_of(eight, 9), CHART_QUIET);
    for (int i = 0; i < 5000; i++) { /* a point on the centre breaks nothing, whatever came before */
        double points[8] = {0};

        for (int j = 0; j < 7; j++)
            points[j] = random_between(&seed, -4, 4);
        ck_assert_int_eq(rule_of(points, 8), CHART_QUIET);
    }
}
END_TEST

static double normal_draw(uint64_t *seed)
{
    double u = random_between(seed, 1e-300, 1), v = random_between(seed, 0, 1);

    return sqrt(-2 * log(u)) * cos(2 * acos(-1) * v);
}

/* Two of three with the last among them: 2 p (1 - (1 - p)^2); four of five: 2 p (4 p^3 (1 - p) + p^4).
 * The first rule goes before, so points beyond 3 are left out of the count of the second. */
START_TEST(with_the_last_point_among_them_the_rules_are_broken_as_rarely_as_stated)
{
    double p3 = below(-3), p2 = below(-2), p1 = below(-1);
    double expected = 2 * (p2 - p3) * (1 - (1 - p2) * (1 - p2));
    uint64_t seed = 44;
    int draws = 600000, found = 0;

    ck_assert_double_eq_tol(2 * p2 * (1 - (1 - p2) * (1 - p2)), 0.00205, 5e-6);
    ck_assert_double_eq_tol(2 * p1 * (4 * pow(p1, 3) * (1 - p1) + pow(p1, 4)), 0.00447, 5e-6);
    for (int i = 0; i < draws; i++) {
        const double points[] = {normal_draw(&seed), normal_draw(&seed), normal_draw(&seed)};

        found += rule_of(points, 3) == CHART_TWO_OF_THREE;
    }
    ck_assert_double_eq_tol((double)found / draws, expected, 0.12 * expected);
}
END_TEST

/* Champ and Woodall, Technometrics 29 (1987) 393: all four rules, 91.75 points; from memory. */
START_TEST(all_rules_together_raise_a_false_alarm_every_92_points)
{
    uint64_t seed = 42;
    double points = 0;
    int runs = 6000;

    for (int run = 0; run < runs; run++) {
        double last[8] = {0};
        size_t seen = 0;

        do {
            for (int i = 0; i < 7; i++)
                last[i] = last[i + 1];
            last[7] = normal_draw(&seed);
            seen++;
        } while (rule_of(last + 8 - (seen < 8 ? seen : 8), seen < 8 ? seen : 8) == CHART_QUIET);
        points += (double)seen / runs;
    }
    ck_assert_msg(points > 88 && points < 95.5, "%g", points);
}
END_TEST

START_TEST(capability_falls_when_the_mean_drifts_and_is_negative_outside)
{
    double centred, drifted, outside, ppm, more_ppm;

    ck_assert_int_eq(chart_capability_eval(60, 0.1, 59.5, 60.5, &centred, &ppm), ST_OK);
    ck_assert_double_eq_tol(centred, 0.5 / 0.3, 1e-9);
    ck_assert_int_eq(chart_capability_eval(60.2, 0.1, 59.5, 60.5, &drifted, &more_ppm), ST_OK);
    ck_assert(drifted < centred && more_ppm > ppm);
    ck_assert_int_eq(chart_capability_eval(61, 0.1, 59.5, 60.5, &outside, &ppm), ST_OK);
    ck_assert(outside < 0 && ppm > 999999);
}
END_TEST

START_TEST(what_is_no_number_or_out_of_range_is_refused_everywhere)
{
    struct chart_constants c = {.d2 = UNTOUCHED};
    struct chart_limits limits = {.centre = UNTOUCHED};
    enum chart_rule rule = CHART_RULE_COUNT;
    double cpk = UNTOUCHED, ppm = UNTOUCHED;

    for (size_t i = 0; i < COUNT(BAD); i++) {
        const double values[] = {1, BAD[i], 2};
        const double good[] = {1, 2, 1};

        ck_assert_int_eq(chart_limits_eval(BAD[i], 1, &limits), ST_RANGE);
        ck_assert_int_eq(chart_limits_eval(1, BAD[i], &limits), ST_RANGE);
        ck_assert_int_eq(chart_rule_eval(values, 3, 0, 1, &rule), ST_RANGE);
        ck_assert_int_eq(chart_rule_eval(good, 3, BAD[i], 1, &rule), ST_RANGE);
        ck_assert_int_eq(chart_rule_eval(good, 3, 0, BAD[i], &rule), ST_RANGE);
        for (size_t at = 0; at < 4; at++) {
            double v[] = {0, 1, -3, 3};

            v[at] = BAD[i];
            ck_assert_int_eq(chart_capability_eval(v[0], v[1], v[2], v[3], &cpk, &ppm), ST_RANGE);
        }
    }
    ck_assert_int_eq(chart_constants_eval(1, &c), ST_RANGE);
    ck_assert_int_eq(chart_constants_eval(26, &c), ST_RANGE);
    ck_assert_int_eq(chart_rule_eval(&ppm, 0, 0, 1, &rule), ST_RANGE);
    ck_assert_int_eq(chart_rule_eval(&ppm, 1, 0, 0, &rule), ST_RANGE);
    ck_assert_int_eq(chart_false_alarm_eval(CHART_QUIET, &ppm), ST_RANGE);
    ck_assert_int_eq(chart_false_alarm_eval(CHART_RULE_COUNT, &ppm), ST_RANGE);
    ck_assert_int_eq(chart_capability_eval(0, 1, 3, 3, &cpk, &ppm), ST_RANGE);
    ck_assert(c.d2 == UNTOUCHED && limits.centre == UNTOUCHED && rule == CHART_RULE_COUNT);
    ck_assert(cpk == UNTOUCHED && ppm == UNTOUCHED);
    ck_assert_ptr_null(chart_rule_name(CHART_RULE_COUNT));
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("chart");
    TCase *all = tcase_create("all");

    tcase_set_timeout(all, 60);
    tcase_add_test(all, d2_is_the_mean_range_of_a_normal_sample);
    tcase_add_test(all, d3_is_the_deviation_of_the_range);
    tcase_add_test(all, c4_is_the_quotient_of_gamma_functions);
    tcase_add_test(all, constants_tighten_with_the_size_of_the_sample);
    tcase_add_test(all, limits_come_from_the_mean_moving_range);
    tcase_add_test(all, each_rule_is_found_and_one_point_less_is_not);
    tcase_add_test(all, only_the_last_points_count_and_the_sides_are_alike);
    tcase_add_test(all, the_last_point_is_always_one_of_those_that_break_the_rule);
    tcase_add_test(all, with_the_last_point_among_them_the_rules_are_broken_as_rarely_as_stated);
    tcase_add_test(all, all_rules_together_raise_a_false_alarm_every_92_points);
    tcase_add_test(all, capability_falls_when_the_mean_drifts_and_is_negative_outside);
    tcase_add_test(all, what_is_no_number_or_out_of_range_is_refused_everywhere);
    suite_add_tcase(suite, all);
    return suite;
}
