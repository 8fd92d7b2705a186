/* The pages for people, from replies whole and broken. */
#include "client/show.h"
#include "remote/plan_json.h"
#include "support/support.h"

#include <stdlib.h>
#include <string.h>

/* The client is a program, not a library. */
#include "client/numbers.c"    // NOLINT(bugprone-suspicious-include)
#include "client/show.c"       // NOLINT(bugprone-suspicious-include)
#include "client/show_lists.c" // NOLINT(bugprone-suspicious-include)
#include "client/show_plan.c"  // NOLINT(bugprone-suspicious-include)
#include "client/show_state.c" // NOLINT(bugprone-suspicious-include)

static char page[16384];
static struct show show;

static void begin(bool is_styled)
{
    memset(page, 0, sizeof page);
    show = (struct show){.to = fmemopen(page, sizeof page, "w"), .is_styled = is_styled};
}

static void has(const char *part)
{
    ck_assert_msg(strstr(page, part) != NULL, "\"%s\" is missing in:\n%s", part, page);
}

static void has_not(const char *part)
{
    ck_assert_msg(strstr(page, part) == NULL, "\"%s\" should not be in:\n%s", part, page);
}

static json_t *load(const char *text)
{
    json_t *json = json_loads(text, 0, NULL);

    ck_assert_ptr_nonnull(json);
    return json;
}

static void show_state_of(const char *text)
{
    json_t *state = load(text);

    begin(false);
    show_state(&show, state);
    fclose(show.to);
    json_decref(state);
}

#define RUNNING                                                                                              \
    "\"batch\":\"2026-0001\",\"state\":\"running\",\"state_sentence\":\"running: the batch is being made\"," \
    "\"step\":\"charge\",\"step_sentence\":\"Putting the sugar in\",\"step_number\":5,\"steps_total\":8,"    \
    "\"outcome\":\"open\",\"time_left_s\":11100,\"touch\":{\"level\":\"high\",\"sentence\":\"do not "        \
    "touch\"},"                                                                                              \
    "\"values\":{\"tank_temp_c\":{\"value\":49.84,\"quality\":\"good\",\"reason\":\"\"},"                    \
    "\"strength_pct\":{\"value\":null,\"quality\":\"bad\",\"reason\":\"stale\"},"                            \
    "\"acidity_ph\":{\"value\":4.3,\"quality\":\"uncertain\",\"reason\":\"\"}},"                             \
    "\"targets\":{\"warmth_c\":60,\"strength_pct\":62.5,\"acidity_ph\":null},"                               \
    "\"tally\":{\"water_in_l\":380,\"acid_in_ml\":120,\"bags_in\":4,\"bags\":20},"

START_TEST(the_state_answers_in_the_order_people_ask)
{
    static const char *const ORDER[] = {"What is happening", "What you must do", "May I touch it", "How far",
                                        "When ready"};
    const char *before = page;

    show_state_of("{" RUNNING
                  "\"prompt\":{\"id\":3,\"sentence\":\"Tip bag 5 of 20.\",\"answers\":[\"done\"]},"
                  "\"trips\":[],\"record\":{\"failing\":false,\"lost\":0,\"sentence\":\"\"}}");
    for (size_t i = 0; i < sizeof ORDER / sizeof ORDER[0]; i++) {
        const char *seen = strstr(page, ORDER[i]);
        ck_assert_msg(seen != NULL && seen >= before, "%s:\n%s", ORDER[i], page);
        before = seen;
    }
    has("batch 2026-0001, Putting the sugar in: running");
    has("Tip bag 5 of 20.");
    has("syrupwright answer done");
    has("do not touch");
    has("step 5 of 8; in the tank 380.0 L of water, bag 4 of 20, 120 mL of acid");
    has("49.8 of 60.0 °C");
    has("no value (stale)");
    has("4.30 pH (uncertain)");
    has("in about 3 h 05 min");
    has_not("SIMULATED");
    has_not("record");
}
END_TEST

START_TEST(trips_tell_what_to_do_and_a_failing_record_is_said)
{
    show_state_of("{" RUNNING
                  "\"simulated\":true,\"prompt\":null,\"trips\":[{\"trip\":\"chain_open\",\"sentence\":"
                  "\"The chain is open.\",\"act\":\"Find what opened it.\",\"first\":true,\"latched\":true}],"
                  "\"record\":{\"failing\":true,\"lost\":2,\"sentence\":\"the disk is full\"}}");
    has("SIMULATED TANK");
    has("tripped (first)   The chain is open.");
    has("Find what opened it.");
    has("syrupwright release");
    has("the disk is full");
    has("2 entries could not be written");
}
END_TEST

