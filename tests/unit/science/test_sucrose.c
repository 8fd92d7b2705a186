#include "random_input.h"
#include "science/sucrose.h"
#include "support/support.h"

#include <stdbool.h>

#define UNTOUCHED (-12345.678)

/* Every function of the module as one of four arguments, so that they can be tried alike. */
static enum status call(int which, const double a[4], double *out)
{
    switch (which) {
    case 0:
        return sucrose_density_eval(a[0], a[1], out);
    case 1:
        return sucrose_solubility_eval(a[1], out);
    case 2:
        return sucrose_saturation_temp_eval(a[0], out);
    case 3:
        return sucrose_heat_capacity_eval(a[0], a[1], out);
    case 4:
        return sucrose_crystal_heat_capacity_eval(a[1], out);
    case 5:
        return sucrose_viscosity_eval(a[0], a[1], out);
    case 6:
        return air_pressure_eval(a[2], out);
    case 7:
        return sucrose_boiling_point_eval(a[0], a[3], out);
    case 8:
        return sucrose_water_activity_eval(a[0], out);
    case 9:
        return sucrose_mix_volume_eval(a[0], a[3], a[1], out);
    case 10:
        return sucrose_mix_temp_eval(a[0], a[1], a[3], a[2] / 50, out);
    default:
        return sucrose_water_temp_for_mix(a[0], a[1], a[3], a[2] / 50, out);
    }
}
#define CALLS 12

START_TEST(any_finite_input_gives_a_finite_answer_or_a_refusal_that_writes_nothing)
{
    uint64_t seed = 20260101;
    int answered = 0;

    for (int i = 0; i < 100000; i++) {
        double a[4] = {random_finite(&seed, 0, 85), random_finite(&seed, -30, 105),
                       random_finite(&seed, -500, 5000), random_finite(&seed, 50, 110)};
        double out = UNTOUCHED;
        enum status status = call(i % CALLS, a, &out);

        if (status == ST_OK) {
            ck_assert_msg(isfinite(out), "function %d answered %g", i % CALLS, out);
            answered++;
        } else {
            ck_assert_int_eq(status, ST_RANGE);
            ck_assert(out == UNTOUCHED);
        }
    }
    ck_assert_int_gt(answered, 30000);
}
END_TEST

START_TEST(what_is_not_a_number_is_out_of_range_everywhere)
{
    const double bad[3] = {(double)NAN, (double)INFINITY, -(double)INFINITY};

    for (int which = 0; which < CALLS; which++)
        for (int b = 0; b < 3; b++) {
            double a[4] = {bad[b], bad[b], bad[b], bad[b]};
            double out = UNTOUCHED;

            ck_assert_int_eq(call(which, a, &out), ST_RANGE);
            ck_assert(out == UNTOUCHED);
        }
}
END_TEST

START_TEST(density_rises_with_strength_and_falls_with_temperature)
{
    for (int s = 0; s < 85; s++)
        for (int t = 4; t < 105; t++) { /* water is densest at 4 degC */
            double here = 0;
            double stronger = 0;
            double warmer = 0;

            ck_assert_int_eq(sucrose_density_eval(s, t, &here), ST_OK);
            ck_assert_int_eq(sucrose_density_eval(s + 1, t, &stronger), ST_OK);
            ck_assert_int_eq(sucrose_density_eval(s, t + 1, &warmer), ST_OK);
            ck_assert_msg(stronger > here && warmer < here, "at %d %%, %d degC", s, t);
        }
}
END_TEST

START_TEST(saturation_temperature_inverts_solubility)
{
    double previous = 0;

    for (int i = 0; i <= 1000; i++) {
        double t = i / 10.0;
        double s = 0;
        double back = 0;

        ck_assert_int_eq(sucrose_solubility_eval(t, &s), ST_OK);
        ck_assert(s > previous);
        previous = s;
        ck_assert_int_eq(sucrose_saturation_temp_eval(s, &back), ST_OK);
        ck_near(back, t, 1e-6);
    }
}
END_TEST

START_TEST(a_thin_syrup_never_crystallises_above_freezing)
{
    double t = UNTOUCHED;

    ck_assert_int_eq(sucrose_saturation_temp_eval(62.5, &t), ST_RANGE);
    ck_assert(t == UNTOUCHED);
    ck_assert_int_eq(sucrose_saturation_temp_eval(66.667, &t), ST_OK);
    ck_near(t, 19.6, 0.1);
}
END_TEST

