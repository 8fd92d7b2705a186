/* The state as JSON: every field, and nothing that is not known shown as a number. */
#include "remote/snapshot_json.h"
#include "support/support.h"

#include <math.h>
#include <string.h>

static struct snapshot snapshot;
static struct limits limits;
static json_t *state;

static void make(void)
{
    struct record_health record = {.is_failing = true, .lost = 3, .sentence = "the disk is full"};

    json_decref(state);
    state = snapshot_to_json(&snapshot, &limits, &record);
    ck_assert_ptr_nonnull(state);
}

static void set_up(void)
{
    memset(&snapshot, 0, sizeof snapshot);
    snapshot.scan_us = 12300000;
    snapshot.utc_us = 1789365612000000; /* 2026-09-14 06:00:12 UTC */
    snapshot.first_trip = -1;
    snapshot.warmth_target_c = snapshot.strength_target_pct = snapshot.acidity_target_ph = NAN;
    snapshot.time_left_s = NAN;
    state = NULL;
}

static void tear_down(void)
{
    json_decref(state);
    state = NULL;
}

static const json_t *at(const char *first, const char *second)
{
    const json_t *value = json_object_get(state, first);

    return second == NULL ? value : json_object_get(value, second);
}

START_TEST(every_key_of_the_contract_is_there)
{
    static const char *const KEYS[] = {
        "scan_s",      "utc",     "utc_synced",     "simulated", "scans",         "scans_late",
        "batch",       "state",   "state_sentence", "step",      "step_sentence", "step_number",
        "steps_total", "outcome", "time_left_s",    "prompt",    "values",        "targets",
        "outputs",     "trips",   "touch",          "tally",     "record",        "opinions"};

    make();
    ck_assert_uint_eq(json_object_size(state), sizeof KEYS / sizeof KEYS[0]);
    for (size_t i = 0; i < sizeof KEYS / sizeof KEYS[0]; i++)
        ck_assert_msg(at(KEYS[i], NULL) != NULL, "%s", KEYS[i]);
    ck_assert_str_eq(json_string_value(at("utc", NULL)), "2026-09-14T06:00:12Z");
    ck_near(json_number_value(at("scan_s", NULL)), 12.3, 1e-9);
    ck_assert_int_eq(json_integer_value(at("steps_total", NULL)), 8);
    ck_assert_uint_eq(json_object_size(at("values", NULL)), POINT_INPUT_COUNT);
    ck_assert_uint_eq(json_object_size(at("outputs", NULL)), POINT_OUTPUT_COUNT);
    ck_assert(json_is_true(at("record", "failing")));
    ck_assert_int_eq(json_integer_value(at("record", "lost")), 3);
    ck_assert_str_eq(json_string_value(at("record", "sentence")), "the disk is full");
}
END_TEST

START_TEST(without_a_batch_there_is_none)
{
    make();
    ck_assert(json_is_null(at("batch", NULL)));
    ck_assert(json_is_null(at("outcome", NULL)));
    ck_assert(json_is_null(at("prompt", NULL)));
    ck_assert(json_is_null(at("time_left_s", NULL)));
    ck_assert(json_is_null(at("targets", "warmth_c")));
    ck_assert_str_eq(json_string_value(at("state", NULL)), "idle");
    ck_assert_uint_eq(json_array_size(at("trips", NULL)), 0);
}
END_TEST

START_TEST(a_bad_value_is_null_with_its_reason_and_never_zero)
{
    snapshot.readings[POINT_TANK_TEMP_C] = (struct reading){
        .value = 0, .at_us = 12100000, .quality = QUALITY_BAD, .reason = REASON_STALE};
    snapshot.readings[POINT_STRENGTH_PCT] = (struct reading){.reason = REASON_NOT_BOUND};
    snapshot.readings[POINT_ACIDITY_PH] = (struct reading){
        .value = 4.31, .at_us = 12200000, .quality = QUALITY_UNCERTAIN};
    make();
    ck_assert(json_is_null(json_object_get(at("values", "tank_temp_c"), "value")));
    ck_assert_str_eq(json_string_value(json_object_get(at("values", "tank_temp_c"), "quality")), "bad");
    ck_assert_str_eq(json_string_value(json_object_get(at("values", "tank_temp_c"), "reason")), "stale");
    ck_near(json_number_value(json_object_get(at("values", "tank_temp_c"), "age_s")), 0.2, 1e-9);
    ck_assert_str_eq(json_string_value(json_object_get(at("values", "tank_temp_c"), "unit")), "°C");
    ck_assert(json_is_null(json_object_get(at("values", "strength_pct"), "age_s")));
    ck_near(json_number_value(json_object_get(at("values", "acidity_ph"), "value")), 4.31, 1e-9);
    ck_assert_str_eq(json_string_value(json_object_get(at("values", "acidity_ph"), "quality")), "uncertain");
}
END_TEST

