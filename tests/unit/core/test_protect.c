/* Each essential trip: it acts within two scans of its delay, forbids what it must, holds the batch,
 * stays latched after its cause has gone, cannot be released while the cause is there, and needs
 * release and restart, two acts, before anything is on again. */
#include "core/protect.h"
#include "support/rig.h"
#include "support/support.h"

#include <math.h>

struct cause {
    enum trip trip;
    enum step step;   /* in which the cause appears */
    enum point point; /* POINT_INPUT_COUNT: see how */
    double value;     /* set on the point */
    double sound;     /* what it was */
    unsigned forbids;
    double within_s; /* from the cause to everything forbidden being off */
};

static const struct cause CAUSES[] = {
    {TRIP_LIQUID_HOT, STEP_HEAT, POINT_TANK_TEMP_C, 75.1, 20, FORBID_HEAT, 0.7},
    {TRIP_SHEATH_HOT, STEP_HEAT, POINT_SHEATH_TEMP_C, 130.1, 25, FORBID_HEAT, 0.7},
    {TRIP_LEVEL_LOW, STEP_HEAT, POINT_LEVEL_COVERS_HEATER, 0, 1, FORBID_HEAT, 0.7},
    {TRIP_LEVEL_HIGH, STEP_FILL, POINT_LEVEL_BELOW_BRIM, 0, 1, FORBID_WATER, 0.2},
    {TRIP_LID_OPEN, STEP_HEAT, POINT_LID_CLOSED, 0, 1, FORBID_HEAT | FORBID_STIR, 0.2},
    {TRIP_CHAIN_OPEN, STEP_HEAT, POINT_CHAIN_OK, 0, 1, FORBID_ALL, 0.2},
    {TRIP_CHAIN_OPEN, STEP_FILL, POINT_CHAIN_OK, 0, 1, FORBID_ALL, 0.2},
};
enum { CAUSE_COUNT = sizeof CAUSES / sizeof CAUSES[0] };

static bool is_off(const struct rig *rig, unsigned what)
{
    return (!(what & FORBID_HEAT) || rig_output(rig, POINT_HEATER_ON) == 0) &&
           (!(what & FORBID_STIR) || rig_output(rig, POINT_STIRRER_ON) == 0) &&
           (!(what & FORBID_DOSE) || rig_output(rig, POINT_DOSE_PUMP_ON) == 0) &&
           (!(what & FORBID_WATER) || rig_output(rig, POINT_WATER_VALVE_OPEN) == 0);
}

static struct rig RIG; /* large: not on the stack */

static struct rig *rig_at(enum step step)
{
    rig_init(&RIG, NULL);
    rig_go_to_step(&RIG, step);
    rig_run(&RIG, 15);
    ck_assert_int_eq(RIG.scan.memory.state, STATE_RUNNING);
    return &RIG;
}

START_TEST(a_cause_switches_off_holds_and_latches)
{
    const struct cause *cause = &CAUSES[_i];
    struct rig *rig = rig_at(cause->step);

    rig->scan.memory.plan.preheat_c = 90;    /* the heat step must not end by itself */
    ck_assert(!is_off(rig, cause->forbids)); /* else the test could not fail */
    rig->values[cause->point] = cause->value;
    rig_run(rig, cause->within_s);
    ck_assert(is_off(rig, cause->forbids));
    ck_assert(rig->scan.trips[cause->trip].is_latched);
    ck_assert_int_eq(rig->scan.first_trip, cause->trip);
    ck_assert(rig_run_until_state(rig, STATE_HELD, 5));
    ck_assert(is_off(rig, FORBID_ALL));
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_CAUSE_PRESENT);
    rig->values[cause->point] = cause->sound;
    rig_run(rig, 60);
    ck_assert(is_off(rig, FORBID_ALL)); /* gone is not released */
    ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_TRIPPED);
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NONE);
    rig_run(rig, 60);
    ck_assert(is_off(rig, FORBID_ALL)); /* released is not restarted */
    ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_NONE);
    rig_run(rig, 15);
    ck_assert(!is_off(rig, cause->forbids));
}
END_TEST