START_TEST(volume_is_mass_over_density)
{
    uint64_t seed = 7;

    for (int i = 0; i < 10000; i++) {
        double strength = random_between(&seed, 0, 85);
        double kg = random_between(&seed, 1, 2000);
        double t = random_between(&seed, 0, 105);
        double density = 0;
        double litres = 0;

        ck_assert_int_eq(sucrose_density_eval(strength, t, &density), ST_OK);
        ck_assert_int_eq(sucrose_mix_volume_eval(kg * strength / 100, kg * (1 - strength / 100), t, &litres),
                         ST_OK);
        ck_near(litres * density / 1000, kg, 1e-9 * kg);
    }
}
END_TEST

START_TEST(water_for_a_mix_inverts_the_mix_temperature)
{
    uint64_t seed = 11;
    int answered = 0;

    for (int i = 0; i < 10000; i++) {
        double sugar_kg = random_between(&seed, 0, 600);
        double water_kg = random_between(&seed, 200, 600);
        double sugar_c = random_between(&seed, -20, 40);
        double water_c = random_between(&seed, 0, 100);
        double mix_c = 0;
        double back_c = 0;

        if (sucrose_mix_temp_eval(sugar_kg, sugar_c, water_kg, water_c, &mix_c) != ST_OK || mix_c > 100)
            continue;
        ck_assert_int_eq(sucrose_water_temp_for_mix(sugar_kg, sugar_c, water_kg, mix_c, &back_c), ST_OK);
        ck_near(back_c, water_c, 1e-8);
        answered++;
    }
    ck_assert_int_gt(answered, 8000);
}
END_TEST

START_TEST(dissolving_cools)
{
    double t = 0;

    ck_assert_int_eq(sucrose_mix_temp_eval(1, 20, 1, 20, &t), ST_OK);
    ck_near(t, 17.7, 0.05);
    ck_assert_int_eq(sucrose_mix_temp_eval(0, 20, 1, 20, &t), ST_OK);
    ck_near(t, 20, 1e-9);
}
END_TEST

START_TEST(boiling_point_rises_with_strength_and_pressure)
{
    for (int s = 0; s < 85; s++)
        for (int p = 50; p < 110; p += 5) {
            double here = 0;
            double stronger = 0;
            double deeper = 0;

            ck_assert_int_eq(sucrose_boiling_point_eval(s, p, &here), ST_OK);
            ck_assert_int_eq(sucrose_boiling_point_eval(s + 1, p, &stronger), ST_OK);
            ck_assert_int_eq(sucrose_boiling_point_eval(s, p + 5, &deeper), ST_OK);
            ck_assert(stronger > here && deeper > here);
        }
}
END_TEST

START_TEST(water_activity_and_air_pressure_fall_and_viscosity_rises)
{
    double before = 2;
    double thin = 0;
    double kpa = 1000;

    for (int s = 0; s <= 80; s++) {
        double now = 0;
        double mpa_s = 0;

        ck_assert_int_eq(sucrose_water_activity_eval(s, &now), ST_OK);
        ck_assert(now < before && now > 0 && now <= 1);
        before = now;
        ck_assert_int_eq(sucrose_viscosity_eval(s, 40, &mpa_s), ST_OK);
        ck_assert(mpa_s > thin);
        thin = mpa_s;
    }
    for (int h = -500; h <= 5000; h += 100) {
        double now = 0;

        ck_assert_int_eq(air_pressure_eval(h, &now), ST_OK);
        ck_assert(now < kpa);
        kpa = now;
    }
}
END_TEST

START_TEST(more_sugar_than_the_formula_knows_is_refused)
{
    double out = UNTOUCHED;

    ck_assert_int_eq(sucrose_mix_volume_eval(86, 14, 20, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_mix_volume_eval(1, 0, 20, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_mix_temp_eval(86, 20, 14, 60, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_water_temp_for_mix(2, 15, 1, 75, &out), ST_RANGE); /* above 100 */
    ck_assert(out == UNTOUCHED);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("sucrose");
    TCase *all = tcase_create("all");

    tcase_add_test(all, any_finite_input_gives_a_finite_answer_or_a_refusal_that_writes_nothing);
    tcase_add_test(all, what_is_not_a_number_is_out_of_range_everywhere);
    tcase_add_test(all, density_rises_with_strength_and_falls_with_temperature);
    tcase_add_test(all, saturation_temperature_inverts_solubility);
    tcase_add_test(all, a_thin_syrup_never_crystallises_above_freezing);
    tcase_add_test(all, volume_is_mass_over_density);
    tcase_add_test(all, water_for_a_mix_inverts_the_mix_temperature);
    tcase_add_test(all, dissolving_cools);
    tcase_add_test(all, boiling_point_rises_with_strength_and_pressure);
    tcase_add_test(all, water_activity_and_air_pressure_fall_and_viscosity_rises);
    tcase_add_test(all, more_sugar_than_the_formula_knows_is_refused);
    suite_add_tcase(suite, all);
    return suite;
}
