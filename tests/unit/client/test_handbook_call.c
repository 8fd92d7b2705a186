/* The words of a command line and the inputs of a function: who is meant, in which unit, within which range.
 */
#include "client/handbook_call.h"
#include "support/support.h"

#include <math.h>
#include <string.h>

/* The client is a program, not a library. */
#include "client/handbook_call.c"    // NOLINT(bugprone-suspicious-include)
#include "client/handbook_choice.c"  // NOLINT(bugprone-suspicious-include)
#include "client/handbook_example.c" // NOLINT(bugprone-suspicious-include)
#include "client/handbook_names.c"   // NOLINT(bugprone-suspicious-include)
#include "client/handbook_take.c"    // NOLINT(bugprone-suspicious-include)
#include "client/handbook_usual.c"   // NOLINT(bugprone-suspicious-include)
#include "client/handbook_value.c"   // NOLINT(bugprone-suspicious-include)
#include "client/handbook_words.c"   // NOLINT(bugprone-suspicious-include)

/* A function that gives back what it takes, so that the inputs can be seen. */
static const char *kind_name(int index)
{
    static const char *const NAMES[] = {"none", "citric", "by weight"};

    return index >= 0 && index < 3 ? NAMES[index] : "";
}

static enum status echo_eval(const double in[], double out[])
{
    if (!(in[0] >= 0 && in[0] <= 100) || !(in[1] >= 0 && in[1] <= 50))
        return ST_RANGE;
    out[0] = in[0];
    out[1] = in[1];
    return ST_OK;
}

static const struct handbook_entry ECHO_FIVE = {"echo",
                                                "What it takes",
                                                {{"water_c", "degC", 0, 100, NULL},
                                                 {"water_kg", "kg", 0, 50, NULL},
                                                 {"kind", "", 0, 2, kind_name},
                                                 {"rise_k", "K", 0, 10, NULL},
                                                 {"factor", "", 0.5, 2, NULL}},
                                                {{"a", "degC", 0, 100, NULL}, {"b", "kg", 0, 50, NULL}},
                                                "nothing else",
                                                "this test",
                                                "none",
                                                echo_eval};

static struct handbook_call call;
static struct fault fault;
static double in[HANDBOOK_INPUTS_MAX];
static double out[HANDBOOK_OUTPUTS_MAX];

/* Words separated by '|'; they live on, as those of a command line. */
static enum status make(const struct handbook_entry *entry, const char *text)
{
    static char copy[512];
    const char *words[16];
    char *rest = copy;
    int count = 0;

    (void)snprintf(copy, sizeof copy, "%s", text);
    while (rest != NULL && count < 16)
        words[count++] = strsep(&rest, "|");
    memset(&fault, 0, sizeof fault);
    return handbook_call_make(entry, words, count, &call, &fault);
}

static void refused(const char *text, enum status status, const char *part)
{
    ck_assert_msg(make(&ECHO_FIVE, text) == status, "%s: %s", text, fault.text);
    ck_assert_msg(fault.code == status && strstr(fault.text, part) != NULL, "%s: \"%s\" lacks \"%s\"", text,
                  fault.text, part);
}

START_TEST(inputs_are_given_by_their_name_or_without_it_by_their_unit)
{
    ck_assert_msg(make(&ECHO_FIVE, "water=68degF|water=2 lb|kind=by_weight|rise=5K|factor=1") == ST_OK, "%s",
                  fault.text);
    ck_assert_int_eq(call.rows, 1);
    ck_assert_int_eq(handbook_call_row(&call, 0, in, out), ST_OK);
    ck_near(out[0], 20, 1e-9);
    ck_near(out[1], 2 * 0.45359237, 1e-12);
    ck_near(in[2], 2, 0);
    ck_near(in[3], 5, 0);
    ck_assert_msg(make(&ECHO_FIVE, "factor=1|rise_k=5|kind=none|water_kg=2kg|water_c=20") == ST_OK, "%s",
                  fault.text);
    ck_assert_int_eq(handbook_call_row(&call, 0, in, out), ST_OK);
    ck_near(out[1], 2, 0);
}
END_TEST

START_TEST(a_unit_against_the_name_is_a_contradiction)
{
    refused("water_c=68degF", ST_RANGE, "write water=68degF");
    refused("water_c=0..100/10degF", ST_RANGE, "write water=0..100/10degF");
}
END_TEST

