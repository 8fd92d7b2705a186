#include "science/skin_burn.h"
#include "support/support.h"

#include <math.h>

static struct span burn(double temp_c, enum burn_degree degree, enum burn_person person)
{
    struct span span = {-1, -1, -1};

    ck_assert_int_eq(skin_burn_time_eval(temp_c, degree, person, &span), ST_OK);
    return span;
}

START_TEST(hotter_is_never_slower)
{
    for (int degree = 0; degree < BURN_DEGREE_COUNT; degree++) {
        struct span before = burn(44, (enum burn_degree)degree, BURN_ADULT);

        for (double temp_c = 44.1; temp_c <= 70; temp_c += 0.1) {
            struct span now = burn(temp_c, (enum burn_degree)degree, BURN_ADULT);

            ck_assert(now.low < before.low && now.best < before.best + 1e-9 && now.high < before.high + 1e-9);
            ck_assert(now.low <= now.best && now.best <= now.high);
            before = now;
        }
    }
}
END_TEST

START_TEST(the_deeper_burn_never_comes_first)
{
    for (double temp_c = 44; temp_c <= 70; temp_c += 0.1) {
        struct span second = burn(temp_c, BURN_SECOND, BURN_ADULT);
        struct span third = burn(temp_c, BURN_THIRD, BURN_ADULT);

        ck_assert_double_le(second.low, third.low + 1e-9);
        ck_assert_double_le(second.high, third.high + 1e-9);
    }
}
END_TEST

/* Published values of each source: burn institute 5 min at 49 degC, US text 5 min, valve page 8 and 10. */
START_TEST(where_sources_differ_the_span_reaches_from_one_to_the_other)
{
    struct span second = burn(49, BURN_SECOND, BURN_ADULT);
    struct span third = burn(49, BURN_THIRD, BURN_ADULT);

    ck_near(second.low, 300, 1e-9);
    ck_near(second.high, 480, 1e-9);
    ck_near(third.low, 300, 1e-9);
    ck_near(third.high, 600, 1e-9);
}
END_TEST

START_TEST(between_two_rows_the_logarithm_is_straight)
{
    /* 45 degC 7200 s, 47 degC 1200 s (Moritz and Henriques 1947) */
    ck_near(burn(46, BURN_SECOND, BURN_ADULT).best, sqrt(7200.0 * 1200.0), 1e-9);
}
END_TEST

START_TEST(a_child_has_a_quarter_of_the_time)
{
    for (double temp_c = 44; temp_c <= 70; temp_c += 1)
        ck_near(burn(temp_c, BURN_SECOND, BURN_CHILD).low, burn(temp_c, BURN_SECOND, BURN_ADULT).low / 4,
                1e-9);
}
END_TEST

/* "Below 1 s" at 70 degC: Moritz and Henriques (1947), from memory. */
START_TEST(at_seventy_degrees_it_is_a_second_at_the_most)
{
    ck_assert_double_lt(burn(70, BURN_THIRD, BURN_ADULT).low, 1);
    ck_assert_double_le(burn(70, BURN_THIRD, BURN_ADULT).high, 1);
}
END_TEST

START_TEST(outside_the_tables_there_is_no_time)
{
    static const double OUTSIDE[] = {43.999, 70.001, -1e300, 1e300, INFINITY, -INFINITY, (double)NAN};
    struct span span = {-1, -1, -1};

    for (size_t i = 0; i < sizeof OUTSIDE / sizeof OUTSIDE[0]; i++)
        ck_assert_int_eq(skin_burn_time_eval(OUTSIDE[i], BURN_SECOND, BURN_ADULT, &span), ST_RANGE);
    ck_assert_int_eq(skin_burn_time_eval(50, BURN_DEGREE_COUNT, BURN_ADULT, &span), ST_RANGE);
    ck_assert_int_eq(skin_burn_time_eval(50, BURN_SECOND, BURN_PERSON_COUNT, &span), ST_RANGE);
    ck_assert_int_eq(skin_surface_burn_eval(SURFACE_COUNT, CONTACT_SECOND, &span), ST_RANGE);
    ck_assert_int_eq(skin_surface_burn_eval(SURFACE_METAL, CONTACT_COUNT, &span), ST_RANGE);
    ck_assert(span.low == -1 && span.best == -1 && span.high == -1);
}
END_TEST

START_TEST(a_longer_touch_burns_at_less_and_metal_at_the_least)
{
    for (int contact = 0; contact < CONTACT_COUNT; contact++) {
        struct span metal, other, longer;

        ck_assert_int_eq(skin_surface_burn_eval(SURFACE_METAL, (enum burn_contact)contact, &metal), ST_OK);
        for (int surface = 0; surface < SURFACE_COUNT; surface++) {
            ck_assert_int_eq(
                skin_surface_burn_eval((enum burn_surface)surface, (enum burn_contact)contact, &other),
                ST_OK);
            ck_assert_double_ge(other.low, metal.low);
            ck_assert(other.low <= other.best && other.best <= other.high);
            if (contact + 1 == CONTACT_COUNT)
                continue;
            ck_assert_int_eq(
                skin_surface_burn_eval((enum burn_surface)surface, (enum burn_contact)(contact + 1), &longer),
                ST_OK);
            ck_assert_double_lt(longer.high, other.low + 1e-9);
        }
    }
}
END_TEST

START_TEST(what_is_no_choice_has_no_name)
{
    ck_assert_str_eq(burn_degree_name(BURN_THIRD), "third degree");
    ck_assert_str_eq(burn_person_name(BURN_CHILD), "child");
    ck_assert_str_eq(burn_surface_name(SURFACE_WOOD), "wood");
    ck_assert_str_eq(burn_contact_name(CONTACT_EIGHT_HOURS), "8 h");
    ck_assert_ptr_null(burn_degree_name(BURN_DEGREE_COUNT));
    ck_assert_ptr_null(burn_person_name(-1));
    ck_assert_ptr_null(burn_surface_name(SURFACE_COUNT));
    ck_assert_ptr_null(burn_contact_name(-1));
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("skin_burn");
    TCase *all = tcase_create("all");

    tcase_add_test(all, hotter_is_never_slower);
    tcase_add_test(all, the_deeper_burn_never_comes_first);
    tcase_add_test(all, where_sources_differ_the_span_reaches_from_one_to_the_other);
    tcase_add_test(all, between_two_rows_the_logarithm_is_straight);
    tcase_add_test(all, a_child_has_a_quarter_of_the_time);
    tcase_add_test(all, at_seventy_degrees_it_is_a_second_at_the_most);
    tcase_add_test(all, outside_the_tables_there_is_no_time);
    tcase_add_test(all, a_longer_touch_burns_at_less_and_metal_at_the_least);
    tcase_add_test(all, what_is_no_choice_has_no_name);
    suite_add_tcase(suite, all);
    return suite;
}
