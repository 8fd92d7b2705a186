/* Conduction into skin, and the heat of a clinging film. */
#include "science/skin_contact.h"
#include "science/skin_film.h"
#include "support/support.h"

#include <math.h>

static double held(double surface_c)
{
    double seconds = -1;

    ck_assert_int_eq(skin_contact_time_eval(surface_c, &seconds), ST_OK);
    return seconds;
}

START_TEST(hotter_is_faster)
{
    double before = held(45);

    for (double temp_c = 45.5; temp_c <= 105; temp_c += 0.5) {
        double now = held(temp_c);

        ck_assert_double_lt(now, before);
        before = now;
    }
}
END_TEST

/* Measured, second degree: Moritz and Henriques (1947) as on an anti-scald valve page; 51 degC as in a
 * comparison of measured values with a calculation. */
START_TEST(the_model_meets_the_measured_times_as_the_contract_says_up_to_1_6_times_longer)
{
    static const double ROWS[][2] = {{45, 7200}, {47, 1200}, {48, 900}, {49, 480},
                                     {51, 120},  {55, 17},   {60, 3}};

    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++) {
        ck_assert_double_le(held(ROWS[i][0]), 1.6 * ROWS[i][1]);
        ck_assert_double_ge(held(ROWS[i][0]), 0.95 * ROWS[i][1]);
    }
}
END_TEST

START_TEST(the_same_call_gives_the_same_number)
{
    ck_near(held(57.3), held(57.3), 0);
}
END_TEST

START_TEST(outside_the_range_nothing_is_written)
{
    static const double OUTSIDE[] = {-1e300, 1e300, 44.99, 1e9, INFINITY, -INFINITY, (double)NAN};
    double seconds = -1;
    double heat = -1;

    for (size_t i = 0; i < sizeof OUTSIDE / sizeof OUTSIDE[0]; i++) {
        ck_assert_int_eq(skin_contact_time_eval(OUTSIDE[i], &seconds), ST_RANGE);
        ck_assert_int_eq(skin_film_heat_eval(OUTSIDE[i], 90, 60, &heat), ST_RANGE);
        ck_assert_int_eq(skin_film_heat_eval(1, OUTSIDE[i], 60, &heat), ST_RANGE);
        ck_assert_int_eq(skin_film_heat_eval(1, 90, i == 2 ? 85.01 : OUTSIDE[i], &heat), ST_RANGE);
    }
    ck_near(seconds, -1, 0);
    ck_near(heat, -1, 0);
}
END_TEST

START_TEST(a_film_at_45_degrees_has_nothing_left_to_give)
{
    double heat;

    ck_assert_int_eq(skin_film_heat_eval(2, 45, 60, &heat), ST_OK);
    ck_near(heat, 0, 0);
}
END_TEST

START_TEST(a_millimetre_of_hot_syrup_holds_a_second_degree_burn)
{
    double thin, thick;

    ck_assert_int_eq(skin_film_heat_eval(1, 95, 60, &thin), ST_OK);
    ck_assert_double_gt(thin, 16.4); /* Ripple and others (1990) */
    ck_assert_int_eq(skin_film_heat_eval(2, 95, 60, &thick), ST_OK);
    ck_near(thick, 2 * thin, 1e-9);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("skin_contact");
    TCase *all = tcase_create("all");

    tcase_set_timeout(all, 30);
    tcase_add_test(all, hotter_is_faster);
    tcase_add_test(all, the_model_meets_the_measured_times_as_the_contract_says_up_to_1_6_times_longer);
    tcase_add_test(all, the_same_call_gives_the_same_number);
    tcase_add_test(all, outside_the_range_nothing_is_written);
    tcase_add_test(all, a_film_at_45_degrees_has_nothing_left_to_give);
    tcase_add_test(all, a_millimetre_of_hot_syrup_holds_a_second_degree_burn);
    suite_add_tcase(suite, all);
    return suite;
}
