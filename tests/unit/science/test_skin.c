#include "science/skin.h"
#include "support/support.h"

#include <math.h>

START_TEST(each_level_begins_at_its_temperature)
{
    static const struct {
        double temp_c;
        enum scald level;
    } ROWS[] = {
        {-40, SCALD_NONE},   {42.99, SCALD_NONE},    {43, SCALD_CAUTION}, {48.99, SCALD_CAUTION},
        {49, SCALD_WARNING}, {54.99, SCALD_WARNING}, {55, SCALD_HIGH},    {59.99, SCALD_HIGH},
        {60, SCALD_DANGER},  {67.99, SCALD_DANGER},  {68, SCALD_EXTREME}, {110, SCALD_EXTREME},
    };

    for (size_t i = 0; i < sizeof ROWS / sizeof ROWS[0]; i++)
        ck_assert_msg(skin_scald_level(ROWS[i].temp_c, SCALD_NONE) == ROWS[i].level, "at %g degC",
                      ROWS[i].temp_c);
}
END_TEST

START_TEST(a_level_falls_only_two_kelvin_below_where_it_began)
{
    ck_assert_int_eq(skin_scald_level(59, SCALD_DANGER), SCALD_DANGER);
    ck_assert_int_eq(skin_scald_level(58, SCALD_DANGER), SCALD_DANGER);
    ck_assert_int_eq(skin_scald_level(57.9, SCALD_DANGER), SCALD_HIGH);
    ck_assert_int_eq(skin_scald_level(41.5, SCALD_CAUTION), SCALD_CAUTION);
    ck_assert_int_eq(skin_scald_level(40.9, SCALD_CAUTION), SCALD_NONE);
    ck_assert_int_eq(skin_scald_level(20, SCALD_EXTREME), SCALD_NONE);
}
END_TEST

START_TEST(a_jump_down_stops_where_a_slow_fall_would_be)
{
    enum scald slow = SCALD_EXTREME;

    for (double t = 70; t >= 47.5; t -= 0.1)
        slow = skin_scald_level(t, slow);
    ck_assert_int_eq(skin_scald_level(47.5, SCALD_EXTREME), slow);
}
END_TEST

START_TEST(doubt_shows_the_highest_level)
{
    ck_assert_int_eq(skin_scald_level((double)NAN, SCALD_NONE), SCALD_EXTREME);
    ck_assert_int_eq(skin_scald_level((double)INFINITY, SCALD_NONE), SCALD_EXTREME);
    ck_assert_int_eq(skin_scald_level(-(double)INFINITY, SCALD_NONE), SCALD_EXTREME);
}
END_TEST

START_TEST(the_first_reading_needs_no_level_before_it)
{
    ck_assert_int_eq(skin_scald_level(48.5, SCALD_COUNT), SCALD_CAUTION);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("skin");
    TCase *all = tcase_create("all");

    tcase_add_test(all, each_level_begins_at_its_temperature);
    tcase_add_test(all, a_level_falls_only_two_kelvin_below_where_it_began);
    tcase_add_test(all, a_jump_down_stops_where_a_slow_fall_would_be);
    tcase_add_test(all, doubt_shows_the_highest_level);
    tcase_add_test(all, the_first_reading_needs_no_level_before_it);
    suite_add_tcase(suite, all);
    return suite;
}
