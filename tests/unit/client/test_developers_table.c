/* The table of functions in DEVELOPERS.md is the handbook's own. */
#include "client/handbook_show.h"
#include "support/support.h"

#include <stdlib.h>
#include <string.h>

/* The client is a program, not a library. */
#include "client/handbook_markdown.c" // NOLINT(bugprone-suspicious-include)
#include "client/handbook_names.c"    // NOLINT(bugprone-suspicious-include)
#include "client/handbook_value.c"    // NOLINT(bugprone-suspicious-include)

#define BEGIN "\n<!-- handbook: begin -->\n"
#define END "<!-- handbook: end -->\n"
#define RENEW                                                                                                \
    "renew it: build/debug/syrupwright handbook --markdown | sed -i -e '/^<!-- handbook: b/,/^<!-- "         \
    "handbook: "                                                                                             \
    "e/{//!d}' -e '/^<!-- handbook: b/r /dev/stdin' DEVELOPERS.md"

static char page[262144];

static char *table_read(void)
{
    FILE *file = fopen(SOURCE_DIR "/DEVELOPERS.md", "r");
    char *begin;
    char *end;

    ck_assert_ptr_nonnull(file);
    page[fread(page, 1, sizeof page - 1, file)] = '\0';
    (void)fclose(file);
    begin = strstr(page, BEGIN);
    ck_assert_msg(begin != NULL, "DEVELOPERS.md has no line %s", BEGIN);
    begin += strlen(BEGIN);
    end = strstr(begin, END);
    ck_assert_msg(end != NULL, "DEVELOPERS.md has no line %s", END);
    *end = '\0';
    return begin;
}

START_TEST(the_table_in_developers_md_is_what_the_handbook_prints)
{
    char *written = table_read();
    char *text = NULL;
    size_t size = 0;
    FILE *to = open_memstream(&text, &size);
    char *rest;

    ck_assert_ptr_nonnull(to);
    handbook_markdown_print(to);
    ck_assert_int_eq(fclose(to), 0);
    rest = text;
    for (char *line = strsep(&rest, "\n"); line != NULL; line = strsep(&rest, "\n")) {
        char *there = strsep(&written, "\n");

        ck_assert_msg(there != NULL && strcmp(there, line) == 0,
                      "DEVELOPERS.md has\n%s\nthe handbook has\n%s\n" RENEW, there == NULL ? "" : there,
                      line);
    }
    ck_assert_msg(written == NULL, "DEVELOPERS.md has more rows than the handbook; " RENEW);
    free(text);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("developers table");
    TCase *all = tcase_create("all");

    tcase_add_test(all, the_table_in_developers_md_is_what_the_handbook_prints);
    suite_add_tcase(suite, all);
    return suite;
}
