/* A person's wish and the plan, to JSON and back. */
#include "remote/plan_json.h"
#include "support/support.h"

#include <math.h>
#include <string.h>

static struct plan_request request;
static struct fault fault;

static enum status read_request(const char *text)
{
    json_t *object = json_loads(text, JSON_DECODE_ANY, NULL);
    enum status status;

    ck_assert_msg(object != NULL, "%s", text);
    status = plan_request_from_json(object, &request, &fault);
    json_decref(object);
    return status;
}

static void refused(const char *text, enum status status, const char *part)
{
    ck_assert_msg(read_request(text) == status, "%s: %s", text, fault.text);
    ck_assert_msg(strstr(fault.text, part) != NULL, "%s: \"%s\" lacks \"%s\"", text, fault.text, part);
}

START_TEST(all_keys_are_read)
{
    ck_assert_int_eq(
        read_request("{\"mass_kg\":750,\"strength_pct\":62.5,\"acid\":\"citric\",\"target_ph\":4.3,"
                     "\"alkalinity_meq_kg\":2,\"water_temp_c\":11,\"sugar_temp_c\":17,"
                     "\"room_temp_c\":15,\"storage_min_temp_c\":-3,\"bag_kg\":20,"
                     "\"sugar_lot\":\"H-7\",\"acid_lot\":\"B-2\",\"water_source\":\"spring\"}"),
        ST_OK);
    ck_near(request.mass_kg, 750, 0);
    ck_near(request.strength_pct, 62.5, 0);
    ck_assert_int_eq(request.acid, ACID_CITRIC);
    ck_near(request.target_ph, 4.3, 0);
    ck_near(request.alkalinity_meq_kg, 2, 0);
    ck_near(request.water_temp_c, 11, 0);
    ck_near(request.sugar_temp_c, 17, 0);
    ck_near(request.room_temp_c, 15, 0);
    ck_near(request.storage_min_temp_c, -3, 0);
    ck_near(request.bag_kg, 20, 0);
    ck_assert_str_eq(request.sugar_lot, "H-7");
    ck_assert_str_eq(request.acid_lot, "B-2");
    ck_assert_str_eq(request.water_source, "spring");
}
END_TEST

START_TEST(a_ratio_becomes_a_strength_by_its_basis)
{
    /* 5 parts of 8 by weight is 62.5 %: arithmetic. */
    ck_assert_int_eq(read_request("{\"volume_l\":600,\"ratio\":\"5:3 by weight\"}"), ST_OK);
    ck_near(request.strength_pct, 62.5, 1e-9);
    ck_assert_int_eq(read_request("{\"volume_l\":600,\"ratio\":\"2:1\"}"), ST_RANGE);
    ck_assert_uint_gt(strlen(fault.text), 10);
    refused("{\"volume_l\":600,\"ratio\":2}", ST_RANGE, "5:3 by weight");
}
END_TEST

START_TEST(how_strong_and_how_much_are_said_once)
{
    refused("{\"volume_l\":600}", ST_REFUSED, "how strong");
    refused("{\"volume_l\":600,\"strength_pct\":60,\"ratio\":\"5:3 by weight\"}", ST_REFUSED, "how strong");
    refused("{\"strength_pct\":60}", ST_REFUSED, "how much");
    refused("{\"strength_pct\":60,\"volume_l\":600,\"mass_kg\":700}", ST_REFUSED, "how much");
}
END_TEST

START_TEST(acid_and_pH_belong_together)
{
    refused("{\"volume_l\":600,\"strength_pct\":60,\"acid\":\"citric\"}", ST_REFUSED, "target_ph");
    refused("{\"volume_l\":600,\"strength_pct\":60,\"acid\":\"none\",\"target_ph\":4.3}", ST_REFUSED, "acid");
    refused("{\"volume_l\":600,\"strength_pct\":60,\"acid\":\"sulphuric\"}", ST_RANGE, "citric");
    refused("{\"volume_l\":600,\"strength_pct\":60,\"acid\":1}", ST_RANGE, "citric");
    ck_assert_int_eq(read_request("{\"volume_l\":600,\"strength_pct\":60,\"acid\":\"none\"}"), ST_OK);
    ck_assert_int_eq(request.acid, ACID_NONE);
}
END_TEST

START_TEST(a_pH_without_an_acid_takes_the_usual_one)
{
    ck_assert_int_eq(read_request("{\"volume_l\":600,\"strength_pct\":60,\"target_ph\":4.3}"), ST_OK);
    ck_assert_int_eq(plan_request_acid_default(&request, ACID_NONE, &fault), ST_REFUSED);
    ck_assert_int_eq(plan_request_acid_default(&request, ACID_LACTIC, &fault), ST_OK);
    ck_assert_int_eq(request.acid, ACID_LACTIC);
    ck_assert_int_eq(plan_request_acid_default(&request, ACID_CITRIC, &fault), ST_OK);
    ck_assert_int_eq(request.acid, ACID_LACTIC);
    ck_assert_int_eq(read_request("{\"volume_l\":600,\"strength_pct\":60}"), ST_OK);
    ck_assert_int_eq(plan_request_acid_default(&request, ACID_CITRIC, &fault), ST_OK);
    ck_assert_int_eq(request.acid, ACID_NONE);
}
END_TEST

