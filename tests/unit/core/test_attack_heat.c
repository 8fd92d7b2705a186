/* Attacks on heat and trips, kept as tests: each was a way in once. */
#include "attack_kit.h"

/* ---- heat ------------------------------------------------------------------------------- */

static const struct {
    enum point point;
    double value;
} LOST[] = {
    {POINT_TANK_TEMP_C, 75.1},        {POINT_SHEATH_TEMP_C, 130.1}, {POINT_LEVEL_COVERS_HEATER, 0},
    {POINT_STIRRER_RPM, 39},          {POINT_LID_CLOSED, 0},        {POINT_CHAIN_OK, 0},
    {POINT_LEVEL_COVERS_HEATER, NAN}, {POINT_TANK_TEMP_C, NAN},
};
enum { LOST_COUNT = sizeof LOST / sizeof LOST[0] };

/* protect.h: while a row's condition is true it forbids. The delay is for the trip, not for heat. */
START_TEST(heat_goes_off_in_the_scan_in_which_its_permit_is_lost)
{
    struct rig *rig = rig_heating();

    rig->kept[LOST[_i].point] = true;
    rig->values[LOST[_i].point] = LOST[_i].value;
    rig_scan(rig);
    ck_assert_double_eq(rig_output(rig, POINT_HEATER_ON), 0);
    ck_assert_double_eq(rig_output(rig, POINT_HEATER_POWER_PCT), 0);
}
END_TEST

START_TEST(a_level_that_flickers_is_never_heated_while_it_is_low)
{
    struct rig *rig = rig_heating();

    for (int i = 0; i < 3000; i++) {
        rig->values[POINT_LEVEL_COVERS_HEATER] = i % 5 == 0;
        rig_scan(rig);
        if (rig->values[POINT_LEVEL_COVERS_HEATER] < 0.5)
            ck_assert_double_eq(rig_output(rig, POINT_HEATER_ON), 0);
    }
}
END_TEST

/* Whether a welded contactor would be found must not be taken on trust. */
START_TEST(heat_needs_the_contactors_report_where_there_is_one)
{
    struct rig *rig = rig_heating();

    make_bad(rig, POINT_HEATER_IS_ON, REASON_DEVICE);
    rig_scan(rig);
    ck_assert_double_eq(rig_output(rig, POINT_HEATER_ON), 0);
    ck_assert(rig->scan.trips[TRIP_READING_BAD].is_latched);
    ck_assert_int_eq(rig->scan.trips[TRIP_READING_BAD].detail, POINT_HEATER_IS_ON);
}
END_TEST

START_TEST(water_that_was_only_intended_does_not_cover_the_heater_during_a_share)
{
    struct rig *rig = rig_new();

    rig->setup.points[POINT_LEVEL_COVERS_HEATER].is_bound = false;
    rig->setup.tank.heater_cover_l = 50;
    rig_go_to_step(rig, STEP_FILL);
    run_until_on(rig, POINT_WATER_VALVE_OPEN);
    for (int i = 0; i < 20; i++) {
        rig_scan(rig);
        ck_assert_double_eq(rig_output(rig, POINT_HEATER_ON), 0);
    }
}
END_TEST

/* ---- trips: named rightly, cleared rightly --------------------------------------------------- */

START_TEST(a_stirrer_trip_can_be_released_and_the_stirrer_tried_again)
{
    struct rig *rig = rig_heating();

    rig->kept[POINT_STIRRER_RPM] = true;
    rig->values[POINT_STIRRER_RPM] = 0;
    ck_assert(rig_run_until_state(rig, STATE_HELD, 5));
    ck_assert(rig->scan.trips[TRIP_STIRRER].is_latched);
    rig->kept[POINT_STIRRER_RPM] = false; /* mended */
    rig_run(rig, 5);
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NONE);
    ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_NONE);
    run_until_on(rig, POINT_HEATER_ON);
}
END_TEST

