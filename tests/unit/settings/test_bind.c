#include "settings/bind.h"
#include "support/support.h"

#include <stdlib.h>
#include <string.h>

struct inner {
    double warmth_c;
    double wait_s;
};

struct thing {
    double mass_kg;
    int count;
    int64_t seed;
    bool is_open;
    char name[8];
    int colour;
    char letter;
    char path[32];
    double kept;
    struct inner inner;
};

static const struct bind_choice COLOURS[] = {{"red", 3}, {"green", 5}, {NULL, 0}};
static const struct bind_choice LETTERS[] = {{"even", 'E'}, {"odd", 'O'}, {NULL, 0}};

static const struct bind_row INNER_ROWS[] = {
    BIND_NUMBER("warmth_c", BIND_DECIMAL, struct inner, warmth_c, 0, 90, "40", "warmth"),
    BIND_NUMBER("wait", BIND_DURATION, struct inner, wait_s, 1, 7200, "15 min", "waiting"),
    {0}};

static const struct bind_row ROWS[] = {
    BIND_NUMBER("mass_kg", BIND_DECIMAL, struct thing, mass_kg, 1, 100, NULL, "its mass"),
    BIND_NUMBER("count", BIND_INTEGER, struct thing, count, 0, 10, "3", "how many"),
    BIND_NUMBER("seed", BIND_INTEGER, struct thing, seed, 0, 9e15, "1", "of the random numbers"),
    {"open", BIND_YES_NO, BIND_AT(struct thing, is_open), .standard = "no", .help = "whether it is open"},
    {"name", BIND_TEXT, BIND_AT(struct thing, name), .min = 2, .standard = "none", .help = "its name"},
    {"colour", BIND_CHOICE, BIND_AT(struct thing, colour), .choices = COLOURS, .standard = "green",
     .help = "its colour"},
    {"letter", BIND_CHOICE, BIND_AT(struct thing, letter), .choices = LETTERS, .standard = "odd",
     .help = "its letter"},
    {"path", BIND_PATH, BIND_AT(struct thing, path), .standard = "", .help = "its place"},
    BIND_NUMBER("kept", BIND_DECIMAL, struct thing, kept, 0, 100, BIND_KEEP, "kept when not given"),
    {"inner", BIND_SECTION, BIND_AT(struct thing, inner), .standard = BIND_OPTIONAL, .rows = INNER_ROWS,
     .help = "the inner part"},
    {"events", BIND_LIST, 0, 0, .standard = BIND_OPTIONAL, .help = "what happens"},
    {0}};

static struct settings_errors errors;
static struct thing thing;

static void bind_text(const char *text)
{
    const struct bind bind = {"t.yaml", "/folder", &errors};
    struct yaml_tree *tree = NULL;

    memset(&thing, 0, sizeof thing);
    thing.kept = 7;
    errors.count = 0;
    ck_assert_int_eq(yaml_tree_parse(text, strlen(text), "t.yaml", &errors, &tree), ST_OK);
    bind_map(&bind, tree->root, ROWS, &thing);
    yaml_tree_free(tree);
}

START_TEST(every_type_finds_its_field)
{
    bind_text("mass_kg: 25.5\ncount: 4\nseed: 8000000000\nopen: yes\nname: Ada\ncolour: red\nletter: even\n"
              "path: sub/x\nkept: 8\ninner:\n  warmth_c: 55\n  wait: 1 h 30 min\nevents: []\n");
    ck_assert_msg(errors.count == 0, "%s", errors.errors[0].text);
    ck_near(thing.mass_kg, 25.5, 0);
    ck_assert_int_eq(thing.count, 4);
    ck_assert_int_eq(thing.seed, 8000000000);
    ck_assert(thing.is_open);
    ck_assert_str_eq(thing.name, "Ada");
    ck_assert_int_eq(thing.colour, 3);
    ck_assert_int_eq(thing.letter, 'E');
    ck_assert_str_eq(thing.path, "/folder/sub/x");
    ck_near(thing.kept, 8, 0);
    ck_near(thing.inner.warmth_c, 55, 0);
    ck_near(thing.inner.wait_s, 5400, 0);
}
END_TEST

START_TEST(defaults_fill_what_is_not_given)
{
    bind_text("mass_kg: 2\n");
    ck_assert_int_eq(errors.count, 0);
    ck_assert_int_eq(thing.count, 3);
    ck_assert_int_eq(thing.seed, 1);
    ck_assert_str_eq(thing.name, "none");
    ck_assert_int_eq(thing.colour, 5);
    ck_assert_int_eq(thing.letter, 'O');
    ck_assert_str_eq(thing.path, "");
    ck_near(thing.kept, 7, 0);
    ck_near(thing.inner.wait_s, 900, 0);
}
END_TEST

