/* The wire's front door: what is let in, what is refused, and with which words. */
#include "remote/protocol.h"
#include "support/support.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static struct request request;
static struct protocol_refusal refusal;

static bool parse(const char *line)
{
    return protocol_parse(line, strlen(line), &request, &refusal);
}

static void refused(const char *line, const char *code, const char *part)
{
    ck_assert_msg(!parse(line), "accepted: %s", line);
    ck_assert_msg(strcmp(refusal.code, code) == 0, "%s: code %s, expected %s", line, refusal.code, code);
    ck_assert_msg(strstr(refusal.fault.text, part) != NULL, "%s: \"%s\" lacks \"%s\"", line,
                  refusal.fault.text, part);
}

START_TEST(every_verb_is_found_by_its_name)
{
    for (int i = 0; i < ACTION_COUNT; i++)
        ck_assert_int_eq(protocol_find(protocol_name((enum action)i)), i);
    ck_assert_int_eq(protocol_find("launch"), ACTION_COUNT);
}
END_TEST

START_TEST(bare_verbs_need_nothing_more)
{
    static const enum action BARE[] = {ACTION_HELLO,   ACTION_STATE,      ACTION_WATCH,   ACTION_PAUSE,
                                       ACTION_RESUME,  ACTION_HOLD,       ACTION_STOP,    ACTION_RESTART,
                                       ACTION_ABORT,   ACTION_RESET,      ACTION_RELEASE, ACTION_BATCHES,
                                       ACTION_JOURNAL, ACTION_CERTIFICATE};
    char line[80];

    for (size_t i = 0; i < sizeof BARE / sizeof BARE[0]; i++) {
        (void)snprintf(line, sizeof line, "{\"v\":1,\"verb\":\"%s\"}", protocol_name(BARE[i]));
        ck_assert_msg(parse(line), "%s", refusal.fault.text);
        ck_assert_int_eq(request.action, BARE[i]);
    }
    ck_assert_int_eq(request.limit, 20);
    ck_assert_int_eq(request.every_ms, 1000);
    ck_assert_str_eq(request.batch, "");
}
END_TEST

START_TEST(what_is_not_one_object_is_garbage)
{
    static const char *const LINES[] = {"",
                                        "x",
                                        "{",
                                        "[1]",
                                        "1",
                                        "\"v\"",
                                        "null",
                                        "{\"v\":1}}",
                                        "{\"v\":1} {}",
                                        "{'v':1}",
                                        "{\"v\":1,\"verb\":\"state\",}",
                                        "{\"v\":1,\"verb\":\"\xff\"}",
                                        "{\"v\":1,\"verb\":\"answer\",\"prompt\":1,\"number\":NaN}",
                                        "{\"v\":1,\"verb\":\"answer\",\"prompt\":1,\"number\":Infinity}",
                                        "{\"v\":1,\"verb\":\"answer\",\"prompt\":1,\"number\":1e999}"};

    for (size_t i = 0; i < sizeof LINES / sizeof LINES[0]; i++)
        refused(LINES[i], "garbage", "not one JSON object");
    ck_assert(!protocol_parse("{\"v\":1,\"verb\":\"state\"}\0x", 24, &request, &refusal));
    ck_assert_str_eq(refusal.code, "garbage");
}
END_TEST

START_TEST(a_key_given_twice_is_refused)
{
    refused("{\"v\":1,\"verb\":\"stop\",\"verb\":\"start\"}", "garbage", "twice");
    refused("{\"v\":1,\"verb\":\"plan\",\"request\":{\"volume_l\":1,\"volume_l\":2}}", "garbage", "twice");
}
END_TEST

START_TEST(deep_nesting_is_refused_before_it_is_parsed)
{
    static char line[60000];

    memset(line, '[', sizeof line - 1);
    refused(line, "garbage", "nested too deep");
    refused("{\"v\":{\"a\":{\"b\":{\"c\":{}}}}}", "garbage", "nested too deep");
    refused("{\"v\":1,\"verb\":\"x[[[[[[\\\"[[[{{{{{\"}", "verb", "there is no verb");
}
END_TEST