START_TEST(a_wrong_kind_of_unit_is_refused_by_kind)
{
    refused("water_c=20kg", ST_RANGE, "kg is a unit of mass");
    refused("rise=5degC", ST_RANGE, "difference of temperatures");
    refused("rise_k=9degF", ST_RANGE, "difference of temperatures");
    refused("factor=1kg", ST_RANGE, "without a unit");
    refused("water=5foo", ST_RANGE, "no unit \"foo\"; it is given in degC, degF or K");
    refused("water=5gallon", ST_RANGE, "US_gal or imp_gal");
    refused("water=5bar", ST_RANGE, "bar is a unit of pressure");
    refused("water=20", ST_RANGE, "write water_c=20, or water=20degC");
}
END_TEST

START_TEST(what_is_unknown_missing_or_said_twice_is_a_wrong_command_line)
{
    refused("watr_c=20", ST_REFUSED, "did you mean water_c?");
    refused("zzz=20", ST_REFUSED, "it takes water_c, water_kg, kind, rise_k, factor");
    refused("temp_c", ST_REFUSED, "write its name, = and the value without blanks: water_c=");
    refused("water_c=20|water_c=30", ST_REFUSED, "already");
    refused("water_c=20|water=30degC", ST_REFUSED, "already");
    refused("kind=none|kind=none", ST_REFUSED, "already");
    refused("water_c=20", ST_REFUSED, "echo needs water_kg too, 0 to 50 kg");
    refused("water_c=20|water_kg=1", ST_REFUSED, "which is none, citric or by_weight");
}
END_TEST

START_TEST(a_choice_is_taken_by_its_name)
{
    refused("kind=citrik", ST_RANGE, "did you mean citric?");
    refused("kind=by_wieght", ST_RANGE, "did you mean by_weight?");
    refused("kind=1", ST_RANGE, "it is none, citric or by_weight");
    refused("kind=", ST_RANGE, "it is none");
    ck_assert_int_eq(make(&ECHO_FIVE, "KIND=By_Weight|water_c=1|water_kg=1|RISE_K=1|factor=1"), ST_OK);
    ck_assert_int_eq(make(&ECHO_FIVE, "kind=by weight|water_c=1|water_kg=1|rise_k=1|factor=1"), ST_OK);
}
END_TEST

static double choice_number(const char *function, size_t input, const char *said)
{
    double number = -1;

    if (handbook_choice_take(&handbook_find(function)->inputs[input], said, &number, &fault) != ST_OK)
        return -1;
    return number;
}

static void same_choice(const char *function, size_t input, const char *said, const char *name)
{
    double meant = choice_number(function, input, name);

    ck_assert_msg(meant >= 0, "%s", name);
    ck_assert_msg(fabs(choice_number(function, input, said) - meant) <= 0, "%s is not %s: %s", said, name,
                  fault.text);
}

START_TEST(a_choice_is_known_by_its_label_and_by_its_beginning)
{
    same_choice("buffer_ph", 0, "7.00", "technical-7.00");
    same_choice("buffer_ph", 0, "6.86", "phosphate-1:1");
    same_choice("buffer_ph", 0, "4.01", "phthalate");
    same_choice("buffer_ph", 0, "10.01", "technical-10.01");
    same_choice("skin_burn_time", 1, "2", "second degree");
    same_choice("skin_burn_time", 1, "Second", "second degree");
    same_choice("skin_surface_burn", 1, "10s", "10 s");
    same_choice("skin_surface_burn", 1, "10_S", "10 s");
    same_choice("unit_convert", 1, "pounds", "lb");
    ck_assert(choice_number("buffer_ph", 0, "phosphate") < 0); /* two begin so */
    ck_assert(choice_number("buffer_ph", 0, "7.0") < 0);
    ck_assert_ptr_null(strstr(fault.text, "did you mean"));
    ck_assert(choice_number("unit_convert", 1, "gallon") < 0);
    ck_assert_ptr_nonnull(strstr(fault.text, "US_gal or imp_gal"));
    ck_assert(choice_number("unit_convert", 1, "kq") < 0);
    ck_assert_ptr_null(strstr(fault.text, "did you mean"));
}
END_TEST

/* What is near in letters is not near in meaning: 1 s is no 10 s. */
START_TEST(another_number_is_never_suggested)
{
    ck_assert(choice_number("skin_surface_burn", 1, "10_sc") < 0);
    ck_assert_ptr_nonnull(strstr(fault.text, "did you mean 10_s?"));
    ck_assert(choice_number("skin_surface_burn", 1, "5s") < 0);
    ck_assert_ptr_nonnull(strstr(fault.text, "it is 1_s, 10_s, 1_min, 10_min or 8_h"));
}
END_TEST

START_TEST(blanks_that_part_a_word_are_seen)
{
    refused("water_c|=|20", ST_REFUSED, "no blanks around \"=\"; write water_c=20");
    refused("water_c=|20", ST_REFUSED, "write water_c=20");
    refused("water_c|=20", ST_REFUSED, "write water_c=20");
    refused("water=68|degF", ST_REFUSED, "write water=68degF");
    refused("kind=by|weight", ST_REFUSED, "write kind=by_weight");
}
END_TEST