START_TEST(just_inside_the_limit_nothing_trips)
{
    struct rig *rig = rig_at(STEP_HEAT);

    rig->scan.memory.plan.preheat_c = 90; /* so that the step goes on heating */
    rig->values[POINT_TANK_TEMP_C] = 75.0;
    rig->values[POINT_SHEATH_TEMP_C] = 100;
    rig_run(rig, 60);
    ck_assert(!protect_is_tripped(&rig->scan));
    ck_assert_double_gt(rig_output(rig, POINT_HEATER_ON), 0.5);
}
END_TEST

START_TEST(a_flicker_shorter_than_the_delay_does_not_trip_but_heat_is_not_risked)
{
    struct rig *rig = rig_at(STEP_HEAT);

    rig->values[POINT_TANK_TEMP_C] = 90;
    rig_run(rig, 0.4);
    rig->values[POINT_TANK_TEMP_C] = 20;
    rig_run(rig, 5);
    ck_assert(!rig->scan.trips[TRIP_LIQUID_HOT].is_latched);
}
END_TEST

/* Every reading that protection needs, in every way a reading can go bad. */
START_TEST(a_needed_reading_that_goes_bad_holds_the_batch)
{
    static const enum point needed[] = {POINT_TANK_TEMP_C, POINT_SHEATH_TEMP_C, POINT_LEVEL_COVERS_HEATER,
                                        POINT_STIRRER_RPM, POINT_LID_CLOSED,    POINT_CHAIN_OK};
    enum point point = needed[_i / 5];
    struct rig *rig = rig_at(STEP_HEAT);

    switch (_i % 5) {
    case 0:
        rig->silent[point] = true;
        break;
    case 1:
        rig->qualities[point] = QUALITY_BAD;
        rig->reasons[point] = REASON_DEVICE;
        break;
    case 2:
        rig->kept[point] = true;
        rig->values[point] = NAN;
        break;
    case 3:
        rig->kept[point] = true;
        rig->values[point] = 1e6;
        break;
    case 4:
        rig->qualities[point] = QUALITY_BAD;
        rig->reasons[point] = REASON_BUS_LOST;
        break;
    }
    rig_run(rig, 3.3); /* 3 s is the allowed age of a silent reading */
    ck_assert(is_off(rig, FORBID_HEAT));
    ck_assert(rig_run_until_state(rig, STATE_HELD, 5));
    ck_assert(is_off(rig, FORBID_ALL));
    ck_assert(protect_is_tripped(&rig->scan));
    for (int t = 0; t < TRIP_COUNT; t++) /* one cause, one trip, named rightly */
        ck_assert_int_eq(rig->scan.trips[t].is_latched,
                         t == (_i % 5 == 4 ? TRIP_BUS_LOST : TRIP_READING_BAD));
}
END_TEST

START_TEST(a_stirrer_that_does_not_turn_stops_heat_at_once_and_trips_after_its_time)
{
    struct rig *rig;

    rig_init(&RIG, NULL);
    rig = &RIG;
    rig->kept[POINT_STIRRER_RPM] = true;
    rig_go_to_step(rig, STEP_HEAT);
    rig_run(rig, 4.5);
    ck_assert(is_off(rig, FORBID_HEAT)); /* heat never waited for proof by being on */
    ck_assert_double_gt(rig_output(rig, POINT_STIRRER_ON), 0.5);
    ck_assert(!rig->scan.trips[TRIP_STIRRER].is_latched);
    rig_run(rig, 1);
    ck_assert(rig->scan.trips[TRIP_STIRRER].is_latched);
    ck_assert(rig_run_until_state(rig, STATE_HELD, 1));
}
END_TEST

START_TEST(a_stirrer_that_stops_later_takes_the_heat_with_it)
{
    struct rig *rig = rig_at(STEP_HEAT);

    rig->kept[POINT_STIRRER_RPM] = true;
    rig->values[POINT_STIRRER_RPM] = 39;
    rig_run(rig, 0.2);
    ck_assert(is_off(rig, FORBID_HEAT));
    ck_assert(rig->scan.trips[TRIP_STIRRER].is_latched);
}
END_TEST

