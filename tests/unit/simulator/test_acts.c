#include "simulator/acts.h"
#include "simulator/harness.h"
#include "simulator/person.h"

#include "support/support.h"

#include <math.h>
#include <string.h>

static struct world world;
static char reply[ACTS_REPLY_MAX];

static const char *act(const char *line)
{
    acts_do(&world, line, reply, sizeof reply);
    return reply;
}

static void world_begin(void)
{
    struct plant_declared declared;

    plant_declared_demo(&declared);
    world_init(&world, 1, &declared);
}

static bool is_ok(const char *line)
{
    return strncmp(act(line), "ok", 2) == 0;
}

static bool is_error(const char *line, const char *part)
{
    return strncmp(act(line), "error ", 6) == 0 && strstr(reply, part) != NULL;
}

START_TEST(acts_change_the_tank)
{
    world_begin();
    ck_assert(is_ok("water 200"));
    ck_near(world.plant.totals.water_in_kg, 200, 1e-9);
    ck_assert(is_error("bag", "lid is closed"));
    ck_assert(is_ok("lid open"));
    ck_assert(is_ok("bag"));
    ck_assert(is_ok("bag 12.5"));
    ck_near(world.plant.totals.sugar_in_kg, 37.5, 0.5);
    ck_assert(is_ok("lid closed"));
    ck_assert(is_ok("acid 50 citric"));
    ck_assert(is_ok("acid 50"));
    ck_near(world.plant.totals.acid_in_kg, 0.1, 1e-9);
    ck_assert(is_ok("stop pressed"));
    ck_assert(!plant_chain_closed(&world.plant));
    ck_assert(is_ok("stop released"));
    ck_assert(plant_chain_closed(&world.plant));
    ck_assert(is_ok("reset limiter"));
    ck_assert_str_eq(act("time"), "ok 0");
}
END_TEST

START_TEST(a_wrong_act_gets_a_sentence_and_changes_nothing)
{
    world_begin();
    ck_assert(is_error("", "is no act"));
    ck_assert(is_error("dance", "is no act"));
    ck_assert(is_error("water", "missing"));
    ck_assert(is_error("water lots", "write a number"));
    ck_assert(is_error("water -3", "write a number"));
    ck_assert(is_error("water nan", "write a number"));
    ck_assert(is_error("lid ajar", "lid open"));
    ck_assert(is_error("acid 5 acetic", "citric"));
    ck_assert(is_error("acid 5 vitriol", "no acid known"));
    ck_assert(is_error("read strength", "empty"));
    ck_assert(is_error("fault gremlin", "not known"));
    ck_assert(is_error("fault slow 3", "missing"));
    ck_assert(is_error("fault silent 9", "unit number"));
    ck_assert(is_error("a b c d e", "too many"));
    ck_near(world.plant.totals.water_in_kg, 0, 0);
}
END_TEST

START_TEST(faults_are_set_and_cleared_by_name)
{
    world_begin();
    ck_assert(is_ok("fault heater stuck_on") && world.plant.faults.heater_stuck_on);
    ck_assert(is_ok("fault stirrer stopped") && world.plant.faults.stirrer_stopped);
    ck_assert(is_ok("fault pump airlock") && world.plant.faults.pump_airlock);
    ck_assert(is_ok("fault probe frozen") && world.instruments.faults.probe_frozen);
    ck_assert(is_ok("fault sheath open") && world.instruments.faults.sheath_open);
    ck_assert(is_ok("fault silent 3") && world.unit_faults[3].kind == UNIT_SILENT);
    ck_assert(is_ok("fault slow 2 700") && world.unit_faults[2].delay_ms == 700);
    ck_assert(is_ok("fault clear"));
    ck_assert(!world.plant.faults.heater_stuck_on && !world.instruments.faults.sheath_open);
    ck_assert_int_eq(world.unit_faults[3].kind, UNIT_WELL);
}
END_TEST

START_TEST(truth_is_one_json_line)
{
    world_begin();
    ck_assert(is_ok("water 100"));
    (void)act("truth");
    ck_assert_ptr_nonnull(strstr(reply, "\"water_kg\":100.0"));
    ck_assert_ptr_nonnull(strstr(reply, "\"outputs\":{"));
    ck_assert_ptr_nonnull(strstr(reply, "\"boiled\":false"));
    ck_assert_ptr_nonnull(strstr(reply, "\"tank_us\":0"));
    ck_assert_ptr_null(strchr(reply, '\n'));
    ck_assert_int_eq(reply[strlen(reply) - 1], '}');
}
END_TEST

