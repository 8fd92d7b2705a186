/* The handbook as it is printed: every function explains itself, and its example works. */
#include "client/handbook_show.h"
#include "support/support.h"

#include <stdlib.h>
#include <string.h>

/* The client is a program, not a library. */
#include "client/handbook_call.c"     // NOLINT(bugprone-suspicious-include)
#include "client/handbook_choice.c"   // NOLINT(bugprone-suspicious-include)
#include "client/handbook_example.c"  // NOLINT(bugprone-suspicious-include)
#include "client/handbook_json.c"     // NOLINT(bugprone-suspicious-include)
#include "client/handbook_markdown.c" // NOLINT(bugprone-suspicious-include)
#include "client/handbook_names.c"    // NOLINT(bugprone-suspicious-include)
#include "client/handbook_page.c"     // NOLINT(bugprone-suspicious-include)
#include "client/handbook_search.c"   // NOLINT(bugprone-suspicious-include)
#include "client/handbook_show.c"     // NOLINT(bugprone-suspicious-include)
#include "client/handbook_table.c"    // NOLINT(bugprone-suspicious-include)
#include "client/handbook_take.c"     // NOLINT(bugprone-suspicious-include)
#include "client/handbook_usual.c"    // NOLINT(bugprone-suspicious-include)
#include "client/handbook_value.c"    // NOLINT(bugprone-suspicious-include)
#include "client/handbook_words.c"    // NOLINT(bugprone-suspicious-include)

static char *text;
static size_t text_size;
static FILE *to;

static void begin(void)
{
    to = open_memstream(&text, &text_size);
    ck_assert_ptr_nonnull(to);
}

static void end(void)
{
    ck_assert_int_eq(fclose(to), 0);
}

static void has(const char *part)
{
    ck_assert_msg(strstr(text, part) != NULL, "\"%s\" is missing in:\n%s", part, text);
}

/* The words behind "syrupwright handbook NAME". */
static void call_from(const char *example, struct handbook_call *call)
{
    static char copy[HANDBOOK_EXAMPLE_MAX];
    const char *words[3 + HANDBOOK_INPUTS_MAX] = {NULL};
    char *rest = copy;
    int count = 0;
    struct fault f;

    (void)snprintf(copy, sizeof copy, "%s", example);
    while (rest != NULL && count < 3 + HANDBOOK_INPUTS_MAX)
        words[count++] = strsep(&rest, " ");
    ck_assert_ptr_null(rest);
    ck_assert_str_eq(words[0], "syrupwright");
    ck_assert_str_eq(words[1], "handbook");
    ck_assert_ptr_nonnull(handbook_find(words[2]));
    ck_assert_msg(handbook_call_make(handbook_find(words[2]), words + 3, count - 3, call, &f) == ST_OK,
                  "%s: %s", example, f.text);
}

static void example_check(const struct handbook_entry *entry)
{
    char example[HANDBOOK_EXAMPLE_MAX];
    struct handbook_call call;
    double in[HANDBOOK_INPUTS_MAX];
    double out[HANDBOOK_OUTPUTS_MAX];

    ck_assert_msg(handbook_example(entry, example), "%s has no example that works", entry->name);
    ck_assert_uint_lt(strlen(example), sizeof example - 1);
    call_from(example, &call);
    ck_assert_msg(handbook_call_row(&call, 0, in, out) == ST_OK, "%s", example);
    begin();
    handbook_entry_print(entry, to);
    handbook_point_print(&call, in, out, to);
    end();
    has(example);
    for (const struct handbook_quantity *q = entry->outputs; q->name != NULL; q++)
        has(q->name);
    free(text);
}

START_TEST(every_function_explains_itself_with_an_example_that_works)
{
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++)
            example_check(e);
}
END_TEST

