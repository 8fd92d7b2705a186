#include "science/skin_burn.h"
#include "science/skin_contact.h"
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

        for (double temp_c = 44.1; temp_c <= 105; temp_c += 0.1) {
            struct span now = burn(temp_c, (enum burn_degree)degree, BURN_ADULT);

            ck_assert(now.low < before.low + 1e-9 && now.best < before.best + 1e-9 &&
                      now.high < before.high + 1e-9);
            ck_assert(now.low <= now.best && now.best <= now.high);
            before = now;
        }
    }
}
END_TEST

START_TEST(the_deeper_burn_never_comes_first)
{
    for (double temp_c = 44; temp_c <= 105; temp_c += 0.1) {
        struct span second = burn(temp_c, BURN_SECOND, BURN_ADULT);
        struct span third = burn(temp_c, BURN_THIRD, BURN_ADULT);

        ck_assert(second.low <= third.low && second.best <= third.best && second.high <= third.high);
    }
}
END_TEST

/* Moritz and Henriques (1947) and the tables after them; each row's source stands in
 * tests/published/skin.txt. "Below" stands for the time itself. */
static const struct {
    double temp_c;
    double seconds;
    enum burn_degree degree;
} PUBLISHED[] = {
    {44, 21600, BURN_SECOND}, {45, 7200, BURN_SECOND}, {47, 1200, BURN_SECOND}, {48, 900, BURN_SECOND},
    {49, 480, BURN_SECOND},   {51, 120, BURN_SECOND},  {55, 17, BURN_SECOND},   {60, 3, BURN_SECOND},
    {45, 10800, BURN_THIRD},  {47, 2700, BURN_THIRD},  {48, 1200, BURN_THIRD},  {49, 300, BURN_THIRD},
    {49, 600, BURN_THIRD},    {51, 252, BURN_THIRD},   {52, 90, BURN_THIRD},    {52, 120, BURN_THIRD},
    {52.8, 60, BURN_THIRD},   {54.4, 30, BURN_THIRD},  {55, 30, BURN_THIRD},    {56.1, 15, BURN_THIRD},
    {57, 10, BURN_THIRD},     {60, 5, BURN_THIRD},     {60, 6, BURN_THIRD},     {63, 3, BURN_THIRD},
    {64.4, 2, BURN_THIRD},    {65, 2, BURN_THIRD},     {66, 1.5, BURN_THIRD},   {66, 2, BURN_THIRD},
    {68, 1, BURN_THIRD},      {68.9, 1, BURN_THIRD},   {70, 1, BURN_THIRD},
};

START_TEST(the_low_end_is_at_most_half_of_every_published_time_of_that_or_a_deeper_burn)
{
    for (size_t i = 0; i < sizeof PUBLISHED / sizeof PUBLISHED[0]; i++)
        for (int degree = 0; degree <= (int)PUBLISHED[i].degree; degree++) {
            struct span span = burn(PUBLISHED[i].temp_c, (enum burn_degree)degree, BURN_ADULT);

            ck_assert_double_le(span.low, PUBLISHED[i].seconds / 2 + 1e-9);
            ck_assert_double_le(span.best, PUBLISHED[i].seconds + 1e-9);
            if (degree == (int)PUBLISHED[i].degree)
                ck_assert_double_ge(span.high, PUBLISHED[i].seconds - 1e-9);
        }
}
END_TEST

START_TEST(the_low_end_is_at_most_half_of_what_conduction_says)
{
    for (double temp_c = 45; temp_c <= 105; temp_c += 0.1) {
        double seconds;

        ck_assert_int_eq(skin_contact_time_eval(temp_c, &seconds), ST_OK);
        ck_assert_double_le(burn(temp_c, BURN_SECOND, BURN_ADULT).low, seconds / 2);
        if (temp_c > 70)
            ck_assert_double_le(burn(temp_c, BURN_THIRD, BURN_ADULT).low, seconds / 2);
    }
}
END_TEST

/* ISO 13732-1 (2006): 48 degC 10 min, 51 degC 1 min, 55 degC 10 s, 65 degC 1 s; ASTM C1055: 60 degC 5 s. */
START_TEST(a_liquid_is_not_said_to_be_slower_than_bare_metal)
{
    static const double METAL[][2] = {{48, 600}, {51, 60}, {55, 10}, {60, 5}, {65, 1}};

    for (size_t i = 0; i < sizeof METAL / sizeof METAL[0]; i++)
        ck_assert_double_le(burn(METAL[i][0], BURN_SECOND, BURN_ADULT).low, METAL[i][1] + 1e-9);
}
END_TEST