START_TEST(water_is_also_given_by_volume)
{
    ck_assert_msg(make(&ECHO_FIVE, "water=20L|water_c=20|kind=none|rise_k=1|factor=1") == ST_OK, "%s",
                  fault.text);
    ck_assert_int_eq(handbook_call_row(&call, 0, in, out), ST_OK);
    ck_near(out[1], 20 * 0.9982, 1e-9);
    ck_assert(handbook_is_water(&call.inputs[1]) && !handbook_is_water(&call.inputs[0]));
    refused("water=60L", ST_RANGE, "60 L is outside the range of this function, 0 to 50 kg");
    refused("water_kg=20L", ST_RANGE, "write water=20L");
}
END_TEST

START_TEST(a_ratio_is_taken_as_it_is_said)
{
    const struct handbook_entry *entry = handbook_find("ratio_strength");

    ck_assert_msg(make(entry, "2:1 by weight") == ST_OK, "%s", fault.text);
    ck_assert_int_eq(handbook_call_row(&call, 0, in, out), ST_OK);
    ck_near(out[0], 200.0 / 3, 1e-9);
    ck_assert_int_eq(make(entry, "1:2|by_weight,|water|first"), ST_OK);
    ck_assert_int_eq(handbook_call_row(&call, 0, in, out), ST_OK);
    ck_near(out[0], 200.0 / 3, 1e-9);
    ck_assert_int_eq(make(entry, "2:1"), ST_RANGE);
    ck_assert_int_eq(make(entry, "first=2|second=1|basis=by_weight"), ST_OK);
    ck_assert(call.inputs[3].is_left_out);
    ck_near(call.inputs[3].value.from, handbook_choice_find(&entry->inputs[3], "sugar first"), 0);
}
END_TEST

START_TEST(only_the_guard_band_and_the_order_may_be_left_out)
{
    ck_assert_int_eq(
        make(handbook_find("decision_conformity"), "measured=62|target=62|tolerance=1|expanded_u=.2"), ST_OK);
    ck_near(call.inputs[4].value.from, 1, 0);
    ck_assert(call.inputs[4].is_left_out && !call.inputs[3].is_left_out);
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++)
            for (const struct handbook_quantity *q = e->inputs; q->name != NULL; q++) {
                double usual = -1;

                if (handbook_left_out(e, q, &usual))
                    ck_assert(strcmp(q->name, "guard") == 0 || strcmp(q->name, "order") == 0);
            }
}
END_TEST

/* A refusal shows what the function takes. */
START_TEST(the_examples_of_refusals_are_taken_by_their_function)
{
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++)
            for (const struct handbook_quantity *q = e->inputs; q->name != NULL; q++) {
                struct handbook_hint hint;
                struct handbook_value value = {0};

                handbook_hint_make(e, q, &hint);
                ck_assert_int_eq(strncmp(hint.value, q->name, strlen(q->name)), 0);
                if (q->choice != NULL)
                    continue;
                ck_assert_int_eq(
                    handbook_value_parse(q->name, strchr(hint.range, '=') + 1, &hint, &value, &fault), ST_OK);
                ck_assert_msg(value.from >= q->min && value.to <= q->max && value.from < value.to, "%s",
                              hint.range);
            }
}
END_TEST

START_TEST(below_the_burn_times_the_refusal_promises_nothing)
{
    ck_assert_int_eq(make(handbook_find("skin_burn_time"), "temp_c=43|degree=2|person=adult"), ST_RANGE);
    ck_assert_ptr_nonnull(strstr(fault.text, "a long contact burns below it too"));
    ck_assert_int_eq(make(handbook_find("skin_burn_time"), "temp_c=120|degree=2|person=adult"), ST_RANGE);
    ck_assert_ptr_null(strstr(fault.text, "long contact"));
}
END_TEST

START_TEST(outside_the_range_the_range_is_said_in_the_unit_asked)
{
    refused("water_c=101", ST_RANGE, "101 degC is outside the range of this function, 0 to 100 degC");
    refused("water=213degF", ST_RANGE, "32 to 212 degF");
    refused("water=111 lb", ST_RANGE, "0 to 110.2311 lb");
    refused("factor=0.4", ST_RANGE, "0.5 to 2");
    ck_assert_int_eq(make(&ECHO_FIVE, "water=110.2311lb|water_c=100|kind=none|rise_k=1|factor=1"), ST_OK);
}
END_TEST

