#include "random_input.h"
#include "science/handbook.h"
#include "science/root.h"
#include "science/sucrose.h"
#include "support/support.h"

#include <stdbool.h>

#define UNTOUCHED (-12345.678)

/* What a row of the handbook, which must answer here, gives for these inputs. */
static double get(const char *name, const double in[])
{
    const struct handbook_entry *entry = handbook_find(name);
    double out = UNTOUCHED;

    ck_assert_msg(entry != NULL, "no row %s", name);
    ck_assert_msg(entry->eval(in, &out) == ST_OK, "%s(%g, %g, %g, %g) is refused", name, in[0], in[1], in[2],
                  in[3]);
    return out;
}
#define GET(name, ...) get(#name, (const double[HANDBOOK_INPUTS_MAX]){__VA_ARGS__})

static void is_refused(const struct handbook_entry *entry, const double in[])
{
    double out = UNTOUCHED;

    ck_assert_msg(entry->eval(in, &out) == ST_RANGE && out == UNTOUCHED, "%s(%g, %g, %g, %g) wrote %g",
                  entry->name, in[0], in[1], in[2], in[3], out);
}

static void middle_set(const struct handbook_entry *entry, double in[HANDBOOK_INPUTS_MAX])
{
    for (size_t i = 0; i < handbook_count(entry->inputs); i++)
        in[i] = (entry->inputs[i].min + entry->inputs[i].max) / 2;
}

/* ---- ranges, for every row ------------------------------------------------------------- */

START_TEST(any_finite_input_is_answered_within_the_stated_limits_or_refused)
{
    uint64_t seed = 20260101;

    for (const struct handbook_entry *e = HANDBOOK_HEAT; e->name != NULL; e++) {
        int answered = 0;

        for (int k = 0; k < 5000; k++) {
            double in[HANDBOOK_INPUTS_MAX] = {0};
            double out = UNTOUCHED;

            for (size_t i = 0; i < handbook_count(e->inputs); i++)
                in[i] = random_finite(&seed, e->inputs[i].min, e->inputs[i].max);
            if (e->eval(in, &out) == ST_OK) {
                ck_assert_msg(out >= e->outputs[0].min && out <= e->outputs[0].max,
                              "%s(%g, %g, %g, %g) is %g", e->name, in[0], in[1], in[2], in[3], out);
                answered++;
            } else {
                is_refused(e, in);
            }
        }
        ck_assert_msg(answered > 250, "%s answered only %d times", e->name, answered);
    }
}
END_TEST

START_TEST(what_is_not_a_number_is_refused_at_every_argument)
{
    const double bad[3] = {(double)NAN, (double)INFINITY, -(double)INFINITY};

    for (const struct handbook_entry *e = HANDBOOK_HEAT; e->name != NULL; e++)
        for (size_t i = 0; i < handbook_count(e->inputs); i++)
            for (int b = 0; b < 3; b++) {
                double in[HANDBOOK_INPUTS_MAX] = {0};

                middle_set(e, in);
                in[i] = bad[b];
                is_refused(e, in);
            }
}
END_TEST

START_TEST(the_ends_of_a_range_belong_to_it_and_what_lies_outside_does_not)
{
    for (const struct handbook_entry *e = HANDBOOK_HEAT; e->name != NULL; e++)
        for (size_t i = 0; i < handbook_count(e->inputs); i++)
            for (int end = 0; end < 2; end++) {
                double limit = end == 0 ? e->inputs[i].min : e->inputs[i].max;
                double in[HANDBOOK_INPUTS_MAX] = {0};
                double out = UNTOUCHED;

                middle_set(e, in);
                in[i] = nextafter(limit, end == 0 ? -HUGE_VAL : HUGE_VAL);
                is_refused(e, in);
                in[i] = limit;
                if (e->range[0] == '\0') /* nothing else limits it */
                    ck_assert_msg(e->eval(in, &out) == ST_OK, "%s refuses its own limit %g", e->name, limit);
            }
}
END_TEST

/* ---- inverses --------------------------------------------------------------------------- */

