/* The second opinion: compared within both uncertainties, recorded, and nothing else. */
#include "support/rig.h"
#include "support/support.h"

#include <math.h>
#include <string.h>

static struct rig RIG;

static void set_up(void)
{
    rig_init(&RIG, NULL);
    rig_run(&RIG, 2);
}

static enum refusal compare(enum point point, double value, double expanded_u)
{
    RIG.in.commands[0] = (struct command){
        .id = 7,
        .verb = VERB_COMPARE,
        .who = {.role = ROLE_HELPER, .name = "Ada of the farm"},
        .point = point,
        .number = value,
        .expanded_u = expanded_u,
    };
    RIG.in.command_count = 1;
    rig_scan(&RIG);
    return RIG.out.results[0].refusal;
}

static const struct opinion *opinion(enum point point)
{
    static struct snapshot snapshot;

    scan_snapshot_get(&RIG.scan, &RIG.setup, &snapshot);
    return &snapshot.opinions[point];
}

START_TEST(both_uncertainties_count)
{
    RIG.values[POINT_STRENGTH_PCT] = 62.5;
    RIG.setup.points[POINT_STRENGTH_PCT].uncertainty = 0.15; /* U 0.3; with the hand's 0.4: 0.5 */
    rig_run(&RIG, 2);
    ck_assert_int_eq(compare(POINT_STRENGTH_PCT, 62.02, 0.4), REFUSAL_NONE);
    ck_assert_int_eq(opinion(POINT_STRENGTH_PCT)->agreement, AGREEMENT_AGREES);
    ck_assert_int_eq(compare(POINT_STRENGTH_PCT, 61.98, 0.4), REFUSAL_NONE);
    ck_assert_int_eq(opinion(POINT_STRENGTH_PCT)->agreement, AGREEMENT_DISAGREES);
    ck_near(opinion(POINT_STRENGTH_PCT)->instrument, 62.5, 1e-9);
    ck_near(opinion(POINT_STRENGTH_PCT)->instrument_expanded_u, 0.3, 1e-9);
}
END_TEST

START_TEST(both_readings_and_who_read_are_recorded)
{
    const struct event *hand;

    RIG.values[POINT_ACIDITY_PH] = 4.3;
    RIG.setup.points[POINT_ACIDITY_PH].uncertainty = 0.05;
    rig_run(&RIG, 2);
    ck_assert_int_eq(compare(POINT_ACIDITY_PH, 4.6, 0.1), REFUSAL_NONE);
    hand = rig_last(&RIG, EVENT_HAND_READING);
    ck_assert_ptr_nonnull(hand);
    ck_assert_int_eq(hand->a, POINT_ACIDITY_PH);
    ck_near(hand->value, 4.6, 0);
    ck_near(hand->value2, 0.1, 0);
    ck_assert_str_eq(hand->who.name, "Ada of the farm");
    ck_assert_int_eq(rig_last(&RIG, EVENT_COMPARED)->b, AGREEMENT_DISAGREES);
    ck_near(rig_last(&RIG, EVENT_COMPARED)->value, 4.3, 1e-9);
}
END_TEST

START_TEST(without_a_good_instrument_or_its_uncertainty_nothing_is_said)
{
    RIG.setup.points[POINT_TANK_TEMP_C].uncertainty = 0;
    ck_assert_int_eq(compare(POINT_TANK_TEMP_C, 40, 2), REFUSAL_NONE);
    ck_assert_int_eq(opinion(POINT_TANK_TEMP_C)->agreement, AGREEMENT_CANNOT_SAY);
    RIG.setup.points[POINT_STRENGTH_PCT].uncertainty = 0.1;
    RIG.qualities[POINT_STRENGTH_PCT] = QUALITY_BAD;
    RIG.reasons[POINT_STRENGTH_PCT] = REASON_BUS_LOST;
    rig_run(&RIG, 2);
    ck_assert_int_eq(compare(POINT_STRENGTH_PCT, 62, 0.4), REFUSAL_NONE);
    ck_assert_int_eq(opinion(POINT_STRENGTH_PCT)->agreement, AGREEMENT_CANNOT_SAY);
    ck_assert(isnan(opinion(POINT_STRENGTH_PCT)->instrument));
    RIG.setup.points[POINT_STRENGTH_PCT].is_bound = false;
    ck_assert_int_eq(compare(POINT_STRENGTH_PCT, 62, 0.4), REFUSAL_NONE);
    ck_assert_int_eq(opinion(POINT_STRENGTH_PCT)->agreement, AGREEMENT_CANNOT_SAY);
}
END_TEST

