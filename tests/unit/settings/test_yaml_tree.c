#include "settings/yaml_tree.h"
#include "support/folder.h"
#include "support/support.h"

#include <stdlib.h>
#include <string.h>

static struct settings_errors errors;
static struct yaml_tree *tree;

static void parse(const char *text)
{
    enum status st;

    yaml_tree_free(tree);
    errors.count = 0;
    st = yaml_tree_parse(text, strlen(text), "t.yaml", &errors, &tree);
    ck_assert_msg((st == ST_OK) == (tree != NULL), "a tree exactly when it is usable");
    ck_assert_msg(st == ST_OK || errors.count > 0, "every refusal has a sentence");
}

static void release(void)
{
    yaml_tree_free(tree);
    tree = NULL;
}

START_TEST(maps_lists_and_scalars_know_their_lines)
{
    const struct yaml_node *b;
    char path[64];

    parse("a: 1\nb:\n  c: \"x y\"\n  d:\n    - 5\n    - {e: yes}\n");
    ck_assert_int_eq(errors.count, 0);
    ck_assert_str_eq(yaml_node_find(tree->root, "a")->text, "1");
    b = yaml_node_find(tree->root, "b");
    ck_assert_int_eq(b->line, 2);
    ck_assert_int_eq(yaml_node_find(b, "c")->line, 3);
    ck_assert_int_eq(yaml_node_find(b, "c")->column, 3);
    ck_assert(yaml_node_find(b, "c")->is_quoted);
    ck_assert_int_eq(yaml_node_find(b, "d")->last->line, 6);
    yaml_node_path(yaml_node_find(yaml_node_find(b, "d")->last, "e"), path, sizeof path);
    ck_assert_str_eq(path, "b.d[2].e");
    ck_assert_ptr_null(yaml_node_find(b, "zzz"));
    ck_assert_ptr_null(yaml_node_find(NULL, "a"));
    ck_assert_ptr_eq(yaml_node_nearest(tree->root, "b.c.d"), yaml_node_find(b, "c"));
    ck_assert_ptr_eq(yaml_node_nearest(tree->root, "q.c"), tree->root);
}
END_TEST

static const struct {
    const char *text;
    const char *where;
    const char *says;
    bool is_usable; /* the rest can still be checked */
} REFUSED[] = {
    {"a: 1\nb: 2\na: 3\n", "t.yaml:3", "already set on line 1", true},
    {"a: {b: 1, b: 2}\n", "t.yaml:1", "a second time", true},
    {"a: 1\n---\nb: 2\n", "t.yaml:2", "second document", false},
    {"a: &x 1\n", "t.yaml:1", "anchors (&x)", true},
    {"a: 1\nb: *x\n", "t.yaml:2", "aliases (*x)", true},
    {"a: &x {c: 1}\nb: 2\n", "t.yaml:1", "anchors", true},
    {"a: !!str 5\n", "t.yaml:1", "tags", true},
    {"a: !mine [5]\n", "t.yaml:1", "tags (!mine)", true},
    {"%TAG ! tag:x,2000:\n---\na: 1\n", "t.yaml:1", "%TAG", true},
    {"? [a, b]\n: 1\n", "t.yaml:1", "one word", false},
    {"*x : 1\n", "t.yaml:1", "aliases", false},
    {"\"\": 1\n", "t.yaml:1", "key is empty", false},
    {"", "t.yaml:1", "empty", false},
    {"# nothing\n", "t.yaml:1", "empty", false},
    {"- a\n- b\n", "t.yaml:1", "key: value", false},
    {"just words\n", "t.yaml:1", "key: value", false},
    {"a: 1\n\tb: 2\n", "t.yaml:2", "never tabs", false},
    {"a: [1, 2\nb: 3\n", "t.yaml:2", "not valid YAML", false},
    {"a: \"x\\0y\"\n", "t.yaml:1", "not plain text", false},
    {"a: 1\nb: \"\xff\xfe\"\n", "t.yaml:2", "UTF-8", false},
    {"a: {b: {c: {d: {e: {f: {g: {h: {i: {j: {k: {l: {m: 1}}}}}}}}}}}}\n", "t.yaml:1", "too deeply", false},
};

