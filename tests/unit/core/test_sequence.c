/* The way through a batch, the questions, and a tank with hardly any hardware. */
#include "support/rig.h"
#include "support/support.h"

#include <math.h>

static struct rig RIG;

static struct rig *rig_at(enum step step)
{
    rig_init(&RIG, NULL);
    rig_go_to_step(&RIG, step);
    return &RIG;
}

START_TEST(a_whole_batch_goes_through_its_steps_in_order)
{
    struct rig *rig = &RIG;
    int last = STEP_NONE;

    rig_init(rig, NULL);
    rig_start(rig);
    ck_assert_int_eq(rig->scan.prompt.kind, PROMPT_TANK_READY);
    ck_assert_int_eq(rig_answer(rig, ANSWER_DONE, 0), REFUSAL_NONE);
    ck_assert(rig_run_until_step(rig, STEP_ACIDIFY, 900));
    ck_near(rig->values[POINT_WATER_L], 290 / 0.9982, 0.5);
    rig->values[POINT_ACIDITY_PH] = 4.31;
    ck_assert(rig_run_until_step(rig, STEP_HEAT, 300));
    ck_assert(rig->scan.memory.has_water_ph);
    rig->values[POINT_TANK_TEMP_C] = 59.8;
    ck_assert(rig_run_until_step(rig, STEP_CHARGE, 60));
    for (int bag = 1; bag <= 20; bag++) {
        rig_run(rig, 1);
        ck_assert_int_eq(rig->scan.prompt.kind, PROMPT_TIP_BAG);
        ck_near(rig->scan.prompt.number, bag, 0);
        ck_assert_int_eq(rig_answer(rig, ANSWER_DONE, 0), REFUSAL_NONE);
    }
    ck_assert(rig_run_until_step(rig, STEP_DISSOLVE, 5));
    rig->values[POINT_TANK_TEMP_C] = 41;
    rig->values[POINT_STRENGTH_PCT] = 62.52;
    ck_assert(rig_run_until_state(rig, STATE_COMPLETE, 3600));
    ck_assert_int_eq(rig->scan.memory.outcome, OUTCOME_MET);
    ck_near(rig->scan.memory.strength_pct, 62.52, 1e-6);
    for (int i = 0; i < rig->event_count; i++)
        if (rig->events[i].kind == EVENT_STEP && rig->events[i].b != STEP_NONE) {
            ck_assert_int_gt(rig->events[i].b, last);
            last = rig->events[i].b;
        }
    ck_assert_int_eq(last, STEP_CHECK);
    ck_assert_int_eq(rig_count(rig, EVENT_BATCH_ENDED), 1);
}
END_TEST

START_TEST(an_answer_must_fit_the_open_question)
{
    struct rig *rig = &RIG;

    rig_init(rig, NULL);
    rig_start(rig);
    rig->scan.prompt.id++;
    ck_assert_int_eq(rig_answer(rig, ANSWER_DONE, 0), REFUSAL_NONE);
    rig_init(rig, NULL);
    rig_start(rig);
    ck_assert_int_eq(rig_answer(rig, ANSWER_NUMBER, 5), REFUSAL_WRONG_ANSWER);
    rig->in.commands[0].prompt_id = 0;
    ck_assert_int_eq(rig_answer(rig, ANSWER_DONE, 0), REFUSAL_NONE);
    ck_assert_int_eq(rig_answer(rig, ANSWER_DONE, 0), REFUSAL_NO_PROMPT);
}
END_TEST

START_TEST(a_person_who_cannot_holds_the_batch_and_is_asked_again_after_restart)
{
    struct rig *rig = &RIG;
    uint32_t id;

    rig_init(rig, NULL);
    rig_start(rig);
    id = rig->scan.prompt.id;
    ck_assert_int_eq(rig_answer(rig, ANSWER_CANNOT, 0), REFUSAL_NONE);
    ck_assert(rig_run_until_state(rig, STATE_HELD, 2));
    ck_assert_int_eq(rig->scan.prompt.kind, PROMPT_NONE);
    ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_NONE);
    rig_run(rig, 1);
    ck_assert_int_eq(rig->scan.prompt.kind, PROMPT_TANK_READY);
    ck_assert_uint_gt(rig->scan.prompt.id, id);
}
END_TEST