START_TEST(the_list_has_every_function_under_its_section)
{
    json_t *list = handbook_list_json(NULL);
    size_t functions = 0;
    const json_t *section;
    size_t i;

    ck_assert_int_eq(setenv("COLUMNS", "500", 1), 0); /* every line whole */
    begin();
    handbook_list_print(NULL, to);
    end();
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++) {
        has(s->title);
        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++, functions++)
            has(e->words);
    }
    json_array_foreach(json_object_get(list, "sections"), i, section)
        functions -= json_array_size(json_object_get(section, "functions"));
    ck_assert_uint_eq(functions, 0);
    ck_assert_int_eq(unsetenv("COLUMNS"), 0);
    json_decref(list);
    free(text);
}
END_TEST

START_TEST(a_list_about_something_has_only_what_is_about_it)
{
    json_t *list = handbook_list_json("BOILING");
    const json_t *section = json_array_get(json_object_get(list, "sections"), 0);

    begin();
    handbook_list_print("BOILING", to);
    end();
    has("flow, heat and boiling");
    has("sucrose_boiling_rise");
    ck_assert(strstr(text, "sucrose_density") == NULL && strstr(text, "Burns") == NULL);
    ck_assert_uint_eq(json_array_size(json_object_get(list, "sections")), 1);
    ck_assert_uint_ge(json_array_size(json_object_get(section, "functions")), 7);
    json_decref(list);
    free(text);
}
END_TEST

START_TEST(an_example_has_values_that_are_usual_at_work)
{
    char example[HANDBOOK_EXAMPLE_MAX];

    ck_assert(handbook_example(handbook_find("blend_thin"), example));
    ck_assert_str_eq(example, "syrupwright handbook blend_thin syrup_kg=500 from_pct=67 to_pct=60");
    ck_assert(handbook_example(handbook_find("unit_convert"), example));
    ck_assert_str_eq(example, "syrupwright handbook unit_convert value=10 from=US_gal to=L");
    ck_assert(handbook_example(handbook_find("sucrose_mix_temp"), example));
    ck_assert_str_eq(example,
                     "syrupwright handbook sucrose_mix_temp sugar_kg=500 sugar_c=20 water_kg=300 water_c=60");
}
END_TEST

/* Each input has its usual value, and the function takes them together. */
START_TEST(usual_values_are_known_for_every_input_and_go_together)
{
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++) {
            double in[HANDBOOK_INPUTS_MAX] = {0};
            double out[HANDBOOK_OUTPUTS_MAX];

            for (size_t i = 0; e->inputs[i].name != NULL; i++) {
                bool is_known = handbook_usual(e, &e->inputs[i], &in[i]);

                if (!is_known)
                    in[i] = e->inputs[i].min;
                ck_assert_msg(is_known || e->inputs[i].choice != NULL, "%s, %s: no usual value", e->name,
                              e->inputs[i].name);
            }
            ck_assert_msg(handbook_eval(e, in, out) == ST_OK, "%s refuses its usual values", e->name);
        }
}
END_TEST

START_TEST(a_result_has_unit_range_source_and_error)
{
    struct handbook_call call;
    double in[HANDBOOK_INPUTS_MAX];
    double out[HANDBOOK_OUTPUTS_MAX];
    json_t *json;
    const json_t *result;

    call_from("syrupwright handbook sucrose_density strength=62.5% temp=68degF", &call);
    ck_assert_int_eq(handbook_call_row(&call, 0, in, out), ST_OK);
    begin();
    handbook_point_print(&call, in, out, to);
    end();
    has("20 degC = 68 degF");
    has("density_kg_m3            1301."); /* 1301.4 to 1301.5 by any table */
    has(" kg/m3\n");                       /* its range is in the explanation */
    has("Source  ");
    has("Expected error  ");
    free(text);
    json = handbook_point_json(&call, in, out);
    result = json_array_get(json_object_get(json, "results"), 0);
    ck_near(json_number_value(json_object_get(result, "value")), out[0], 0);
    ck_assert_str_eq(json_string_value(json_object_get(result, "unit")), "kg/m3");
    ck_assert_ptr_nonnull(json_object_get(json, "source"));
    ck_assert_ptr_nonnull(json_object_get(json, "expected_error"));
    result = json_array_get(json_object_get(json, "inputs"), 1);
    ck_near(json_number_value(json_object_get(result, "value")), 20, 1e-9);
    ck_near(json_number_value(json_object_get(json_object_get(result, "given"), "value")), 68, 0);
    json_decref(json);
}
END_TEST

