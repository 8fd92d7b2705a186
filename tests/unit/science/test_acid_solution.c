#include "acid_draw.h"
#include "acid_reference.h"
#include "science/acid.h"
#include "science/acid_solution.h"
#include "support/support.h"

#include <float.h>
#include <string.h>

#define UNTOUCHED (-12345.678)

/* ---- the root ------------------------------------------------------------------------------ */

START_TEST(the_ph_of_any_solution_is_within_1e_9_of_the_root_of_the_whole_balance)
{
    uint64_t seed = 20260101;

    for (int i = 0; i < 100000; i++) {
        struct acid_solution s = solution_draw(&seed);
        double ph = ph_of(&s);
        struct reference r;

        reference_set(&r, s.temp_c);
        ck_assert_msg(reference_settled(&r, &s, ph - 1e-9) > 0 && reference_settled(&r, &s, ph + 1e-9) < 0,
                      "draw %d: pH %.12g is not the root", i, ph);
        if (i % 50 == 0)
            ck_near(ph, reference_ph(&r, &s), 1e-9);
    }
}
END_TEST

START_TEST(the_corners_of_the_range_are_solved_too)
{
    const double alkalinity[] = {-100, -1e-9, 0, 1e-9, 100};
    const double amount[] = {0, 1e-12, 1};

    for (int n = 0; n < 5 * 3 * 3 * 2 * 2 * ACID_COUNT; n++) {
        struct acid_solution s = {.alkalinity_meq_kg = alkalinity[n % 5],
                                  .carbon_mmol_kg = 200 * amount[n / 5 % 3],
                                  .co2_kpa = 101.325 * amount[n / 5 % 3],
                                  .temp_c = n / 45 % 2 == 0 ? 0 : 60,
                                  .is_open = n / 90 % 2 == 0};
        int acid = n / 180 % ACID_COUNT;
        struct reference r;

        if (acid != ACID_NONE)
            s.acid_mol_kg[acid] = 0.1 * amount[n / 15 % 3];
        reference_set(&r, s.temp_c);
        ck_near(ph_of(&s), reference_ph(&r, &s), 1e-9);
    }
}
END_TEST

START_TEST(six_acids_at_once_are_one_balance)
{
    struct acid_solution s = {.alkalinity_meq_kg = 10, .carbon_mmol_kg = 10, .temp_c = 25};
    struct reference r;

    for (int acid = 1; acid < ACID_COUNT; acid++)
        s.acid_mol_kg[acid] = 0.1 / 6;
    reference_set(&r, 25);
    ck_near(ph_of(&s), reference_ph(&r, &s), 1e-9);
    s.acid_mol_kg[ACID_CITRIC] += 0.01;
    ck_assert_int_eq(acid_solution_ph_eval(&s, &(double){0}), ST_RANGE);
}
END_TEST

START_TEST(more_alkalinity_raises_and_more_carbon_or_acid_lowers_the_ph)
{
    uint64_t seed = 31;

    for (int i = 0; i < 5000; i++) {
        struct acid_solution s = solution_draw(&seed);
        struct acid_solution more = s;
        double ph = ph_of(&s);

        more.alkalinity_meq_kg = fmin(s.alkalinity_meq_kg + 1, 100);
        ck_assert(ph_of(&more) > ph || s.alkalinity_meq_kg == 100);
        more = s;
        more.acid_mol_kg[ACID_LACTIC] += 0.001;
        for (int acid = 0; acid < ACID_COUNT; acid++)
            more.acid_mol_kg[acid] /= 1.02; /* keeps the sum in range */
        more.alkalinity_meq_kg /= 1.02;
        more.carbon_mmol_kg = fmin(more.carbon_mmol_kg, 100);
        s = more;
        s.acid_mol_kg[ACID_LACTIC] -= 0.001 / 1.02;
        s.acid_mol_kg[ACID_LACTIC] = fmax(s.acid_mol_kg[ACID_LACTIC], 0);
        if (acid_solution_ph_eval(&more, &ph) == ST_OK)
            ck_assert(ph_of(&s) > ph);
        more = s;
        more.is_open = s.is_open = false;
        more.carbon_mmol_kg += 1;
        ck_assert(ph_of(&more) < ph_of(&s));
    }
}
END_TEST