START_TEST(a_value_that_is_not_a_number_is_null_whatever_its_quality)
{
    snapshot.readings[POINT_TANK_TEMP_C] = (struct reading){.value = NAN, .quality = QUALITY_GOOD};
    snapshot.memory.peak_temp_c = NAN;
    make();
    ck_assert(json_is_null(json_object_get(at("values", "tank_temp_c"), "value")));
    ck_assert(json_is_null(at("tally", "peak_temp_c")));
}
END_TEST

START_TEST(a_question_has_its_id_words_and_possible_answers)
{
    static const char *const FIRST[PROMPT_COUNT] = {"",     "done", "done",   "done",
                                                    "done", "done", "number", "number"};

    snapshot.memory.has_batch = true;
    (void)snprintf(snapshot.memory.plan.batch_id, sizeof snapshot.memory.plan.batch_id, "2026-0001");
    for (int kind = PROMPT_NONE + 1; kind < PROMPT_COUNT; kind++) {
        const json_t *answers;
        snapshot.prompt = (struct prompt){
            .kind = (enum prompt_kind)kind, .id = 7, .number = 4, .number2 = NAN, .asked_us = 10300000};
        make();
        answers = at("prompt", "answers");
        ck_assert_int_eq(json_integer_value(at("prompt", "id")), 7);
        ck_assert_str_eq(json_string_value(json_array_get(answers, 0)), FIRST[kind]);
        ck_assert_str_eq(json_string_value(json_array_get(answers, 1)), "cannot");
        ck_assert_uint_gt(strlen(json_string_value(at("prompt", "sentence"))), 5);
        ck_near(json_number_value(at("prompt", "asked_s")), 2.0, 1e-9);
        ck_assert(json_is_null(at("prompt", "number2")));
    }
    ck_assert_str_eq(json_string_value(at("batch", NULL)), "2026-0001");
    ck_assert_str_eq(json_string_value(at("outcome", NULL)), "open");
}
END_TEST

START_TEST(trips_are_listed_while_present_or_latched_and_the_first_is_marked)
{
    snapshot.trips[TRIP_LIQUID_HOT] = (struct trip_state){.is_present = true, .detail = -1};
    snapshot.trips[TRIP_CHAIN_OPEN] = (struct trip_state){.is_latched = true, .detail = -1};
    snapshot.first_trip = TRIP_CHAIN_OPEN;
    make();
    ck_assert_uint_eq(json_array_size(at("trips", NULL)), 2);
    for (size_t i = 0; i < 2; i++) {
        const json_t *trip = json_array_get(at("trips", NULL), i);
        bool is_chain = strcmp(json_string_value(json_object_get(trip, "trip")), "chain_open") == 0;
        ck_assert_int_eq(json_is_true(json_object_get(trip, "first")), is_chain);
        ck_assert_int_eq(json_is_true(json_object_get(trip, "latched")), is_chain);
        ck_assert_int_eq(json_is_true(json_object_get(trip, "present")), !is_chain);
        ck_assert_uint_gt(strlen(json_string_value(json_object_get(trip, "sentence"))), 5);
        ck_assert_uint_gt(strlen(json_string_value(json_object_get(trip, "act"))), 5);
    }
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("state as JSON");
    TCase *tests = tcase_create("state");

    tcase_add_checked_fixture(tests, set_up, tear_down);
    tcase_add_test(tests, every_key_of_the_contract_is_there);
    tcase_add_test(tests, without_a_batch_there_is_none);
    tcase_add_test(tests, a_bad_value_is_null_with_its_reason_and_never_zero);
    tcase_add_test(tests, a_value_that_is_not_a_number_is_null_whatever_its_quality);
    tcase_add_test(tests, a_question_has_its_id_words_and_possible_answers);
    tcase_add_test(tests, trips_are_listed_while_present_or_latched_and_the_first_is_marked);
    suite_add_tcase(suite, tests);
    return suite;
}
