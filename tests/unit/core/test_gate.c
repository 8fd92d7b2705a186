/* The gate, the pulses and the promise that what cannot be undone is written before it is done. */
#include "support/rig.h"
#include "support/support.h"

#include <math.h>
#include <string.h>

static struct rig RIG;

static struct rig *rig_at(enum step step)
{
    rig_init(&RIG, NULL);
    rig_go_to_step(&RIG, step);
    return &RIG;
}

START_TEST(no_dose_and_no_water_without_a_durable_intention)
{
    enum step step = _i == 0 ? STEP_FILL : STEP_ACIDIFY;
    enum point output = _i == 0 ? POINT_WATER_VALVE_OPEN : POINT_DOSE_PUMP_ON;
    struct rig *rig = rig_at(step);
    int asked = 0;

    rig->acknowledge = false;
    for (int i = 0; i < 6000; i++) {
        rig_scan(rig);
        ck_assert_double_eq(rig_output(rig, output), 0);
    }
    asked = rig_count(rig, _i == 0 ? EVENT_INTENT_WATER : EVENT_INTENT_DOSE);
    ck_assert_int_gt(asked, 0);
    ck_assert_int_ge(rig_count(rig, EVENT_NOT_RECORDED), asked - 1);
    ck_assert_int_eq(rig->scan.memory.state, STATE_RUNNING); /* the other loops carry on */
    ck_assert_double_gt(rig_output(rig, POINT_STIRRER_ON) + (_i == 0), 0.5);
}
END_TEST

START_TEST(the_intention_comes_before_the_output_and_the_outcome_after)
{
    struct rig *rig = rig_at(STEP_ACIDIFY);
    int intents = 0, outcomes = 0;
    bool was_on = false;

    for (int i = 0; i < 3000; i++) {
        rig_scan(rig);
        intents = rig_count(rig, EVENT_INTENT_DOSE);
        outcomes = rig_count(rig, EVENT_OUTCOME_DOSE);
        if (rig_output(rig, POINT_DOSE_PUMP_ON) > 0.5) {
            ck_assert_int_eq(intents, outcomes + 1);
            was_on = true;
        }
    }
    ck_assert(was_on);
}
END_TEST

START_TEST(a_dose_is_as_long_as_its_amount)
{
    struct rig *rig = rig_at(STEP_ACIDIFY);
    const struct event *intent, *outcome;

    rig_run(rig, 240);
    intent = rig_last(rig, EVENT_INTENT_DOSE);
    outcome = rig_last(rig, EVENT_OUTCOME_DOSE);
    ck_assert_ptr_nonnull(intent);
    ck_assert_ptr_nonnull(outcome);
    ck_near(outcome->value, outcome->value2, 100.0 / 600); /* one scan of pump */
    ck_near(rig->scan.memory.acid_in_ml, rig->values[POINT_DOSED_ML], 0.2);
}
END_TEST

START_TEST(an_open_intention_counts_as_delivered_after_a_crash)
{
    struct rig *rig = rig_at(STEP_FILL);
    struct batch_memory memory;
    double through_l;

    while (rig_output(rig, POINT_WATER_VALVE_OPEN) < 0.5)
        rig_scan(rig);
    rig_run(rig, 5); /* some litres of sixty */
    memory = rig->scan.memory;
    through_l = rig->values[POINT_WATER_L];
    ck_assert_double_lt(through_l, 10);
    ck_near(memory.water_in_l, 60, 1e-9);
    rig_init(&RIG, &memory);
    rig_run(&RIG, 1);
    ck_assert_int_eq(RIG.scan.memory.state, STATE_HELD);
    ck_assert_int_eq(rig_count(&RIG, EVENT_RECOVERED), 1);
    ck_near(RIG.scan.memory.water_in_l, 60, 1e-9);
    ck_assert_uint_gt(RIG.scan.memory.next_intent, 1); /* numbers are never used twice */
}
END_TEST

