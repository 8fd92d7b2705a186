/* edit.h - read the demo's tank file with some of its text replaced. */
#ifndef TESTS_SETTINGS_EDIT_H
#define TESTS_SETTINGS_EDIT_H

#include "settings/settings.h"
#include "support/folder.h"
#include "support/support.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define EDIT_TEXT_MAX 65536

static struct settings edit_settings;
static struct settings_errors edit_errors;

static inline void edit_load(const char *path, char text[EDIT_TEXT_MAX])
{
    FILE *from = fopen(path, "r");
    size_t length;

    ck_assert_msg(from != NULL, "%s cannot be opened", path);
    length = fread(text, 1, EDIT_TEXT_MAX - 1, from);
    text[length] = '\0';
    ck_assert_int_eq(fclose(from), 0);
}

/* Replace the first place of old, which must exist; "" appends. */
static inline void edit_replace(char text[EDIT_TEXT_MAX], const char *old, const char *replacement)
{
    char *at = old[0] == '\0' ? text + strlen(text) : strstr(text, old);
    size_t rest;

    ck_assert_msg(at != NULL, "the text has no \"%s\"", old);
    rest = strlen(at + strlen(old)) + 1;
    ck_assert(strlen(text) + strlen(replacement) < EDIT_TEXT_MAX);
    memmove(at + strlen(replacement), at + strlen(old), rest);
    memcpy(at, replacement, strlen(replacement));
}

/* Read this text as a tank file that lies in a folder of its own. */
static inline enum status edit_read(const char *text)
{
    char path[TEST_FOLDER_MAX];
    int descriptor;
    enum status st;

    (void)test_folder_template(path, "sw-tank");
    descriptor = mkstemp(path);
    ck_assert_int_ge(descriptor, 0);
    ck_assert_int_eq(write(descriptor, text, strlen(text)), (ssize_t)strlen(text));
    ck_assert_int_eq(close(descriptor), 0);
    st = settings_read(path, &edit_settings, &edit_errors);
    ck_assert_int_eq(unlink(path), 0);
    return st;
}

static inline int edit_line_of(const char *text, const char *part)
{
    const char *at = strstr(text, part);
    int line = 1;

    ck_assert_msg(at != NULL, "the text has no \"%s\"", part);
    for (const char *c = text; c < at; c++)
        line += *c == '\n';
    return line;
}

static inline int edit_error_line(int index)
{
    return atoi(strrchr(edit_errors.errors[index].where, ':') + 1);
}

static inline void edit_demo(char text[EDIT_TEXT_MAX])
{
    edit_load(SOURCE_DIR "/config/tanks/demo.yaml", text);
    edit_replace(text, "profiles: ../devices", "profiles: " SOURCE_DIR "/config/devices");
}

/* All errors that were found, for a failing test's message. */
static inline const char *edit_all_errors(void)
{
    static char all[3000];
    size_t used = 0;

    all[0] = '\0';
    for (int i = 0; i < edit_errors.count && i < SETTINGS_ERRORS_MAX && used < sizeof all; i++)
        used += (size_t)snprintf(all + used, sizeof all - used, "\n  %s: %s", edit_errors.errors[i].where,
                                 edit_errors.errors[i].text);
    return all;
}

struct edit_case {
    const char *old;
    const char *replacement;
    const char *line_with; /* the error is on the line with this text; NULL: where replacement is */
    const char *says;      /* part of its sentence */
};

/* The demo with one replacement gives exactly one error, on the right line, with the right words. */
static inline void edit_expect_one(const struct edit_case *c)
{
    static char text[EDIT_TEXT_MAX];
    enum status st;

    edit_demo(text);
    edit_replace(text, c->old, c->replacement);
    st = edit_read(text);
    ck_assert_msg(st == ST_SETTINGS && edit_errors.count == 1, "\"%s\": status %s, %d errors:%s",
                  c->replacement, status_name(st), edit_errors.count, edit_all_errors());
    ck_assert_msg(strstr(edit_errors.errors[0].text, c->says) != NULL, "\"%s\": \"%s\" is not in:%s",
                  c->replacement, c->says, edit_all_errors());
    ck_assert_msg(edit_error_line(0) ==
                      edit_line_of(text, c->line_with != NULL ? c->line_with : c->replacement),
                  "\"%s\" is on another line than:%s", c->replacement, edit_all_errors());
}

#endif