/* ---- inverses --------------------------------------------------------------------------------- */

START_TEST(the_alkalinity_of_a_ph_is_the_alkalinity_it_came_from)
{
    uint64_t seed = 404;
    int answered = 0;

    for (int i = 0; i < 50000; i++) {
        struct acid_solution s = solution_draw(&seed);
        double ph = ph_of(&s);
        double back = UNTOUCHED;

        if (acid_solution_alkalinity_eval(&s, ph, &back) != ST_OK) {
            ck_assert(ph < 2 || ph > 11);
            continue;
        }
        answered++;
        ck_near(back, s.alkalinity_meq_kg, 1e-9 * 100);
        s.alkalinity_meq_kg = back;
        ck_near(ph_of(&s), ph, 1e-9);
    }
    ck_assert_int_gt(answered, 30000);
}
END_TEST

START_TEST(the_acid_for_a_ph_gives_that_ph_within_1e_9)
{
    uint64_t seed = 405;
    int answered = 0;

    for (int i = 0; i < 50000; i++) {
        struct acid_solution s = solution_draw(&seed);
        enum acid acid = (enum acid)(1 + random_next(&seed) % (ACID_COUNT - 1));
        double target = random_between(&seed, 2, 9);
        double dose = UNTOUCHED;

        if (acid_solution_dose_eval(&s, acid, target, &dose) != ST_OK) {
            ck_assert(dose == UNTOUCHED);
            continue;
        }
        s.acid_mol_kg[acid] += dose;
        if (dose == 0)
            ck_assert(ph_of(&s) <= target + 1e-9);
        else
            ck_near(ph_of(&s), target, 1e-9);
        answered += dose > 0;
    }
    ck_assert_int_gt(answered, 4000);
}
END_TEST

START_TEST(a_dose_is_the_same_as_two_halves_of_it)
{
    struct acid_solution s = {
        .alkalinity_meq_kg = 4, .co2_kpa = ACID_AIR_CO2_KPA, .temp_c = 15, .is_open = true};
    double whole = 0;
    double rest = 0;

    ck_assert_int_eq(acid_solution_dose_eval(&s, ACID_CITRIC, 4.2, &whole), ST_OK);
    s.acid_mol_kg[ACID_CITRIC] = whole / 2;
    ck_assert_int_eq(acid_solution_dose_eval(&s, ACID_CITRIC, 4.2, &rest), ST_OK);
    ck_near(rest, whole / 2, 1e-12);
}
END_TEST

START_TEST(the_carbon_of_a_report_gives_the_reported_ph)
{
    uint64_t seed = 406;
    int answered = 0;

    for (int i = 0; i < 20000; i++) {
        struct acid_solution s = {.alkalinity_meq_kg = 0.01 + amount_draw(&seed, 99.99),
                                  .temp_c = random_between(&seed, 0, 60)};
        double ph = random_between(&seed, 4, 11);

        if (acid_report_carbon_eval(s.alkalinity_meq_kg, ph, s.temp_c, &s.carbon_mmol_kg) != ST_OK)
            continue;
        ck_near(ph_of(&s), ph, 1e-9);
        answered++;
    }
    ck_assert_int_gt(answered, 8000);
}
END_TEST

START_TEST(a_report_that_contradicts_itself_is_refused)
{
    double carbon = UNTOUCHED;

    ck_assert_int_eq(acid_report_carbon_eval(0.05, 10.5, 25, &carbon), ST_RANGE); /* needs lye, not carbon */
    ck_assert_int_eq(acid_report_carbon_eval(10, 4, 25, &carbon), ST_RANGE);      /* 2 mol/kg of CO2 */
    ck_assert_int_eq(acid_report_carbon_eval(0, 7, 25, &carbon), ST_RANGE);
    ck_assert(carbon == UNTOUCHED);
}
END_TEST

/* ---- buffer capacity ----------------------------------------------------------------------------- */