START_TEST(one_range_makes_a_row_a_value_and_two_make_a_grid)
{
    ck_assert_int_eq(make(&ECHO_FIVE, "water=32..212/90degF|water_kg=1..2/0.5|kind=none|rise_k=1|factor=1"),
                     ST_OK);
    ck_assert_int_eq(call.rows, 9);
    ck_assert_int_eq(handbook_call_row(&call, 0, in, out), ST_OK);
    ck_near(in[0], 0, 1e-9);
    ck_assert_int_eq(handbook_call_row(&call, 5, in, out), ST_OK);
    ck_near(in[0], 50, 1e-9);
    ck_near(in[1], 2, 0);
    ck_near(handbook_call_value(&call, 0, 5), 122, 0); /* as it was written */
    refused("water_c=0..100/1|water_kg=0..50/0.5|kind=none|rise_k=1|factor=1", ST_RANGE, "10201 rows");
    refused("water_c=0..1/1|water_kg=0..1/1|kind=none|rise_k=0..1/1|factor=1", ST_REFUSED, "third range");
}
END_TEST

START_TEST(a_row_out_of_range_is_refused_alone)
{
    out[0] = out[1] = -77;
    ck_assert_int_eq(make(&ECHO_FIVE, "water=-500..100/300degC|water_kg=1|kind=none|rise_k=1|factor=1"),
                     ST_OK);
    ck_assert_int_eq(handbook_call_row(&call, 0, in, out), ST_RANGE);
    ck_assert_int_eq(make(&ECHO_FIVE, "water=-500..100/300degF|water_kg=1|kind=none|rise_k=1|factor=1"),
                     ST_OK);
    ck_assert_int_eq(handbook_call_row(&call, 0, in, out), ST_RANGE); /* colder than cold */
    ck_near(out[0], -77, 0);
    ck_assert_int_eq(handbook_call_row(&call, 2, in, out), ST_OK);
}
END_TEST

/* So that an input of every function can be given in a unit of one's own. */
START_TEST(the_name_of_every_input_ends_in_its_unit)
{
    char stem[HANDBOOK_WORD_NAME_MAX];

    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++)
            for (const struct handbook_quantity *q = e->inputs; q->name != NULL; q++) {
                size_t length = strlen(q->name);

                handbook_stem(q, stem);
                ck_assert_msg(length < sizeof stem, "%s, %s: too long", e->name, q->name);
                ck_assert_msg(!has_unit(q) || strlen(stem) < length || strcmp(q->name, "ph") == 0,
                              "%s: %s does not end in its unit, %s", e->name, q->name, q->unit);
            }
}
END_TEST

START_TEST(the_limits_that_are_printed_are_taken)
{
    const struct handbook_quantity odd = {"mass_kg", "kg", 1.0 / 3, 2000.0 / 3, NULL};
    double min;
    double max;

    handbook_limits(&odd, NULL, &min, &max);
    ck_assert(min >= odd.min && max <= odd.max);
    ck_near(min, 0.3333334, 1e-12);
    ck_near(max, 666.6666, 1e-9);
    handbook_limits(&odd, unit_find("lb"), &min, &max);
    ck_near(max, 1469.748, 1.1e-3);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("handbook call");
    TCase *all = tcase_create("all");

    tcase_add_test(all, inputs_are_given_by_their_name_or_without_it_by_their_unit);
    tcase_add_test(all, a_unit_against_the_name_is_a_contradiction);
    tcase_add_test(all, a_wrong_kind_of_unit_is_refused_by_kind);
    tcase_add_test(all, what_is_unknown_missing_or_said_twice_is_a_wrong_command_line);
    tcase_add_test(all, a_choice_is_taken_by_its_name);
    tcase_add_test(all, a_choice_is_known_by_its_label_and_by_its_beginning);
    tcase_add_test(all, another_number_is_never_suggested);
    tcase_add_test(all, blanks_that_part_a_word_are_seen);
    tcase_add_test(all, water_is_also_given_by_volume);
    tcase_add_test(all, a_ratio_is_taken_as_it_is_said);
    tcase_add_test(all, only_the_guard_band_and_the_order_may_be_left_out);
    tcase_add_test(all, the_examples_of_refusals_are_taken_by_their_function);
    tcase_add_test(all, below_the_burn_times_the_refusal_promises_nothing);
    tcase_add_test(all, outside_the_range_the_range_is_said_in_the_unit_asked);
    tcase_add_test(all, one_range_makes_a_row_a_value_and_two_make_a_grid);
    tcase_add_test(all, a_row_out_of_range_is_refused_alone);
    tcase_add_test(all, the_name_of_every_input_ends_in_its_unit);
    tcase_add_test(all, the_limits_that_are_printed_are_taken);
    suite_add_tcase(suite, all);
    return suite;
}