static int steps;

static double cube(double x, const void *context)
{
    steps++;
    return x * x * x - *(const double *)context;
}

static double cliff(double x, const void *context)
{
    steps++;
    return x < *(const double *)context ? -1e-9 : 1e9;
}

START_TEST(a_root_is_found_in_few_steps_and_never_in_many_more_than_by_halving)
{
    uint64_t seed = 3;

    for (int i = 0; i < 1000; i++) {
        double at = random_between(&seed, 0.001, 99.9);
        double cubed = at * at * at;

        steps = 0;
        ck_near(root_find(cube, &cubed, 0, 100, 1e-10), at, 2e-10);
        ck_assert_int_le(steps,
                         2 + 41); /* both ends, log2(100 / 2e-10) = 38.9 rounded up, one, one for rounding */
        steps = 0;
        ck_near(root_find(cliff, &at, 0, 100, 1e-10), at, 2e-10);
        ck_assert_int_le(steps, 2 + 41);
    }
}
END_TEST

START_TEST(saturation_temperature_inverts_solubility)
{
    double before = 0;

    for (int i = -128; i <= 1000; i++) {
        double strength = GET(sucrose_solubility, i / 10.0);

        ck_assert(strength > before);
        before = strength;
        ck_near(GET(sucrose_saturation_temp, strength), i / 10.0, 1e-9);
        ck_near(GET(sucrose_supersaturation, strength, i / 10.0), 1, 1e-12);
    }
}
END_TEST

START_TEST(grams_per_water_and_strength_invert_each_other)
{
    for (int i = 0; i <= 990; i++) {
        double grams = GET(sucrose_per_water, i / 10.0);

        ck_near(GET(sucrose_strength_from_per_water, grams), i / 10.0, 1e-9);
    }
}
END_TEST

START_TEST(strength_for_a_water_activity_inverts_it_and_activity_falls_all_the_way_to_85_percent)
{
    for (int t = 0; t <= 125; t += 5) {
        double before = 2;

        for (int i = 0; i <= 850; i += 5) {
            double activity = GET(sucrose_water_activity_at, i / 10.0, t);
            double strength = GET(sucrose_strength_for_activity, activity, t);

            ck_assert_msg(activity < before && activity > 0, "at %g %%, %d degC", i / 10.0, t);
            before = activity;
            ck_near(strength, i / 10.0, 1e-7);
            ck_near(GET(sucrose_water_activity_at, strength, t), activity, 1e-9);
            if (i > 0 && t < 125)
                ck_assert(GET(sucrose_water_activity_at, i / 10.0, t + 1) > activity);
        }
    }
    ck_near(GET(sucrose_water_activity, 60), GET(sucrose_water_activity_at, 60, 25), 0);
}
END_TEST

START_TEST(boiling_point_of_water_inverts_its_vapour_pressure)
{
    for (int i = 70; i <= 1330; i++) {
        double kpa = GET(water_vapour_pressure, i / 10.0);

        ck_assert(GET(water_vapour_pressure, i / 10.0 + 0.1) > kpa);
        ck_near(GET(water_boiling_point, kpa), i / 10.0, 1e-9);
    }
}
END_TEST

/* ---- boiling ------------------------------------------------------------------------------ */

START_TEST(a_syrup_boils_where_its_vapour_pressure_is_that_of_the_air)
{
    for (int s = 0; s <= 85; s++)
        for (int p = 50; p <= 110; p += 5) {
            double boiling_c = GET(sucrose_boiling_point, s, p);

            ck_near(GET(sucrose_vapour_pressure, s, boiling_c), p, 1e-9);
            ck_near(GET(sucrose_boiling_rise, s, p), boiling_c - GET(water_boiling_point, p), 1e-9);
            ck_near(GET(sucrose_boiling_margin, s, p, 60), boiling_c - 60, 1e-12);
            if (s < 85)
                ck_assert(GET(sucrose_boiling_point, s + 1, p) > boiling_c);
            if (p < 110)
                ck_assert(GET(sucrose_boiling_point, s, p + 5) > boiling_c);
        }
}
END_TEST

