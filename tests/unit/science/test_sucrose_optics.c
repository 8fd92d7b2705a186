#include "random_input.h"
#include "science/sucrose_optics.h"
#include "support/support.h"

#define UNTOUCHED (-12345.678)
#define STRENGTH_MAX_PCT 85
#define TEMP_MAX_C 105

static double index_of(double strength_pct, double temp_c)
{
    double index = 0;

    ck_assert_int_eq(sucrose_refractive_index_eval(strength_pct, temp_c, &index), ST_OK);
    return index;
}

static void is_refused(enum status (*eval)(double, double, double *), double first, double second)
{
    double out = UNTOUCHED;

    ck_assert_msg(eval(first, second, &out) == ST_RANGE && out == UNTOUCHED, "(%g, %g) gave %g", first,
                  second, out);
}

static enum status (*const EVALS[])(double, double, double *) = {
    sucrose_refractive_index_eval,
    sucrose_strength_from_index_eval,
    sucrose_strength_from_inline_reading_eval,
    sucrose_strength_from_prism_reading_eval,
};
#define EVAL_COUNT 4
static const double GOOD[EVAL_COUNT] = {50, 1.42, 50, 50};

/* ---- range --------------------------------------------------------------------------- */

START_TEST(what_is_not_a_number_is_refused_at_every_argument)
{
    const double bad[3] = {(double)NAN, (double)INFINITY, -(double)INFINITY};

    for (int i = 0; i < EVAL_COUNT; i++) {
        double out = UNTOUCHED;

        ck_assert_int_eq(EVALS[i](GOOD[i], 21, &out), ST_OK);
        for (int b = 0; b < 3; b++) {
            is_refused(EVALS[i], bad[b], 20);
            is_refused(EVALS[i], GOOD[i], bad[b]);
        }
    }
    for (int b = 0; b < 3; b++) {
        struct span add = {UNTOUCHED, 0, 0};

        ck_assert_int_eq(sucrose_acid_correction_eval(bad[b], &add), ST_RANGE);
        ck_assert_int_eq(sucrose_invert_correction_eval(bad[b], 1, &add), ST_RANGE);
        ck_assert_int_eq(sucrose_invert_correction_eval(60, bad[b], &add), ST_RANGE);
        ck_assert(add.low == UNTOUCHED);
    }
}
END_TEST

START_TEST(any_finite_input_is_answered_by_a_possible_number_or_refused)
{
    uint64_t seed = 12;
    int answered = 0;

    for (int i = 0; i < 100000; i++) {
        int which = i % EVAL_COUNT;
        double first = which == 1 ? random_finite(&seed, 1.31, 1.52) : random_finite(&seed, 0, 85);
        double temp = random_finite(&seed, 0, TEMP_MAX_C);
        double out = UNTOUCHED;

        if (EVALS[which](first, temp, &out) == ST_OK) {
            ck_assert_msg(which == 0 ? out > 1.31 && out < 1.52 : out >= 0 && out <= 85, "%d gave %g", which,
                          out);
            answered++;
        } else {
            ck_assert(out == UNTOUCHED);
        }
    }
    ck_assert_int_gt(answered, 50000);
}
END_TEST