START_TEST(a_line_above_64_KiB_is_refused)
{
    static char line[PROTOCOL_LINE_MAX + 1];

    memset(line, ' ', PROTOCOL_LINE_MAX);
    refused(line, "garbage", "64 KiB");
}
END_TEST

START_TEST(only_version_1_is_spoken)
{
    refused("{\"verb\":\"state\"}", "version", "\"v\":1");
    refused("{\"v\":2,\"verb\":\"state\"}", "version", "not spoken");
    refused("{\"v\":\"1\",\"verb\":\"state\"}", "version", "not spoken");
    refused("{\"v\":1.0,\"verb\":\"state\"}", "version", "not spoken");
}
END_TEST

START_TEST(an_unknown_verb_is_told_the_known_ones)
{
    refused("{\"v\":1,\"verb\":\"launch\"}", "verb", "journal");
    refused("{\"v\":1}", "verb", "hello, state");
    refused("{\"v\":1,\"verb\":7}", "verb", "hello, state");
}
END_TEST

START_TEST(an_unknown_key_is_named_with_the_known_ones)
{
    refused("{\"v\":1,\"verb\":\"state\",\"who\":\"me\"}", "key", "\"who\"; allowed are v, verb");
    refused("{\"v\":1,\"verb\":\"journal\",\"lines\":3}", "key", "allowed are v, verb, batch, limit");
    refused("{\"v\":1,\"verb\":\"stop\",\"batch\":\"2026-0001\"}", "key", "batch");
}
END_TEST

START_TEST(values_of_the_wrong_type_or_size_are_refused)
{
    static const char *const LINES[] = {
        "{\"v\":1,\"verb\":\"watch\",\"every_ms\":49}",
        "{\"v\":1,\"verb\":\"watch\",\"every_ms\":10001}",
        "{\"v\":1,\"verb\":\"watch\",\"every_ms\":\"100\"}",
        "{\"v\":1,\"verb\":\"watch\",\"every_ms\":100.5}",
        "{\"v\":1,\"verb\":\"batches\",\"limit\":0}",
        "{\"v\":1,\"verb\":\"batches\",\"limit\":1001}",
        "{\"v\":1,\"verb\":\"batches\",\"limit\":null}",
        "{\"v\":1,\"verb\":\"journal\",\"batch\":7}",
        "{\"v\":1,\"verb\":\"journal\",\"batch\":\"\"}",
        "{\"v\":1,\"verb\":\"journal\",\"batch\":\"2026-0001-2026-0001-2026\"}",
        "{\"v\":1,\"verb\":\"certificate\",\"form\":\"pdf\"}",
        "{\"v\":1,\"verb\":\"certificate\",\"form\":[]}",
        "{\"v\":1,\"verb\":\"answer\",\"prompt\":-1,\"answer\":\"done\"}",
        "{\"v\":1,\"verb\":\"answer\",\"prompt\":4294967296,\"answer\":\"done\"}",
        "{\"v\":1,\"verb\":\"answer\",\"prompt\":\"3\",\"answer\":\"done\"}",
        "{\"v\":1,\"verb\":\"answer\",\"prompt\":3,\"answer\":\"maybe\"}",
        "{\"v\":1,\"verb\":\"answer\",\"prompt\":3,\"answer\":\"number\"}",
        "{\"v\":1,\"verb\":\"answer\",\"prompt\":3,\"answer\":true}",
        "{\"v\":1,\"verb\":\"answer\",\"prompt\":3,\"number\":\"61.9\"}",
        "{\"v\":1,\"verb\":\"answer\",\"prompt\":3,\"number\":null}",
        "{\"v\":1,\"verb\":\"plan\",\"request\":7}"};

    for (size_t i = 0; i < sizeof LINES / sizeof LINES[0]; i++)
        refused(LINES[i], "range", "must be");
}
END_TEST