START_TEST(after_a_hold_the_tank_is_stirred_before_it_is_measured)
{
    struct rig *rig = rig_at(STEP_STRENGTH);

    rig->values[POINT_STRENGTH_PCT] = 62.5;
    rig_run(rig, 5);
    ck_assert_int_eq(rig_command(rig, VERB_HOLD), REFUSAL_NONE);
    ck_assert(rig_run_until_state(rig, STATE_HELD, 5));
    ck_assert_int_eq(rig_command(rig, VERB_RESTART), REFUSAL_NONE);
    rig_run(rig, 1);
    ck_assert_int_eq(rig->scan.memory.step, STEP_DISSOLVE);
    ck_assert(!rig_run_until_step(rig, STEP_STRENGTH, 300));
    ck_assert(rig_run_until_step(rig, STEP_STRENGTH, 300));
}
END_TEST

START_TEST(an_unanswered_question_is_reminded_of_once)
{
    struct rig *rig = &RIG;

    rig_init(rig, NULL);
    rig_start(rig);
    rig_run(rig, 899);
    ck_assert_int_eq(rig_count(rig, EVENT_REMINDER), 0);
    rig_run(rig, 1000);
    ck_assert_int_eq(rig_count(rig, EVENT_REMINDER), 1);
    ck_assert_double_lt(rig->scan.memory.step_s, 1); /* waiting is not the step's time */
}
END_TEST

START_TEST(nobody_is_asked_for_sugar_over_a_tank_that_is_too_hot_or_of_unknown_heat)
{
    struct rig *rig = &RIG;

    rig_init(rig, NULL);
    rig->values[POINT_TANK_TEMP_C] = 60.5;
    rig_go_to_step(rig, STEP_CHARGE);
    rig_run(rig, 30);
    ck_assert_int_eq(rig->scan.prompt.kind, PROMPT_NONE);
    rig->values[POINT_TANK_TEMP_C] = 59.9;
    rig_run(rig, 1);
    ck_assert_int_eq(rig->scan.prompt.kind, PROMPT_TIP_BAG);
}
END_TEST

START_TEST(too_strong_is_trimmed_with_the_water_that_is_missing)
{
    struct rig *rig = rig_at(STEP_STRENGTH);

    rig->values[POINT_STRENGTH_PCT] = 63.0;
    ck_assert_int_eq(rig->scan.memory.state, STATE_RUNNING);
    rig_run(rig, 70);
    ck_assert_int_eq(rig_count(rig, EVENT_INTENT_WATER), 1);
    /* 500 kg / 0.625 - 500 kg / 0.630 = 6.349 kg = 6.36 L, rounded down to a tenth */
    ck_near(rig_last(rig, EVENT_INTENT_WATER)->value, 6.3, 1e-9);
    rig->values[POINT_STRENGTH_PCT] = 62.5;
    ck_assert(rig_run_until_step(rig, STEP_CHECK, 600));
}
END_TEST

/* One 25 kg bag too many in 500 kg and 290.1 kg of water is 1.2 points (reference trade.md, case 37:
 * one bag missed in 1000 L moves 0.6 to 0.8). */
START_TEST(one_miscounted_bag_is_noticed_and_an_honest_reading_is_not)
{
    struct rig *rig = rig_at(STEP_STRENGTH);
    double counted_pct = 100 * 500 / (500 + 290.0);

    rig->values[POINT_STRENGTH_PCT] = counted_pct - 0.3;
    rig_run(rig, 70);
    ck_assert_int_eq(rig_count(rig, EVENT_DISAGREES), 0);
    rig = rig_at(STEP_STRENGTH);
    rig->values[POINT_STRENGTH_PCT] = 100 * 525 / (525 + 290.0);
    rig_run(rig, 70);
    ck_assert_int_eq(rig_count(rig, EVENT_DISAGREES), 1);
    ck_near(rig_last(rig, EVENT_DISAGREES)->value2, counted_pct, 0.05);
    rig_run(rig, 600); /* trimmed, and told once */
    ck_assert_int_eq(rig_count(rig, EVENT_DISAGREES), 1);
}
END_TEST