START_TEST(what_yaml_allows_and_we_do_not_is_refused_with_its_line)
{
    parse(REFUSED[_i].text);
    ck_assert_msg(errors.count == 1, "%s gave %d errors", REFUSED[_i].text, errors.count);
    ck_assert_msg(strstr(errors.errors[0].text, REFUSED[_i].says) != NULL, "%s: %s", REFUSED[_i].text,
                  errors.errors[0].text);
    ck_assert_msg((tree != NULL) == REFUSED[_i].is_usable, "%s", REFUSED[_i].text);
    ck_assert_str_eq(errors.errors[0].where, REFUSED[_i].where);
}
END_TEST

START_TEST(the_first_of_two_equal_keys_is_kept)
{
    parse("a: 1\na: {x: *y}\nb: 2\n");
    ck_assert_int_eq(errors.count, 2);
    ck_assert_str_eq(yaml_node_find(tree->root, "a")->text, "1");
    ck_assert_str_eq(yaml_node_find(tree->root, "b")->text, "2");
}
END_TEST

START_TEST(too_many_entries_are_refused)
{
    static char text[8 * (YAML_TREE_NODES_MAX + 1)];

    memcpy(text, "a:\n", 3);
    for (size_t i = 0; i < YAML_TREE_NODES_MAX; i++)
        memcpy(text + 3 + 4 * i, "- 1\n", 4);
    parse(text);
    ck_assert_ptr_null(tree);
    ck_assert_ptr_nonnull(strstr(errors.errors[0].text, "too many"));
}
END_TEST

START_TEST(a_file_that_is_not_there_or_too_large_is_refused)
{
    char path[TEST_FOLDER_MAX];
    FILE *to;

    (void)test_folder_template(path, "sw-large");
    to = fdopen(mkstemp(path), "w");
    errors.count = 0;
    ck_assert_int_eq(yaml_tree_read("/nowhere/at/all.yaml", &errors, &tree), ST_SETTINGS);
    ck_assert_ptr_nonnull(strstr(errors.errors[0].text, "No such file"));
    ck_assert_ptr_nonnull(to);
    for (size_t i = 0; i < YAML_TREE_BYTES_MAX / 16 + 1; i++)
        ck_assert_int_gt(fprintf(to, "# comment here.\n"), 0);
    ck_assert_int_eq(fclose(to), 0);
    ck_assert_int_eq(yaml_tree_read(path, &errors, &tree), ST_SETTINGS);
    ck_assert_ptr_nonnull(strstr(errors.errors[1].text, "larger than 256 KiB"));
    ck_assert_int_eq(remove(path), 0);
}
END_TEST

START_TEST(a_folder_is_not_a_file)
{
    errors.count = 0;
    ck_assert_int_eq(yaml_tree_read("/tmp", &errors, &tree), ST_SETTINGS);
    ck_assert_int_eq(errors.count, 1);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("yaml_tree");
    TCase *tests = tcase_create("tree");

    tcase_add_checked_fixture(tests, NULL, release);
    tcase_add_test(tests, maps_lists_and_scalars_know_their_lines);
    tcase_add_loop_test(tests, what_yaml_allows_and_we_do_not_is_refused_with_its_line, 0,
                        (int)(sizeof REFUSED / sizeof REFUSED[0]));
    tcase_add_test(tests, the_first_of_two_equal_keys_is_kept);
    tcase_add_test(tests, too_many_entries_are_refused);
    tcase_add_test(tests, a_file_that_is_not_there_or_too_large_is_refused);
    tcase_add_test(tests, a_folder_is_not_a_file);
    suite_add_tcase(suite, tests);
    return suite;
}