static const struct {
    const char *line; /* after "mass_kg: 2" */
    const char *says[3];
} BAD[] = {
    {"count: 4.5", {"count: found 4.5", "whole number is needed", "from 0 to 10 (how many)"}},
    {"count: 11", {"count: found 11; allowed", "from 0 to 10", ""}},
    {"count: \"4\"", {"found \"4\"", "stands in quotes", ""}},
    {"count: [4]", {"found a list", "a single value", ""}},
    {"count:", {"nothing is written here", "", ""}},
    {"count: ~", {"nothing is written here", "", ""}},
    {"kept: 40,5", {"found 40,5", "write 40.5", "a number from 0 to 100"}},
    {"kept: nan", {"not a number", "", ""}},
    {"open: maybe", {"neither yes nor no", "allowed: yes or no", ""}},
    {"name: x", {"too short", "2 to 7 bytes", ""}},
    {"name: toolongname", {"too long", "", ""}},
    {"name: \"a\\nb\"", {"line break", "", ""}},
    {"name: null", {"write \"\"", "", ""}},
    {"name: ${HOME}", {"paths and ports only", "", ""}},
    {"colour: rde", {"one of red, green", "", ""}},
    {"path: ~/x", {"write the whole path", "", ""}},
    {"path: /aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa", {"too long", "", ""}},
    {"cuont: 4", {"cuont: unknown key", "did you mean \"count\"", ""}},
    {"nmae: Ada", {"did you mean \"name\"", "", ""}},
    {"whatever: 4", {"allowed here: mass_kg, count", "", ""}},
    {"inner: 5", {"found a single value", "lines (the inner part)", ""}},
    {"inner: {wait: 90}", {"inner.wait: found 90", "unit is missing", "from 1 s to 2 h"}},
    {"inner: {wait: 3 h}", {"found 3 h; allowed", "", ""}},
    {"inner: {warm_c: 3}", {"inner.warm_c", "did you mean \"warmth_c\"", ""}},
    {"events: {a: 1}", {"allowed: a list", "what happens", ""}},
};

START_TEST(one_wrong_line_gives_one_error_with_all_it_needs)
{
    char text[128];

    (void)snprintf(text, sizeof text, "mass_kg: 2\n%s\n", BAD[_i].line);
    bind_text(text);
    ck_assert_msg(errors.count == 1, "%s gave %d errors", BAD[_i].line, errors.count);
    ck_assert_str_eq(errors.errors[0].where, "t.yaml:2");
    for (int i = 0; i < 3; i++)
        ck_assert_msg(BAD[_i].says[i] == NULL || strstr(errors.errors[0].text, BAD[_i].says[i]) != NULL,
                      "%s: %s", BAD[_i].line, errors.errors[0].text);
}
END_TEST

START_TEST(a_missing_key_is_named_with_what_it_takes)
{
    bind_text("count: 1\n");
    ck_assert_int_eq(errors.count, 1);
    ck_assert_str_eq(errors.errors[0].text,
                     "the key \"mass_kg\" is missing; allowed: a number from 1 to 100 (its mass).");
}
END_TEST

START_TEST(a_value_the_tree_refused_is_not_reported_twice)
{
    bind_text("mass_kg: *x\n");
    ck_assert_int_eq(errors.count, 1);
}
END_TEST

START_TEST(more_errors_than_fit_are_still_counted)
{
    char text[4096];
    size_t used = (size_t)snprintf(text, sizeof text, "mass_kg: 2\n");

    for (int i = 0; i < SETTINGS_ERRORS_MAX + 9; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, "unheardof%d: 1\n", i);
    bind_text(text);
    ck_assert_int_eq(errors.count, SETTINGS_ERRORS_MAX + 9);
}
END_TEST

START_TEST(what_is_printed_binds_back_to_the_same_struct)
{
    struct thing before;
    char *text = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&text, &length);

    bind_text("mass_kg: 0.1e2\nname: 'a\"\\b'\ncolour: red\nletter: even\npath: x\ninner: {wait: 95 s}\n");
    ck_assert_int_eq(errors.count, 0);
    ck_assert_str_eq(thing.name, "a\"\\b");
    before = thing;
    bind_print(ROWS, &thing, 0, to);
    ck_assert_int_eq(fclose(to), 0);
    bind_text(text);
    ck_assert_msg(errors.count == 0, "%s", errors.errors[0].text);
    ck_near(thing.mass_kg, before.mass_kg, 0);
    ck_assert_str_eq(thing.name, before.name);
    ck_assert_int_eq(thing.colour, before.colour);
    ck_assert_int_eq(thing.letter, before.letter);
    ck_assert_str_eq(thing.path, before.path);
    ck_near(thing.inner.wait_s, 95, 0);
    free(text);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("bind");
    TCase *tests = tcase_create("rows");

    tcase_add_test(tests, every_type_finds_its_field);
    tcase_add_test(tests, defaults_fill_what_is_not_given);
    tcase_add_loop_test(tests, one_wrong_line_gives_one_error_with_all_it_needs, 0,
                        (int)(sizeof BAD / sizeof BAD[0]));
    tcase_add_test(tests, a_missing_key_is_named_with_what_it_takes);
    tcase_add_test(tests, a_value_the_tree_refused_is_not_reported_twice);
    tcase_add_test(tests, more_errors_than_fit_are_still_counted);
    tcase_add_test(tests, what_is_printed_binds_back_to_the_same_struct);
    suite_add_tcase(suite, tests);
    return suite;
}
