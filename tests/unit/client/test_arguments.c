/* The command line: what is understood, and the hints for common mistakes. */
#include "client/arguments.h"
#include "remote/plan_json.h"
#include "support/support.h"

#include <stdlib.h>
#include <string.h>

/* The client is a program, not a library. */
#include "client/arguments.c"       // NOLINT(bugprone-suspicious-include)
#include "client/arguments_check.c" // NOLINT(bugprone-suspicious-include)
#include "client/numbers.c"         // NOLINT(bugprone-suspicious-include)

static struct arguments arguments;
static struct fault fault;

/* Words separated by '|', so that they may have spaces. */
static enum status parse(const char *text)
{
    static char words[512];
    char *argv[32];
    char *rest = words;
    int argc = 0;

    arguments_free(&arguments);
    (void)snprintf(words, sizeof words, "syrupwright%s%s", text[0] == '\0' ? "" : "|", text);
    while (rest != NULL && argc < 31)
        argv[argc++] = strsep(&rest, "|");
    argv[argc] = NULL;
    return arguments_parse(argc, argv, &arguments, &fault);
}

static void refused(const char *text, enum status status, const char *part)
{
    ck_assert_msg(parse(text) == status, "%s: %s", text, fault.text);
    ck_assert_msg(strstr(fault.text, part) != NULL, "%s: \"%s\" lacks \"%s\"", text, fault.text, part);
}

static double request_number(const char *key)
{
    return json_number_value(json_object_get(arguments.request, key));
}

static void set_up(void)
{
    memset(&arguments, 0, sizeof arguments);
    unsetenv("SYRUPWRIGHT_CONTROL");
}

static void tear_down(void)
{
    arguments_free(&arguments);
}

START_TEST(a_key_of_the_plan_is_said_as_its_option)
{
    char said[64];

    ck_assert_int_eq(parse("plan|--litres=-5|--strength|62.5"), ST_OK);
    arguments_speak(&arguments, "\"volume_l\" cannot be below 0", said, sizeof said);
    ck_assert_str_eq(said, "--litres cannot be below 0");
    arguments_speak(&arguments, "\"volume\" and \"volume_l", said, sizeof said);
    ck_assert_str_eq(said, "\"volume\" and \"volume_l");
    arguments_speak(&arguments, "\"bag_kg\" must be", said, 9);
    ck_assert_str_eq(said, "--bag-kg");
    arguments_speak(NULL, "\"bag_kg\" must be", said, sizeof said);
    ck_assert_str_eq(said, "\"bag_kg\" must be");
    refused("plan|--alkalinity-mg-l-caco3=-5", ST_RANGE, "--alkalinity-mg-l-caco3 cannot be below 0");
}
END_TEST

START_TEST(nothing_is_nothing)
{
    ck_assert_int_eq(parse(""), ST_OK);
    ck_assert_ptr_null(arguments.command);
    ck_assert_str_eq(arguments.control_path, "/run/syrupwright/control");
    ck_assert_int_eq(arguments.prompt, -1);
}
END_TEST

START_TEST(the_socket_comes_from_option_environment_or_default)
{
    setenv("SYRUPWRIGHT_CONTROL", "/tmp/there", 1);
    ck_assert_int_eq(parse("state"), ST_OK);
    ck_assert_str_eq(arguments.control_path, "/tmp/there");
    ck_assert_int_eq(parse("state|--socket|/tmp/here"), ST_OK);
    ck_assert_str_eq(arguments.control_path, "/tmp/here");
    setenv("SYRUPWRIGHT_CONTROL", "", 1);
    ck_assert_int_eq(parse("state"), ST_OK);
    ck_assert_str_eq(arguments.control_path, "/run/syrupwright/control");
}
END_TEST

START_TEST(options_may_stand_anywhere)
{
    ck_assert_int_eq(parse("--json|answer|--prompt=7|61.9"), ST_OK);
    ck_assert_str_eq(arguments.command, "answer");
    ck_assert_int_eq(arguments.operand_count, 1);
    ck_assert_str_eq(arguments.operands[0], "61.9");
    ck_assert_int_eq(arguments.prompt, 7);
    ck_assert(arguments.wants_json);
}
END_TEST

