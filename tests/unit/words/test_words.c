/* Every code has a stable name and a sentence, and no sentence is ever cut. */
#include "support/support.h"
#include "words/words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void check_names(const char *what, const char *const names[], int count)
{
    for (int i = 0; i < count; i++) {
        ck_assert_msg(names[i] != NULL && names[i][0] != '\0', "%s %d has no name", what, i);
        ck_assert_msg(strcmp(names[i], "unknown") != 0, "%s %d has no name of its own", what, i);
        ck_assert_msg(strspn(names[i], "abcdefghijklmnopqrstuvwxyz_") == strlen(names[i]),
                      "%s name \"%s\" is not lower snake", what, names[i]);
        for (int j = 0; j < i; j++)
            ck_assert_msg(strcmp(names[i], names[j]) != 0, "%s %d and %d are both \"%s\"", what, i, j,
                          names[i]);
    }
}

static void check_sentence(const char *what, int code, const char *sentence)
{
    ck_assert_msg(sentence != NULL && strlen(sentence) >= 5, "%s %d has no sentence", what, code);
    ck_assert_msg(strlen(sentence) < WORDS_MAX - 1, "%s %d is cut: \"%s\"", what, code, sentence);
    ck_assert_msg(strstr(sentence, "unknown") == NULL && strstr(sentence, "(null)") == NULL,
                  "%s %d is not known: \"%s\"", what, code, sentence);
}

#define CHECK_NAMES(what, count, call)                                                                       \
    do {                                                                                                     \
        const char *names[(count)];                                                                          \
        for (int i = 0; i < (count); i++)                                                                    \
            names[i] = (call);                                                                               \
        check_names(what, names, (count));                                                                   \
    } while (0)

START_TEST(every_code_has_a_name_of_its_own)
{
    CHECK_NAMES("state", STATE_COUNT, words_state_name((enum batch_state)i));
    CHECK_NAMES("verb", VERB_COUNT, words_verb_name((enum verb)i));
    CHECK_NAMES("step", STEP_COUNT, words_step_name((enum step)i));
    CHECK_NAMES("outcome", OUTCOME_UNFINISHED + 1, words_outcome_name((enum outcome)i));
    CHECK_NAMES("prompt", PROMPT_COUNT, words_prompt_name((enum prompt_kind)i));
    CHECK_NAMES("answer", ANSWER_COUNT, words_answer_name((enum answer)i));
    CHECK_NAMES("trip", TRIP_COUNT, words_trip_name((enum trip)i));
    CHECK_NAMES("event", EVENT_KIND_COUNT, words_event_name((enum event_kind)i));
    CHECK_NAMES("refusal", REFUSAL_COUNT, words_refusal_name((enum refusal)i));
    CHECK_NAMES("role", ROLE_COUNT, words_role_name((enum role)i));
    CHECK_NAMES("door", DOOR_COUNT, words_door_name((enum door)i));
    CHECK_NAMES("measured", MEASURED_COUNT, words_measured_name((enum measured)i));
    CHECK_NAMES("scald", SCALD_COUNT, words_scald_name((enum scald)i));
}
END_TEST

START_TEST(a_name_leads_back_to_its_code)
{
    for (int i = 0; i < VERB_COUNT; i++)
        ck_assert_int_eq(words_verb_find(words_verb_name((enum verb)i)), i);
    for (int i = 0; i < ANSWER_COUNT; i++)
        ck_assert_int_eq(words_answer_find(words_answer_name((enum answer)i)), i);
    for (int i = 0; i < ROLE_COUNT; i++)
        ck_assert_int_eq(words_role_find(words_role_name((enum role)i)), i);
}
END_TEST

START_TEST(an_unknown_name_is_not_found)
{
    static const char *const STRANGE[] = {NULL, "", "Start", "start ", "unknown", "sta"};

    for (size_t i = 0; i < sizeof STRANGE / sizeof STRANGE[0]; i++) {
        ck_assert_int_eq(words_verb_find(STRANGE[i]), VERB_COUNT);
        ck_assert_int_eq(words_answer_find(STRANGE[i]), ANSWER_COUNT);
        ck_assert_int_eq(words_role_find(STRANGE[i]), ROLE_COUNT);
    }
}
END_TEST

