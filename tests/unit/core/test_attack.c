/* Attempts to get heat, acid, water or a turning stirrer where there must be none, to lose what a
 * person said, or to have a cause named wrongly: odd order, odd timing, instruments that lie. */
#include "core/protect.h"
#include "support/rig.h"
#include "support/support.h"

#include <math.h>
#include <string.h>

static struct rig RIG; /* large: not on the stack */

static struct rig *rig_new(void)
{
    rig_init(&RIG, NULL);
    return &RIG;
}

static struct rig *rig_at(enum step step)
{
    rig_init(&RIG, NULL);
    rig_go_to_step(&RIG, step);
    return &RIG;
}

/* Warming, with the contactor closed. */
static struct rig *rig_heating(void)
{
    struct rig *rig = rig_at(STEP_HEAT);

    rig->scan.memory.plan.preheat_c = 90; /* the step must not end by itself */
    rig_run(rig, 15);
    ck_assert_double_gt(rig_output(rig, POINT_HEATER_ON), 0.5);
    return rig;
}

static void run_until_on(struct rig *rig, enum point output)
{
    for (int i = 0; i < 6000 && rig_output(rig, output) < 0.5; i++)
        rig_scan(rig);
    ck_assert_double_gt(rig_output(rig, output), 0.5);
}

static bool all_off(const struct rig *rig)
{
    for (int o = 0; o < POINT_OUTPUT_COUNT; o++)
        if (rig->out.outputs[o] != 0)
            return false;
    return true;
}

static int count_with(const struct rig *rig, enum event_kind kind, int a)
{
    int count = 0;

    for (int i = 0; i < rig->event_count; i++)
        count += rig->events[i].kind == kind && rig->events[i].a == a;
    return count;
}

/* Several commands for the next scan, as several clients may send them. */
static void put_command(struct rig *rig, enum verb verb, enum answer answer)
{
    struct command *command = &rig->in.commands[rig->in.command_count];

    *command = (struct command){.id = 100 + (uint64_t)rig->in.command_count,
                                .verb = verb,
                                .prompt_id = rig->scan.prompt.id,
                                .answer = answer,
                                .who = {.uid = 1000, .role = ROLE_OPERATOR, .name = "wren"}};
    rig->in.command_count++;
    if (verb == VERB_START) {
        rig->in.plan = rig_plan();
        rig->in.has_plan = true;
    }
}

static void make_bad(struct rig *rig, enum point point, enum reason reason)
{
    rig->qualities[point] = QUALITY_BAD;
    rig->reasons[point] = reason;
}

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
        ck_assert_int_eq(rig->scan.memory.step, step);
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

static void add_heat(Suite *suite)
{
    TCase *tc = tcase_create("heat");

    tcase_add_loop_test(tc, heat_goes_off_in_the_scan_in_which_its_permit_is_lost, 0, LOST_COUNT);
    tcase_add_test(tc, a_level_that_flickers_is_never_heated_while_it_is_low);
    tcase_add_test(tc, heat_needs_the_contactors_report_where_there_is_one);
    tcase_add_test(tc, water_that_was_only_intended_does_not_cover_the_heater_during_a_share);
    suite_add_tcase(suite, tc);
}

static void add_trips(Suite *suite)
{
    TCase *tc = tcase_create("trips");

    tcase_add_test(tc, a_stirrer_trip_can_be_released_and_the_stirrer_tried_again);
    tcase_add_test(tc, a_low_level_does_not_lock_an_empty_tank_that_has_no_batch);
    tcase_add_loop_test(tc, a_release_in_the_scan_of_a_trip_does_not_spare_the_hold, 0, 2);
    tcase_add_loop_test(tc, a_cause_that_is_still_there_is_not_told_as_gone_because_the_batch_is_held, 0, 3);
    tcase_add_test(tc, a_tank_that_is_full_before_the_fill_is_told_as_that);
    tcase_add_test(tc, after_a_power_cut_only_the_power_up_is_tripped);
    tcase_add_test(tc, a_contactor_that_drops_out_just_after_the_start_is_not_called_stuck);
    tcase_add_test(tc, a_reading_a_little_younger_than_the_scan_is_not_stale);
    tcase_add_test(tc, no_event_is_lost_when_everything_happens_in_one_scan);
    suite_add_tcase(suite, tc);
}

static void add_people(Suite *suite)
{
    TCase *tc = tcase_create("people");

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
}

static void add_amounts(Suite *suite)
{
    TCase *tc = tcase_create("amounts");

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
}

Suite *test_suite(void)
{
    Suite *suite = suite_create("core attack");

    add_heat(suite);
    add_trips(suite);
    add_people(suite);
    add_amounts(suite);
    return suite;
}