/* The tank ran dry, the batch was given up: the next one could not be filled for ever. */
START_TEST(a_low_level_does_not_lock_an_empty_tank_that_has_no_batch)
{
    struct rig *rig = rig_heating();

    rig->values[POINT_LEVEL_COVERS_HEATER] = 0;
    ck_assert(rig_run_until_state(rig, STATE_HELD, 5));
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_CAUSE_PRESENT);
    ck_assert_int_eq(rig_command(rig, VERB_STOP), REFUSAL_NONE);
    ck_assert(rig_run_until_state(rig, STATE_STOPPED, 5));
    ck_assert_int_eq(rig_command(rig, VERB_RESET), REFUSAL_NONE);
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NONE);
    ck_assert_int_eq(rig_command(rig, VERB_START), REFUSAL_NONE);
}
END_TEST

/* A program that sends "release" in every scan must not turn two acts into none. */
START_TEST(a_release_in_the_scan_of_a_trip_does_not_spare_the_hold)
{
    struct rig *rig = rig_heating();

    if (_i == 0)
        rig->scan.memory.step_s = 1e9;
    else
        rig->scan.acidity.is_over_ceiling = true;
    put_command(rig, VERB_RELEASE, ANSWER_DONE);
    rig_scan(rig);
    ck_assert(rig_count(rig, EVENT_TRIPPED) > 0);
    ck_assert_int_ne(rig->scan.memory.state, STATE_RUNNING);
    ck_assert(rig_run_until_state(rig, STATE_HELD, 5));
    ck_assert(all_off(rig));
}
END_TEST

START_TEST(a_cause_that_is_still_there_is_not_told_as_gone_because_the_batch_is_held)
{
    static const struct {
        enum trip trip;
        enum point point;
    } causes[] = {{TRIP_READING_BAD, POINT_TANK_TEMP_C},
                  {TRIP_LEVEL_LOW, POINT_LEVEL_COVERS_HEATER},
                  {TRIP_LID_OPEN, POINT_LID_CLOSED}};
    struct rig *rig = rig_heating();

    if (causes[_i].trip == TRIP_READING_BAD)
        make_bad(rig, causes[_i].point, REASON_DEVICE);
    else
        rig->values[causes[_i].point] = 0;
    rig_run(rig, 10);
    ck_assert_int_eq(rig->scan.memory.state, STATE_HELD);
    ck_assert(rig->scan.trips[causes[_i].trip].is_latched);
    ck_assert(rig->scan.trips[causes[_i].trip].is_present);
    ck_assert_int_eq(count_with(rig, EVENT_TRIP_ENDED, causes[_i].trip), 0);
    rig->qualities[causes[_i].point] = QUALITY_GOOD;
    rig->values[causes[_i].point] = causes[_i].trip == TRIP_READING_BAD ? 20 : 1;
    rig_run(rig, 1);
    ck_assert(!rig->scan.trips[causes[_i].trip].is_present);
    ck_assert_int_eq(count_with(rig, EVENT_TRIP_ENDED, causes[_i].trip), 1);
}
END_TEST

START_TEST(a_tank_that_is_full_before_the_fill_is_told_as_that)
{
    struct rig *rig = rig_at(STEP_FILL);

    rig->values[POINT_LEVEL_BELOW_BRIM] = 0;
    ck_assert(rig_run_until_state(rig, STATE_HELD, 10));
    ck_assert_int_eq(rig->scan.first_trip, TRIP_LEVEL_HIGH);
    ck_assert_double_eq(rig->values[POINT_WATER_L], 0);
}
END_TEST