/* Let the person's time run until it answers or gives up; counts the acts it did. */
static bool person_play(struct person *person, double *now_s, struct person_answer *answer, int *acts)
{
    char line[PERSON_ACT_MAX];

    for (int i = 0; i < 3000; i++, *now_s += 0.1) {
        if (person_move_due(person, *now_s, line)) {
            ++*acts;
            person_told(person, *now_s, act(line));
        }
        if (person_answer_due(person, *now_s, answer))
            return true;
    }
    return false;
}

START_TEST(a_person_tips_a_bag_and_says_so)
{
    struct person person;
    struct person_answer answer;
    double now_s = 100;
    int acts = 0;

    world_begin();
    person_init(&person, 1, 20);
    person_see(&person, now_s, 7, "tip_bag", 1);
    ck_assert(person_play(&person, &now_s, &answer, &acts));
    ck_assert_uint_eq(answer.prompt_id, 7);
    ck_assert(!answer.is_number && !answer.is_cannot);
    ck_assert_int_eq(world.plant.totals.bags, 1);
    ck_assert(world.plant.lid_closed);
    ck_assert(now_s > 115 && now_s < 145);
    /* The question stays open: the answer is repeated, the bag is not. */
    acts = 0;
    ck_assert(person_play(&person, &now_s, &answer, &acts));
    ck_assert_int_eq(acts, 0);
    ck_assert_int_eq(world.plant.totals.bags, 1);
}
END_TEST

START_TEST(a_person_reads_the_hand_instrument)
{
    struct person person;
    struct person_answer answer;
    double now_s = 0;
    int acts = 0;

    world_begin();
    plant_add_solution(&world.plant, 100, 150, 30);
    person_init(&person, 1, 20);
    person_see(&person, now_s, 1, "read_strength", 0);
    ck_assert(person_play(&person, &now_s, &answer, &acts));
    ck_assert(answer.is_number);
    ck_near(answer.number, 60, 0.5);
}
END_TEST

START_TEST(a_person_who_cannot_says_so)
{
    struct person person;
    struct person_answer answer;
    double now_s = 0;
    int acts = 0;

    world_begin();
    person_init(&person, 1, 20);
    person_see(&person, now_s, 1, "add_water", 1e9);
    ck_assert(person_play(&person, &now_s, &answer, &acts));
    ck_assert(answer.is_cannot);
}
END_TEST

/* ---- the harness ------------------------------------------------------------------------ */

static struct harness harness;

START_TEST(the_harness_reads_each_point_at_its_own_rate_and_rounded)
{
    struct plant_declared declared;
    bool bound[POINT_INPUT_COUNT];
    int seen[POINT_INPUT_COUNT] = {0};
    double outputs[POINT_OUTPUT_COUNT] = {0};

    for (int i = 0; i < POINT_INPUT_COUNT; i++)
        bound[i] = i != POINT_PROBE_MV;
    plant_declared_demo(&declared);
    harness_init(&harness, 3, &declared);
    outputs[POINT_WATER_VALVE_OPEN - POINT_INPUT_COUNT] = 1;
    for (int i = 0; i < 100; i++) {
        struct scan_in in = {.scan_us = harness.world.tank_us};

        harness_readings(&harness, bound, in.scan_us, &in);
        for (int k = 0; k < in.reading_count; k++)
            seen[in.readings[k].point]++;
        for (int k = 0; k < in.reading_count; k++)
            if (in.readings[k].point == POINT_TANK_TEMP_C)
                ck_near(remainder(in.readings[k].reading.value, 0.1), 0, 1e-9);
        harness_outputs(&harness, outputs);
        harness_advance(&harness);
    }
    ck_assert_int_eq(seen[POINT_CHAIN_OK], 100);
    ck_assert_int_eq(seen[POINT_WATER_L], 50);
    ck_assert_int_eq(seen[POINT_TANK_TEMP_C], 20);
    ck_assert_int_eq(seen[POINT_ACIDITY_PH], 10);
    ck_assert_int_eq(seen[POINT_PROBE_MV], 0);
    ck_assert_double_gt(harness.world.plant.totals.valve_l, 3);
}
END_TEST