START_TEST(too_thin_asks_for_sugar_and_dissolves_again)
{
    struct rig *rig = rig_at(STEP_STRENGTH);

    rig->values[POINT_STRENGTH_PCT] = 61.5;
    rig_run(rig, 70);
    ck_assert_int_eq(rig->scan.prompt.kind, PROMPT_ADD_SUGAR);
    /* M (t - c)/(1 - t) with M = 500/0.615 = 813 kg: 21.7 kg, to the half kilogram
     * (reference trade.md chapter 8, corrections) */
    ck_near(rig->scan.prompt.number, 21.5, 0.01);
    ck_assert_int_eq(rig_answer(rig, ANSWER_DONE, 0), REFUSAL_NONE);
    ck_assert(rig_run_until_step(rig, STEP_DISSOLVE, 5));
    ck_near(rig->scan.memory.sugar_in_kg, 521.5, 0.01);
}
END_TEST

START_TEST(a_refractometer_that_reads_low_does_not_ask_for_sugar_for_ever)
{
    struct rig *rig = rig_at(STEP_STRENGTH);
    int asked = 0;

    rig->values[POINT_STRENGTH_PCT] = 55;
    for (int i = 0; i < 200000 && rig->scan.memory.state == STATE_RUNNING; i++) {
        if (rig->scan.prompt.kind == PROMPT_ADD_SUGAR) {
            asked++;
            ck_assert_int_eq(rig_answer(rig, ANSWER_DONE, 0), REFUSAL_NONE);
        }
        rig_scan(rig);
    }
    ck_assert_int_eq(asked, 6);
    ck_assert_int_eq(rig->scan.memory.state, STATE_COMPLETE);
    ck_assert_int_eq(rig->scan.memory.outcome, OUTCOME_NOT_MET);
}
END_TEST

START_TEST(the_smallest_tank_gets_questions_instead_of_hardware)
{
    static const enum point missing[] = {
        POINT_WATER_VALVE_OPEN, POINT_WATER_L,      POINT_WATER_L_MIN,      POINT_STRENGTH_PCT,
        POINT_ACIDITY_PH,       POINT_PROBE_TEMP_C, POINT_PROBE_MV,         POINT_DOSE_PUMP_ON,
        POINT_DOSE_ML_MIN,      POINT_DOSED_ML,     POINT_HEATER_POWER_PCT, POINT_STIRRER_SET_RPM,
        POINT_STIRRER_RPM,      POINT_SHEATH_TEMP_C};
    struct rig *rig = &RIG;
    int asked[PROMPT_COUNT] = {0};
    double ph = 7.4;

    rig_init(rig, NULL);
    for (unsigned i = 0; i < sizeof missing / sizeof missing[0]; i++)
        rig->setup.points[missing[i]].is_bound = false;
    rig_start(rig);
    for (int i = 0; i < 200000 && rig->scan.memory.state == STATE_RUNNING; i++) {
        enum prompt_kind kind = rig->scan.prompt.kind;
        if (kind == PROMPT_NONE) {
            if (rig->scan.memory.step == STEP_HEAT)
                rig->values[POINT_TANK_TEMP_C] = 60;
            rig_scan(rig);
            continue;
        }
        asked[kind]++;
        if (kind == PROMPT_ADD_ACID)
            ph = fmax(4.25, ph - 1.4);
        if (kind == PROMPT_READ_STRENGTH)
            ck_assert_int_eq(rig_answer(rig, ANSWER_NUMBER, 62.4), REFUSAL_NONE);
        else if (kind == PROMPT_READ_ACIDITY)
            ck_assert_int_eq(rig_answer(rig, ANSWER_NUMBER, ph), REFUSAL_NONE);
        else
            ck_assert_int_eq(rig_answer(rig, ANSWER_DONE, 0), REFUSAL_NONE);
    }
    ck_assert_int_eq(rig->scan.memory.state, STATE_COMPLETE);
    ck_assert_int_eq(rig->scan.memory.outcome, OUTCOME_MET);
    ck_assert(rig->scan.memory.strength_typed);
    ck_assert_int_eq(asked[PROMPT_ADD_WATER], 1);
    ck_assert_int_ge(asked[PROMPT_ADD_ACID], 1);
    ck_assert_int_ge(asked[PROMPT_READ_ACIDITY], 2);
    ck_assert_int_eq(asked[PROMPT_TIP_BAG], 20);
    ck_assert_int_ge(asked[PROMPT_READ_STRENGTH], 2);
}
END_TEST