/* Another table of measured times: 1.5-2 min at 52 degC, "serious burn" (a burn institute's; filed as third
 * degree), and 2 min in consumer safety text. */
START_TEST(the_third_degree_at_52_degrees_takes_90_to_120_seconds)
{
    ck_near(burn(52, BURN_THIRD, BURN_ADULT).best, 90, 1e-9);
    ck_near(burn(52, BURN_THIRD, BURN_ADULT).low, 45, 1e-9);
    ck_near(burn(52, BURN_THIRD, BURN_ADULT).high, 120, 1e-9);
}
END_TEST

/* ISO 13732-1 (2006), from memory: plastic 10 s 71 degC; ECMA-287: 65. High: 3 K above 71. */
START_TEST(plastic_burns_within_10_seconds_at_71_degrees_or_by_another_standard_at_65)
{
    struct span temp_c;

    ck_assert_int_eq(skin_surface_burn_eval(SURFACE_PLASTIC, CONTACT_TEN_SECONDS, &temp_c), ST_OK);
    ck_near(temp_c.low, 65, 1e-12);
    ck_near(temp_c.best, 71, 1e-12);
    ck_near(temp_c.high, 71 + 3, 1e-12);
}
END_TEST

START_TEST(between_two_rows_the_logarithm_is_straight)
{
    /* 45 degC 7200 s, 47 degC 1200 s (Moritz and Henriques 1947) */
    ck_near(burn(46, BURN_SECOND, BURN_ADULT).best, sqrt(7200.0 * 1200.0), 1e-9);
}
END_TEST

/* About 1 s at 60 degC for a small child, 5 s for an adult: Feldman (1983), from memory. */
START_TEST(a_child_has_a_fifth_of_the_time)
{
    ck_near(burn(60, BURN_THIRD, BURN_CHILD).best, 1, 1e-9);
    for (double temp_c = 44; temp_c <= 105; temp_c += 1) {
        ck_near(burn(temp_c, BURN_SECOND, BURN_CHILD).low, burn(temp_c, BURN_SECOND, BURN_ADULT).low / 5,
                1e-9);
        ck_near(burn(temp_c, BURN_THIRD, BURN_CHILD).high, burn(temp_c, BURN_THIRD, BURN_ADULT).high / 5,
                1e-9);
    }
}
END_TEST

/* "Below 1 s" at 70 degC: Moritz and Henriques (1947), from memory. */
START_TEST(from_seventy_degrees_on_it_is_a_second_at_the_most)
{
    for (double temp_c = 70; temp_c <= 105; temp_c += 0.5)
        for (int degree = 0; degree < BURN_DEGREE_COUNT; degree++) {
            struct span span = burn(temp_c, (enum burn_degree)degree, BURN_ADULT);

            ck_assert_double_lt(span.best, 1);
            ck_near(span.high, 1, 1e-12);
        }
}
END_TEST

START_TEST(outside_the_tables_there_is_no_time)
{
    static const double OUTSIDE[] = {43.999, 105.001, -1e300, 1e300, INFINITY, -INFINITY, (double)NAN};
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
            ck_assert(other.low < other.best && other.best < other.high);
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
    tcase_add_test(all, the_low_end_is_at_most_half_of_every_published_time_of_that_or_a_deeper_burn);
    tcase_add_test(all, the_low_end_is_at_most_half_of_what_conduction_says);
    tcase_add_test(all, a_liquid_is_not_said_to_be_slower_than_bare_metal);
    tcase_add_test(all, the_third_degree_at_52_degrees_takes_90_to_120_seconds);
    tcase_add_test(all, plastic_burns_within_10_seconds_at_71_degrees_or_by_another_standard_at_65);
    tcase_add_test(all, between_two_rows_the_logarithm_is_straight);
    tcase_add_test(all, a_child_has_a_fifth_of_the_time);
    tcase_add_test(all, from_seventy_degrees_on_it_is_a_second_at_the_most);
    tcase_add_test(all, outside_the_tables_there_is_no_time);
    tcase_add_test(all, a_longer_touch_burns_at_less_and_metal_at_the_least);
    tcase_add_test(all, what_is_no_choice_has_no_name);
    suite_add_tcase(suite, all);
    return suite;
}