START_TEST(what_is_impossible_is_refused_and_not_kept)
{
    ck_assert_int_eq(compare(POINT_STRENGTH_PCT, 85.1, 0.4), REFUSAL_NUMBER);
    ck_assert_int_eq(compare(POINT_STRENGTH_PCT, -0.1, 0.4), REFUSAL_NUMBER);
    ck_assert_int_eq(compare(POINT_STRENGTH_PCT, (double)NAN, 0.4), REFUSAL_NUMBER);
    ck_assert_int_eq(compare(POINT_STRENGTH_PCT, 60, 0), REFUSAL_NUMBER);
    ck_assert_int_eq(compare(POINT_STRENGTH_PCT, 60, (double)NAN), REFUSAL_NUMBER);
    ck_assert_int_eq(compare(POINT_STRENGTH_PCT, 60, 11), REFUSAL_NUMBER);
    ck_assert_int_eq(compare(POINT_ACIDITY_PH, 14.1, 0.1), REFUSAL_NUMBER);
    ck_assert_int_eq(compare(POINT_WATER_L, 100, 1), REFUSAL_NUMBER);
    ck_assert_int_eq(compare((enum point)POINT_COUNT, 1, 1), REFUSAL_NUMBER);
    ck_assert(!opinion(POINT_STRENGTH_PCT)->has && !opinion(POINT_ACIDITY_PH)->has);
    ck_assert_int_eq(rig_count(&RIG, EVENT_HAND_READING), 0);
}
END_TEST

START_TEST(a_hand_reading_moves_nothing)
{
    struct batch_memory before;

    rig_go_to_step(&RIG, STEP_STRENGTH);
    rig_run(&RIG, 5);
    before = RIG.scan.memory;
    ck_assert_int_eq(compare(POINT_STRENGTH_PCT, 40, 0.4), REFUSAL_NONE);
    ck_assert_int_eq(RIG.scan.memory.state, before.state);
    ck_assert_int_eq(RIG.scan.memory.step, before.step);
    ck_assert_int_eq(RIG.scan.prompt.kind, PROMPT_NONE);
    ck_assert_int_eq(rig_count(&RIG, EVENT_COMMAND), 2); /* release and start */
}
END_TEST

START_TEST(a_new_batch_begins_without_old_readings)
{
    ck_assert_int_eq(compare(POINT_STRENGTH_PCT, 40, 0.4), REFUSAL_NONE);
    ck_assert(opinion(POINT_STRENGTH_PCT)->has);
    rig_start(&RIG);
    ck_assert_int_eq(RIG.scan.memory.state, STATE_RUNNING);
    ck_assert(!opinion(POINT_STRENGTH_PCT)->has);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("opinion");
    TCase *all = tcase_create("all");

    tcase_add_checked_fixture(all, set_up, NULL);
    tcase_add_test(all, both_uncertainties_count);
    tcase_add_test(all, both_readings_and_who_read_are_recorded);
    tcase_add_test(all, without_a_good_instrument_or_its_uncertainty_nothing_is_said);
    tcase_add_test(all, what_is_impossible_is_refused_and_not_kept);
    tcase_add_test(all, a_hand_reading_moves_nothing);
    tcase_add_test(all, a_new_batch_begins_without_old_readings);
    suite_add_tcase(suite, all);
    return suite;
}