START_TEST(the_edges_of_the_range_belong_to_it_and_a_hair_outside_does_not)
{
    double out = 0;

    for (int t = 0; t <= TEMP_MAX_C; t += TEMP_MAX_C) {
        ck_assert_int_eq(sucrose_refractive_index_eval(0, t, &out), ST_OK);
        ck_assert_int_eq(sucrose_refractive_index_eval(STRENGTH_MAX_PCT, t, &out), ST_OK);
    }
    is_refused(sucrose_refractive_index_eval, -1e-9, 20);
    is_refused(sucrose_refractive_index_eval, STRENGTH_MAX_PCT + 1e-9, 20);
    is_refused(sucrose_refractive_index_eval, 50, -1e-9);
    is_refused(sucrose_refractive_index_eval, 50, TEMP_MAX_C + 1e-9);
    for (int t = 0; t <= TEMP_MAX_C; t++) { /* what no syrup has at its temperature */
        /* 0.05 % is 7e-5 of the index of water and 1.4e-4 of that of 85 % */
        is_refused(sucrose_strength_from_index_eval, index_of(0, t) - 1e-4, t);
        is_refused(sucrose_strength_from_index_eval, index_of(STRENGTH_MAX_PCT, t) + 2e-4, t);
        ck_assert_int_eq(sucrose_strength_from_index_eval(index_of(0, t) - 5e-5, t, &out), ST_OK);
        ck_near(out, 0, 0);
        ck_assert_int_eq(sucrose_strength_from_index_eval(index_of(STRENGTH_MAX_PCT, t) + 5e-5, t, &out),
                         ST_OK);
        ck_near(out, STRENGTH_MAX_PCT, 0);
    }
}
END_TEST

/* ---- index --------------------------------------------------------------------------- */

START_TEST(index_rises_with_strength_and_falls_with_temperature_everywhere)
{
    for (int s = 0; s <= 2 * STRENGTH_MAX_PCT; s++)
        for (int t = 0; t <= TEMP_MAX_C; t++) {
            double here = index_of(s / 2.0, t);

            if (s < 2 * STRENGTH_MAX_PCT) /* at least 0.0013 for 1 % */
                ck_assert_msg(index_of((s + 1) / 2.0, t) > here + 0.00065, "at %g %%, %d degC", s / 2.0, t);
            if (t < TEMP_MAX_C)
                ck_assert_msg(index_of(s / 2.0, t + 1) < here, "at %g %%, %d degC", s / 2.0, t);
        }
}
END_TEST

START_TEST(strength_from_index_inverts_the_index_up_to_the_edges)
{
    for (int t = 0; t <= TEMP_MAX_C; t++)
        for (int s = 0; s <= 4 * STRENGTH_MAX_PCT; s++) {
            double index = index_of(s / 4.0, t);
            double back = 0;

            ck_assert_int_eq(sucrose_strength_from_index_eval(index, t, &back), ST_OK);
            ck_near(back, s / 4.0, 1e-9);
            ck_near(index_of(back, t), index, 1e-12);
        }
}
END_TEST

/* IAPWS, Release on the Refractive Index of Ordinary Water Substance (1997), 589.3 nm and 0.1 MPa, over
 * the index of air, 1.000272; the density of water as in the program (Kell 1975, here through 0 %). */
static double water_index(double temp_c)
{
    double theta = (temp_c + 273.15) / 273.15;
    double lambda2 = pow(0.5893 / 0.589, 2);
    double delta = (999.83952 +
                    temp_c * (16.952577 +
                              temp_c * (-7.9905127e-3 +
                                        temp_c * (-46.241757e-6 +
                                                  temp_c * (105.84601e-9 - temp_c * 281.03006e-12))))) /
                   (1 + 16.887236e-3 * temp_c) / 1000;
    double refraction = delta *
                        (0.244257733 + 9.74634476e-3 * delta - 3.73234996e-3 * theta +
                         2.68678472e-4 * lambda2 * theta + 1.58920570e-3 / lambda2 +
                         2.45934259e-3 / (lambda2 - 0.2292020 * 0.2292020) +
                         0.900704920 / (lambda2 - 5.432937 * 5.432937) - 1.66626219e-2 * delta * delta);

    return sqrt((1 + 2 * refraction) / (1 - refraction)) / 1.000272;
}

START_TEST(water_follows_the_international_formula_at_every_temperature)
{
    for (int t = 0; t <= TEMP_MAX_C; t++) /* 5e-6: where the scale of 1974 puts its zero; 3e-6: the fit */
        ck_near(index_of(0, t), water_index(t), 8e-6);
}
END_TEST

/* ISO 1743 (1973) as in GOST R 50546-93: glucose syrup of 50 and 60 % falls from 1.42452 to 1.41694 and from
 * 1.44767 to 1.43981 between 20 and 60 degC. Not sucrose, but near it: a check of the extrapolation. */