START_TEST(a_code_outside_its_list_still_has_a_name)
{
    ck_assert_str_eq(words_state_name(STATE_COUNT), "unknown");
    ck_assert_str_eq(words_trip_name((enum trip) - 1), "unknown");
    ck_assert_str_eq(words_event_name((enum event_kind)999), "unknown");
    ck_assert_ptr_nonnull(words_state(STATE_COUNT));
    ck_assert_ptr_nonnull(words_reason(REASON_COUNT));
}
END_TEST

START_TEST(every_code_has_a_sentence)
{
    for (int i = 0; i < STATE_COUNT; i++)
        check_sentence("state", i, words_state((enum batch_state)i));
    for (int i = 0; i < STEP_COUNT; i++)
        check_sentence("step", i, words_step((enum step)i));
    for (int i = 0; i < TRIP_COUNT; i++)
        check_sentence("act of trip", i, words_trip_act((enum trip)i));
    for (int i = 0; i < SCALD_COUNT; i++)
        check_sentence("scald", i, words_scald((enum scald)i) + 1);
    for (int i = 0; i < REASON_COUNT; i++)
        check_sentence("reason", i, words_reason((enum reason)i));
}
END_TEST

START_TEST(a_trip_names_its_limit_and_its_point)
{
    struct limits limits = {.liquid_max_c = 75, .sheath_max_c = 130, .stirrer_min_rpm = 40};
    char out[WORDS_MAX];

    for (int trip = 0; trip < TRIP_COUNT; trip++)
        for (int point = -1; point < POINT_COUNT; point++) {
            words_trip((enum trip)trip, point, &limits, out);
            check_sentence("trip", trip, out);
        }
    words_trip(TRIP_LIQUID_HOT, -1, &limits, out);
    ck_assert_ptr_nonnull(strstr(out, "75 °C"));
    words_trip(TRIP_STIRRER, -1, &limits, out);
    ck_assert_ptr_nonnull(strstr(out, "40 rpm"));
    words_trip(TRIP_READING_BAD, POINT_SHEATH_TEMP_C, NULL, out);
    ck_assert_ptr_nonnull(strstr(out, "sheath_temp_c"));
}
END_TEST

START_TEST(every_question_is_asked_in_full)
{
    struct batch_plan plan = {.request = {.acid = ACID_PHOSPHORIC, .bag_kg = 22.68}};
    struct prompt prompt = {.id = 4000000000u, .number = 999999, .number2 = 999999};
    char out[WORDS_MAX];

    for (int kind = 0; kind < PROMPT_COUNT; kind++) {
        prompt.kind = (enum prompt_kind)kind;
        words_prompt(&prompt, &plan, out);
        check_sentence("prompt", kind, out);
        words_prompt(&prompt, NULL, out);
        check_sentence("prompt without a plan", kind, out);
    }
    prompt = (struct prompt){.kind = PROMPT_TIP_BAG, .number = 4, .number2 = 20};
    words_prompt(&prompt, &plan, out);
    ck_assert_ptr_nonnull(strstr(out, "bag 4 of 20 (22.68 kg)"));
    ck_assert_ptr_nonnull(strstr(out, "the liquid may be hot"));
}
END_TEST

START_TEST(every_refusal_says_why)
{
    char out[WORDS_MAX];

    for (int verb = 0; verb < VERB_COUNT; verb++)
        for (int refusal = 0; refusal < REFUSAL_COUNT; refusal++)
            for (int detail = -1; detail < POINT_COUNT; detail++) {
                struct command_result result = {.refusal = (enum refusal)refusal, .detail = detail};

                words_refusal((enum verb)verb, &result, out);
                check_sentence("refusal", refusal, out);
            }
    words_refusal(VERB_START, &(struct command_result){.refusal = REFUSAL_STATE, .detail = STATE_HELD}, out);
    ck_assert_ptr_nonnull(strstr(out, "start was refused (now held)"));
    words_refusal(VERB_RESTART,
                  &(struct command_result){.refusal = REFUSAL_TRIPPED, .detail = TRIP_CHAIN_OPEN}, out);
    ck_assert_ptr_nonnull(strstr(out, "(chain_open)"));
}
END_TEST

