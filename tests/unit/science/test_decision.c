#include "random_input.h"
#include "science/decision.h"
#include "science/handbook.h"
#include "support/support.h"

#include <math.h>
#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof(array)[0])
#define UNTOUCHED (-77.125)

/* The worked example: 60.0 +- 0.5, U = 0.144, after ILAC-G8:09/2019 with w = U: accept
 * 59.644 to 60.356; 60.40 pass, 60.60 fail, both conditional; 60.70 fail. */
START_TEST(the_guard_band_example_is_decided_as_published)
{
    static const struct {
        double measured;
        enum decision expected;
    } CASES[] = {
        {60.0, DECISION_CONFORMS},
        {59.644, DECISION_CONFORMS},
        {60.356, DECISION_CONFORMS},
        {60.357, DECISION_CONFORMS_CONDITIONAL},
        {59.643, DECISION_CONFORMS_CONDITIONAL},
        {60.40, DECISION_CONFORMS_CONDITIONAL},
        {60.5, DECISION_CONFORMS_CONDITIONAL},
        {60.60, DECISION_FAILS_CONDITIONAL},
        {60.644, DECISION_FAILS_CONDITIONAL},
        {60.70, DECISION_FAILS},
        {59.30, DECISION_FAILS},
    };

    for (size_t i = 0; i < COUNT(CASES); i++) {
        enum decision decision;

        ck_assert_msg(decision_make(CASES[i].measured, 60, 0.5, 0.144) == CASES[i].expected, "%g",
                      CASES[i].measured);
        ck_assert_int_eq(decision_conformity_eval(CASES[i].measured, 60, 0.5, 0.144, 1, &decision), ST_OK);
        ck_assert_int_eq(decision, CASES[i].expected);
    }
}
END_TEST

START_TEST(nothing_is_said_when_the_uncertainty_is_larger_than_the_tolerance_or_unknown)
{
    ck_assert_int_eq(decision_make(60, 60, 0.5, 0.51), DECISION_CANNOT_SAY);
    ck_assert_int_eq(decision_make(60, 60, 0.5, 0.5), DECISION_CONFORMS);
    ck_assert_int_eq(decision_make(60, 60, 0.5, 0), DECISION_CANNOT_SAY);
    ck_assert_int_eq(decision_make(60, 60, 0.5, (double)NAN), DECISION_CANNOT_SAY);
    ck_assert_int_eq(decision_make((double)NAN, 60, 0.5, 0.1), DECISION_CANNOT_SAY);
    ck_assert_int_eq(decision_make(60, (double)INFINITY, 0.5, 0.1), DECISION_CANNOT_SAY);
    ck_assert_int_eq(decision_make(60, 60, 0, 0.1), DECISION_CANNOT_SAY);
    ck_assert_int_eq(decision_make(60, 60, (double)NAN, 0.1), DECISION_CANNOT_SAY);
    ck_assert_int_eq(decision_make(60, 60, INFINITY, INFINITY), DECISION_CANNOT_SAY);
    ck_assert_int_eq(decision_make(60, 60, INFINITY, 1), DECISION_CANNOT_SAY);
    ck_assert_int_eq(decision_make(60, 60, 1, INFINITY), DECISION_CANNOT_SAY);
    ck_assert_int_eq(decision_make(60, 60, 0.5, -0.1), DECISION_CANNOT_SAY);
}
END_TEST

/* Limits are decimal numbers and no doubles: what is written as the limit belongs to it, what lies beyond it
 * by a ten-millionth does not. */