START_TEST(an_answer_is_one_thing_for_one_question)
{
    ck_assert(parse("{\"v\":1,\"verb\":\"answer\",\"prompt\":3,\"answer\":\"done\"}"));
    ck_assert_uint_eq(request.prompt, 3);
    ck_assert_int_eq(request.answer, ANSWER_DONE);
    ck_assert(parse("{\"v\":1,\"verb\":\"answer\",\"prompt\":4294967295,\"number\":61.9}"));
    ck_assert_uint_eq(request.prompt, 4294967295u);
    ck_assert_int_eq(request.answer, ANSWER_NUMBER);
    ck_near(request.number, 61.9, 0);
    refused("{\"v\":1,\"verb\":\"answer\",\"answer\":\"done\"}", "key", "\"prompt\" is missing");
    refused("{\"v\":1,\"verb\":\"answer\",\"prompt\":3}", "key", "either");
    refused("{\"v\":1,\"verb\":\"answer\",\"prompt\":3,\"answer\":\"done\",\"number\":1}", "key", "not both");
}
END_TEST

START_TEST(compare_needs_what_was_read_and_how_far_it_may_be_wrong)
{
    ck_assert(parse("{\"v\":1,\"verb\":\"compare\",\"point\":\"strength_pct\",\"number\":62.3,"
                    "\"expanded_u\":0.4}"));
    ck_assert_int_eq(request.action, ACTION_COMPARE);
    ck_assert_int_eq(request.point, POINT_STRENGTH_PCT);
    ck_near(request.number, 62.3, 0);
    ck_near(request.expanded_u, 0.4, 0);
    refused("{\"v\":1,\"verb\":\"compare\",\"number\":62.3,\"expanded_u\":0.4}", "key", "needs");
    refused("{\"v\":1,\"verb\":\"compare\",\"point\":\"acidity_ph\",\"number\":4.2}", "key", "needs");
    refused("{\"v\":1,\"verb\":\"compare\",\"point\":\"water_l\",\"number\":1,\"expanded_u\":1}", "range",
            "must be \"strength_pct\"");
    refused("{\"v\":1,\"verb\":\"compare\",\"point\":7,\"number\":1,\"expanded_u\":1}", "range", "must be");
    refused("{\"v\":1,\"verb\":\"compare\",\"point\":\"acidity_ph\",\"number\":4,\"expanded_u\":0}", "range",
            "above 0");
    refused("{\"v\":1,\"verb\":\"hold\",\"expanded_u\":1}", "key", "does not know");
}
END_TEST

START_TEST(plan_and_start_need_their_request)
{
    refused("{\"v\":1,\"verb\":\"plan\"}", "key", "\"request\" is missing");
    refused("{\"v\":1,\"verb\":\"start\"}", "key", "\"request\" is missing");
    ck_assert(parse("{\"v\":1,\"verb\":\"start\",\"request\":{\"volume_l\":600,\"strength_pct\":62.5}}"));
    ck_near(request.plan.volume_l, 600, 0);
    ck_near(request.plan.strength_pct, 62.5, 0);
}
END_TEST

/* ---- who may what: the whole table ----------------------------------------------------------- */

static const struct {
    const char *verb;
    bool looker, helper, operator, supervisor;
} MAY[] = {
    {"hello", true, true, true, true},     {"state", true, true, true, true},
    {"watch", true, true, true, true},     {"plan", true, true, true, true},
    {"batches", true, true, true, true},   {"certificate", true, true, true, true},
    {"journal", true, true, true, true},   {"hold", false, true, true, true},
    {"pause", false, true, true, true},    {"stop", false, true, true, true},
    {"abort", false, true, true, true},    {"answer", false, true, true, true},
    {"start", false, false, true, true},   {"restart", false, false, true, true},
    {"resume", false, false, true, true},  {"reset", false, false, true, true},
    {"release", false, false, true, true}, {"compare", false, true, true, true},
};

START_TEST(the_table_of_roles_and_verbs_is_complete)
{
    ck_assert_uint_eq(sizeof MAY / sizeof MAY[0], ACTION_COUNT);
    for (size_t i = 0; i < sizeof MAY / sizeof MAY[0]; i++) {
        enum action action = protocol_find(MAY[i].verb);
        ck_assert_msg(action != ACTION_COUNT, "%s", MAY[i].verb);
        ck_assert_int_eq(protocol_is_allowed(ROLE_LOOKER, action), MAY[i].looker);
        ck_assert_int_eq(protocol_is_allowed(ROLE_HELPER, action), MAY[i].helper);
        ck_assert_int_eq(protocol_is_allowed(ROLE_OPERATOR, action), MAY[i].operator);
        ck_assert_int_eq(protocol_is_allowed(ROLE_SUPERVISOR, action), MAY[i].supervisor);
        ck_assert(!protocol_is_allowed(ROLE_COUNT, action));
    }
}
END_TEST

