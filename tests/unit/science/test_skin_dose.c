#include "random_input.h"
#include "science/skin_dose.h"
#include "support/support.h"

#include <math.h>

START_TEST(the_time_to_a_grade_is_the_inverse_of_the_rate)
{
    static const double DOSES[] = {0.53, 1}; /* Henriques (1947), as in lecture notes */

    for (double basal_c = 44; basal_c <= 110; basal_c += 0.5)
        for (int grade = 0; grade < SKIN_GRADE_COUNT; grade++) {
            double seconds, rate;

            ck_assert_int_eq(skin_damage_time_eval(basal_c, (enum skin_grade)grade, &seconds), ST_OK);
            ck_assert_int_eq(skin_damage_rate_eval(basal_c, &rate), ST_OK);
            ck_near(rate * seconds, DOSES[grade], 1e-9 * DOSES[grade]);
        }
}
END_TEST

/* The pair 3.1e98 with 627900 J/mol and 8.314, found in papers, is about five times slower. */
START_TEST(the_two_constants_are_those_that_belong_together)
{
    double rate;

    ck_assert_int_eq(skin_damage_rate_eval(50, &rate), ST_OK);
    ck_near(rate, 4.964e-3, 0.5e-6); /* calculated from 3.1e98 and 75000 K by others */
    ck_assert_double_gt(rate, 4 * 3.1e98 * exp(-627900 / 8.314 / (50 + 273.15)));
}
END_TEST

START_TEST(below_44_degrees_there_is_no_damage_but_equivalent_minutes)
{
    double rate, minutes;

    ck_assert_int_eq(skin_damage_rate_eval(43.999, &rate), ST_OK);
    ck_near(rate, 0, 0);
    ck_assert_int_eq(skin_cem43_eval(42, 60, &minutes), ST_OK);
    ck_near(minutes, 0.25, 1e-12);
}
END_TEST

static struct skin_dose dose_of(double seconds, double from_c, double to_c)
{
    struct skin_dose dose = {0};

    ck_assert_int_eq(skin_dose_advance_eval(&dose, seconds, from_c, to_c, &dose), ST_OK);
    return dose;
}

static void fine_check(double seconds, double from_c, double to_c)
{
    struct skin_dose whole = dose_of(seconds, from_c, to_c);
    struct skin_dose fine = {0};
    int pieces = 500;

    for (int i = 0; i < pieces; i++)
        ck_assert_int_eq(skin_dose_advance_eval(&fine, seconds / pieces,
                                                from_c + (to_c - from_c) * i / pieces,
                                                from_c + (to_c - from_c) * (i + 1) / pieces, &fine),
                         ST_OK);
    ck_near(whole.damage, fine.damage, 1e-9 * fine.damage);
    ck_near(whole.cem43_min, fine.cem43_min, 1e-9 * fine.cem43_min);
}

START_TEST(a_rise_in_one_step_is_as_good_as_in_five_hundred)
{
    uint64_t seed = 41;

    fine_check(100, 20, 110);
    fine_check(100, 110, 20);
    fine_check(100, 43.5, 44.5);
    for (int i = 0; i < 100; i++)
        fine_check(random_between(&seed, 0, 1000), random_between(&seed, 20, 110),
                   random_between(&seed, 20, 110));
}
END_TEST

START_TEST(up_and_down_add_up_to_the_same)
{
    struct skin_dose up = dose_of(100, 40, 62);
    struct skin_dose down = dose_of(100, 62, 40);

    ck_near(up.damage, down.damage, 1e-12 * up.damage);
    ck_near(up.cem43_min, down.cem43_min, 1e-12 * up.cem43_min);
}
END_TEST

START_TEST(a_constant_temperature_is_the_rate_times_the_time)
{
    struct skin_dose dose = dose_of(7732, 45, 45);
    struct skin_dose halves = dose_of(3000, 45, 45);
    double minutes;

    ck_near(dose.damage, 1, 2e-4); /* 7732 s at 45 degC: calculated by others */
    ck_assert_int_eq(skin_dose_advance_eval(&halves, 4732, 45, 45, &halves), ST_OK);
    ck_near(halves.damage, dose.damage, 1e-9);
    ck_assert_int_eq(skin_cem43_eval(45, 7732, &minutes), ST_OK);
    ck_near(dose.cem43_min, minutes, 1e-9 * minutes);
    ck_near(dose_of(1, 43, 43).cem43_min * 60, 1, 1e-12);
    ck_near(dose_of(1, 90, 90).cem43_min, dose_of(1, 60, 60).cem43_min, 1e-6);
}
END_TEST

START_TEST(absurd_arguments_are_refused_and_nothing_is_written)
{
    static const double ABSURD[] = {-1e300, 1e300, -1, 1e9, INFINITY, -INFINITY, (double)NAN};

    for (size_t i = 0; i < sizeof ABSURD / sizeof ABSURD[0]; i++) {
        double x = ABSURD[i];
        double one = -1;
        struct skin_dose before = {0};
        struct skin_dose after = {-1, -1};

        ck_assert_int_eq(skin_damage_rate_eval(x, &one), ST_RANGE);
        ck_assert_int_eq(skin_damage_time_eval(x, SKIN_FIRST, &one), ST_RANGE);
        ck_assert_int_eq(skin_cem43_eval(x, 1, &one), ST_RANGE);
        ck_assert_int_eq(skin_cem43_eval(43, x, &one), ST_RANGE);
        ck_assert_int_eq(skin_dose_advance_eval(&before, x, 50, 50, &after), ST_RANGE);
        ck_assert_int_eq(skin_dose_advance_eval(&before, 1, x, 50, &after), ST_RANGE);
        ck_assert_int_eq(skin_dose_advance_eval(&before, 1, 50, x, &after), ST_RANGE);
        ck_assert(one == -1 && after.damage == -1 && after.cem43_min == -1);
    }
}
END_TEST

START_TEST(what_is_no_grade_is_refused)
{
    double one = -1;

    ck_assert_int_eq(skin_damage_time_eval(50, SKIN_GRADE_COUNT, &one), ST_RANGE);
    ck_assert_int_eq(skin_damage_time_eval(43.9, SKIN_FIRST, &one), ST_RANGE);
    ck_assert(one == -1);
    ck_assert_str_eq(skin_grade_name(SKIN_SECOND), "second degree");
    ck_assert_ptr_null(skin_grade_name(SKIN_GRADE_COUNT));
    ck_assert_ptr_null(skin_grade_name(-1));
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("skin_dose");
    TCase *all = tcase_create("all");

    tcase_add_test(all, the_time_to_a_grade_is_the_inverse_of_the_rate);
    tcase_add_test(all, the_two_constants_are_those_that_belong_together);
    tcase_add_test(all, below_44_degrees_there_is_no_damage_but_equivalent_minutes);
    tcase_add_test(all, a_rise_in_one_step_is_as_good_as_in_five_hundred);
    tcase_add_test(all, up_and_down_add_up_to_the_same);
    tcase_add_test(all, a_constant_temperature_is_the_rate_times_the_time);
    tcase_add_test(all, absurd_arguments_are_refused_and_nothing_is_written);
    tcase_add_test(all, what_is_no_grade_is_refused);
    suite_add_tcase(suite, all);
    return suite;
}
