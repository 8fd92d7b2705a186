#include "random_input.h"
#include "science/polynomial.h"
#include "science/sucrose.h"
#include "support/support.h"

#include <stdbool.h>

#define UNTOUCHED (-12345.678)
#define STRENGTH_MAX_PCT 85
#define TEMP_MAX_C 105

/* ---- every function of density and volume alike ----------------------------------------- */

static enum status call(int which, const double a[3], double out[2])
{
    switch (which) {
    case 0:
        return sucrose_density_eval(a[0], a[1], out);
    case 1:
        return sucrose_strength_from_density_eval(900 + 6 * a[0], a[1], out);
    case 2:
        return sucrose_concentration_eval(a[0], a[1], out);
    case 3:
        return sucrose_strength_from_concentration_eval(14 * a[0], a[1], out);
    case 4:
        return sucrose_mix_volume_eval(a[0], a[2], a[1], out);
    case 5:
        return sucrose_parts_eval(a[2], a[0], a[1], out, out + 1);
    case 6:
        return sucrose_made_up_eval(a[0], a[2], a[1], out, out + 1);
    default:
        return sucrose_litres_per_kg_eval(a[0], a[1], out);
    }
}
#define CALLS 8
static const int INPUTS[CALLS] = {2, 2, 2, 2, 3, 3, 3, 2};

START_TEST(any_finite_input_gives_a_finite_answer_or_a_refusal_that_writes_nothing)
{
    uint64_t seed = 20260101;
    int answered = 0;

    for (int i = 0; i < 100000; i++) {
        double a[3] = {random_finite(&seed, 0, 85), random_finite(&seed, -5, 110),
                       random_finite(&seed, 1, 200)};
        double out[2] = {UNTOUCHED, 0};
        enum status status = call(i % CALLS, a, out);

        if (status == ST_OK) {
            ck_assert_msg(isfinite(out[0]) && isfinite(out[1]), "function %d answered %g", i % CALLS, out[0]);
            answered++;
        } else {
            ck_assert_int_eq(status, ST_RANGE);
            ck_assert(out[0] == UNTOUCHED && out[1] == 0);
        }
    }
    ck_assert_int_gt(answered, 50000);
}
END_TEST

START_TEST(what_is_not_a_number_is_refused_at_every_argument)
{
    const double bad[3] = {(double)NAN, (double)INFINITY, -(double)INFINITY};

    for (int which = 0; which < CALLS; which++)
        for (int at = -1; at < INPUTS[which]; at++)
            for (int b = 0; b < 3; b++) {
                double a[3] = {50, 20, 100};
                double out[2] = {UNTOUCHED, UNTOUCHED};

                if (at < 0) { /* the good arguments are good */
                    ck_assert_int_eq(call(which, a, out), ST_OK);
                    continue;
                }
                a[at] = bad[b];
                ck_assert_int_eq(call(which, a, out), ST_RANGE);
                ck_assert(out[0] == UNTOUCHED && out[1] == UNTOUCHED);
            }
}
END_TEST