START_TEST(what_is_not_latched_needs_no_release)
{
    show_state_of("{" RUNNING "\"prompt\":null,\"trips\":[{\"trip\":\"hatch_open\",\"sentence\":"
                  "\"The hatch is open.\",\"act\":\"Close it.\",\"first\":true,\"latched\":false}]}");
    has("  for now           The hatch is open.");
    has_not("tripped (first)");
    has_not("syrupwright release");
}
END_TEST

START_TEST(a_number_is_asked_for_as_a_number)
{
    show_state_of("{" RUNNING
                  "\"prompt\":{\"id\":3,\"sentence\":\"Read it.\",\"answers\":[\"number\",\"cannot\"]},"
                  "\"trips\":[]}");
    has("syrupwright answer NUMBER");
}
END_TEST

START_TEST(an_empty_reply_shows_unknown_and_no_number)
{
    show_state_of("{}");
    has("no batch");
    has("no value (not reported)");
    has("not known");
    has_not("nan");
    has_not("(null)");
}
END_TEST

START_TEST(an_ended_batch_says_how)
{
    show_state_of("{\"batch\":\"2026-0001\",\"outcome\":\"met\"}");
    has("every target met");
    has("batch 2026-0001: ");
    has_not("step");
    show_state_of("{\"batch\":\"2026-0001\",\"outcome\":\"not_met\"}");
    has("a target was missed");
    show_state_of("{\"batch\":\"2026-0001\",\"outcome\":\"unfinished\"}");
    has("unfinished");
}
END_TEST

START_TEST(one_line_says_the_same_for_a_log)
{
    json_t *state = load("{\"utc\":\"2026-09-14T06:00:12Z\"," RUNNING
                         "\"prompt\":{\"id\":3,\"sentence\":\"Tip bag 5 of 20.\"},\"trips\":[]}");
    char line[SHOW_LINE_MAX];

    show_state_line(state, line);
    ck_assert_str_eq(line, "2026-09-14T06:00:12Z running charge, 3 h 05 min left, warmth 49.8 of 60.0 °C, "
                           "strength no value (stale), acidity 4.30 pH (uncertain); do: Tip bag 5 of 20.");
    json_decref(state);
}
END_TEST

START_TEST(texts_from_outside_cannot_steer_a_terminal)
{
    show_state_of("{\"batch\":\"2026\\u001b[2J\",\"state_sentence\":\"x\\u0007y\"}");
    has_not("\x1b");
    has_not("\x07");
    has("2026?[2J");
}
END_TEST

START_TEST(style_is_there_only_when_asked_for)
{
    begin(true);
    show_danger(&show, "heat", "hot");
    show_row(&show, "plain", "text");
    fclose(show.to);
    has("\033[1;31mhot\033[0m\n");
    has("plain               text\n");
    setenv("NO_COLOR", "1", 1);
    ck_assert(!show_open(stdout).is_styled);
    unsetenv("NO_COLOR");
}
END_TEST

/* ---- the plan -------------------------------------------------------------------------------------- */

static void show_plan_of(const struct batch_plan *plan)
{
    json_t *json = plan_to_json(plan);
    json_t *notes = load("[\"keep it stirred\"]");

    begin(false);
    show_plan(&show, json, notes);
    fclose(show.to);
    json_decref(json);
    json_decref(notes);
}