START_TEST(a_wish_becomes_a_request_the_protocol_takes)
{
    struct plan_request request;

    ck_assert_int_eq(
        parse("start|--litres|600|--strength|62.5|--acid|citric|--ph|4.3|--water-c|11|--sugar-c|17"
              "|--room-c|15|--bag-kg|20|--storage-min-c|-4|--sugar-lot|Hollin 7|--acid-lot|B 2"
              "|--water-source|spring|--alkalinity-meq-kg|2.5"),
        ST_OK);
    ck_assert_int_eq(arguments_check_request(&arguments, &fault), ST_OK);
    ck_assert_msg(plan_request_from_json(arguments.request, &request, &fault) == ST_OK, "%s", fault.text);
    ck_near(request.volume_l, 600, 0);
    ck_near(request.strength_pct, 62.5, 0);
    ck_near(request.storage_min_temp_c, -4, 0);
    ck_near(request.alkalinity_meq_kg, 2.5, 0);
    ck_assert_str_eq(request.sugar_lot, "Hollin 7");
}
END_TEST

START_TEST(a_hand_instrument_is_never_exact)
{
    ck_assert_int_eq(parse("compare|strength|62.3|--within|0.2"), ST_OK);
    ck_near(arguments.within, 0.2, 1e-12);
    refused("compare|strength|62.3|--within|0", ST_RANGE, "above 0");
    refused("compare|strength|62.3|--within|-1", ST_RANGE, "above 0");
}
END_TEST

START_TEST(alkalinity_is_taken_as_water_reports_give_it)
{
    /* one milliequivalent is half a millimole of calcium carbonate, 100.087 g/mol (IUPAC 2021) */
    ck_assert_int_eq(parse("plan|--alkalinity-mg-l-caco3|125.1"), ST_OK);
    ck_near(request_number("alkalinity_meq_kg"), 125.1 / (100.087 / 2), 1e-9);
    refused("plan|--alkalinity-mg-l-caco3|125|--alkalinity-meq-kg|2.5", ST_REFUSED, "said already");
}
END_TEST

START_TEST(a_ratio_must_say_its_basis)
{
    ck_assert_int_eq(parse("plan|--ratio|5:3 by weight|--kg|700"), ST_OK);
    ck_assert_int_eq(arguments_check_request(&arguments, &fault), ST_OK);
    ck_assert_int_eq(parse("plan|--ratio|2:1"), ST_RANGE);
    ck_assert_uint_gt(strlen(fault.text), 10);
}
END_TEST

START_TEST(mistyped_options_get_the_nearest_one)
{
    refused("plan|--liters|600", ST_REFUSED, "did you mean --litres?");
    refused("plan|--strenght=60", ST_REFUSED, "did you mean --strength?");
    refused("plan|--zzzzzzz", ST_REFUSED, "--help");
    refused("plan|-x", ST_REFUSED, "\"-x\"");
    refused("plan|--litres", ST_REFUSED, "--litres needs a value");
}
END_TEST

START_TEST(bad_numbers_name_their_option)
{
    refused("plan|--strength|61,9", ST_RANGE, "--strength: \"61,9\" has a comma");
    refused("plan|--litres|many", ST_RANGE, "--litres");
    refused("journal|--limit|0", ST_RANGE, "--limit");
    refused("watch|--every|0", ST_RANGE, "--every");
    refused("answer|done|--prompt|x", ST_RANGE, "--prompt");
}
END_TEST

START_TEST(saying_a_thing_twice_is_refused)
{
    refused("plan|--litres|600|--litres|700", ST_REFUSED, "said already");
}
END_TEST

START_TEST(a_text_with_spaces_needs_quotes)
{
    refused("handbook|1|2|3|4|5|6|7|8|9|10|11|12|13|14|15|16|17", ST_REFUSED, "quotes");
}
END_TEST

START_TEST(a_negative_number_is_an_operand_or_a_value_and_no_option)
{
    ck_assert_int_eq(parse("handbook|convert|-40|degF|--json|degC|-.5"), ST_OK);
    ck_assert_int_eq(arguments.operand_count, 5);
    ck_assert_str_eq(arguments.operands[0], "convert");
    ck_assert_str_eq(arguments.operands[1], "-40");
    ck_assert_str_eq(arguments.operands[3], "degC");
    ck_assert_str_eq(arguments.operands[4], "-.5");
    ck_assert(arguments.wants_json);
    ck_assert_int_eq(parse("plan|--storage-min-c|-4|--storage|x"),
                     ST_RANGE); /* a beginning of the name will do */
    ck_assert_int_eq(parse("plan|--storage-min|-4|--sugar-c=-5"), ST_OK);
    ck_near(request_number("storage_min_temp_c"), -4, 0);
    ck_near(request_number("sugar_temp_c"), -5, 0);
    ck_assert_int_eq(arguments.operand_count, 0);
    ck_assert_int_eq(parse("answer|--|-4"), ST_OK);
    ck_assert_str_eq(arguments.operands[0], "-4");
    refused("handbook|-x", ST_REFUSED, "\"-x\"");
}
END_TEST