START_TEST(strength_for_a_boiling_point_inverts_it)
{
    for (int s = 1; s < 85; s++)
        for (int p = 50; p <= 110; p += 10) {
            double boiling_c = GET(sucrose_boiling_point, s, p);
            double strength = GET(sucrose_strength_for_boiling, boiling_c, p);

            ck_near(strength, s, 1e-6);
            ck_near(GET(sucrose_boiling_point, strength, p), boiling_c, 1e-9);
        }
}
END_TEST

START_TEST(a_boiling_point_within_half_a_tenth_of_that_of_water_or_of_85_percent_is_answered_by_the_end)
{
    for (int p = 50; p <= 110; p += 10) {
        double water_c = GET(water_boiling_point, p);
        double thickest_c = GET(sucrose_boiling_point, 85, p);

        ck_near(GET(sucrose_strength_for_boiling, water_c - 0.049, p), 0, 0);
        ck_near(GET(sucrose_strength_for_boiling, thickest_c + 0.049, p), 85, 0);
    }
    ck_near(GET(sucrose_strength_for_boiling, 99.97, 101.325), 0, 0); /* steam tables */
}
END_TEST

START_TEST(a_boiling_point_below_that_of_water_or_above_that_of_85_percent_gives_no_strength)
{
    double out = UNTOUCHED;

    ck_assert_int_eq(sucrose_strength_for_boiling_eval(99.9, 101.325, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_strength_for_boiling_eval(115, 101.325, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_strength_for_activity_eval(0.5, 25, &out), ST_RANGE);
    ck_assert(out == UNTOUCHED);
}
END_TEST

START_TEST(an_altitude_counts_as_the_pressure_there)
{
    double before = 1000;

    for (int h = -500; h <= 5000; h += 100) {
        double kpa = GET(air_pressure, h);

        ck_assert(kpa < before);
        before = kpa;
        ck_near(GET(sucrose_boiling_point_at_altitude, 60, h), GET(sucrose_boiling_point, 60, kpa), 0);
        ck_near(GET(sucrose_boiling_margin_at_altitude, 60, h, 80), GET(sucrose_boiling_margin, 60, kpa, 80),
                0);
    }
}
END_TEST

START_TEST(the_warmer_the_water_the_less_heat_evaporates_it)
{
    for (int t = 0; t < 135; t++)
        ck_assert(GET(water_evaporation_heat, t + 1) < GET(water_evaporation_heat, t));
}
END_TEST

/* ---- viscosity and heat --------------------------------------------------------------------- */

START_TEST(viscosity_rises_with_strength_and_falls_with_temperature_everywhere)
{
    for (int s = 0; s <= 169; s++)
        for (int t = 0; t <= 209; t++) {
            double here = GET(sucrose_viscosity, s / 2.0, t / 2.0);

            ck_assert_msg(GET(sucrose_viscosity, (s + 1) / 2.0, t / 2.0) > here, "%g %%, %g degC", s / 2.0,
                          t / 2.0);
            ck_assert_msg(GET(sucrose_viscosity, s / 2.0, (t + 1) / 2.0) < here, "%g %%, %g degC", s / 2.0,
                          t / 2.0);
        }
}
END_TEST

START_TEST(viscosity_is_smooth_between_the_tables)
{
    /* the logarithm bends one way only: upwards with strength, and upwards with temperature */
    for (int s = 1; s <= 84; s++)
        for (int t = 1; t <= 104; t++) {
            double here = 2 * log(GET(sucrose_viscosity, s, t));

            ck_assert_msg(log(GET(sucrose_viscosity, s + 1, t)) + log(GET(sucrose_viscosity, s - 1, t)) >
                              here,
                          "%d %%, %d degC", s, t);
            ck_assert_msg(log(GET(sucrose_viscosity, s, t + 1)) + log(GET(sucrose_viscosity, s, t - 1)) >
                              here,
                          "%d %%, %d degC", s, t);
        }
}
END_TEST

START_TEST(heat_capacity_falls_with_strength_and_does_not_fall_with_temperature)
{
    for (int s = 0; s < 85; s++)
        for (int t = 0; t < 105; t++) {
            double here = GET(sucrose_heat_capacity, s, t);

            ck_assert(GET(sucrose_heat_capacity, s + 1, t) < here);
            ck_assert(GET(sucrose_heat_capacity, s, t + 1) >= here);
            ck_assert(GET(sucrose_crystal_heat_capacity, t + 1) > GET(sucrose_crystal_heat_capacity, t));
        }
}
END_TEST

START_TEST(dissolving_cools_and_more_so_when_warm_or_strong)
{
    for (int t = 0; t < 105; t++) {
        ck_assert(GET(sucrose_dissolving_heat, t) > 0);
        ck_assert(GET(sucrose_dissolving_heat, t + 1) > GET(sucrose_dissolving_heat, t));
    }
    for (int s = 0; s < 85; s++)
        ck_assert(GET(sucrose_dilution_heat, s + 1) > GET(sucrose_dilution_heat, s));
    ck_near(GET(sucrose_dilution_heat, 0), 0, 0);
    ck_assert(GET(sucrose_mix_temp, 1, 20, 1, 20) < 20);
    ck_near(GET(sucrose_mix_temp, 0, 20, 1, 20), 20, 1e-9);
}
END_TEST

/* Diluting a strong syrup gives back what it took to make it strong: Gibbs and Duhem. The slope of the
 * heat of dilution over the molality, by differences, is what the activity says by its change with
 * temperature (Gibbs and Helmholtz). */
START_TEST(heat_of_dilution_and_water_activity_say_the_same)
{
    for (int s = 10; s <= 80; s += 5) {
        double step = 0.01, kelvin = 298.15;
        double more = GET(sucrose_per_water, s + step) / 100 / 0.342297; /* mol/kg */
        double less = GET(sucrose_per_water, s - step) / 100 / 0.342297;
        double slope = (GET(sucrose_dilution_heat, s + step) - GET(sucrose_dilution_heat, s - step)) *
                       342.297 / (more - less);
        double molality = (more + less) / 2;
        double dilution = -0.0180153 * molality * molality * slope; /* J per mol of water */
        double activity_slope = log(GET(sucrose_water_activity_at, s, 25.01) /
                                    GET(sucrose_water_activity_at, s, 24.99)) /
                                0.02;

        ck_near(dilution, -8.314462618 * kelvin * kelvin * activity_slope, 2e-4 * fabs(dilution));
    }
}
END_TEST

START_TEST(heat_is_neither_made_nor_lost)
{
    uint64_t seed = 17;

    for (int i = 0; i < 10000; i++) {
        double sugar_kg = random_between(&seed, 0, 600);
        double water_kg = random_between(&seed, 200, 600);
        double from_c = random_between(&seed, 15, 60);
        double to_c = random_between(&seed, 0, 105);
        double mix_c = GET(sucrose_mix_temp, sugar_kg, from_c, water_kg, from_c);
        double whole_kj = 4.2 * (sugar_kg + water_kg) * 100;
        double heat = GET(sucrose_batch_heat, sugar_kg, water_kg, from_c, to_c);
        double middle_c = (mix_c + to_c) / 2; /* heat capacity is a straight line: exact */
        double strength_pct = 100 * sugar_kg / (sugar_kg + water_kg);
        double warming = (sugar_kg + water_kg) * GET(sucrose_heat_capacity, strength_pct, middle_c) / 1000;

        /* what mixes by itself takes no heat; from there on only the solution is warmed */
        ck_near(GET(sucrose_batch_heat, sugar_kg, water_kg, from_c, mix_c), 0, 1e-9 * whole_kj);
        ck_near(heat, warming * (to_c - mix_c), 1e-9 * whole_kj);
        /* dissolving at one temperature */
        ck_near(GET(sucrose_batch_heat, sugar_kg, water_kg, from_c, from_c),
                sugar_kg * GET(sucrose_dissolving_heat, from_c), 1e-9 * whole_kj);
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

        if (sucrose_mix_temp_eval(sugar_kg, sugar_c, water_kg, water_c, &mix_c) != ST_OK || mix_c > 100)
            continue;
        ck_near(GET(sucrose_water_temp_for_mix, sugar_kg, sugar_c, water_kg, mix_c), water_c, 1e-9);
        answered++;
    }
    ck_assert_int_gt(answered, 8000);
}
END_TEST

START_TEST(a_mix_that_is_too_strong_or_needs_boiling_water_is_refused)
{
    double out = UNTOUCHED;

    ck_assert_int_eq(sucrose_mix_temp_eval(86, 20, 14, 60, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_batch_heat_eval(86, 14, 20, 60, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_mix_temp_eval(1, -30, 1, 0, &out), ST_RANGE);
    ck_assert_int_eq(sucrose_water_temp_for_mix(2, 15, 1, 75, &out), ST_RANGE); /* above 100 */
    ck_assert(out == UNTOUCHED);
}
END_TEST

/* ---- what people know, common practice ------------------------------------------------------ */

/* Kg of sugar that just dissolve in 1 kg of water when nothing is lost to the room: dissolving cools the
 * mix, and it is the end that is saturated. */
static double dissolved_kg(double water_c, double sugar_c)
{
    double low = 0.5, high = 4;

    for (int i = 0; i < 50; i++) {
        double sugar_kg = (low + high) / 2;
        double end_c = GET(sucrose_mix_temp, sugar_kg, sugar_c, 1, water_c);

        *(100 * sugar_kg / (1 + sugar_kg) < GET(sucrose_solubility, end_c) ? &low : &high) = sugar_kg;
    }
    return low;
}

/* The rule of thumb "sugar added to warm water until no more dissolves makes a syrup between 1:1 and 2:1 by
 * weight", common practice, no source. With the cooling it holds for sugar of 15-20 degC and water of up to
 * 25 degC (1.98-1.99, ending at 18-19 degC). From 30 degC on it does not: 2.01-2.03, at 50 degC 2.16-2.18,
 * ending near 31 degC, "about 2:1" at best. The mix may end up to 3 K cooler than said, a ratio 0.07 lower.
 */
START_TEST(sugar_added_to_warm_water_until_no_more_dissolves_cools_it_to_a_syrup_of_about_2_to_1)
{
    for (int sugar_c = 15; sugar_c <= 20; sugar_c++)
        for (int water_c = 5; water_c <= 50; water_c++) {
            double ratio = dissolved_kg(water_c, sugar_c);
            double end_c = GET(sucrose_mix_temp, ratio, sugar_c, 1, water_c);

            if (water_c <= 25)
                ck_assert(ratio > 1.8 && ratio < 2);
            else if (water_c >= 30)
                ck_assert(ratio > 2 && ratio < 2.2); /* where the rule says too little */
            ck_assert(water_c < 15 || end_c < water_c);
        }
    ck_near(dissolved_kg(25, 20), 1.99, 0.005);
    ck_near(dissolved_kg(50, 20), 2.18, 0.005);
}
END_TEST

/* A tank that is kept at its temperature dissolves more: 2:1 is full at 19.6 degC, 40 degC take 2.38. */
START_TEST(water_kept_warm_dissolves_more_than_2_to_1_from_20_degrees_on)
{
    for (int t = 0; t <= 40; t++) {
        double ratio = GET(sucrose_per_water, GET(sucrose_solubility, t)) / 100;

        ck_assert(t <= 19 ? ratio > 1.7 && ratio < 2 : ratio > 2 && ratio < 2.4);
    }
    ck_near(GET(sucrose_saturation_temp, 200.0 / 3), 19.6, 0.1);
}
END_TEST

START_TEST(a_syrup_of_5_to_3_never_crystallises_and_one_of_2_to_1_does_in_the_cold)
{
    double out = UNTOUCHED;

    ck_assert_int_eq(sucrose_saturation_temp_eval(62.5, &out), ST_RANGE);
    ck_assert(out == UNTOUCHED);
    ck_assert(GET(sucrose_supersaturation, 62.5, -13) < 1);
    ck_assert(GET(sucrose_supersaturation, 200.0 / 3, 10) > 1);
    ck_assert(GET(sucrose_supersaturation, 200.0 / 3, 25) < 1);
}
END_TEST

START_TEST(thin_syrup_ferments_sooner_than_thick_but_none_is_below_the_yeasts_that_love_sugar)
{
    double thin = GET(sucrose_water_activity, 50);
    double medium = GET(sucrose_water_activity, 62.5);
    double thick = GET(sucrose_water_activity, 200.0 / 3);

    /* Rule of thumb, common practice, no source: thin syrup ferments sooner than thick. Here it is the order
     * of the water activities; limits after Beuchat (1981): most bacteria 0.91, many yeasts 0.88,
     * sugar-loving yeasts 0.62 */
    ck_assert(thin > 0.91);
    ck_assert(medium < 0.91 && medium > 0.88);
    ck_assert(thick < 0.88 && thick > 0.62);
    for (int t = 0; t <= 100; t++)
        ck_assert(GET(sucrose_water_activity_at, GET(sucrose_solubility, t), t) > 0.62);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("sucrose_heat");
    TCase *all = tcase_create("all");

    tcase_add_test(all, any_finite_input_is_answered_within_the_stated_limits_or_refused);
    tcase_add_test(all, what_is_not_a_number_is_refused_at_every_argument);
    tcase_add_test(all, the_ends_of_a_range_belong_to_it_and_what_lies_outside_does_not);
    tcase_add_test(all, a_root_is_found_in_few_steps_and_never_in_many_more_than_by_halving);
    tcase_add_test(all, saturation_temperature_inverts_solubility);
    tcase_add_test(all, grams_per_water_and_strength_invert_each_other);
    tcase_add_test(all,
                   strength_for_a_water_activity_inverts_it_and_activity_falls_all_the_way_to_85_percent);
    tcase_add_test(all, boiling_point_of_water_inverts_its_vapour_pressure);
    tcase_add_test(all, a_syrup_boils_where_its_vapour_pressure_is_that_of_the_air);
    tcase_add_test(all, strength_for_a_boiling_point_inverts_it);
    tcase_add_test(
        all, a_boiling_point_within_half_a_tenth_of_that_of_water_or_of_85_percent_is_answered_by_the_end);
    tcase_add_test(all, a_boiling_point_below_that_of_water_or_above_that_of_85_percent_gives_no_strength);
    tcase_add_test(all, an_altitude_counts_as_the_pressure_there);
    tcase_add_test(all, the_warmer_the_water_the_less_heat_evaporates_it);
    tcase_add_test(all, viscosity_rises_with_strength_and_falls_with_temperature_everywhere);
    tcase_add_test(all, viscosity_is_smooth_between_the_tables);
    tcase_add_test(all, heat_capacity_falls_with_strength_and_does_not_fall_with_temperature);
    tcase_add_test(all, dissolving_cools_and_more_so_when_warm_or_strong);
    tcase_add_test(all, heat_of_dilution_and_water_activity_say_the_same);
    tcase_add_test(all, heat_is_neither_made_nor_lost);
    tcase_add_test(all, water_for_a_mix_inverts_the_mix_temperature);
    tcase_add_test(all, a_mix_that_is_too_strong_or_needs_boiling_water_is_refused);
    tcase_add_test(all,
                   sugar_added_to_warm_water_until_no_more_dissolves_cools_it_to_a_syrup_of_about_2_to_1);
    tcase_add_test(all, water_kept_warm_dissolves_more_than_2_to_1_from_20_degrees_on);
    tcase_add_test(all, a_syrup_of_5_to_3_never_crystallises_and_one_of_2_to_1_does_in_the_cold);
    tcase_add_test(all, thin_syrup_ferments_sooner_than_thick_but_none_is_below_the_yeasts_that_love_sugar);
    suite_add_tcase(suite, all);
    return suite;
}