START_TEST(a_value_at_a_limit_belongs_to_it_in_spite_of_rounding)
{
    for (int i = 1; i < 1000; i++) {
        double target = 60 + i * 0.001, off = 0.6;

        ck_assert_int_eq(decision_make(target + off, target, 0.7, 0.1), DECISION_CONFORMS);
        ck_assert_int_eq(decision_make(target - off, target, 0.7, 0.1), DECISION_CONFORMS);
        ck_assert_int_eq(decision_make(target + off + 1e-7, target, 0.7, 0.1), DECISION_CONFORMS_CONDITIONAL);
        ck_assert_int_eq(decision_make(target + 0.7, target, 0.7, 0.1), DECISION_CONFORMS_CONDITIONAL);
        ck_assert_int_eq(decision_make(target + 0.7 + 1e-7, target, 0.7, 0.1), DECISION_FAILS_CONDITIONAL);
        ck_assert_int_eq(decision_make(target + 0.8, target, 0.7, 0.1), DECISION_FAILS_CONDITIONAL);
        ck_assert_int_eq(decision_make(target + 0.8 + 1e-7, target, 0.7, 0.1), DECISION_FAILS);
    }
    ck_assert_int_eq(decision_make(60, 60, 0.3, 0.1 + 0.2), DECISION_CONFORMS); /* U is not larger */
    ck_assert_int_eq(decision_make(60, 60, 0.3, 0.3 + 1e-7), DECISION_CANNOT_SAY);
}
END_TEST

START_TEST(without_a_guard_band_there_is_only_inside_and_outside)
{
    enum decision decision;

    for (double off = 0; off <= 1; off += 0.01) {
        ck_assert_int_eq(decision_conformity_eval(60 + off, 60, 0.505, 0.2, 0, &decision), ST_OK);
        ck_assert_int_eq(decision, off < 0.505 ? DECISION_CONFORMS : DECISION_FAILS);
    }
}
END_TEST

START_TEST(what_the_acceptance_interval_holds_conforms_and_nothing_else)
{
    uint64_t seed = 31;

    for (int i = 0; i < 5000; i++) {
        double tolerance = random_between(&seed, 0.1, 1), u = random_between(&seed, 0.01, 0.1);
        double guard = random_between(&seed, 0, 1), measured = random_between(&seed, 59, 61), low, high;
        enum decision decision;

        ck_assert_int_eq(decision_acceptance_eval(60, tolerance, u, guard, &low, &high), ST_OK);
        ck_assert_int_eq(decision_conformity_eval(measured, 60, tolerance, u, guard, &decision), ST_OK);
        if (fabs(measured - low) > 1e-8 && fabs(measured - high) > 1e-8)
            ck_assert_int_eq(decision == DECISION_CONFORMS, measured > low && measured < high);
    }
}
END_TEST

/* Independent: the probability by summing the density over the tolerance. */
START_TEST(the_probability_is_the_area_within_the_tolerance)
{
    double sum = 0, p;

    for (int i = 0; i < 20000; i++) {
        double z = (59.5 + (i + 0.5) / 20000 - 60.3) / 0.2;

        sum += exp(-z * z / 2) / sqrt(2 * acos(-1)) / 0.2 / 20000;
    }
    ck_assert_int_eq(decision_probability_eval(60.3, 60, 0.5, 0.2, &p), ST_OK);
    ck_assert_double_eq_tol(p, sum, 1e-9);
}
END_TEST

/* Normal distribution, k = 2: a value just accepted has this risk at its nearer limit. */
START_TEST(the_risk_is_that_of_a_value_just_accepted)
{
    for (double guard = 0; guard <= 1; guard += 0.05) {
        double u = 0.1, tolerance = 10, risk, inside;

        ck_assert_int_eq(decision_risk_eval(guard, &risk), ST_OK);
        ck_assert_int_eq(decision_probability_eval(60 + tolerance - guard * u, 60, tolerance, u / 2, &inside),
                         ST_OK);
        ck_assert_double_eq_tol(1 - inside, risk, 1e-9);
    }
}
END_TEST

/* Half a tolerance of U up to all of it, from the middle to the guard band. */
START_TEST(a_value_that_conforms_is_beyond_one_limit_in_fewer_than_25_of_1000_cases)
{
    double worst_one = 0, worst_both = 0;

    for (int tenth = 1; tenth <= 10; tenth++)
        for (int i = 0; i <= 50; i++) {
            double u = tenth * 0.05, off = i * 0.01, inside;
            double above = erfc((0.5 - off) / (u / 2) / sqrt(2)) / 2;

            if (decision_make(60 + off, 60, 0.5, u) != DECISION_CONFORMS)
                continue;
            ck_assert_int_eq(decision_probability_eval(60 + off, 60, 0.5, u / 2, &inside), ST_OK);
            worst_one = fmax(worst_one, above);
            worst_both = fmax(worst_both, 1 - inside);
        }
    ck_assert_msg(worst_one > 0.022 && worst_one < 0.025, "%g", worst_one);
    ck_assert_msg(worst_both > 0.045 && worst_both < 0.05, "%g", worst_both);
}
END_TEST