START_TEST(what_is_missing_is_hinted_at)
{
    static const struct {
        const char *words;
        const char *part;
    } MISSING[] = {
        {"plan|--litres|600", "--strength"},
        {"plan|--litres|600|--strength|60|--ratio|5:3 by weight", "--ratio"},
        {"plan|--strength|60", "--litres"},
        {"plan|--strength|60|--litres|600|--kg|700", "--kg"},
        {"plan|--strength|60|--litres|600|--acid|citric", "--ph 4.3"},
        {"plan|--strength|60|--litres|600|--acid|none|--ph|4", "--acid"},
    };

    for (size_t i = 0; i < sizeof MISSING / sizeof MISSING[0]; i++) {
        ck_assert_int_eq(parse(MISSING[i].words), ST_OK);
        ck_assert_int_eq(arguments_check_request(&arguments, &fault), ST_REFUSED);
        ck_assert_msg(strstr(fault.text, MISSING[i].part) != NULL, "\"%s\" lacks \"%s\"", fault.text,
                      MISSING[i].part);
    }
}
END_TEST

START_TEST(options_of_another_command_are_refused_by_name)
{
    ck_assert_int_eq(parse("stop|--litres|600|--json"), ST_OK);
    ck_assert_int_eq(arguments_check_uses(&arguments, 0, &fault), ST_REFUSED);
    ck_assert_ptr_nonnull(strstr(fault.text, "--litres does not belong to \"stop\""));
    ck_assert_int_eq(arguments_check_uses(&arguments, USE_REQUEST, &fault), ST_OK);
    ck_assert_int_eq(parse("start|--tank|tank.yaml"), ST_OK);
    ck_assert_int_eq(arguments_check_uses(&arguments, USE_REQUEST, &fault), ST_REFUSED);
    ck_assert_ptr_nonnull(strstr(fault.text, "--tank"));
    ck_assert_int_eq(parse("state|--json|--socket|x"), ST_OK);
    ck_assert_int_eq(arguments_check_uses(&arguments, 0, &fault), ST_OK);
}
END_TEST

START_TEST(help_lists_the_options_of_a_command_and_no_others)
{
    char text[8192] = "";
    FILE *to = fmemopen(text, sizeof text, "w");

    arguments_print_options(USE_REQUEST, to);
    fclose(to);
    ck_assert_ptr_nonnull(strstr(text, "--litres L"));
    ck_assert_ptr_nonnull(strstr(text, "--socket PATH"));
    ck_assert_ptr_null(strstr(text, "--limit"));
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("command line");
    TCase *tests = tcase_create("arguments");

    tcase_add_checked_fixture(tests, set_up, tear_down);
    tcase_add_test(tests, nothing_is_nothing);
    tcase_add_test(tests, a_key_of_the_plan_is_said_as_its_option);
    tcase_add_test(tests, the_socket_comes_from_option_environment_or_default);
    tcase_add_test(tests, options_may_stand_anywhere);
    tcase_add_test(tests, a_wish_becomes_a_request_the_protocol_takes);
    tcase_add_test(tests, alkalinity_is_taken_as_water_reports_give_it);
    tcase_add_test(tests, a_hand_instrument_is_never_exact);
    tcase_add_test(tests, a_ratio_must_say_its_basis);
    tcase_add_test(tests, mistyped_options_get_the_nearest_one);
    tcase_add_test(tests, bad_numbers_name_their_option);
    tcase_add_test(tests, saying_a_thing_twice_is_refused);
    tcase_add_test(tests, a_text_with_spaces_needs_quotes);
    tcase_add_test(tests, a_negative_number_is_an_operand_or_a_value_and_no_option);
    tcase_add_test(tests, what_is_missing_is_hinted_at);
    tcase_add_test(tests, options_of_another_command_are_refused_by_name);
    tcase_add_test(tests, help_lists_the_options_of_a_command_and_no_others);
    suite_add_tcase(suite, tests);
    return suite;
}
