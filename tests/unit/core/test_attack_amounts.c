/* Attacks by power cuts, dead meters and full scans; each was a way in once. */
#include "attack_kit.h"

/* ---- power cuts ---------------------------------------------------------------------------------------- */

START_TEST(restored_from_any_state_in_any_step_nothing_is_on_before_two_acts)
{
    enum batch_state state = (enum batch_state)(_i / STEP_COUNT);
    enum step step = (enum step)(_i % STEP_COUNT);
    struct batch_memory memory;
    struct rig *rig;

    if (step == STEP_NONE || state == STATE_IDLE)
        return; /* no batch is ever stored like that */
    rig = rig_at(step);
    memory = rig->scan.memory;
    memory.state = state;
    rig_init(rig, &memory);
    for (int i = 0; i < 100; i++) {
        rig_scan(rig);
        ck_assert(all_off(rig));
    }
    ck_assert_int_ne(rig_command(rig, VERB_RESTART), REFUSAL_NONE);
    rig_run(rig, 20);
    ck_assert(all_off(rig));
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NONE);
    for (int i = 0; i < 100; i++) {
        rig_scan(rig);
        ck_assert(all_off(rig));
    }
    if (rig->scan.memory.state == STATE_HELD) {
        ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_NONE);
        rig_run(rig, 2);
        ck_assert_int_eq(rig->scan.memory.state, STATE_RUNNING);
        /* what stood still is stirred before it is measured */
        ck_assert_int_eq(rig->scan.memory.step, step > STEP_DISSOLVE ? STEP_DISSOLVE : step);
    }
}
END_TEST

START_TEST(a_memory_that_names_no_state_or_step_is_not_followed)
{
    struct batch_memory memory;
    struct rig *rig = rig_at(STEP_HEAT);

    memory = rig->scan.memory;
    if (_i == 0)
        memory.state = STATE_COUNT;
    else
        memory.step = STEP_COUNT;
    rig_init(rig, &memory);
    rig_run(rig, 1);
    ck_assert_int_eq(rig->scan.memory.state, STATE_IDLE);
    ck_assert(!rig->scan.memory.has_batch);
}
END_TEST

/* ---- amounts ---------------------------------------------------------------------------------------------
 */

/* A meter that counts nothing while the valve is open: dead, or the tap is shut. Without an end, a
 * dead meter would let in water until the tank runs over. */
START_TEST(a_water_meter_that_stands_still_stops_the_water_and_is_named)
{
    struct rig *rig = rig_at(STEP_FILL);
    double through_l = 0;

    rig->kept[POINT_WATER_L] = true;
    for (int i = 0; i < 36000; i++) {
        rig_scan(rig);
        through_l += rig_output(rig, POINT_WATER_VALVE_OPEN) * rig->setup.tank.water_l_min / 600;
    }
    ck_assert_double_le(through_l, 15);
    ck_assert_int_eq(rig->scan.memory.state, STATE_HELD);
    ck_assert_int_eq(rig->scan.first_trip, TRIP_READING_BAD);
    ck_assert_int_eq(rig->scan.trips[TRIP_READING_BAD].detail, POINT_WATER_L);
}
END_TEST

START_TEST(a_slow_tap_is_no_dead_meter)
{
    struct rig *rig = rig_at(STEP_FILL);

    rig->kept[POINT_WATER_L] = true;
    for (int i = 0; i < 30000 && rig->scan.memory.step == STEP_FILL; i++) {
        rig->values[POINT_WATER_L] += rig_output(rig, POINT_WATER_VALVE_OPEN) * 8.0 / 600;
        rig_scan(rig);
    }
    ck_assert_int_eq(rig->scan.memory.step, STEP_ACIDIFY);
    ck_near(rig->scan.memory.water_in_l, rig->values[POINT_WATER_L], 0.5);
}
END_TEST

/* The meter loses its power for a moment and begins again at nothing. */
START_TEST(a_meter_that_begins_anew_does_not_let_a_share_run_longer)
{
    struct rig *rig = rig_new();
    double through_l = 0;

    rig->values[POINT_WATER_L] = 5;
    rig_go_to_step(rig, STEP_FILL);
    run_until_on(rig, POINT_WATER_VALVE_OPEN);
    while (rig_count(rig, EVENT_OUTCOME_WATER) == 0) {
        through_l += rig_output(rig, POINT_WATER_VALVE_OPEN) * rig->setup.tank.water_l_min / 600;
        if (fabs(through_l - 50) < 0.02)
            rig->values[POINT_WATER_L] = 0;
        rig_scan(rig);
    }
    ck_near(through_l, 60, 0.5);
    ck_near(rig_last(rig, EVENT_OUTCOME_WATER)->value, through_l, 0.5);
}
END_TEST