/* Alkalinity in mol/kg between pH - step and pH + step, for one pH. */
static double alkalinity_slope(const struct acid_solution *s, double ph, double step)
{
    double below = NAN;
    double above = NAN;

    ck_assert_int_eq(acid_solution_alkalinity_eval(s, ph - step, &below), ST_OK);
    ck_assert_int_eq(acid_solution_alkalinity_eval(s, ph + step, &above), ST_OK);
    return (above - below) / 1000 / (2 * step);
}

START_TEST(the_buffer_capacity_is_the_slope_of_the_alkalinity)
{
    uint64_t seed = 500;
    int compared = 0;

    for (int i = 0; i < 20000; i++) {
        struct acid_solution s = solution_draw(&seed);
        double ph = ph_of(&s);
        double buffer = 0;
        double wide, narrow;

        ck_assert_int_eq(acid_solution_buffer_eval(&s, &buffer), ST_OK);
        ck_assert(buffer > 0);
        /* within range, and the ionic strength below 0.5 for certain */
        if (ph < 2.1 || ph > 10.9 || fabs(s.alkalinity_meq_kg) > 50 || fabs(s.alkalinity_meq_kg) < 0.01 ||
            s.acid_mol_kg[ACID_CITRIC] + s.acid_mol_kg[ACID_PHOSPHORIC] + s.acid_mol_kg[ACID_TARTARIC] >
                0.05 ||
            s.carbon_mmol_kg > 50 || 2e-3 * buffer > 1e-4 * fabs(s.alkalinity_meq_kg))
            continue;
        wide = alkalinity_slope(&s, ph, 2e-3);
        narrow = alkalinity_slope(&s, ph, 1e-3);
        ck_near(buffer / ((4 * narrow - wide) / 3), 1, 1e-6);
        compared++;
    }
    ck_assert_int_gt(compared, 1000);
}
END_TEST

/* ---- what is refused ---------------------------------------------------------------------------------- */

static void expect_refusal(const struct acid_solution *s)
{
    const struct acid_solution fine = {.temp_c = 20};
    struct acid_solution marked;
    struct acid_solution out;
    double number = UNTOUCHED;

    memset(&marked, 0x5a, sizeof marked);
    out = marked;
    ck_assert_int_eq(acid_solution_ph_eval(s, &number), ST_RANGE);
    ck_assert_int_eq(acid_solution_dose_eval(s, ACID_CITRIC, 4, &number), ST_RANGE);
    ck_assert_int_eq(acid_solution_carbon_eval(s, &number), ST_RANGE);
    ck_assert_int_eq(acid_solution_buffer_eval(s, &number), ST_RANGE);
    ck_assert_int_eq(acid_solution_mix_eval(s, 1, &fine, 1, &out), ST_RANGE);
    ck_assert_int_eq(acid_solution_mix_eval(&fine, 1, s, 1, &out), ST_RANGE);
    ck_assert_int_eq(acid_solution_dilute_eval(s, 2, &out), ST_RANGE);
    ck_assert(number == UNTOUCHED && out.temp_c == marked.temp_c &&
              out.carbon_mmol_kg == marked.carbon_mmol_kg);
}

START_TEST(a_solution_outside_its_limits_is_refused_everywhere)
{
    const double bad[] = {(double)NAN, (double)INFINITY, -(double)INFINITY, 201, -101, DBL_MAX};
    const struct acid_solution closed = {.alkalinity_meq_kg = 2, .carbon_mmol_kg = 2, .temp_c = 20};
    const struct acid_solution open = {
        .alkalinity_meq_kg = 2, .co2_kpa = 0.04, .temp_c = 20, .is_open = true};

    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        struct acid_solution s = closed;

        s.alkalinity_meq_kg = bad[i];
        expect_refusal(&s);
        s = closed;
        s.carbon_mmol_kg = bad[i];
        expect_refusal(&s);
        s = closed;
        s.temp_c = bad[i];
        expect_refusal(&s);
        s = open;
        s.co2_kpa = bad[i];
        expect_refusal(&s);
        for (int acid = 0; acid < ACID_COUNT; acid++) {
            s = open;
            s.acid_mol_kg[acid] = bad[i];
            expect_refusal(&s);
        }
    }
}
END_TEST

