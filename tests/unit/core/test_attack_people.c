/* Attacks by hands and words: lids, answers, commands in odd order; each was a way in once. */
#include "attack_kit.h"

/* ---- hands in the tank ------------------------------------------------------------------------ */

START_TEST(a_lid_opened_in_a_pause_stops_the_stirrer_until_two_acts)
{
    struct rig *rig = rig_at(STEP_DISSOLVE);

    rig_run(rig, 10);
    ck_assert_int_eq(rig_command(rig, VERB_PAUSE), REFUSAL_NONE);
    ck_assert(rig_run_until_state(rig, STATE_PAUSED, 5));
    ck_assert_double_gt(rig_output(rig, POINT_STIRRER_ON), 0.5); /* sugar that settles sets hard */
    rig->values[POINT_LID_CLOSED] = 0;
    rig_run(rig, 1);
    ck_assert(all_off(rig));
    rig->values[POINT_LID_CLOSED] = 1;
    rig_run(rig, 10);
    ck_assert(all_off(rig));
}
END_TEST

/* The question itself makes the person open the lid. */
START_TEST(opening_the_lid_to_do_what_was_asked_is_no_trip)
{
    struct rig *rig = rig_at(STEP_STRENGTH);

    rig->setup.tank.charging_grid = _i == 1;
    rig->values[POINT_STRENGTH_PCT] = 61.5;
    rig_run(rig, 70);
    ck_assert_int_eq(rig->scan.prompt.kind, PROMPT_ADD_SUGAR);
    rig->values[POINT_LID_CLOSED] = 0;
    rig_run(rig, 20);
    ck_assert_int_eq(rig->scan.memory.state, STATE_RUNNING);
    ck_assert_double_eq(rig_output(rig, POINT_HEATER_ON), 0);
    ck_assert_double_eq(rig_output(rig, POINT_STIRRER_ON), _i); /* only under a grid */
    ck_assert_int_eq(rig_answer(rig, ANSWER_DONE, 0), REFUSAL_NONE);
    rig_run(rig, 5);
    ck_assert_int_eq(rig->scan.memory.state, STATE_RUNNING);
    ck_assert_double_eq(rig_output(rig, POINT_HEATER_ON), 0);
    rig->values[POINT_LID_CLOSED] = 1;
    rig_run(rig, 1);
    ck_assert_int_eq(rig->scan.memory.step, STEP_DISSOLVE);
    ck_assert(!protect_is_tripped(&rig->scan));
    ck_near(rig->scan.memory.sugar_in_kg, 521.5, 0.01);
    rig->values[POINT_LID_CLOSED] = 0; /* and now nobody has asked for it */
    rig_run(rig, 1);
    ck_assert(rig->scan.trips[TRIP_LID_OPEN].is_latched);
}
END_TEST

START_TEST(sugar_for_the_trim_is_not_asked_over_a_tank_that_is_too_hot)
{
    struct rig *rig = rig_at(STEP_STRENGTH);

    rig->values[POINT_STRENGTH_PCT] = 61.5;
    rig->values[POINT_TANK_TEMP_C] = 61;
    rig_run(rig, 300);
    ck_assert_int_eq(rig->scan.prompt.kind, PROMPT_NONE);
    rig->values[POINT_TANK_TEMP_C] = 59;
    rig_run(rig, 130);
    ck_assert_int_eq(rig->scan.prompt.kind, PROMPT_ADD_SUGAR);
}
END_TEST

/* ---- what people say --------------------------------------------------------------------------- */

/* A bag that was said to be in is in, or the person is told that it was not heard. */
START_TEST(an_answer_in_the_scan_of_a_hold_counts_or_is_refused)
{
    static const enum verb verbs[] = {VERB_HOLD, VERB_PAUSE, VERB_STOP, VERB_ABORT};
    struct rig *rig = rig_at(STEP_CHARGE);
    bool answer_first = _i % 2 == 0;
    int heard = 0;

    rig_run(rig, 1);
    ck_assert_int_eq(rig->scan.prompt.kind, PROMPT_TIP_BAG);
    if (answer_first)
        put_command(rig, VERB_ANSWER, ANSWER_DONE);
    put_command(rig, verbs[_i / 2], ANSWER_DONE);
    if (!answer_first)
        put_command(rig, VERB_ANSWER, ANSWER_DONE);
    rig_scan(rig);
    ck_assert_int_eq(rig->out.result_count, 2);
    heard = rig->out.results[answer_first ? 0 : 1].refusal == REFUSAL_NONE;
    ck_assert_int_eq(rig->out.results[answer_first ? 1 : 0].refusal, REFUSAL_NONE);
    rig_run(rig, 1);
    ck_assert_int_eq(rig->scan.memory.bags_in, heard);
    ck_assert_int_eq(heard, answer_first);
    ck_assert_int_ne(rig->scan.memory.state, STATE_RUNNING);
}
END_TEST