/* Somebody set the pump to three times its rate; its counter tells. */
START_TEST(a_pump_that_is_faster_than_it_should_be_is_stopped_by_its_counter)
{
    struct rig *rig = rig_at(STEP_ACIDIFY);

    rig->kept[POINT_DOSED_ML] = true;
    for (int i = 0; i < 3000; i++) {
        rig->values[POINT_DOSED_ML] += rig_output(rig, POINT_DOSE_PUMP_ON) * 300.0 / 600;
        rig_scan(rig);
        if (rig->scan.dose.phase == PULSE_IDLE && rig_count(rig, EVENT_OUTCOME_DOSE) > 0)
            break;
    }
    ck_near(rig->values[POINT_DOSED_ML], rig_last(rig, EVENT_INTENT_DOSE)->value, 1.0);
}
END_TEST

/* The ceiling must hold when the counter is dead: then the time counts. */
START_TEST(a_dead_dose_counter_does_not_lift_the_ceiling)
{
    struct rig *rig = rig_at(STEP_ACIDIFY);
    double through_ml = 0;

    rig->kept[POINT_DOSED_ML] = true;
    for (int i = 0; i < 72000; i++) {
        rig_scan(rig);
        through_ml += rig_output(rig, POINT_DOSE_PUMP_ON) * rig_output(rig, POINT_DOSE_ML_MIN) / 600;
    }
    ck_assert_double_le(through_ml, rig->scan.memory.plan.acid_ceiling_ml + 1);
    ck_assert_int_eq(rig->scan.memory.state, STATE_HELD);
    ck_assert_int_eq(rig->scan.first_trip, TRIP_DOSE_CEILING);
}
END_TEST

START_TEST(the_ceiling_holds_over_power_cuts_in_the_middle_of_doses)
{
    struct rig *rig = rig_at(STEP_ACIDIFY);
    double through_ml = 0;

    for (int cut = 0; cut < 30; cut++) {
        struct batch_memory memory;
        for (int i = 0; i < 3000 && rig_output(rig, POINT_DOSE_PUMP_ON) < 0.5; i++)
            rig_scan(rig);
        for (int i = 0; i < 5 + cut; i++) {
            through_ml += rig_output(rig, POINT_DOSE_PUMP_ON) * rig_output(rig, POINT_DOSE_ML_MIN) / 600;
            rig_scan(rig);
        }
        memory = rig->scan.memory;
        rig_init(rig, &memory);
        rig_run(rig, 1);
        ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NONE);
        ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_NONE);
    }
    rig_run(rig, 1200);
    ck_assert_double_le(through_ml, rig->scan.memory.plan.acid_ceiling_ml + 1);
    ck_assert_double_le(rig->scan.memory.acid_in_ml, rig->scan.memory.plan.acid_ceiling_ml);
}
END_TEST

/* The pump runs on until the output module notices that the program has died. */
START_TEST(what_runs_on_after_a_power_cut_is_counted)
{
    struct batch_memory memory;
    struct rig *rig = rig_at(STEP_ACIDIFY);

    rig->values[POINT_DOSED_ML] = 500;
    run_until_on(rig, POINT_DOSE_PUMP_ON);
    rig_run(rig, 2);
    memory = rig->scan.memory;
    rig_init(rig, &memory);
    rig->kept[POINT_DOSED_ML] = true;
    rig->values[POINT_DOSED_ML] = 504;
    for (int i = 0; i < 30; i++) { /* the new program is quicker than the module's fallback */
        rig->values[POINT_DOSED_ML] += 100.0 / 600;
        rig_scan(rig);
    }
    rig_run(rig, 20);
    ck_assert(!rig->scan.memory.open_dose.is_open);
    ck_near(rig->scan.memory.acid_in_ml, rig->values[POINT_DOSED_ML] - 500, 0.01);
}
END_TEST

START_TEST(a_dead_dose_counter_does_not_lift_the_ceiling_over_power_cuts)
{
    struct rig *rig = rig_at(STEP_ACIDIFY);
    double through_ml = 0;

    for (int cut = 0; cut < 40; cut++) {
        struct batch_memory memory;
        rig->kept[POINT_DOSED_ML] = true;
        rig->values[POINT_DOSED_ML] = 500;
        for (int i = 0; i < 3000 && rig_output(rig, POINT_DOSE_PUMP_ON) < 0.5; i++)
            rig_scan(rig);
        for (int i = 0; i < 100 && rig_output(rig, POINT_DOSE_PUMP_ON) > 0.5; i++) {
            through_ml += rig_output(rig, POINT_DOSE_ML_MIN) / 600;
            rig_scan(rig);
        }
        memory = rig->scan.memory;
        rig_init(rig, &memory);
        rig->kept[POINT_DOSED_ML] = true;
        rig->values[POINT_DOSED_ML] = 500;
        rig_run(rig, 15);
        ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NONE);
        ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_NONE);
    }
    ck_assert_double_le(through_ml, rig->scan.memory.plan.acid_ceiling_ml + 1);
}
END_TEST