/* The pump's own counter outlives the daemon: it tells what went through, unless it began anew. */
START_TEST(an_open_dose_is_settled_by_a_counter_that_outlived_the_crash)
{
    bool counter_began_anew = _i == 1;
    struct rig *rig = rig_at(STEP_ACIDIFY);
    struct batch_memory memory;
    double before_ml = 500;

    rig->values[POINT_DOSED_ML] = before_ml;
    while (rig_output(rig, POINT_DOSE_PUMP_ON) < 0.5)
        rig_scan(rig);
    rig_run(rig, 3);
    memory = rig->scan.memory;
    ck_assert(memory.open_dose.is_open);
    ck_near(memory.acid_in_ml, memory.open_dose.amount, 1e-9);
    rig_init(&RIG, &memory);
    RIG.values[POINT_DOSED_ML] = counter_began_anew ? 5 : before_ml + 7;
    rig_run(&RIG, 11); /* the old program's last command may live on for so long */
    ck_assert(!RIG.scan.memory.open_dose.is_open);
    ck_near(RIG.scan.memory.acid_in_ml, counter_began_anew ? memory.open_dose.amount : 7, 1e-9);
    ck_assert_int_eq(rig_count(&RIG, EVENT_OUTCOME_DOSE), 1);
}
END_TEST

START_TEST(a_crash_in_any_dose_leaves_room_below_the_ceiling)
{
    struct rig *rig = rig_at(STEP_ACIDIFY);
    double expected_ml = rig->scan.memory.plan.acid_ml;
    double ceiling_ml = rig->scan.memory.plan.acid_ceiling_ml;

    for (int i = 0; i < 6000; i++) {
        const struct event *event = rig_last(rig, EVENT_INTENT_DOSE);
        rig_scan(rig);
        if (event != NULL)
            ck_assert_double_le(event->value + expected_ml, ceiling_ml);
    }
    ck_assert_int_ge(rig_count(rig, EVENT_INTENT_DOSE), 3);
}
END_TEST

START_TEST(a_hold_in_the_middle_of_a_share_counts_what_went_through)
{
    struct rig *rig = rig_at(STEP_FILL);

    while (rig_output(rig, POINT_WATER_VALVE_OPEN) < 0.5)
        rig_scan(rig);
    rig_run(rig, 20);
    ck_assert_int_eq(rig_command(rig, VERB_HOLD), REFUSAL_NONE);
    ck_assert_double_eq(rig_output(rig, POINT_WATER_VALVE_OPEN), 0);
    ck_assert(rig_run_until_state(rig, STATE_HELD, 5));
    ck_near(rig->scan.memory.water_in_l, rig->values[POINT_WATER_L], 0.1);
}
END_TEST

START_TEST(a_meter_lost_in_the_middle_of_a_share_counts_all_of_it)
{
    struct rig *rig = rig_at(STEP_FILL);

    while (rig_output(rig, POINT_WATER_VALVE_OPEN) < 0.5)
        rig_scan(rig);
    rig_run(rig, 5);
    rig->qualities[POINT_WATER_L] = QUALITY_BAD;
    rig->reasons[POINT_WATER_L] = REASON_BUS_LOST;
    rig_run(rig, 5);
    ck_assert_double_eq(rig_output(rig, POINT_WATER_VALVE_OPEN), 0);
    ck_near(rig->scan.memory.water_in_l, 60, 1e-9);
}
END_TEST

START_TEST(the_contactor_keeps_its_minimum_times_unless_forbidden)
{
    struct rig *rig = rig_at(STEP_DISSOLVE);
    int64_t changed_us = 0;
    double last = 0;

    for (int i = 0; i < 6000; i++) { /* the temperature crosses the target every two seconds */
        rig->values[POINT_TANK_TEMP_C] = i / 20 % 2 == 0 ? 38 : 42;
        rig->values[POINT_STRENGTH_PCT] = 50 + i * 0.001;
        rig_scan(rig);
        if (rig_output(rig, POINT_HEATER_ON) != last) {
            if (changed_us != 0)
                ck_assert_int_ge(rig->in.scan_us - changed_us, 9900000);
            changed_us = rig->in.scan_us;
            last = rig_output(rig, POINT_HEATER_ON);
        }
    }
    ck_assert_int_ne(changed_us, 0);
    rig->values[POINT_TANK_TEMP_C] = 38;
    while (rig_output(rig, POINT_HEATER_ON) < 0.5)
        rig_scan(rig);
    rig->values[POINT_CHAIN_OK] = 0;
    rig_scan(rig);
    ck_assert_double_eq(rig_output(rig, POINT_HEATER_ON), 0);
}
END_TEST

