#include "plan_fixture.h"
#include "science/acid.h"
#include "science/sucrose.h"

#include <math.h>
#include <stdlib.h>

START_TEST(both_or_neither_size_is_refused)
{
    struct plan_request r = demo_request();

    r.mass_kg = 500;
    expect_bad_field(r, "volume_l", "give one of them");
    r.volume_l = 0;
    r.mass_kg = 0;
    expect_bad_field(r, "volume_l", "No size is given");
}
END_TEST

START_TEST(a_number_outside_its_range_names_field_value_and_range)
{
    struct plan_request r = plain_request(600, 75);

    expect_bad_field(r, "strength_pct", "The strength is 75 %; allowed is 30 to 70 %.");
    r = plain_request(600, 0);
    expect_bad_field(r, "strength_pct", "No strength is given");
    r = plain_request(-3, 60);
    expect_bad_field(r, "volume_l", "is -3 L; allowed is 1 to 20000 L");
    r = plain_request((double)NAN, 60);
    expect_bad_field(r, "volume_l", "nan");
    r = demo_request();
    r.target_ph = 3.2;
    expect_bad_field(r, "target_ph", "3.2 pH; allowed is 3.5 to 5.5");
    r = demo_request();
    r.target_ph = (double)INFINITY;
    expect_bad_field(r, "target_ph", "inf");
    r = demo_request();
    r.water_temp_c = 80;
    expect_bad_field(r, "water_temp_c", "80 °C");
    r = demo_request();
    r.alkalinity_meq_kg = 50;
    expect_bad_field(r, "alkalinity_meq_kg", "0 to 20 meq/kg");
    r = demo_request();
    r.acid = (enum acid)77;
    expect_bad_field(r, "acid", "no acid number 77");
}
END_TEST

START_TEST(a_wrong_tank_value_is_named_as_such)
{
    struct tank_facts tank = DEMO_TANK;
    struct limits limits = DEMO_LIMITS;

    tank.heater_kw = 0;
    expect_refusal(make_with(demo_request(), tank, DEMO_LIMITS), ST_RANGE, "heater_kw",
                   "Tank file: the heater's power");
    limits.liquid_max_c = (double)NAN;
    expect_refusal(make_with(demo_request(), DEMO_TANK, limits), ST_RANGE, "liquid_max_c", "Tank file");
}
END_TEST

START_TEST(a_text_that_is_not_ended_or_has_control_characters_is_refused)
{
    struct plan_request r = demo_request();

    memset(r.sugar_lot, 'x', sizeof r.sugar_lot);
    expect_bad_field(r, "sugar_lot", "too long");
    r = demo_request();
    strcpy(r.water_source, "well\n3");
    expect_bad_field(r, "water_source", "control character");
}
END_TEST

START_TEST(too_big_names_the_largest_whole_bags_that_fit_at_the_hottest)
{
    double per_bag = 0;
    int most;

    expect_refusal(make(plain_request(900, 62.5)), ST_REFUSED, "volume_l", "The largest batch that fits is");
    ck_assert_int_eq(sucrose_mix_volume_eval(25, 15, 53, &per_bag), ST_OK);
    most = (int)(800 / per_bag);
    ck_assert_msg(strstr(fault.text, "25 bags") != NULL, "expected %d: %s", most, fault.text);
    ck_assert_int_eq(most, 25);
    expect_plan((struct plan_request){.mass_kg = 25 * 40, .strength_pct = 62.5});
    expect_refusal(make((struct plan_request){.mass_kg = 26 * 40, .strength_pct = 62.5}), ST_REFUSED,
                   "mass_kg", "25 bags");
}
END_TEST

START_TEST(too_small_names_the_smallest_batch_that_covers_the_heater)
{
    expect_refusal(make(plain_request(150, 62.5)), ST_REFUSED, "volume_l", "The smallest batch is 9 bags");
    expect_plan((struct plan_request){.mass_kg = 9 * 40, .strength_pct = 62.5});
    ck_assert(plan.fill_kg > 120);
    expect_refusal(make((struct plan_request){.mass_kg = 8 * 40, .strength_pct = 62.5}), ST_REFUSED,
                   "mass_kg", "9 bags");
}
END_TEST