START_TEST(a_batch_without_acid_has_no_acid_step)
{
    struct rig *rig = rig_at(STEP_FILL);

    rig->scan.memory.plan.request.acid = ACID_NONE;
    ck_assert(rig_run_until_step(rig, STEP_HEAT, 900));
    ck_assert_int_eq(rig_count(rig, EVENT_INTENT_DOSE), 0);
}
END_TEST

START_TEST(a_restored_batch_of_another_layout_is_not_guessed_at)
{
    struct batch_memory memory = {.layout = MEMORY_LAYOUT + 1, .has_batch = true, .state = STATE_RUNNING};

    rig_init(&RIG, &memory);
    rig_run(&RIG, 1);
    ck_assert_int_eq(RIG.scan.memory.state, STATE_IDLE);
    ck_assert(!RIG.scan.memory.has_batch);
}
END_TEST

START_TEST(a_stopped_batch_ends_unfinished_and_reset_returns_to_idle)
{
    struct rig *rig = rig_at(STEP_DISSOLVE);

    rig_run(rig, 20);
    ck_assert_int_eq(rig_command(rig, VERB_STOP), REFUSAL_NONE);
    ck_assert(rig_run_until_state(rig, STATE_STOPPED, 5));
    ck_assert_int_eq(rig->scan.memory.outcome, OUTCOME_UNFINISHED);
    ck_assert_int_eq(rig_count(rig, EVENT_BATCH_ENDED), 1);
    ck_assert_int_eq(rig_command(rig, VERB_RESET), REFUSAL_NONE);
    ck_assert_int_eq(rig->scan.memory.state, STATE_IDLE);
    ck_assert(!rig->scan.memory.has_batch);
}
END_TEST

START_TEST(a_start_on_a_bad_instrument_names_it)
{
    struct rig *rig = &RIG;

    rig_init(rig, NULL);
    rig->qualities[POINT_STRENGTH_PCT] = QUALITY_BAD;
    rig->reasons[POINT_STRENGTH_PCT] = REASON_DEVICE;
    rig_run(rig, 1);
    ck_assert_int_eq(rig_command(rig, VERB_RELEASE), REFUSAL_NONE);
    ck_assert_int_eq(rig_command(rig, VERB_START), REFUSAL_INSTRUMENTS);
    ck_assert_int_eq(rig->result.detail, POINT_STRENGTH_PCT);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("core sequence");
    TCase *tc = tcase_create("batch");

    tcase_add_test(tc, a_whole_batch_goes_through_its_steps_in_order);
    tcase_add_test(tc, an_answer_must_fit_the_open_question);
    tcase_add_test(tc, a_person_who_cannot_holds_the_batch_and_is_asked_again_after_restart);
    tcase_add_test(tc, after_a_hold_the_tank_is_stirred_before_it_is_measured);
    tcase_add_test(tc, an_unanswered_question_is_reminded_of_once);
    tcase_add_test(tc, nobody_is_asked_for_sugar_over_a_tank_that_is_too_hot_or_of_unknown_heat);
    tcase_add_test(tc, too_strong_is_trimmed_with_the_water_that_is_missing);
    tcase_add_test(tc, one_miscounted_bag_is_noticed_and_an_honest_reading_is_not);
    tcase_add_test(tc, too_thin_asks_for_sugar_and_dissolves_again);
    tcase_add_test(tc, a_refractometer_that_reads_low_does_not_ask_for_sugar_for_ever);
    tcase_add_test(tc, the_smallest_tank_gets_questions_instead_of_hardware);
    tcase_add_test(tc, a_batch_without_acid_has_no_acid_step);
    tcase_add_test(tc, a_restored_batch_of_another_layout_is_not_guessed_at);
    tcase_add_test(tc, a_stopped_batch_ends_unfinished_and_reset_returns_to_idle);
    tcase_add_test(tc, a_start_on_a_bad_instrument_names_it);
    suite_add_tcase(suite, tc);
    return suite;
}