START_TEST(a_contactor_that_stays_closed_is_told_even_when_idle)
{
    struct rig *rig = &RIG;

    rig_init(rig, NULL);
    rig_run(rig, 1);
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NONE);
    rig->kept[POINT_HEATER_IS_ON] = true;
    rig->values[POINT_HEATER_IS_ON] = 1;
    rig_run(rig, 2);
    ck_assert(rig->scan.trips[TRIP_CONTACTOR_STUCK].is_latched);
    ck_assert_int_eq(rig_command(rig, VERB_START), REFUSAL_TRIPPED);
}
END_TEST

START_TEST(a_contactor_that_does_not_close_holds_the_batch)
{
    struct rig *rig = &RIG;

    rig_init(rig, NULL);
    rig->kept[POINT_HEATER_IS_ON] = true;
    rig_go_to_step(rig, STEP_HEAT);
    rig_run(rig, 13); /* the shortest time off, then the time to follow */
    ck_assert(rig->scan.trips[TRIP_CONTACTOR_OPEN].is_latched);
    ck_assert_int_eq(rig_output(rig, POINT_HEATER_ON) > 0.5, 0);
}
END_TEST

START_TEST(a_step_over_its_time_limit_holds_and_a_release_grants_it_once_more)
{
    struct rig *rig = rig_at(STEP_HEAT);

    rig->scan.memory.step_s = rig->setup.limits.heat_max_s - 1;
    rig_run(rig, 2);
    ck_assert(rig->scan.trips[TRIP_STEP_TIME].is_latched);
    ck_assert(rig_run_until_state(rig, STATE_HELD, 1));
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NONE);
    ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_NONE);
    rig_run(rig, 60);
    ck_assert_int_eq(rig->scan.memory.state, STATE_RUNNING);
}
END_TEST

START_TEST(acid_past_the_ceiling_is_never_given)
{
    struct rig *rig = rig_at(STEP_ACIDIFY);

    rig->scan.memory.plan.acid_ceiling_ml = 100; /* far less than this water needs */
    rig_run(rig, 600);
    ck_assert(rig->scan.trips[TRIP_DOSE_CEILING].is_latched);
    ck_assert_int_eq(rig->scan.memory.state, STATE_HELD);
    ck_assert_double_le(rig->values[POINT_DOSED_ML], 100);
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NONE);
    ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_NONE);
    rig_run(rig, 600);
    ck_assert_int_eq(rig->scan.memory.state, STATE_HELD); /* and trips again */
    ck_assert_double_le(rig->values[POINT_DOSED_ML], 100);
}
END_TEST

START_TEST(while_charging_the_open_hatch_stops_heat_but_not_the_batch)
{
    struct rig *rig = rig_at(STEP_CHARGE);

    rig->values[POINT_LID_CLOSED] = 0;
    rig_run(rig, 60);
    ck_assert_int_eq(rig->scan.memory.state, STATE_RUNNING);
    ck_assert(is_off(rig, FORBID_HEAT));
    ck_assert_double_gt(rig_output(rig, POINT_STIRRER_ON), 0.5); /* there is a grid */
    rig->setup.tank.charging_grid = false;
    rig_run(rig, 0.2);
    ck_assert(is_off(rig, FORBID_STIR));
    ck_assert_int_eq(rig->scan.memory.state, STATE_RUNNING);
}
END_TEST

START_TEST(every_start_is_tripped)
{
    struct rig *rig = &RIG;

    rig_init(rig, NULL);
    rig_run(rig, 1);
    ck_assert(rig->scan.trips[TRIP_POWER_UP].is_latched);
    ck_assert_int_eq(rig_command(rig, VERB_START), REFUSAL_TRIPPED);
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NONE);
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NOTHING);
    ck_assert_int_eq(rig_command(rig, VERB_START), REFUSAL_NONE);
}
END_TEST