START_TEST(an_answer_in_the_scan_of_a_trip_counts_or_is_refused)
{
    struct rig *rig = rig_at(STEP_CHARGE);
    bool is_heard;

    rig_run(rig, 1);
    put_command(rig, VERB_ANSWER, ANSWER_DONE);
    rig->values[POINT_CHAIN_OK] = 0;
    rig_scan(rig);
    is_heard = rig->out.results[0].refusal == REFUSAL_NONE;
    rig_run(rig, 1);
    ck_assert_int_eq(rig->scan.memory.state, STATE_HELD);
    ck_assert_int_eq(rig->scan.memory.bags_in, is_heard);
}
END_TEST

START_TEST(cannot_and_done_in_one_scan_hold_and_count_no_bag)
{
    struct rig *rig = rig_at(STEP_CHARGE);

    rig_run(rig, 1);
    put_command(rig, VERB_ANSWER, ANSWER_CANNOT);
    put_command(rig, VERB_ANSWER, ANSWER_DONE);
    rig_scan(rig);
    ck_assert_int_eq(rig->out.results[0].refusal, REFUSAL_NONE);
    ck_assert_int_eq(rig->out.results[1].refusal, REFUSAL_NO_PROMPT);
    rig_run(rig, 1);
    ck_assert_int_eq(rig->scan.memory.state, STATE_HELD);
    ck_assert_int_eq(rig->scan.memory.bags_in, 0);
}
END_TEST

START_TEST(the_same_bag_answered_eight_times_in_one_scan_is_one_bag)
{
    struct rig *rig = rig_at(STEP_CHARGE);

    rig_run(rig, 1);
    for (int i = 0; i < SCAN_COMMANDS_MAX; i++)
        put_command(rig, VERB_ANSWER, ANSWER_DONE);
    rig_run(rig, 1);
    ck_assert_int_eq(rig->scan.memory.bags_in, 1);
}
END_TEST

START_TEST(an_answer_to_a_withdrawn_question_is_refused)
{
    struct rig *rig = rig_at(STEP_CHARGE);
    uint32_t old;

    rig_run(rig, 1);
    old = rig->scan.prompt.id;
    ck_assert_int_eq(rig_command(rig, VERB_HOLD), REFUSAL_NONE);
    ck_assert(rig_run_until_state(rig, STATE_HELD, 5));
    ck_assert_int_eq(rig_answer(rig, ANSWER_DONE, 0), REFUSAL_NO_PROMPT);
    ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_NONE);
    rig_run(rig, 1);
    ck_assert_uint_ne(rig->scan.prompt.id, old);
    put_command(rig, VERB_ANSWER, ANSWER_DONE);
    rig->in.commands[0].prompt_id = old;
    rig_scan(rig);
    ck_assert_int_eq(rig->out.results[0].refusal, REFUSAL_NO_PROMPT);
    ck_assert_int_eq(rig->scan.memory.bags_in, 0);
}
END_TEST

/* ---- commands in odd order ------------------------------------------------------------------------- */

START_TEST(a_verb_that_does_not_exist_is_refused_and_releases_nothing)
{
    struct rig *rig = rig_new();

    rig_run(rig, 1);
    put_command(rig, (enum verb)(VERB_COUNT + _i), ANSWER_DONE);
    rig_scan(rig);
    ck_assert_int_ne(rig->out.results[0].refusal, REFUSAL_NONE);
    ck_assert(rig->scan.trips[TRIP_POWER_UP].is_latched);
}
END_TEST