START_TEST(time_that_stands_still_goes_back_or_leaps_switches_off_until_two_acts)
{
    static const int64_t steps_us[] = {0, -1000000, 1500000};
    struct rig *rig = rig_at(STEP_HEAT);

    rig_run(rig, 15);
    ck_assert_double_gt(rig_output(rig, POINT_HEATER_ON), 0.5);
    rig->in.scan_us += steps_us[_i] - SCAN_PERIOD_US;
    rig_scan(rig);
    for (int o = 0; o < POINT_OUTPUT_COUNT; o++)
        ck_assert_double_eq(rig->out.outputs[o], 0);
    rig_run(rig, 60);
    ck_assert_double_eq(rig_output(rig, POINT_HEATER_ON), 0);
    ck_assert_int_eq(rig->scan.memory.state, STATE_HELD);
    ck_assert_int_eq(rig->scan.first_trip, TRIP_STALLED);
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NONE);
    ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_NONE);
    rig_run(rig, 15);
    ck_assert_double_gt(rig_output(rig, POINT_HEATER_ON), 0.5);
}
END_TEST

START_TEST(nothing_but_a_running_batch_switches_anything_on_except_stirring_in_a_pause)
{
    for (int state = 0; state < STATE_COUNT; state++) {
        struct rig *rig = rig_at(STEP_DISSOLVE);
        bool may_stir = state == STATE_RUNNING || state == STATE_PAUSED || state == STATE_PAUSING ||
                        state == STATE_RESTARTING;
        rig->scan.memory.state = (enum batch_state)state;
        rig_scan(rig);
        if (state != STATE_RUNNING && state != STATE_RESTARTING) {
            ck_assert_double_eq(rig_output(rig, POINT_HEATER_ON), 0);
            ck_assert_double_eq(rig_output(rig, POINT_WATER_VALVE_OPEN), 0);
            ck_assert_double_eq(rig_output(rig, POINT_DOSE_PUMP_ON), 0);
        }
        if (!may_stir)
            ck_assert_double_eq(rig_output(rig, POINT_STIRRER_ON), 0);
    }
}
END_TEST

START_TEST(the_same_inputs_give_the_same_outputs)
{
    static struct rig a, b;

    rig_init(&a, NULL);
    rig_init(&b, NULL);
    rig_go_to_step(&a, STEP_ACIDIFY);
    rig_go_to_step(&b, STEP_ACIDIFY);
    for (int i = 0; i < 3000; i++) {
        a.values[POINT_ACIDITY_PH] = b.values[POINT_ACIDITY_PH] = 7.4 - i * 0.0005;
        rig_scan(&a);
        rig_scan(&b);
        ck_assert_int_eq(memcmp(a.out.outputs, b.out.outputs, sizeof a.out.outputs), 0);
        ck_assert_int_eq(a.out.event_count, b.out.event_count);
    }
    ck_assert_int_gt(rig_count(&a, EVENT_INTENT_DOSE), 0);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("core gate");
    TCase *tc = tcase_create("gate");

    tcase_add_loop_test(tc, no_dose_and_no_water_without_a_durable_intention, 0, 2);
    tcase_add_test(tc, the_intention_comes_before_the_output_and_the_outcome_after);
    tcase_add_test(tc, a_dose_is_as_long_as_its_amount);
    tcase_add_test(tc, an_open_intention_counts_as_delivered_after_a_crash);
    tcase_add_loop_test(tc, an_open_dose_is_settled_by_a_counter_that_outlived_the_crash, 0, 2);
    tcase_add_test(tc, a_crash_in_any_dose_leaves_room_below_the_ceiling);
    tcase_add_test(tc, a_hold_in_the_middle_of_a_share_counts_what_went_through);
    tcase_add_test(tc, a_meter_lost_in_the_middle_of_a_share_counts_all_of_it);
    tcase_add_test(tc, the_contactor_keeps_its_minimum_times_unless_forbidden);
    tcase_add_loop_test(tc, time_that_stands_still_goes_back_or_leaps_switches_off_until_two_acts, 0, 3);
    tcase_add_test(tc, nothing_but_a_running_batch_switches_anything_on_except_stirring_in_a_pause);
    tcase_add_test(tc, the_same_inputs_give_the_same_outputs);
    suite_add_tcase(suite, tc);
    return suite;
}