START_TEST(water_that_runs_through_a_shut_valve_trips_and_is_counted)
{
    struct rig *rig = rig_at(STEP_HEAT);
    double before_l = rig->scan.memory.water_in_l;

    rig->values[POINT_WATER_L] += 0.5; /* a drip is no leak */
    rig_run(rig, 30);
    ck_assert_int_eq(rig->scan.memory.state, STATE_RUNNING);
    for (int i = 0; i < 20; i++) {
        rig->values[POINT_WATER_L] += 0.05;
        rig_scan(rig);
    }
    ck_assert(rig->scan.trips[TRIP_WATER_LEAKS].is_latched);
    ck_assert(is_off(rig, FORBID_HEAT));
    ck_near(rig->scan.memory.water_in_l - before_l, 1.5, 1e-6);
    ck_assert(rig_run_until_state(rig, STATE_HELD, 5));
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NONE); /* it runs no more */
    ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_NONE);
    rig_run(rig, 30);
    ck_assert_int_eq(rig->scan.memory.state, STATE_RUNNING);
}
END_TEST

START_TEST(a_tank_at_the_brim_holds_the_batch_in_every_step)
{
    struct rig *rig = rig_at(_i == 0 ? STEP_HEAT : STEP_CHARGE);

    rig->values[POINT_LEVEL_BELOW_BRIM] = 0;
    rig_run(rig, 0.2);
    ck_assert(rig->scan.trips[TRIP_LEVEL_HIGH].is_latched);
    ck_assert(rig_run_until_state(rig, STATE_HELD, 5));
}
END_TEST

START_TEST(the_first_cause_is_remembered)
{
    struct rig *rig = rig_at(STEP_HEAT);

    rig->values[POINT_LID_CLOSED] = 0;
    rig_run(rig, 1);
    rig->values[POINT_TANK_TEMP_C] = 80;
    rig_run(rig, 2);
    ck_assert(rig->scan.trips[TRIP_LIQUID_HOT].is_latched);
    ck_assert_int_eq(rig->scan.first_trip, TRIP_LID_OPEN);
    rig->values[POINT_LID_CLOSED] = 1;
    rig_run(rig, 1);
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NONE); /* the lid clears, the heat stays */
    ck_assert(!rig->scan.trips[TRIP_LID_OPEN].is_latched);
    ck_assert(rig->scan.trips[TRIP_LIQUID_HOT].is_latched);
    ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_TRIPPED);
}
END_TEST

START_TEST(every_trip_has_one_row_but_power_up)
{
    for (int t = 0; t < TRIP_COUNT; t++) {
        int rows = 0;
        for (int i = 0; i < PROTECT_ROW_COUNT; i++)
            rows += (int)PROTECT_ROWS[i].trip == t;
        ck_assert_msg(rows == (t != TRIP_POWER_UP), "trip %d has %d rows", t, rows);
    }
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("core protect");
    TCase *tc = tcase_create("trips");

    tcase_add_loop_test(tc, a_cause_switches_off_holds_and_latches, 0, CAUSE_COUNT);
    tcase_add_test(tc, just_inside_the_limit_nothing_trips);
    tcase_add_test(tc, a_flicker_shorter_than_the_delay_does_not_trip_but_heat_is_not_risked);
    tcase_add_loop_test(tc, a_needed_reading_that_goes_bad_holds_the_batch, 0, 30);
    tcase_add_test(tc, a_stirrer_that_does_not_turn_stops_heat_at_once_and_trips_after_its_time);
    tcase_add_test(tc, a_stirrer_that_stops_later_takes_the_heat_with_it);
    tcase_add_test(tc, a_contactor_that_stays_closed_is_told_even_when_idle);
    tcase_add_test(tc, a_contactor_that_does_not_close_holds_the_batch);
    tcase_add_test(tc, a_step_over_its_time_limit_holds_and_a_release_grants_it_once_more);
    tcase_add_test(tc, acid_past_the_ceiling_is_never_given);
    tcase_add_test(tc, while_charging_the_open_hatch_stops_heat_but_not_the_batch);
    tcase_add_test(tc, every_start_is_tripped);
    tcase_add_test(tc, water_that_runs_through_a_shut_valve_trips_and_is_counted);
    tcase_add_loop_test(tc, a_tank_at_the_brim_holds_the_batch_in_every_step, 0, 2);
    tcase_add_test(tc, the_first_cause_is_remembered);
    tcase_add_test(tc, every_trip_has_one_row_but_power_up);
    suite_add_tcase(suite, tc);
    return suite;
}