START_TEST(the_edges_of_the_range_belong_to_it_and_a_hair_outside_does_not)
{
    double out = UNTOUCHED;

    ck_assert_int_eq(sucrose_density_eval(0, 0, &out), ST_OK);
    ck_assert_int_eq(sucrose_density_eval(STRENGTH_MAX_PCT, TEMP_MAX_C, &out), ST_OK);
    out = UNTOUCHED;
    ck_assert_int_eq(sucrose_density_eval(-1e-9, 20, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_density_eval(STRENGTH_MAX_PCT + 1e-9, 20, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_density_eval(50, -1e-9, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_density_eval(50, TEMP_MAX_C + 1e-9, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_mix_volume_eval(86, 14, 20, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_mix_volume_eval(1, 0, 20, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_litres_per_kg_eval(0.99, 20, &out), ST_RANGE);
    ck_assert(out == UNTOUCHED);
}
END_TEST

/* ---- density ------------------------------------------------------------------------- */

/* The same polynomials, written as plainly as their source prints them. */
static double density_plain(double strength_pct, double temp_c)
{
    static const double WATER[] = {999.83952,     16.952577,    -7.9905127e-3,
                                   -46.241757e-6, 105.84601e-9, -281.03006e-12};
    static const double ROWS[5][7] = {
        {0, 385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890},
        {0, -46.2720, -7.1720, 1.1597, 5.1126, 17.5254, 0},
        {0, 59.7712, 7.2491, 12.3630, -35.4791, 0, 0},
        {0, -47.2207, -21.6977, 27.6301, 0, 0, 0},
        {0, 18.3184, 12.3081, 0, 0, 0, 0},
    };
    double density = polynomial(WATER, 6, temp_c) / (1 + 16.887236e-3 * temp_c);

    for (int j = 0; j < 5; j++)
        density += pow((temp_c - 20) / 100, j) * polynomial(ROWS[j], 7, strength_pct / 100);
    return density;
}

START_TEST(the_quick_way_to_the_density_gives_what_the_plain_way_gives)
{
    uint64_t seed = 3;

    for (int i = 0; i < 20000; i++) {
        double s = random_between(&seed, 0, STRENGTH_MAX_PCT);
        double t = random_between(&seed, 0, TEMP_MAX_C);
        double quick = 0;

        ck_assert_int_eq(sucrose_density_eval(s, t, &quick), ST_OK);
        ck_near(quick, density_plain(s, t), 1e-12 * quick);
    }
}
END_TEST

/* In steps of 0.1 % and 0.5 degC it rises by at least 3.0 kg/m3 for 1 %, while the slope changes by less
 * than 0.3 from one step to the next: between the steps it cannot turn. So every density has one
 * strength. */
START_TEST(density_rises_with_strength_everywhere)
{
    double least = 1000;
    double change = 0;

    for (int t = 0; t <= 2 * TEMP_MAX_C; t++) {
        double before = 0;

        for (int s = 0; s < 10 * STRENGTH_MAX_PCT; s++) {
            double here = 0;
            double next = 0;
            double slope;

            ck_assert_int_eq(sucrose_density_eval(s / 10.0, t / 2.0, &here), ST_OK);
            ck_assert_int_eq(sucrose_density_eval((s + 1) / 10.0, t / 2.0, &next), ST_OK);
            slope = 10 * (next - here);
            least = fmin(least, slope);
            change = s == 0 ? change : fmax(change, fabs(slope - before));
            before = slope;
        }
    }
    ck_assert_msg(least > 3.0, "least slope %g", least);
    ck_assert_msg(change < 0.3, "slope changes by %g", change);
}
END_TEST

START_TEST(density_falls_with_temperature_above_4_degrees)
{
    for (int s = 0; s <= STRENGTH_MAX_PCT; s++)
        for (int t = 4; t < TEMP_MAX_C; t++) { /* water is densest at 4 degC */
            double here = 0;
            double warmer = 0;

            ck_assert_int_eq(sucrose_density_eval(s, t, &here), ST_OK);
            ck_assert_int_eq(sucrose_density_eval(s, t + 1, &warmer), ST_OK);
            ck_assert_msg(warmer < here, "at %d %%, %d degC", s, t);
        }
}
END_TEST

START_TEST(strength_from_density_inverts_the_density_up_to_the_edges)
{
    for (int t = 0; t <= TEMP_MAX_C; t++)
        for (int s = 0; s <= 4 * STRENGTH_MAX_PCT; s++) {
            double density = 0;
            double back = 0;
            double again = 0;

            ck_assert_int_eq(sucrose_density_eval(s / 4.0, t, &density), ST_OK);
            ck_assert_int_eq(sucrose_strength_from_density_eval(density, t, &back), ST_OK);
            ck_near(back, s / 4.0, 1e-9);
            ck_assert_int_eq(sucrose_density_eval(back, t, &again), ST_OK);
            ck_near(again, density, 1e-9);
        }
}
END_TEST

START_TEST(a_density_that_no_syrup_has_at_its_temperature_is_refused)
{
    for (int t = 0; t <= TEMP_MAX_C; t++) {
        double water = 0;
        double thickest = 0;
        double out = UNTOUCHED;

        ck_assert_int_eq(sucrose_density_eval(0, t, &water), ST_OK);
        ck_assert_int_eq(sucrose_density_eval(STRENGTH_MAX_PCT, t, &thickest), ST_OK);
        /* 1 kg/m3 is at least 0.14 % at either end, more than the 0.1 % that is allowed */
        ck_assert_int_eq(sucrose_strength_from_density_eval(water - 1, t, &out), ST_RANGE);
        ck_assert_int_eq(sucrose_strength_from_density_eval(thickest + 1, t, &out), ST_RANGE);
        ck_assert_int_eq(sucrose_strength_from_density_eval(950, 20, &out), ST_RANGE);
        ck_assert_int_eq(sucrose_strength_from_density_eval(1460, 20, &out), ST_RANGE);
        ck_assert(out == UNTOUCHED);
    }
}
END_TEST

START_TEST(a_density_within_the_expected_error_of_water_or_of_the_thickest_is_answered_by_the_end)
{
    double strength = UNTOUCHED;

    ck_assert_int_eq(sucrose_strength_from_density_eval(998.2, 20, &strength), ST_OK); /* water as printed */
    ck_near(strength, 0, 0);
    for (int t = 0; t <= TEMP_MAX_C; t++) {
        double water = 0;
        double thickest = 0;

        ck_assert_int_eq(sucrose_density_eval(0, t, &water), ST_OK);
        ck_assert_int_eq(sucrose_density_eval(STRENGTH_MAX_PCT, t, &thickest), ST_OK);
        ck_assert_int_eq(sucrose_strength_from_density_eval(water - 0.3, t, &strength), ST_OK);
        ck_near(strength, 0, 0);
        ck_assert_int_eq(sucrose_strength_from_density_eval(thickest + 0.5, t, &strength), ST_OK);
        ck_near(strength, STRENGTH_MAX_PCT, 0);
    }
}
END_TEST

/* ---- volumes ------------------------------------------------------------------------- */

START_TEST(volume_is_mass_over_density)
{
    uint64_t seed = 7;

    for (int i = 0; i < 10000; i++) {
        double strength = random_between(&seed, 0, STRENGTH_MAX_PCT);
        double kg = random_between(&seed, 1, 2000);
        double t = random_between(&seed, 0, TEMP_MAX_C);
        double density = 0;
        double litres = 0;

        ck_assert_int_eq(sucrose_density_eval(strength, t, &density), ST_OK);
        ck_assert_int_eq(sucrose_mix_volume_eval(kg * strength / 100, kg * (1 - strength / 100), t, &litres),
                         ST_OK);
        ck_near(litres * density / 1000, kg, 1e-9 * kg);
    }
}
END_TEST

START_TEST(the_parts_of_a_volume_fill_that_volume)
{
    uint64_t seed = 8;

    for (int i = 0; i < 10000; i++) {
        double strength = random_between(&seed, 0, STRENGTH_MAX_PCT);
        double litres = random_between(&seed, 1, 2000);
        double t = random_between(&seed, 0, TEMP_MAX_C);
        double sugar = 0;
        double water = 0;
        double back = 0;

        ck_assert_int_eq(sucrose_parts_eval(litres, strength, t, &sugar, &water), ST_OK);
        ck_near(100 * sugar / (sugar + water), strength, 1e-9);
        ck_assert_int_eq(sucrose_mix_volume_eval(sugar, water, t, &back), ST_OK);
        ck_near(back, litres, 1e-9 * litres);
    }
}
END_TEST

START_TEST(sugar_made_up_to_a_volume_fills_it_and_none_is_lost)
{
    uint64_t seed = 9;
    int answered = 0;

    for (int i = 0; i < 10000; i++) {
        double litres = random_between(&seed, 1, 2000);
        double sugar = random_between(&seed, 0, 1.3) * litres;
        double t = random_between(&seed, 0, TEMP_MAX_C);
        double strength = 0;
        double water = 0;
        double back = 0;

        if (sucrose_made_up_eval(sugar, litres, t, &strength, &water) != ST_OK)
            continue;
        ck_near(100 * sugar / (sugar + water), strength, 1e-9);
        ck_assert_int_eq(sucrose_mix_volume_eval(sugar, water, t, &back), ST_OK);
        ck_near(back, litres, 1e-9 * litres);
        answered++;
    }
    ck_assert_int_gt(answered, 8500); /* from 1.19-1.24 kg/L on it would be above 85 % */
}
END_TEST

START_TEST(grams_in_a_litre_and_strength_invert_each_other_and_the_litres_from_a_kg)
{
    for (int t = 0; t <= TEMP_MAX_C; t++)
        for (int s = 0; s <= STRENGTH_MAX_PCT; s++) {
            double g_l = 0;
            double back = 0;
            double litres = UNTOUCHED;

            ck_assert_int_eq(sucrose_concentration_eval(s, t, &g_l), ST_OK);
            ck_assert_int_eq(sucrose_strength_from_concentration_eval(g_l, t, &back), ST_OK);
            ck_near(back, s, 1e-9);
            if (s == 0)
                continue;
            ck_assert_int_eq(sucrose_litres_per_kg_eval(s, t, &litres), ST_OK);
            ck_near(litres * g_l, 1000, 1e-9);
        }
}
END_TEST

START_TEST(a_kilogram_made_up_to_a_litre_is_not_a_kilogram_in_a_litre_of_water)
{
    double made_up = 0;
    double water = 0;

    ck_assert_int_eq(sucrose_made_up_eval(1, 1, 20, &made_up, &water), ST_OK);
    ck_near(made_up, 73.1, 0.05); /* and 50 % with a litre of water */
    ck_near(water, 0.368, 0.001);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("sucrose");
    TCase *all = tcase_create("all");

    tcase_add_test(all, any_finite_input_gives_a_finite_answer_or_a_refusal_that_writes_nothing);
    tcase_add_test(all, what_is_not_a_number_is_refused_at_every_argument);
    tcase_add_test(all, the_edges_of_the_range_belong_to_it_and_a_hair_outside_does_not);
    tcase_add_test(all, the_quick_way_to_the_density_gives_what_the_plain_way_gives);
    tcase_add_test(all, density_rises_with_strength_everywhere);
    tcase_add_test(all, density_falls_with_temperature_above_4_degrees);
    tcase_add_test(all, strength_from_density_inverts_the_density_up_to_the_edges);
    tcase_add_test(all,
                   a_density_within_the_expected_error_of_water_or_of_the_thickest_is_answered_by_the_end);
    tcase_add_test(all, a_density_that_no_syrup_has_at_its_temperature_is_refused);
    tcase_add_test(all, volume_is_mass_over_density);
    tcase_add_test(all, the_parts_of_a_volume_fill_that_volume);
    tcase_add_test(all, sugar_made_up_to_a_volume_fills_it_and_none_is_lost);
    tcase_add_test(all, grams_in_a_litre_and_strength_invert_each_other_and_the_litres_from_a_kg);
    tcase_add_test(all, a_kilogram_made_up_to_a_litre_is_not_a_kilogram_in_a_litre_of_water);
    suite_add_tcase(suite, all);
    return suite;
}
