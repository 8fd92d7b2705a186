/* Conduction into skin, and the heat of a clinging film. */
#include "science/skin_burn.h"
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

static double through(double liquid_c, double film_w_m2_k)
{
    double seconds = -1;

    ck_assert_int_eq(skin_film_time_eval(liquid_c, film_w_m2_k, &seconds), ST_OK);
    return seconds;
}

START_TEST(hotter_is_faster_and_a_poorer_film_slower)
{
    double before = held(45);

    for (double temp_c = 45.5; temp_c <= 105; temp_c += 0.5) {
        double now = held(temp_c);

        ck_assert_double_lt(now, before);
        ck_assert_double_gt(through(temp_c, 2000), now);
        before = now;
    }
    for (double film = 200; film < 5e4; film *= 1.5)
        ck_assert_double_gt(through(60, film), through(60, film * 1.5));
}
END_TEST

START_TEST(a_very_good_film_is_a_held_surface)
{
    ck_near(through(60, 1e5) / held(60), 1, 0.05);
    ck_near(through(50, 1e5) / held(50), 1, 0.01);
}
END_TEST

/* Measured, second degree (Moritz and Henriques 1947 and the tables after them): within a factor of 2, as
 * the contract says. */
START_TEST(the_model_meets_the_measured_times_within_a_factor_of_two)
{
    for (double temp_c = 46; temp_c <= 70; temp_c += 1) {
        struct span measured;

        ck_assert_int_eq(skin_burn_time_eval(temp_c, BURN_SECOND, BURN_ADULT, &measured), ST_OK);
        ck_assert_double_le(held(temp_c), 2 * measured.high);
        ck_assert_double_ge(held(temp_c), measured.low / 2);
    }
}
END_TEST

START_TEST(the_same_call_gives_the_same_number)
{
    ck_near(held(57.3), held(57.3), 0);
    ck_near(through(57.3, 900), through(57.3, 900), 0);
}
END_TEST

START_TEST(where_skin_does_not_burn_within_hours_there_is_no_time)
{
    double seconds = -1;

    ck_assert_int_eq(skin_film_time_eval(45, 100, &seconds), ST_RANGE);
    ck_near(seconds, -1, 0);
}
END_TEST

START_TEST(outside_the_range_nothing_is_written)
{
    static const double OUTSIDE[] = {-1e300, 1e300, 44.99, 1e9, INFINITY, -INFINITY, (double)NAN};
    double seconds = -1;
    struct skin_film film = {-1, -1};

    for (size_t i = 0; i < sizeof OUTSIDE / sizeof OUTSIDE[0]; i++) {
        ck_assert_int_eq(skin_contact_time_eval(OUTSIDE[i], &seconds), ST_RANGE);
        ck_assert_int_eq(skin_film_time_eval(OUTSIDE[i], 2000, &seconds), ST_RANGE);
        ck_assert_int_eq(skin_film_time_eval(60, OUTSIDE[i], &seconds), ST_RANGE);
        ck_assert_int_eq(skin_film_heat_eval(OUTSIDE[i], 90, 60, &film), ST_RANGE);
        ck_assert_int_eq(skin_film_heat_eval(1, OUTSIDE[i], 60, &film), ST_RANGE);
        ck_assert_int_eq(skin_film_heat_eval(1, 90, i == 2 ? 85.01 : OUTSIDE[i], &film), ST_RANGE);
    }
    ck_near(seconds, -1, 0);
    ck_assert(film.j_cm2 == -1 && film.burns == -1);
}
END_TEST

START_TEST(a_film_at_45_degrees_has_nothing_left_to_give)
{
    struct skin_film film;

    ck_assert_int_eq(skin_film_heat_eval(2, 45, 60, &film), ST_OK);
    ck_near(film.j_cm2, 0, 0);
    ck_near(film.burns, 0, 0);
}
END_TEST

START_TEST(a_millimetre_of_hot_syrup_holds_a_second_degree_burn)
{
    struct skin_film thin, thick;

    /* 19 J/cm2 against 16.4 (Ripple and others 1990) */
    ck_assert_int_eq(skin_film_heat_eval(1, 95, 60, &thin), ST_OK);
    ck_assert_double_gt(thin.burns, 1);
    ck_near(thin.burns, thin.j_cm2 / 16.4, 1e-12);
    ck_assert_int_eq(skin_film_heat_eval(2, 95, 60, &thick), ST_OK);
    ck_near(thick.j_cm2, 2 * thin.j_cm2, 1e-9);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("skin_contact");
    TCase *all = tcase_create("all");

    tcase_set_timeout(all, 30);
    tcase_add_test(all, hotter_is_faster_and_a_poorer_film_slower);
    tcase_add_test(all, a_very_good_film_is_a_held_surface);
    tcase_add_test(all, the_model_meets_the_measured_times_within_a_factor_of_two);
    tcase_add_test(all, the_same_call_gives_the_same_number);
    tcase_add_test(all, where_skin_does_not_burn_within_hours_there_is_no_time);
    tcase_add_test(all, outside_the_range_nothing_is_written);
    tcase_add_test(all, a_film_at_45_degrees_has_nothing_left_to_give);
    tcase_add_test(all, a_millimetre_of_hot_syrup_holds_a_second_degree_burn);
    suite_add_tcase(suite, all);
    return suite;
}