START_TEST(a_silent_unit_posts_a_lost_bus)
{
    struct plant_declared declared;
    bool bound[POINT_INPUT_COUNT] = {[POINT_ACIDITY_PH] = true};
    struct scan_in in = {0};

    plant_declared_demo(&declared);
    harness_init(&harness, 3, &declared);
    harness.world.unit_faults[3].kind = UNIT_SILENT;
    harness_readings(&harness, bound, 0, &in);
    ck_assert_int_eq(in.reading_count, 1);
    ck_assert_int_eq(in.readings[0].reading.quality, QUALITY_BAD);
    ck_assert_int_eq(in.readings[0].reading.reason, REASON_BUS_LOST);
}
END_TEST

START_TEST(the_harness_person_answers_a_snapshot)
{
    struct plant_declared declared;
    struct snapshot snapshot = {.prompt = {.kind = PROMPT_TIP_BAG, .id = 4, .number = 1, .number2 = 20}};
    struct harness_person person;
    struct command command = {0};
    bool answered = false;

    plant_declared_demo(&declared);
    harness_init(&harness, 3, &declared);
    harness_person_init(&person, 3, 5);
    for (int i = 0; i < 600 && !answered; i++) {
        answered = harness_person_step(&person, &harness, &snapshot, &command);
        harness_advance(&harness);
    }
    ck_assert(answered);
    ck_assert_int_eq(command.verb, VERB_ANSWER);
    ck_assert_int_eq(command.answer, ANSWER_DONE);
    ck_assert_uint_eq(command.prompt_id, 4);
    ck_assert_int_eq(harness.world.plant.totals.bags, 1);
}
END_TEST

static uint64_t hash_add(uint64_t hash, double value)
{
    uint64_t bits;

    memcpy(&bits, &value, sizeof bits);
    return (hash ^ bits) * 0x100000001b3u;
}

/* Readings of ten minutes with water, stirrer, heat and a bag. */
static uint64_t readings_hash(uint64_t seed)
{
    struct plant_declared declared;
    double outputs[POINT_OUTPUT_COUNT] = {0};
    uint64_t hash = 0xcbf29ce484222325u;

    plant_declared_demo(&declared);
    harness_init(&harness, seed, &declared);
    outputs[POINT_STIRRER_ON - POINT_INPUT_COUNT] = 1;
    outputs[POINT_STIRRER_SET_RPM - POINT_INPUT_COUNT] = 120;
    outputs[POINT_WATER_VALVE_OPEN - POINT_INPUT_COUNT] = 1;
    outputs[POINT_HEATER_ON - POINT_INPUT_COUNT] = 1;
    outputs[POINT_HEATER_POWER_PCT - POINT_INPUT_COUNT] = 40;
    for (int i = 0; i < 6000; i++) {
        harness_outputs(&harness, outputs);
        harness_advance(&harness);
        if (i == 3000) {
            acts_do(&harness.world, "lid open", reply, sizeof reply);
            acts_do(&harness.world, "bag", reply, sizeof reply);
        }
        for (int p = 0; p < POINT_INPUT_COUNT; p++)
            hash = hash_add(hash, harness.world.instruments.values.value[p]);
    }
    return hash;
}

START_TEST(two_runs_of_one_seed_hash_equal)
{
    uint64_t first = readings_hash(11);

    ck_assert_uint_eq(readings_hash(11), first);
    ck_assert_uint_ne(readings_hash(12), first);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("acts");
    TCase *tests = tcase_create("acts");

    tcase_add_test(tests, acts_change_the_tank);
    tcase_add_test(tests, a_wrong_act_gets_a_sentence_and_changes_nothing);
    tcase_add_test(tests, faults_are_set_and_cleared_by_name);
    tcase_add_test(tests, truth_is_one_json_line);
    tcase_add_test(tests, a_person_tips_a_bag_and_says_so);
    tcase_add_test(tests, a_person_reads_the_hand_instrument);
    tcase_add_test(tests, a_person_who_cannot_says_so);
    tcase_add_test(tests, the_harness_reads_each_point_at_its_own_rate_and_rounded);
    tcase_add_test(tests, a_silent_unit_posts_a_lost_bus);
    tcase_add_test(tests, the_harness_person_answers_a_snapshot);
    tcase_add_test(tests, two_runs_of_one_seed_hash_equal);
    suite_add_tcase(suite, tests);
    return suite;
}