/* The widest an event can be: every text full, every number long. */
static struct event widest_event(enum event_kind kind, int code)
{
    struct event event = {.kind = kind,
                          .a = code,
                          .b = code,
                          .intent = UINT64_MAX,
                          .prompt = UINT32_MAX,
                          .value = -123456789.123,
                          .value2 = code,
                          .who = {.door = DOOR_SHELL}};

    memset(event.text, 'x', sizeof event.text - 1);
    memset(event.who.name, 'y', sizeof event.who.name - 1);
    return event;
}

START_TEST(every_event_is_told_in_full)
{
    char out[WORDS_MAX];

    for (int kind = 0; kind < EVENT_KIND_COUNT; kind++)
        for (int code = -1; code < 64; code++) {
            struct event event = widest_event((enum event_kind)kind, code);

            words_event(&event, out);
            ck_assert_msg(strlen(out) >= 5 && strlen(out) < WORDS_MAX - 1, "event %s, code %d: \"%s\"",
                          words_event_name(event.kind), code, out);
        }
}
END_TEST

START_TEST(an_event_with_known_codes_has_no_unknown_words)
{
    char out[WORDS_MAX];

    for (int kind = 0; kind < EVENT_KIND_COUNT; kind++) {
        struct event event = widest_event((enum event_kind)kind, 0);

        words_event(&event, out);
        check_sentence("event", kind, out);
    }
}
END_TEST

START_TEST(an_event_with_numbers_that_are_not_numbers_is_still_told)
{
    char out[WORDS_MAX];

    for (int kind = 0; kind < EVENT_KIND_COUNT; kind++) {
        struct event event = widest_event((enum event_kind)kind, 0);

        event.value = event.value2 = nan("");
        words_event(&event, out);
        ck_assert_uint_lt(strlen(out), WORDS_MAX - 1);
    }
}
END_TEST

START_TEST(an_event_names_the_person_but_not_the_controller)
{
    struct event event = {.kind = EVENT_COMMAND, .a = VERB_HOLD, .who = {.name = "mira", .door = DOOR_SHELL}};
    char out[WORDS_MAX];

    words_event(&event, out);
    ck_assert_str_eq(out, "Command hold by mira.");
    event.who.door = DOOR_SELF;
    words_event(&event, out);
    ck_assert_str_eq(out, "Command hold.");
}
END_TEST

START_TEST(a_measured_value_has_enough_digits_of_uncertainty)
{
    struct event event = {.kind = EVENT_MEASURED, .a = MEASURED_WATER_PH, .value = 4.32, .value2 = 0.032};
    char out[WORDS_MAX];

    words_event(&event, out);
    ck_assert_str_eq(out, "Measured: acidity of the water 4.32 pH, standard uncertainty 0.032.");
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("words");
    TCase *names = tcase_create("names");
    TCase *sentences = tcase_create("sentences");

    tcase_add_test(names, every_code_has_a_name_of_its_own);
    tcase_add_test(names, a_name_leads_back_to_its_code);
    tcase_add_test(names, an_unknown_name_is_not_found);
    tcase_add_test(names, a_code_outside_its_list_still_has_a_name);
    suite_add_tcase(suite, names);
    tcase_add_test(sentences, every_code_has_a_sentence);
    tcase_add_test(sentences, a_trip_names_its_limit_and_its_point);
    tcase_add_test(sentences, every_question_is_asked_in_full);
    tcase_add_test(sentences, every_refusal_says_why);
    tcase_add_test(sentences, every_event_is_told_in_full);
    tcase_add_test(sentences, an_event_with_known_codes_has_no_unknown_words);
    tcase_add_test(sentences, an_event_with_numbers_that_are_not_numbers_is_still_told);
    tcase_add_test(sentences, a_measured_value_has_enough_digits_of_uncertainty);
    tcase_add_test(sentences, an_event_names_the_person_but_not_the_controller);
    suite_add_tcase(suite, sentences);
    return suite;
}