START_TEST(a_tank_no_batch_fits_says_so)
{
    struct tank_facts tank = DEMO_TANK;
    struct plan_request r = plain_request(600, 62.5);

    tank.heater_cover_l = 500;
    expect_refusal(make_with(r, tank, DEMO_LIMITS), ST_REFUSED, "strength_pct", "No batch of 62.5 %");
    r.bag_kg = 1000;
    expect_refusal(make(r), ST_REFUSED, "bag_kg", "Use smaller bags");
}
END_TEST

START_TEST(a_strength_the_limit_cannot_dissolve_names_the_strongest_possible)
{
    struct limits limits = DEMO_LIMITS;
    struct plan_request r = plain_request(600, 68);

    limits.liquid_max_c = 55; /* 72.1 % dissolve at 50 degC, less 6 */
    expect_refusal(make_with(r, DEMO_TANK, limits), ST_REFUSED, "strength_pct", "66.1 %");
    r.strength_pct = 66.1;
    ck_assert_int_eq(make_with(r, DEMO_TANK, limits), ST_OK);
}
END_TEST

START_TEST(a_pulse_too_coarse_names_a_dilution_that_then_works)
{
    struct plan_request r = demo_request();
    struct tank_facts tank = DEMO_TANK;
    const char *at;

    tank.dose_min_pulse_ml = 40;
    expect_refusal(make_with(r, tank, DEMO_LIMITS), ST_REFUSED, "acid_stock_pct", "Dilute it to ");
    at = strstr(fault.text, "Dilute it to ");
    tank.acid_stock_pct = strtod(at + strlen("Dilute it to "), NULL);
    ck_assert(tank.acid_stock_pct > 1 && tank.acid_stock_pct < 10);
    ck_assert_msg(make_with(r, tank, DEMO_LIMITS) == ST_OK, "%s", fault.text);
    tank.dose_min_pulse_ml = 10000;
    tank.acid_stock_pct = 30;
    expect_refusal(make_with(r, tank, DEMO_LIMITS), ST_REFUSED, "dose_min_pulse_ml", "finer pump");
}
END_TEST

START_TEST(the_smallest_pulse_moves_the_ph_by_no_more_than_0_03)
{
    double dose;
    double pulse;
    double before = 0;
    double after = 0;

    expect_plan(demo_request());
    dose = plan.acid_g / 192.124 / plan.fill_kg;
    pulse = 2 * plan.acid_stock_kg_l * 0.30 / 192.124 / plan.fill_kg;
    ck_assert_int_eq(acid_water_ph_eval(2.5, ACID_CITRIC, dose - pulse, 12, &before), ST_OK);
    ck_assert_int_eq(acid_water_ph_eval(2.5, ACID_CITRIC, dose, 12, &after), ST_OK);
    ck_assert(before - after <= 0.03 && before > after);
}
END_TEST

START_TEST(acid_that_cannot_be_planned_is_refused)
{
    struct plan_request r = demo_request();
    struct tank_facts tank = DEMO_TANK;
    struct limits limits = DEMO_LIMITS;

    tank.acid_stock_pct = 0;
    expect_refusal(make_with(r, tank, DEMO_LIMITS), ST_REFUSED, "acid_stock_pct", "names no acid solution");
    tank.acid_stock_pct = 60;
    expect_refusal(make_with(r, tank, DEMO_LIMITS), ST_REFUSED, "acid_stock_pct", "up to 50 %");
    tank.acid_stock_pct = 0.1;
    expect_refusal(make_with(r, tank, DEMO_LIMITS), ST_REFUSED, "acid_stock_pct", "too weak");
    r.acid = ACID_ACETIC;
    r.target_ph = 3.5;
    r.alkalinity_meq_kg = 20;
    expect_refusal(make(r), ST_REFUSED, "target_ph", "more than 0.1 mol of acetic acid");
    r = demo_request();
    r.water_temp_c = 40;
    limits.dose_max_c = 35;
    expect_refusal(make_with(r, DEMO_TANK, limits), ST_REFUSED, "water_temp_c",
                   "acid goes in only below 35.0 °C");
}
END_TEST