START_TEST(two_starts_in_one_scan_begin_one_batch)
{
    struct rig *rig = rig_new();

    rig_run(rig, 1);
    put_command(rig, VERB_RELEASE, ANSWER_DONE);
    put_command(rig, VERB_START, ANSWER_DONE);
    put_command(rig, VERB_START, ANSWER_DONE);
    rig_scan(rig);
    ck_assert_int_eq(rig->out.results[1].refusal, REFUSAL_NONE);
    ck_assert_int_eq(rig->out.results[2].refusal, REFUSAL_STATE);
    ck_assert(all_off(rig)); /* the release is in force from the next scan on */
    ck_assert_int_eq(rig_count(rig, EVENT_BATCH_STARTED), 1);
}
END_TEST

START_TEST(an_abort_after_a_stop_ends_the_batch_only_once)
{
    struct rig *rig = rig_at(STEP_DISSOLVE);

    rig_run(rig, 20);
    ck_assert_int_eq(rig_command(rig, VERB_STOP), REFUSAL_NONE);
    ck_assert(rig_run_until_state(rig, STATE_STOPPED, 5));
    ck_assert_int_eq(rig_command(rig, VERB_ABORT), REFUSAL_NONE);
    ck_assert(rig_run_until_state(rig, STATE_ABORTED, 5));
    ck_assert_int_eq(rig_count(rig, EVENT_BATCH_ENDED), 1);
}
END_TEST

/* Every order of three commands out of ten, in one scan, while held and tripped: nothing comes on in
 * that scan, and nothing at all without both a release and a restart that were accepted. */
START_TEST(no_order_of_three_commands_brings_anything_back_without_two_acts)
{
    static struct rig held;

    rig_init(&held, NULL);
    rig_go_to_step(&held, STEP_DISSOLVE);
    rig_run(&held, 15);
    held.values[POINT_CHAIN_OK] = 0;
    ck_assert(rig_run_until_state(&held, STATE_HELD, 5));
    held.values[POINT_CHAIN_OK] = 1;
    rig_run(&held, 1);
    for (int order = 0; order < 1000; order++) {
        const int verbs[3] = {order / 100, order / 10 % 10, order % 10};
        bool was_released = false, was_restarted = false;

        RIG = held;
        for (int i = 0; i < 3; i++)
            put_command(&RIG, (enum verb)verbs[i], ANSWER_DONE);
        rig_scan(&RIG);
        ck_assert(all_off(&RIG));
        for (int i = 0; i < RIG.out.result_count; i++)
            if (RIG.out.results[i].refusal == REFUSAL_NONE) {
                was_released |= verbs[i] == VERB_RELEASE;
                was_restarted |= verbs[i] == VERB_RESTART;
            }
        for (int i = 0; i < 20; i++) {
            rig_scan(&RIG);
            ck_assert(all_off(&RIG) || (was_released && was_restarted));
        }
    }
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("attack people");
    TCase *tc = tcase_create("attacks");

    tcase_add_test(tc, a_lid_opened_in_a_pause_stops_the_stirrer_until_two_acts);
    tcase_add_loop_test(tc, opening_the_lid_to_do_what_was_asked_is_no_trip, 0, 2);
    tcase_add_test(tc, sugar_for_the_trim_is_not_asked_over_a_tank_that_is_too_hot);
    tcase_add_loop_test(tc, an_answer_in_the_scan_of_a_hold_counts_or_is_refused, 0, 8);
    tcase_add_test(tc, an_answer_in_the_scan_of_a_trip_counts_or_is_refused);
    tcase_add_test(tc, cannot_and_done_in_one_scan_hold_and_count_no_bag);
    tcase_add_test(tc, the_same_bag_answered_eight_times_in_one_scan_is_one_bag);
    tcase_add_test(tc, an_answer_to_a_withdrawn_question_is_refused);
    tcase_add_loop_test(tc, a_verb_that_does_not_exist_is_refused_and_releases_nothing, 0, 3);
    tcase_add_test(tc, two_starts_in_one_scan_begin_one_batch);
    tcase_add_test(tc, an_abort_after_a_stop_ends_the_batch_only_once);
    tcase_add_test(tc, no_order_of_three_commands_brings_anything_back_without_two_acts);
    suite_add_tcase(suite, tc);
    return suite;
}