START_TEST(every_command_of_the_core_has_exactly_one_verb)
{
    int seen[VERB_COUNT + 1] = {0};

    for (int i = 0; i < ACTION_COUNT; i++)
        seen[protocol_command((enum action)i)]++;
    for (int i = 0; i < VERB_COUNT; i++)
        ck_assert_int_eq(seen[i], 1);
    ck_assert_int_eq(protocol_command(ACTION_STOP), VERB_STOP);
    ck_assert_int_eq(protocol_command(ACTION_STATE), VERB_COUNT);
}
END_TEST

/* ---- replies ---------------------------------------------------------------------------------- */

START_TEST(an_error_reply_has_code_and_sentence)
{
    size_t length = 0;
    char *line = protocol_line(protocol_error("busy", "try again"), &length);

    ck_assert_str_eq(line,
                     "{\"v\":1,\"ok\":false,\"error\":{\"code\":\"busy\",\"sentence\":\"try again\"}}\n");
    ck_assert_uint_eq(length, strlen(line));
    free(line);
    line = protocol_line(protocol_error("version", "no"), &length);
    ck_assert_ptr_nonnull(strstr(line, "\"versions\":[1]"));
    free(line);
}
END_TEST

START_TEST(a_sentence_that_is_cut_or_steers_a_terminal_is_made_harmless)
{
    json_t *text = protocol_text("a\x1b[2Jb\xc3");

    ck_assert_str_eq(json_string_value(text), "a?[2Jb?");
    json_decref(text);
    text = protocol_text("60 °C");
    ck_assert_str_eq(json_string_value(text), "60 °C");
    json_decref(text);
}
END_TEST

START_TEST(a_number_that_is_none_becomes_null)
{
    static const double NONE[] = {NAN, INFINITY, -INFINITY};

    for (int i = 0; i < 3; i++) {
        json_t *value = protocol_number(NONE[i]);
        ck_assert(json_is_null(value));
        json_decref(value);
    }
}
END_TEST

START_TEST(decimals_are_printed_as_people_wrote_them)
{
    size_t length;
    char *line = protocol_line(json_pack("{s:f}", "number", 61.9), &length);

    ck_assert_str_eq(line, "{\"number\":61.9}\n");
    free(line);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("protocol");
    TCase *tests = tcase_create("lines");

    tcase_add_test(tests, every_verb_is_found_by_its_name);
    tcase_add_test(tests, bare_verbs_need_nothing_more);
    tcase_add_test(tests, what_is_not_one_object_is_garbage);
    tcase_add_test(tests, a_key_given_twice_is_refused);
    tcase_add_test(tests, deep_nesting_is_refused_before_it_is_parsed);
    tcase_add_test(tests, a_line_above_64_KiB_is_refused);
    tcase_add_test(tests, only_version_1_is_spoken);
    tcase_add_test(tests, an_unknown_verb_is_told_the_known_ones);
    tcase_add_test(tests, an_unknown_key_is_named_with_the_known_ones);
    tcase_add_test(tests, values_of_the_wrong_type_or_size_are_refused);
    tcase_add_test(tests, an_answer_is_one_thing_for_one_question);
    tcase_add_test(tests, plan_and_start_need_their_request);
    tcase_add_test(tests, compare_needs_what_was_read_and_how_far_it_may_be_wrong);
    tcase_add_test(tests, the_table_of_roles_and_verbs_is_complete);
    tcase_add_test(tests, every_command_of_the_core_has_exactly_one_verb);
    tcase_add_test(tests, an_error_reply_has_code_and_sentence);
    tcase_add_test(tests, a_sentence_that_is_cut_or_steers_a_terminal_is_made_harmless);
    tcase_add_test(tests, a_number_that_is_none_becomes_null);
    tcase_add_test(tests, decimals_are_printed_as_people_wrote_them);
    suite_add_tcase(suite, tests);
    return suite;
}
