#include "settings/bind_value.h"

#include "settings/expand.h"
#include "settings/scalar.h"

#include <stdint.h>
#include <string.h>

#define TEXT_BYTES_MAX 1024

_Static_assert(BIND_WHY_MAX >= SCALAR_WHY_MAX, "room for a scalar's reason");
_Static_assert(BIND_WHY_MAX >= EXPAND_WHY_MAX, "room for an environment's reason");

/* One value on its way into a field. */
struct value {
    const struct bind_row *row;
    const char *text;
    const char *folder;
    void *field;
    char *why;
};

static bool say(char *why, const char *clause)
{
    (void)snprintf(why, BIND_WHY_MAX, "%s", clause);
    return false;
}

static bool in_range(const struct value *v, double number)
{
    v->why[0] = '\0';
    return number >= v->row->min && number <= v->row->max;
}

static bool double_store(const struct value *v, double number)
{
    if (!in_range(v, number))
        return false;
    memcpy(v->field, &number, sizeof number);
    return true;
}

static bool decimal_store(const struct value *v)
{
    double number;

    return scalar_parse_decimal(v->text, &number, v->why) && double_store(v, number);
}

static bool duration_store(const struct value *v)
{
    double seconds;

    return scalar_parse_duration(v->text, &seconds, v->why) && double_store(v, seconds);
}

static bool integer_store(const struct value *v)
{
    int64_t number;

    if (!scalar_parse_integer(v->text, &number, v->why) || !in_range(v, (double)number))
        return false;
    if (v->row->size == sizeof number) {
        memcpy(v->field, &number, sizeof number);
    } else {
        int narrow = (int)number;

        memcpy(v->field, &narrow, sizeof narrow);
    }
    return true;
}

static bool yes_no_store(const struct value *v)
{
    bool yes;

    if (!scalar_parse_yes_no(v->text, &yes, v->why))
        return false;
    memcpy(v->field, &yes, sizeof yes);
    return true;
}

static bool choice_store(const struct value *v)
{
    for (const struct bind_choice *c = v->row->choices; c->name != NULL; c++) {
        char letter = (char)c->value;

        if (strcmp(c->name, v->text) != 0)
            continue;
        if (v->row->size == sizeof letter)
            memcpy(v->field, &letter, sizeof letter);
        else
            memcpy(v->field, &c->value, sizeof c->value);
        return true;
    }
    return say(v->why, "this is not one of the words for it");
}

static bool text_check(const struct value *v, const char *text)
{
    size_t length = strlen(text);

    for (const char *at = text; *at != '\0'; at++)
        if ((unsigned char)*at < ' ' || *at == 0x7f)
            return say(v->why, "the text contains a line break or control character");
    if (length >= v->row->size)
        return say(v->why, "the text is too long");
    if ((double)length < v->row->min)
        return say(v->why, "the text is too short");
    return true;
}

static bool text_store(const struct value *v)
{
    if (!text_check(v, v->text))
        return false;
    memcpy(v->field, v->text, strlen(v->text) + 1);
    return true;
}

static bool path_store(const struct value *v)
{
    char joined[2 * TEXT_BYTES_MAX];
    bool is_relative = v->text[0] != '/' && v->text[0] != '\0';

    if (v->text[0] == '~')
        return say(v->why, "~ is not understood; write the whole path");
    if (strlen(v->folder) >= TEXT_BYTES_MAX || strlen(v->text) >= TEXT_BYTES_MAX)
        return say(v->why, "the path is too long");
    (void)snprintf(joined, sizeof joined, "%s%s%s", is_relative ? v->folder : "", is_relative ? "/" : "",
                   v->text);
    if (!text_check(v, joined))
        return false;
    memcpy(v->field, joined, strlen(joined) + 1);
    return true;
}

static bool (*const STORES[])(const struct value *v) = {
    [BIND_DECIMAL] = decimal_store,   [BIND_INTEGER] = integer_store, [BIND_YES_NO] = yes_no_store,
    [BIND_TEXT] = text_store,         [BIND_CHOICE] = choice_store,   [BIND_PATH] = path_store,
    [BIND_DURATION] = duration_store,
};

static bool is_null_word(const char *text)
{
    static const char *const WORDS[] = {"", "~", "null", "Null", "NULL"};

    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++)
        if (strcmp(text, WORDS[i]) == 0)
            return true;
    return false;
}

bool bind_value_store(const struct bind_row *row, const char *text, bool is_quoted, const char *folder,
                      void *field, char why[BIND_WHY_MAX])
{
    char expanded[TEXT_BYTES_MAX];
    struct value v = {row, text, folder, field, why};
    bool takes_quotes = row->type == BIND_TEXT || row->type == BIND_PATH || row->type == BIND_CHOICE;

    if (expand_is_needed(text)) {
        if (row->type != BIND_PATH && !row->may_use_environment)
            return say(why, "environment variables are understood in paths and ports only");
        if (!expand_environment(text, expanded, sizeof expanded, why))
            return false;
        v.text = expanded;
    } else if (is_quoted && !takes_quotes) {
        return say(why, "it stands in quotes and so is a text; write it without them");
    } else if (!is_quoted && is_null_word(text)) {
        return say(why, takes_quotes ? "nothing is written here; write \"\" if it should be empty"
                                     : "nothing is written here");
    }
    return STORES[row->type](&v);
}

static void choices_print(const struct bind_row *row, char out[BIND_ALLOWED_MAX])
{
    size_t used = (size_t)snprintf(out, BIND_ALLOWED_MAX, "one of");

    for (const struct bind_choice *c = row->choices; c->name != NULL && used < BIND_ALLOWED_MAX; c++)
        used += (size_t)snprintf(out + used, BIND_ALLOWED_MAX - used, "%s %s", c == row->choices ? "" : ",",
                                 c->name);
}

void bind_value_allowed(const struct bind_row *row, char out[BIND_ALLOWED_MAX])
{
    static const char *const NOUNS[] = {
        [BIND_DECIMAL] = "a number",
        [BIND_INTEGER] = "a whole number",
        [BIND_DURATION] = "a time with its unit such as 90 s, 15 min or 4 h",
    };
    char least[SCALAR_PRINT_MAX];
    char most[SCALAR_PRINT_MAX];

    switch (row->type) {
    case BIND_YES_NO:
        (void)snprintf(out, BIND_ALLOWED_MAX, "yes or no");
        return;
    case BIND_TEXT:
    case BIND_PATH:
        (void)snprintf(out, BIND_ALLOWED_MAX, "a %s of %.0f to %zu bytes",
                       row->type == BIND_TEXT ? "text" : "path", row->min, row->size - 1);
        return;
    case BIND_CHOICE:
        choices_print(row, out);
        return;
    default:
        break;
    }
    (row->type == BIND_DURATION ? scalar_print_duration : scalar_print_decimal)(row->min, least);
    (row->type == BIND_DURATION ? scalar_print_duration : scalar_print_decimal)(row->max, most);
    (void)snprintf(out, BIND_ALLOWED_MAX, "%s from %s to %s", NOUNS[row->type], least, most);
}