START_TEST(hot_syrup_falls_about_as_glucose_syrup_does)
{
    ck_near(index_of(50, 60) - index_of(50, 20), 1.41694 - 1.42452, 1.5e-4);
    ck_near(index_of(60, 60) - index_of(60, 20), 1.43981 - 1.44767, 1.5e-4);
}
END_TEST

/* ---- readings ------------------------------------------------------------------------ */

START_TEST(at_20_degrees_a_reading_is_the_strength)
{
    for (int s = 0; s <= STRENGTH_MAX_PCT; s++) {
        double strength = UNTOUCHED;

        ck_assert_int_eq(sucrose_strength_from_inline_reading_eval(s, 20, &strength), ST_OK);
        ck_near(strength, s, 1e-9);
        if (s > 70)
            continue;
        ck_assert_int_eq(sucrose_strength_from_prism_reading_eval(s, 20, &strength), ST_OK);
        ck_near(strength, s, 1e-12);
    }
}
END_TEST

START_TEST(a_reading_says_the_index_and_the_index_the_strength)
{
    uint64_t seed = 5;

    for (int i = 0; i < 10000; i++) {
        double strength = random_between(&seed, 5, 75);
        double t = random_between(&seed, 0, TEMP_MAX_C);
        double reading = 0;
        double back = 0;

        if (sucrose_strength_from_index_eval(index_of(strength, t), 20, &reading) != ST_OK || reading == 0)
            continue; /* so hot and thin that the instrument reads 0 or below */
        ck_assert_int_eq(sucrose_strength_from_inline_reading_eval(reading, t, &back), ST_OK);
        ck_near(back, strength, 1e-9);
        ck_assert((back > reading) == (t > 20));
    }
}
END_TEST

/* The bound is the one the header states. */
START_TEST(physics_and_the_table_agree_within_three_hundredths)
{
    for (int t = 10; t <= 30; t++)
        for (int s = 1; s <= 70; s++) {
            double physics = UNTOUCHED;
            double table = UNTOUCHED;

            ck_assert_int_eq(sucrose_strength_from_inline_reading_eval(s, t, &physics), ST_OK);
            ck_assert_int_eq(sucrose_strength_from_prism_reading_eval(s, t, &table), ST_OK);
            ck_near(physics, table, 0.03);
        }
}
END_TEST

START_TEST(the_table_is_continuous_and_ends_where_it_is_printed)
{
    double before = UNTOUCHED;
    double out = UNTOUCHED;

    for (int i = 0; i <= 2000; i++) { /* at most 0.09 % for 1 degC */
        ck_assert_int_eq(sucrose_strength_from_prism_reading_eval(62.5, 10 + i / 100.0, &out), ST_OK);
        if (i > 0)
            ck_assert_msg(out >= before && out - before < 0.0012, "at %g degC", 10 + i / 100.0);
        before = out;
    }
    is_refused(sucrose_strength_from_prism_reading_eval, 62.5, 9.999);
    is_refused(sucrose_strength_from_prism_reading_eval, 62.5, 30.001);
    is_refused(sucrose_strength_from_prism_reading_eval, 70.001, 20);
    ck_assert_int_eq(sucrose_strength_from_prism_reading_eval(70, 30, &out), ST_OK);
    ck_near(out, 70.81, 1e-9);
}
END_TEST