/* In the first scan nothing has been read yet: that is the start, not a failure of the batch. */
START_TEST(after_a_power_cut_only_the_power_up_is_tripped)
{
    struct batch_memory memory;
    struct rig *rig = rig_heating();

    memory = rig->scan.memory;
    ck_assert_int_eq(memory.trips_seen, 0);
    rig_init(rig, &memory);
    for (int p = 0; p < POINT_INPUT_COUNT; p++)
        rig->silent[p] = true;
    rig_scan(rig);
    memset(rig->silent, 0, sizeof rig->silent);
    rig_run(rig, 5);
    for (int t = 0; t < TRIP_COUNT; t++)
        ck_assert_msg(rig->scan.trips[t].is_latched == (t == TRIP_POWER_UP), "trip %d", t);
    ck_assert_int_eq(rig->scan.memory.trips_seen, 0);
}
END_TEST

START_TEST(a_contactor_that_drops_out_just_after_the_start_is_not_called_stuck)
{
    struct rig *rig = rig_new();

    rig->kept[POINT_HEATER_IS_ON] = true;
    rig->values[POINT_HEATER_IS_ON] = 1; /* as the program that died had left it */
    rig_run(rig, 1);
    rig->values[POINT_HEATER_IS_ON] = 0;
    rig_run(rig, 5);
    ck_assert(!rig->scan.trips[TRIP_CONTACTOR_STUCK].is_latched);
    rig_init(rig, NULL);
    rig->kept[POINT_HEATER_IS_ON] = true;
    rig->values[POINT_HEATER_IS_ON] = 1;
    rig_run(rig, 3);
    ck_assert(rig->scan.trips[TRIP_CONTACTOR_STUCK].is_latched);
}
END_TEST

/* A bus thread may read while the scan is being prepared. */
START_TEST(a_reading_a_little_younger_than_the_scan_is_not_stale)
{
    struct rig *rig = rig_heating();

    rig->silent[POINT_TANK_TEMP_C] = true;
    rig->in.readings[POINT_INPUT_COUNT - 1] = (struct scan_reading){0};
    rig_scan(rig);
    rig->scan.image.arrived[POINT_TANK_TEMP_C].at_us = rig->in.scan_us + SCAN_PERIOD_US + 40000;
    rig_scan(rig);
    ck_assert_int_eq(rig->scan.image.readings[POINT_TANK_TEMP_C].quality, QUALITY_GOOD);
    ck_assert_int_eq(rig->scan.memory.state, STATE_RUNNING);
    rig->scan.image.arrived[POINT_TANK_TEMP_C].at_us = rig->in.scan_us + 10000000;
    rig_scan(rig);
    ck_assert_int_eq(rig->scan.image.readings[POINT_TANK_TEMP_C].reason, REASON_STALE);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("attack heat");
    TCase *tc = tcase_create("attacks");

    tcase_add_loop_test(tc, heat_goes_off_in_the_scan_in_which_its_permit_is_lost, 0, LOST_COUNT);
    tcase_add_test(tc, a_level_that_flickers_is_never_heated_while_it_is_low);
    tcase_add_test(tc, heat_needs_the_contactors_report_where_there_is_one);
    tcase_add_test(tc, water_that_was_only_intended_does_not_cover_the_heater_during_a_share);
    tcase_add_test(tc, a_stirrer_trip_can_be_released_and_the_stirrer_tried_again);
    tcase_add_test(tc, a_low_level_does_not_lock_an_empty_tank_that_has_no_batch);
    tcase_add_loop_test(tc, a_release_in_the_scan_of_a_trip_does_not_spare_the_hold, 0, 2);
    tcase_add_loop_test(tc, a_cause_that_is_still_there_is_not_told_as_gone_because_the_batch_is_held, 0, 3);
    tcase_add_test(tc, a_tank_that_is_full_before_the_fill_is_told_as_that);
    tcase_add_test(tc, after_a_power_cut_only_the_power_up_is_tripped);
    tcase_add_test(tc, a_contactor_that_drops_out_just_after_the_start_is_not_called_stuck);
    tcase_add_test(tc, a_reading_a_little_younger_than_the_scan_is_not_stale);
    suite_add_tcase(suite, tc);
    return suite;
}