START_TEST(water_too_warm_for_the_sugar_is_refused)
{
    struct plan_request r = plain_request(600, 50);

    r.water_temp_c = 59;
    expect_refusal(make(r), ST_REFUSED, "water_temp_c", "sugar goes in only below 58.0 °C");
}
END_TEST

START_TEST(a_heater_that_cannot_do_it_is_refused)
{
    struct tank_facts tank = DEMO_TANK;

    tank.heater_kw = 0.5;
    expect_refusal(make_with(plain_request(600, 62.5), tank, DEMO_LIMITS), ST_REFUSED, "heater_kw",
                   "cannot hold");
    tank.heater_kw = 3;
    expect_refusal(make_with(plain_request(600, 62.5), tank, DEMO_LIMITS), ST_REFUSED, "volume_l",
                   "Possible are ");
}
END_TEST

START_TEST(filling_longer_than_allowed_names_what_is_possible)
{
    struct tank_facts tank = DEMO_TANK;

    tank.water_l_min = 4;
    expect_refusal(make_with(plain_request(600, 62.5), tank, DEMO_LIMITS), ST_REFUSED, "volume_l",
                   "Possible are 16 bags");
    tank.water_l_min = 1;
    expect_refusal(make_with(plain_request(600, 62.5), tank, DEMO_LIMITS), ST_REFUSED, "volume_l",
                   "even the smallest");
    tank.water_l_min = 0; /* a person with a hose has all the time */
    ck_assert_int_eq(make_with(plain_request(600, 62.5), tank, DEMO_LIMITS), ST_OK);
}
END_TEST

START_TEST(a_refusal_leaves_plan_and_notes_as_they_were)
{
    struct plan_request r = plain_request(900, 62.5);
    struct batch_plan before = {.bags = 77};
    struct plan_notes some = {.count = 3};

    ck_assert_int_eq(plan_make(&r, &DEMO_TANK, &DEMO_LIMITS, &before, &some, NULL), ST_REFUSED);
    ck_assert(before.bags == 77 && some.count == 3);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("plan: refusals");
    TCase *all = tcase_create("all");

    tcase_set_timeout(all, 60);
    tcase_add_test(all, both_or_neither_size_is_refused);
    tcase_add_test(all, a_number_outside_its_range_names_field_value_and_range);
    tcase_add_test(all, a_wrong_tank_value_is_named_as_such);
    tcase_add_test(all, a_text_that_is_not_ended_or_has_control_characters_is_refused);
    tcase_add_test(all, too_big_names_the_largest_whole_bags_that_fit_at_the_hottest);
    tcase_add_test(all, too_small_names_the_smallest_batch_that_covers_the_heater);
    tcase_add_test(all, a_tank_no_batch_fits_says_so);
    tcase_add_test(all, a_strength_the_limit_cannot_dissolve_names_the_strongest_possible);
    tcase_add_test(all, a_pulse_too_coarse_names_a_dilution_that_then_works);
    tcase_add_test(all, the_smallest_pulse_moves_the_ph_by_no_more_than_0_03);
    tcase_add_test(all, acid_that_cannot_be_planned_is_refused);
    tcase_add_test(all, water_too_warm_for_the_sugar_is_refused);
    tcase_add_test(all, a_heater_that_cannot_do_it_is_refused);
    tcase_add_test(all, filling_longer_than_allowed_names_what_is_possible);
    tcase_add_test(all, a_refusal_leaves_plan_and_notes_as_they_were);
    suite_add_tcase(suite, all);
    return suite;
}