START_TEST(a_plan_is_a_shopping_list_with_cautions)
{
    struct batch_plan plan = {.request = {.strength_pct = 62.5,
                                          .acid = ACID_CITRIC,
                                          .target_ph = 4.3,
                                          .bag_kg = 25,
                                          .water_temp_c = 12,
                                          .alkalinity_meq_kg = 2.5,
                                          .sugar_temp_c = 18,
                                          .room_temp_c = 16},
                              .bags = 19,
                              .sugar_kg = 475,
                              .water_kg = 285,
                              .fill_kg = 279.5,
                              .final_kg = 760,
                              .final_l = 581,
                              .acid_stock_pct = 30,
                              .acid_g = 45.25,
                              .acid_ml = 133,
                              .acid_ceiling_ml = 200,
                              .preheat_c = 62,
                              .saturated_below_c = 8.5,
                              .tolerance_pct = 0.3,
                              .tolerance_ph = 0.1};

    plan.predicted_s[STEP_FILL] = 600;
    plan.predicted_s[STEP_HEAT] = 7200;
    show_plan_of(&plan);
    has("19 bags of 25.0 kg = 475.0 kg");
    has("285.0 L");
    has("279.5 L before the sugar");
    has("citric, about 45.2 g pure = 133 mL of the 30.0 % solution; never more than 200 mL");
    has("581 L at 20 °C");
    has("62.50 % sugar by weight, within 0.30 %");
    has("pH 4.30 in the water before the sugar");
    has("  fill              10 min");
    has("  altogether        2 h 10 min");
    has("water as it comes 12.0 °C, its alkalinity 2.50 meq/kg; sugar 18.0 °C, room 16.0 °C");
    has("the liquid gets as warm as 62.0 °C; 60 °C and more: a serious burn");
    has("goggles and gloves");
    has("each bag weighs 25 kg");
    has("colder than 8.5 °C");
    has("keep it stirred");
}
END_TEST

START_TEST(without_acid_nothing_is_said_of_goggles)
{
    struct batch_plan plan = {.request = {.strength_pct = 50, .bag_kg = 10},
                              .bags = 30,
                              .preheat_c = 30,
                              .saturated_below_c = PLAN_NEVER_C};

    show_plan_of(&plan);
    has("  acid              none");
    has_not("goggles");
    has_not("each bag weighs");
    has_not("crystallise");
}
END_TEST

START_TEST(the_heat_is_that_of_the_warmest_step_and_needs_no_heating)
{
    struct batch_plan plan = {.request = {.strength_pct = 69, .bag_kg = 22.6796, .water_temp_c = 57},
                              .bags = 22,
                              .sugar_kg = 498.95,
                              .preheat_c = 57,
                              .dissolve_c = 68.4};

    show_plan_of(&plan);
    has("22 bags of 22.68 kg = 498.9 kg");
    has("the liquid gets as warm as 68.4 °C; 68 °C and more");
    has_not("heated");
    has_not("°C: ");
    plan.dissolve_c = 35;
    show_plan_of(&plan);
    has("as warm as 57.0 °C; 55 °C and more");
    has_not("heated");
}
END_TEST

/* ---- lists ---------------------------------------------------------------------------------------- */

START_TEST(lists_show_what_the_record_has)
{
    json_t *batches = load(
        "[{\"batch\":\"2026-0001\",\"started\":\"2026-09-14T06:00:12Z\",\"ended\":null,"
        "\"outcome\":\"open\",\"strength_pct\":62.48,\"certificate\":false,\"simulated\":true}]");
    json_t *journal = load("[{\"utc\":\"2026-09-14T06:00:12Z\",\"sentence\":\"Batch 2026-0001 started.\"}]");
    json_t *none = load("[]");

    begin(false);
    show_batches(&show, batches);
    show_journal(&show, journal);
    show_batches(&show, none);
    show_journal(&show, none);
    fclose(show.to);
    has("2026-0001   2026-09-14T06:00:12Z -");
    has("62.48");
    has("2026-09-14T06:00:12Z  Batch 2026-0001 started.");
    has("no batch in the record");
    has("Nothing is written");
    json_decref(batches);
    json_decref(journal);
    json_decref(none);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("pages");
    TCase *tests = tcase_create("pages");

    tcase_add_test(tests, the_state_answers_in_the_order_people_ask);
    tcase_add_test(tests, trips_tell_what_to_do_and_a_failing_record_is_said);
    tcase_add_test(tests, what_is_not_latched_needs_no_release);
    tcase_add_test(tests, a_number_is_asked_for_as_a_number);
    tcase_add_test(tests, an_empty_reply_shows_unknown_and_no_number);
    tcase_add_test(tests, an_ended_batch_says_how);
    tcase_add_test(tests, one_line_says_the_same_for_a_log);
    tcase_add_test(tests, texts_from_outside_cannot_steer_a_terminal);
    tcase_add_test(tests, style_is_there_only_when_asked_for);
    tcase_add_test(tests, a_plan_is_a_shopping_list_with_cautions);
    tcase_add_test(tests, without_acid_nothing_is_said_of_goggles);
    tcase_add_test(tests, the_heat_is_that_of_the_warmest_step_and_needs_no_heating);
    tcase_add_test(tests, lists_show_what_the_record_has);
    suite_add_tcase(suite, tests);
    return suite;
}