START_TEST(what_is_not_looked_at_may_be_anything)
{
    struct acid_solution s = {
        .alkalinity_meq_kg = 2, .carbon_mmol_kg = 2, .co2_kpa = (double)NAN, .temp_c = 20};
    double number = UNTOUCHED;

    ck_assert_int_eq(acid_solution_ph_eval(&s, &number), ST_OK);
    s = (struct acid_solution){.alkalinity_meq_kg = 2,
                               .carbon_mmol_kg = (double)NAN,
                               .co2_kpa = 0.04,
                               .temp_c = 20,
                               .is_open = true};
    ck_assert_int_eq(acid_solution_ph_eval(&s, &number), ST_OK);
    s.alkalinity_meq_kg = (double)NAN;
    ck_assert_int_eq(acid_solution_alkalinity_eval(&s, 7, &number), ST_OK);
}
END_TEST

START_TEST(other_arguments_outside_their_range_are_refused)
{
    const double bad[] = {(double)NAN, (double)INFINITY, -(double)INFINITY, -1, 1e7};
    const struct acid_solution s = {.alkalinity_meq_kg = 2, .carbon_mmol_kg = 2, .temp_c = 20};
    struct acid_solution out = {.temp_c = UNTOUCHED};
    double number = UNTOUCHED;

    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        ck_assert_int_eq(acid_solution_dose_eval(&s, ACID_CITRIC, bad[i], &number), ST_RANGE);
        ck_assert_int_eq(acid_solution_alkalinity_eval(&s, bad[i], &number), ST_RANGE);
        ck_assert_int_eq(acid_report_carbon_eval(bad[i], 7, 20, &number), ST_RANGE);
        ck_assert_int_eq(acid_report_carbon_eval(2, bad[i], 20, &number), ST_RANGE);
        ck_assert_int_eq(acid_report_carbon_eval(2, 7, bad[i], &number), ST_RANGE);
        ck_assert_int_eq(acid_solution_mix_eval(&s, bad[i], &s, 1, &out), ST_RANGE);
        ck_assert_int_eq(acid_solution_mix_eval(&s, 1, &s, bad[i], &out), ST_RANGE);
        ck_assert_int_eq(acid_solution_dilute_eval(&s, bad[i], &out), ST_RANGE);
    }
    ck_assert_int_eq(acid_solution_mix_eval(&s, 0, &s, 0, &out), ST_RANGE);
    ck_assert_int_eq(acid_solution_dilute_eval(&s, 0.999, &out), ST_RANGE);
    ck_assert_int_eq(acid_solution_dose_eval(&s, ACID_NONE, 4, &number), ST_RANGE);
    ck_assert_int_eq(acid_solution_dose_eval(&s, ACID_COUNT, 4, &number), ST_RANGE);
    ck_assert(number == UNTOUCHED && out.temp_c == UNTOUCHED);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("acid_solution");
    TCase *all = tcase_create("all");

    tcase_set_timeout(all, 110);
    tcase_add_test(all, the_ph_of_any_solution_is_within_1e_9_of_the_root_of_the_whole_balance);
    tcase_add_test(all, the_corners_of_the_range_are_solved_too);
    tcase_add_test(all, six_acids_at_once_are_one_balance);
    tcase_add_test(all, more_alkalinity_raises_and_more_carbon_or_acid_lowers_the_ph);
    tcase_add_test(all, the_alkalinity_of_a_ph_is_the_alkalinity_it_came_from);
    tcase_add_test(all, the_acid_for_a_ph_gives_that_ph_within_1e_9);
    tcase_add_test(all, a_dose_is_the_same_as_two_halves_of_it);
    tcase_add_test(all, the_carbon_of_a_report_gives_the_reported_ph);
    tcase_add_test(all, a_report_that_contradicts_itself_is_refused);
    tcase_add_test(all, the_buffer_capacity_is_the_slope_of_the_alkalinity);
    tcase_add_test(all, a_solution_outside_its_limits_is_refused_everywhere);
    tcase_add_test(all, what_is_not_looked_at_may_be_anything);
    tcase_add_test(all, other_arguments_outside_their_range_are_refused);
    suite_add_tcase(suite, all);
    return suite;
}
