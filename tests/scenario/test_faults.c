/* Faults of the simulated tank itself in whole batches, judged by the plant's truth. */
#include "support/batch_run.h"
#include "support/support.h"

static struct batch_run RUN;

static void run_to_step(enum step step)
{
    batch_run_init(&RUN, 31, NULL);
    while (RUN.scan.memory.step != step && RUN.broken == NULL && RUN.seconds < 8 * 3600)
        batch_run_scan(&RUN);
    ck_assert_int_eq(RUN.scan.memory.step, step);
}

static void run_seconds(double seconds)
{
    for (int i = 0; i < (int)(seconds * 10); i++)
        batch_run_scan(&RUN);
}

START_TEST(a_valve_that_leaks_holds_the_batch_and_its_water_is_counted)
{
    struct plant_truth truth;

    run_to_step(STEP_HEAT);
    run_seconds(30);
    RUN.harness.world.plant.faults.water_stuck_open = true;
    run_seconds(30);
    ck_assert_int_eq(RUN.scan.memory.state, STATE_HELD);
    ck_assert(RUN.scan.trips[TRIP_WATER_LEAKS].is_latched);
    RUN.harness.world.plant.faults.water_stuck_open = false; /* somebody shut the tap */
    run_seconds(30);
    truth = batch_run_truth(&RUN);
    ck_near(RUN.scan.estimate.water_kg, truth.water_kg, 0.015 * truth.water_kg); /* the meter's own error */
    ck_assert(!truth.overflowed);
    ck_assert_int_eq(batch_run_command(&RUN, VERB_RELEASE), REFUSAL_NONE);
    ck_assert_int_eq(batch_run_command(&RUN, VERB_RESTART), REFUSAL_NONE);
    run_seconds(60);
    ck_assert_int_eq(RUN.scan.memory.state, STATE_RUNNING);
    ck_assert_ptr_null(RUN.broken);
}
END_TEST

START_TEST(a_stirrer_that_stops_holds_before_the_element_gets_hot)
{
    run_to_step(STEP_HEAT);
    run_seconds(120);
    RUN.harness.world.plant.faults.stirrer_stopped = true;
    run_seconds(30);
    ck_assert_int_eq(RUN.scan.memory.state, STATE_HELD);
    ck_assert(RUN.scan.trips[TRIP_STIRRER].is_latched);
    ck_assert_ptr_null(RUN.broken);
}
END_TEST

START_TEST(a_welded_contactor_is_told)
{
    run_to_step(STEP_HEAT);
    run_seconds(120);
    RUN.harness.world.plant.faults.heater_stuck_on = true;
    ck_assert_int_eq(batch_run_command(&RUN, VERB_HOLD), REFUSAL_NONE);
    run_seconds(5);
    ck_assert(RUN.scan.trips[TRIP_CONTACTOR_STUCK].is_latched);
}
END_TEST

START_TEST(an_airlocked_pump_gives_no_acid_and_ends_at_the_ceiling)
{
    batch_run_init(&RUN, 32, NULL);
    RUN.harness.world.plant.faults.pump_airlock = true;
    ck_assert_int_eq(batch_run_to_end(&RUN, 8), STATE_HELD);
    ck_assert(RUN.scan.trips[TRIP_DOSE_CEILING].is_latched);
    ck_assert_double_le(RUN.scan.memory.acid_in_ml, RUN.plan.acid_ceiling_ml);
    ck_assert_ptr_null(RUN.broken);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("faults of the tank");
    TCase *tc = tcase_create("faults");

    tcase_set_timeout(tc, 60);
    tcase_add_test(tc, a_valve_that_leaks_holds_the_batch_and_its_water_is_counted);
    tcase_add_test(tc, a_stirrer_that_stops_holds_before_the_element_gets_hot);
    tcase_add_test(tc, a_welded_contactor_is_told);
    tcase_add_test(tc, an_airlocked_pump_gives_no_acid_and_ends_at_the_ceiling);
    suite_add_tcase(suite, tc);
    return suite;
}