START_TEST(what_is_no_number_or_out_of_range_is_refused_everywhere)
{
    const double bad[] = {(double)NAN, INFINITY, -INFINITY, 1e300, -1e300};

    for (size_t i = 0; i < COUNT(bad); i++)
        for (size_t at = 0; at < 5; at++) {
            double v[] = {60, 60, 0.5, 0.1, 1}, low = UNTOUCHED, out = UNTOUCHED;
            enum decision decision = DECISION_COUNT;

            v[at] = bad[i];
            ck_assert_int_eq(decision_conformity_eval(v[0], v[1], v[2], v[3], v[4], &decision), ST_RANGE);
            if (at > 0)
                ck_assert_int_eq(decision_acceptance_eval(v[1], v[2], v[3], v[4], &low, &out), ST_RANGE);
            if (at < 4)
                ck_assert_int_eq(decision_probability_eval(v[0], v[1], v[2], v[3], &out), ST_RANGE);
            ck_assert_int_eq(decision_risk_eval(bad[i], &out), ST_RANGE);
            ck_assert(low == UNTOUCHED && out == UNTOUCHED && decision == DECISION_COUNT);
        }
}
END_TEST

START_TEST(an_empty_acceptance_interval_is_refused)
{
    double low = UNTOUCHED, high = UNTOUCHED;

    ck_assert_int_eq(decision_acceptance_eval(60, 0.5, 0.6, 1, &low, &high), ST_RANGE);
    ck_assert(low == UNTOUCHED && high == UNTOUCHED);
    ck_assert_int_eq(decision_acceptance_eval(60, 0.5, 0.5, 1, &low, &high), ST_OK);
    ck_assert(low == 60 && high == 60);
}
END_TEST

static void choices_check(const struct handbook_entry *e, const struct handbook_quantity *q)
{
    if (q->choice == NULL)
        return;
    for (int i = (int)q->min; i <= (int)q->max; i++)
        ck_assert_msg(strpbrk(q->choice(i), " _") == NULL, "%s: %s", e->name, q->choice(i));
}

/* What is printed must be what can be typed without quotes. */
START_TEST(names_of_choices_in_the_sections_of_acid_probe_and_proof_have_no_blanks)
{
    const struct handbook_entry *const sections[] = {HANDBOOK_ACID, HANDBOOK_PROBE, HANDBOOK_PROOF};

    for (size_t s = 0; s < COUNT(sections); s++)
        for (const struct handbook_entry *e = sections[s]; e->name != NULL; e++) {
            for (size_t i = 0; e->inputs[i].name != NULL; i++)
                choices_check(e, &e->inputs[i]);
            for (size_t i = 0; e->outputs[i].name != NULL; i++)
                choices_check(e, &e->outputs[i]);
        }
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("decision");
    TCase *all = tcase_create("all");

    tcase_add_test(all, the_guard_band_example_is_decided_as_published);
    tcase_add_test(all, nothing_is_said_when_the_uncertainty_is_larger_than_the_tolerance_or_unknown);
    tcase_add_test(all, a_value_at_a_limit_belongs_to_it_in_spite_of_rounding);
    tcase_add_test(all, without_a_guard_band_there_is_only_inside_and_outside);
    tcase_add_test(all, what_the_acceptance_interval_holds_conforms_and_nothing_else);
    tcase_add_test(all, the_probability_is_the_area_within_the_tolerance);
    tcase_add_test(all, the_risk_is_that_of_a_value_just_accepted);
    tcase_add_test(all, a_value_that_conforms_is_beyond_one_limit_in_fewer_than_25_of_1000_cases);
    tcase_add_test(all, what_is_no_number_or_out_of_range_is_refused_everywhere);
    tcase_add_test(all, an_empty_acceptance_interval_is_refused);
    tcase_add_test(all, names_of_choices_in_the_sections_of_acid_probe_and_proof_have_no_blanks);
    suite_add_tcase(suite, all);
    return suite;
}