/* A share bounds what a crash or a lying refractometer can do: the next look comes before more. */
START_TEST(one_trim_lets_in_no_more_water_than_one_share)
{
    struct rig *rig = rig_at(STEP_STRENGTH);

    rig->values[POINT_STRENGTH_PCT] = 84;
    rig_run(rig, 70);
    ck_assert_int_eq(rig_count(rig, EVENT_INTENT_WATER), 1);
    ck_assert_double_le(rig_last(rig, EVENT_INTENT_WATER)->value, 60);
}
END_TEST

START_TEST(a_hold_between_the_intention_and_its_confirmation_opens_nothing_later)
{
    struct rig *rig = rig_at(STEP_FILL);
    uint64_t intent;

    rig->acknowledge = false;
    while (rig_count(rig, EVENT_INTENT_WATER) == 0)
        rig_scan(rig);
    intent = rig_last(rig, EVENT_INTENT_WATER)->intent;
    ck_assert_int_eq(rig_command(rig, VERB_HOLD), REFUSAL_NONE);
    rig->in.durable_intent = intent; /* the confirmation comes now */
    rig_run(rig, 5);
    ck_assert(all_off(rig));
    ck_near(rig->scan.memory.water_in_l, 0, 1e-9);
    ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_NONE);
    rig_run(rig, 1);
    ck_assert_double_eq(rig_output(rig, POINT_WATER_VALVE_OPEN), 0);
}
END_TEST

START_TEST(a_confirmation_that_comes_too_late_opens_nothing)
{
    struct rig *rig = rig_at(STEP_FILL);

    rig->acknowledge = false;
    while (rig_count(rig, EVENT_NOT_RECORDED) == 0)
        rig_scan(rig);
    rig->in.durable_intent = rig_last(rig, EVENT_NOT_RECORDED)->intent;
    rig_scan(rig);
    rig_scan(rig);
    ck_assert_double_eq(rig_output(rig, POINT_WATER_VALVE_OPEN), 0);
    ck_near(rig->scan.memory.water_in_l, 60, 1e-9); /* the next intention, still open */
    ck_assert_uint_gt(rig->scan.water.intent, rig->in.durable_intent);
}
END_TEST

/* ---- many things at once ------------------------------------------------------------------------------ */

/* Everything that can change in one scan changes, with a full load of commands. */
START_TEST(no_event_is_lost_when_everything_happens_in_one_scan)
{
    struct rig *rig = rig_heating();

    for (int p = 0; p < POINT_INPUT_COUNT; p++)
        make_bad(rig, (enum point)p, p % 2 == 0 ? REASON_BUS_LOST : REASON_DEVICE);
    for (int i = 0; i < SCAN_COMMANDS_MAX; i++)
        put_command(rig, VERB_RELEASE, ANSWER_DONE);
    rig_scan(rig);
    ck_assert_int_eq(rig->out.events_lost, 0);
    rig_run(rig, 5);
    for (int t = 1; t < TRIP_COUNT; t++)
        rig->scan.trips[t] = (struct trip_state){.is_latched = true, .is_present = true, .since_us = 0};
    for (int p = 0; p < POINT_INPUT_COUNT; p++)
        rig->qualities[p] = QUALITY_GOOD;
    put_command(rig, VERB_RELEASE, ANSWER_DONE);
    put_command(rig, VERB_STOP, ANSWER_DONE);
    for (int i = 2; i < SCAN_COMMANDS_MAX; i++)
        put_command(rig, VERB_ABORT, ANSWER_DONE);
    rig_scan(rig);
    ck_assert_int_eq(rig->out.events_lost, 0);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("attack amounts");
    TCase *tc = tcase_create("attacks");

    tcase_add_test(tc, no_event_is_lost_when_everything_happens_in_one_scan);
    tcase_add_loop_test(tc, restored_from_any_state_in_any_step_nothing_is_on_before_two_acts, 0,
                        STATE_COUNT * STEP_COUNT);
    tcase_add_loop_test(tc, a_memory_that_names_no_state_or_step_is_not_followed, 0, 2);
    tcase_add_test(tc, a_water_meter_that_stands_still_stops_the_water_and_is_named);
    tcase_add_test(tc, a_slow_tap_is_no_dead_meter);
    tcase_add_test(tc, a_meter_that_begins_anew_does_not_let_a_share_run_longer);
    tcase_add_test(tc, a_pump_that_is_faster_than_it_should_be_is_stopped_by_its_counter);
    tcase_add_test(tc, a_dead_dose_counter_does_not_lift_the_ceiling);
    tcase_add_test(tc, the_ceiling_holds_over_power_cuts_in_the_middle_of_doses);
    tcase_add_test(tc, what_runs_on_after_a_power_cut_is_counted);
    tcase_add_test(tc, a_dead_dose_counter_does_not_lift_the_ceiling_over_power_cuts);
    tcase_add_test(tc, one_trim_lets_in_no_more_water_than_one_share);
    tcase_add_test(tc, a_hold_between_the_intention_and_its_confirmation_opens_nothing_later);
    tcase_add_test(tc, a_confirmation_that_comes_too_late_opens_nothing);
    suite_add_tcase(suite, tc);
    return suite;
}