START_TEST(a_table_has_a_row_a_value_and_says_which_are_out_of_range)
{
    struct handbook_call call;
    json_t *json;
    const json_t *row;
    int outside = -1;

    call_from("syrupwright handbook sucrose_density strength_pct=0..100/50 temp=32..122/90degF", &call);
    begin();
    handbook_table_print(&call, to, &outside);
    end();
    ck_assert_int_eq(outside, 2);
    has("  strength_pct  temp  density_kg_m3\n");
    has("             %  degF          kg/m3\n");
    has("           100   122  out of range\n");
    free(text);
    json = handbook_table_json(&call, &outside);
    ck_assert_int_eq(outside, 2);
    ck_assert_uint_eq(json_array_size(json_object_get(json, "rows")), 6);
    row = json_array_get(json_object_get(json, "rows"), 5);
    ck_assert(json_is_null(json_object_get(row, "density_kg_m3")));
    ck_near(json_number_value(json_object_get(row, "temp_c")), 50, 1e-9);
    ck_assert(
        json_is_real(json_object_get(json_array_get(json_object_get(json, "rows"), 0), "density_kg_m3")));
    json_decref(json);
}
END_TEST

/* The lines of a table of this call. */
static void table_from(const char *example)
{
    struct handbook_call call;
    int outside = -1;

    call_from(example, &call);
    begin();
    handbook_table_print(&call, to, &outside);
    end();
}

START_TEST(columns_are_as_wide_as_what_stands_in_them)
{
    table_from("syrupwright handbook decision_conformity measured=61..64/0.5 target=62.5 tolerance=1 "
               "expanded_u=0.4 guard=1");
    has("  measured  decision\n");
    has("        61  does-not-conform\n");
    has("      62.5  conforms\n");
    free(text);
    table_from("syrupwright handbook sucrose_mix_volume sugar_kg=500 water=100..300/100L temp_c=20");
    has("  water  volume_l\n");
    has("A litre of water is taken for 0.9982 kg");
    free(text);
    table_from("syrupwright handbook skin_burn_time temp_c=44..45/1 degree=second person=adult");
    has("  temp_c");
    has("Warn with low.");
    free(text);
}
END_TEST

START_TEST(a_step_that_does_not_meet_the_end_is_said)
{
    table_from("syrupwright handbook sucrose_density strength_pct=0..85/10 temp_c=0..20/10");
    has("strength_pct ends at 80; the next step would pass 85.\n");
    ck_assert_ptr_null(strstr(text, "temp_c ends"));
    free(text);
}
END_TEST

START_TEST(a_span_has_three_digits_and_other_results_seven)
{
    char number[HANDBOOK_WORD_NAME_MAX];
    const struct handbook_entry *span = handbook_find("skin_burn_time");

    ck_assert_str_eq(handbook_result_print(span, 0, 0.0123456, number), "0.0123");
    ck_assert_str_eq(handbook_result_print(span, 2, 21600, number), "21600");
    ck_assert_str_eq(handbook_result_print(span, 1, 12345.6, number), "12300");
    ck_assert_str_eq(handbook_result_print(handbook_find("decision_acceptance"), 0, 61.23456, number),
                     "61.23456");
    ck_assert_str_eq(handbook_result_print(handbook_find("inversion_acid_rate"), 0, 1.23456, number),
                     "1.23456");
}
END_TEST

START_TEST(every_input_says_what_it_is)
{
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++)
            for (const struct handbook_quantity *q = e->inputs; q->name != NULL; q++)
                ck_assert_msg(handbook_meaning(e, q)[0] != '\0', "%s, %s: no words", e->name, q->name);
}
END_TEST

static void finds(const char *said, const char *name)
{
    begin();
    handbook_list_print(said, to);
    end();
    ck_assert_msg(strstr(text, name) != NULL, "%s does not find %s but\n%s", said, name, text);
    free(text);
}