START_TEST(a_reading_below_that_of_cold_water_is_refused)
{
    double out = UNTOUCHED;

    ck_assert_int_eq(sucrose_strength_from_index_eval(1.50398, 20, &out), ST_OK); /* 85 % as printed */
    ck_near(out, 85, 0);
    ck_assert_int_eq(sucrose_strength_from_index_eval(1.3329, 20, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_strength_from_inline_reading_eval(0, 19.5, &out), ST_OK); /* water */
    ck_near(out, 0, 0);
    ck_assert_int_eq(sucrose_strength_from_prism_reading_eval(0, 19.5, &out), ST_OK);
    ck_near(out, 0, 0);
    is_refused(sucrose_strength_from_inline_reading_eval, 0, 18);
    is_refused(sucrose_strength_from_prism_reading_eval, 0, 18);
    is_refused(sucrose_strength_from_inline_reading_eval, 0.3, 10);
    is_refused(sucrose_strength_from_prism_reading_eval, 0.3, 10);
    is_refused(sucrose_strength_from_inline_reading_eval, 84, 40); /* above 85 % */
}
END_TEST

/* ---- what is not sucrose -------------------------------------------------------------- */

START_TEST(the_corrections_keep_their_order_and_grow_with_what_they_correct)
{
    double before = -1;

    for (int i = 0; i <= 100; i++) {
        struct span add;

        ck_assert_int_eq(sucrose_acid_correction_eval(i / 10.0, &add), ST_OK);
        ck_assert(add.low <= add.best && add.best <= add.high && add.best > before);
        before = add.best;
    }
    for (int r = 0; r <= STRENGTH_MAX_PCT; r++)
        for (int i = 0; i <= r; i++) {
            struct span add;

            ck_assert_int_eq(sucrose_invert_correction_eval(r, i, &add), ST_OK);
            ck_assert(add.low <= add.best && add.best <= add.high && (i == 0) == (add.best == 0));
        }
}
END_TEST

START_TEST(the_acid_in_bee_feed_moves_a_reading_by_no_more_than_a_few_hundredths)
{
    struct span add;

    ck_assert_int_eq(sucrose_acid_correction_eval(0.3, &add), ST_OK);
    ck_assert(add.high <= 0.0600001); /* juice table: 0.04 for 0.2 %, 0.08 for 0.4 % */
}
END_TEST

START_TEST(more_acid_or_invert_than_there_can_be_is_refused)
{
    struct span add = {UNTOUCHED, 0, 0};

    ck_assert_int_eq(sucrose_acid_correction_eval(10.001, &add), ST_RANGE);
    ck_assert_int_eq(sucrose_acid_correction_eval(-0.001, &add), ST_RANGE);
    ck_assert_int_eq(sucrose_invert_correction_eval(60, 62, &add), ST_RANGE);
    ck_assert_int_eq(sucrose_invert_correction_eval(86, 10, &add), ST_RANGE);
    ck_assert(add.low == UNTOUCHED);
    ck_assert_int_eq(sucrose_invert_correction_eval(60, 61.3, &add), ST_OK); /* all of it: it reads low */
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("sucrose_optics");
    TCase *all = tcase_create("all");

    tcase_add_test(all, what_is_not_a_number_is_refused_at_every_argument);
    tcase_add_test(all, any_finite_input_is_answered_by_a_possible_number_or_refused);
    tcase_add_test(all, the_edges_of_the_range_belong_to_it_and_a_hair_outside_does_not);
    tcase_add_test(all, index_rises_with_strength_and_falls_with_temperature_everywhere);
    tcase_add_test(all, strength_from_index_inverts_the_index_up_to_the_edges);
    tcase_add_test(all, water_follows_the_international_formula_at_every_temperature);
    tcase_add_test(all, hot_syrup_falls_about_as_glucose_syrup_does);
    tcase_add_test(all, at_20_degrees_a_reading_is_the_strength);
    tcase_add_test(all, a_reading_says_the_index_and_the_index_the_strength);
    tcase_add_test(all, physics_and_the_table_agree_within_three_hundredths);
    tcase_add_test(all, the_table_is_continuous_and_ends_where_it_is_printed);
    tcase_add_test(all, a_reading_below_that_of_cold_water_is_refused);
    tcase_add_test(all, the_corrections_keep_their_order_and_grow_with_what_they_correct);
    tcase_add_test(all, the_acid_in_bee_feed_moves_a_reading_by_no_more_than_a_few_hundredths);
    tcase_add_test(all, more_acid_or_invert_than_there_can_be_is_refused);
    suite_add_tcase(suite, all);
    return suite;
}