START_TEST(a_given_zero_is_not_taken_for_not_given)
{
    ck_assert_int_eq(read_request("{\"volume_l\":600,\"strength_pct\":60,\"alkalinity_meq_kg\":0,"
                                  "\"water_temp_c\":0,\"room_temp_c\":-0.0}"),
                     ST_OK);
    ck_assert(request.alkalinity_meq_kg > 0 && request.alkalinity_meq_kg < 0.01);
    ck_assert(request.water_temp_c > 0 && request.water_temp_c < 0.01);
    ck_assert(request.room_temp_c > 0 && request.room_temp_c < 0.01);
    refused("{\"volume_l\":0,\"strength_pct\":60}", ST_RANGE, "above 0");
    refused("{\"volume_l\":600,\"strength_pct\":0}", ST_RANGE, "above 0");
}
END_TEST

START_TEST(wrong_types_and_sizes_are_refused_by_key)
{
    refused("[]", ST_RANGE, "object");
    refused("{\"volume_l\":\"600\"}", ST_RANGE, "\"volume_l\" must be a number");
    refused("{\"volume_l\":null}", ST_RANGE, "\"volume_l\" must be a number");
    refused("{\"volume_l\":-1}", ST_RANGE, "below 0");
    refused("{\"alkalinity_meq_kg\":-0.1}", ST_RANGE, "below 0");
    refused("{\"sugar_lot\":5}", ST_RANGE, "\"sugar_lot\"");
    refused("{\"sugar_lot\":\"123456789012345678901234567890123456789012345678\"}", ST_RANGE, "47 bytes");
    refused("{\"sugar_lot\":\"a\\u001bb\"}", ST_RANGE, "control characters");
    refused("{\"colour\":\"amber\"}", ST_REFUSED, "\"colour\"; allowed are ratio, acid, volume_l");
}
END_TEST

START_TEST(a_request_goes_out_and_comes_back_unchanged)
{
    struct plan_request before;
    json_t *object;

    ck_assert_int_eq(
        read_request("{\"volume_l\":600,\"strength_pct\":62.5,\"acid\":\"citric\",\"target_ph\":4.3,"
                     "\"water_source\":\"spring\"}"),
        ST_OK);
    before = request;
    object = plan_request_to_json(&before);
    ck_assert_int_eq(plan_request_from_json(object, &request, &fault), ST_OK);
    json_decref(object);
    ck_assert_int_eq(memcmp(&before, &request, sizeof request), 0);
}
END_TEST

START_TEST(a_plan_has_every_field_by_its_name_and_times_by_step)
{
    static const char *const KEYS[] = {
        "batch_id",        "request",         "bags",       "sugar_kg",
        "water_kg",        "final_kg",        "final_l",    "fill_kg",
        "acid_stock_pct",  "acid_stock_kg_l", "acid_g",     "acid_ml",
        "acid_ceiling_ml", "preheat_c",       "dissolve_c", "saturated_below_c",
        "tolerance_pct",   "tolerance_ph",    "predicted_s"};
    struct batch_plan plan = {.batch_id = "2026-0007", .bags = 20, .preheat_c = NAN};
    json_t *object;

    plan.predicted_s[2] = 1200;
    object = plan_to_json(&plan);
    ck_assert_uint_eq(json_object_size(object), sizeof KEYS / sizeof KEYS[0]);
    for (size_t i = 0; i < sizeof KEYS / sizeof KEYS[0]; i++)
        ck_assert_msg(json_object_get(object, KEYS[i]) != NULL, "%s", KEYS[i]);
    ck_assert(json_is_null(json_object_get(object, "preheat_c")));
    ck_near(json_number_value(json_object_get(json_object_get(object, "predicted_s"), "fill")), 1200, 0);
    json_decref(object);
}
END_TEST

START_TEST(a_syrup_that_never_crystallises_has_null_and_no_temperature)
{
    struct batch_plan plan = {.saturated_below_c = PLAN_NEVER_C};
    json_t *object = plan_to_json(&plan);

    ck_assert(json_is_null(json_object_get(object, "saturated_below_c")));
    json_decref(object);
    plan.saturated_below_c = 8.5;
    object = plan_to_json(&plan);
    ck_near(json_number_value(json_object_get(object, "saturated_below_c")), 8.5, 0);
    json_decref(object);
}
END_TEST

START_TEST(notes_are_sentences)
{
    struct plan_notes notes = {.count = 2, .text = {"first", "second"}};
    json_t *list = plan_notes_to_json(&notes);

    ck_assert_uint_eq(json_array_size(list), 2);
    ck_assert_str_eq(json_string_value(json_array_get(list, 1)), "second");
    json_decref(list);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("plan as JSON");
    TCase *tests = tcase_create("plan");

    tcase_add_test(tests, all_keys_are_read);
    tcase_add_test(tests, a_ratio_becomes_a_strength_by_its_basis);
    tcase_add_test(tests, how_strong_and_how_much_are_said_once);
    tcase_add_test(tests, acid_and_pH_belong_together);
    tcase_add_test(tests, a_pH_without_an_acid_takes_the_usual_one);
    tcase_add_test(tests, a_given_zero_is_not_taken_for_not_given);
    tcase_add_test(tests, wrong_types_and_sizes_are_refused_by_key);
    tcase_add_test(tests, a_request_goes_out_and_comes_back_unchanged);
    tcase_add_test(tests, a_plan_has_every_field_by_its_name_and_times_by_step);
    tcase_add_test(tests, a_syrup_that_never_crystallises_has_null_and_no_temperature);
    tcase_add_test(tests, notes_are_sentences);
    suite_add_tcase(suite, tests);
    return suite;
}