START_TEST(people_find_what_they_call_otherwise)
{
    static const struct {
        const char *said;
        const char *name;
    } CASES[] = {{"brix", "sucrose_strength_from_index"},
                 {"sweetness", "sucrose_strength_from_density"},
                 {"Gallons", "unit_convert"},
                 {"pound", "ratio_strength"},
                 {"weight", "sucrose_density"},
                 {"hardness", "acid_alkalinity"},
                 {"flow", "sucrose_viscosity"},
                 {"fermentation", "sucrose_water_activity"},
                 {"sugar out", "sucrose_saturation_temp"},
                 {"crystallize", "sucrose_supersaturation"},
                 {"dilute", "blend_thin"},
                 {"citric", "acid_for_ph"},
                 {"yield", "sucrose_mix_volume"},
                 {"boil", "sucrose_boiling_rise"},
                 {"altitude", "air_pressure"},
                 {"burn", "skin_contact_time"},
                 {"scald", "skin_burn_time"},
                 {"refractometer", "sucrose_strength_from_index"},
                 {"syrup_density", "sucrose_density"},
                 {"density syrup", "sucrose_density"},
                 {"by_weight", "ratio_strength"},
                 {"tolerance", "decision_conformity"},
                 {"Water and acid", "acid_pk"},
                 {"heat and skin", "skin_cem43"}};

    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++)
        finds(CASES[i].said, CASES[i].name);
    ck_assert(!handbook_is_found("nonsense"));
    ck_assert(!handbook_is_found("boiling nonsense"));
}
END_TEST

/* Letters of the longest line, but for the example, which is one line to copy. */
static size_t longest_line(void)
{
    size_t longest = 0;

    for (const char *line = text; *line != '\0'; line += strcspn(line, "\n"), line += *line == '\n')
        if (strncmp(line, "  syrupwright", 13) != 0 && strcspn(line, "\n") > longest)
            longest = strcspn(line, "\n");
    return longest;
}

START_TEST(no_line_is_wider_than_the_page)
{
    static const char *const WIDTHS[] = {"80", "60", "40", "200", "5"};

    for (size_t i = 0; i < sizeof WIDTHS / sizeof WIDTHS[0]; i++) {
        ck_assert_int_eq(setenv("COLUMNS", WIDTHS[i], 1), 0);
        begin();
        handbook_list_print(NULL, to);
        for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
            for (const struct handbook_entry *e = s->entries; e->name != NULL; e++)
                handbook_notes_print(e, to);
        end();
        ck_assert_msg(longest_line() <= (size_t)handbook_page_width(), "%zu at %s", longest_line(),
                      WIDTHS[i]);
        free(text);
    }
    ck_assert_int_eq(handbook_page_width(), 40);
    ck_assert_int_eq(unsetenv("COLUMNS"), 0);
    ck_assert_int_eq(setenv("COLUMNS", "80", 1), 0);
    begin();
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++)
            handbook_entry_print(e, to);
    end();
    ck_assert_uint_le(longest_line(), 80);
    free(text);
    ck_assert_int_eq(unsetenv("COLUMNS"), 0);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("handbook show");
    TCase *all = tcase_create("all");

    tcase_add_test(all, every_function_explains_itself_with_an_example_that_works);
    tcase_add_test(all, the_list_has_every_function_under_its_section);
    tcase_add_test(all, a_list_about_something_has_only_what_is_about_it);
    tcase_add_test(all, an_example_has_values_that_are_usual_at_work);
    tcase_add_test(all, usual_values_are_known_for_every_input_and_go_together);
    tcase_add_test(all, a_result_has_unit_range_source_and_error);
    tcase_add_test(all, a_table_has_a_row_a_value_and_says_which_are_out_of_range);
    tcase_add_test(all, columns_are_as_wide_as_what_stands_in_them);
    tcase_add_test(all, a_step_that_does_not_meet_the_end_is_said);
    tcase_add_test(all, a_span_has_three_digits_and_other_results_seven);
    tcase_add_test(all, every_input_says_what_it_is);
    tcase_add_test(all, people_find_what_they_call_otherwise);
    tcase_add_test(all, no_line_is_wider_than_the_page);
    suite_add_tcase(suite, all);
    return suite;
}
