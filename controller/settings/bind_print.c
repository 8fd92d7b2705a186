#include "settings/bind.h"
#include "settings/scalar.h"

#include <inttypes.h>
#include <string.h>

void bind_print_text(const char *text, FILE *to)
{
    (void)fputc('"', to);
    for (; *text != '\0'; text++) {
        if (*text == '"' || *text == '\\')
            (void)fputc('\\', to);
        (void)fputc(*text, to);
    }
    (void)fputc('"', to);
}

static void number_print(const struct bind_row *row, const void *field, FILE *to)
{
    char word[SCALAR_PRINT_MAX];
    double number;

    memcpy(&number, field, sizeof number);
    (row->type == BIND_DURATION ? scalar_print_duration : scalar_print_decimal)(number, word);
    (void)fputs(word, to);
}

static int64_t integer_get(const struct bind_row *row, const void *field)
{
    int64_t wide = 0;
    int number = 0;
    char letter = 0;

    if (row->size == sizeof wide) {
        memcpy(&wide, field, sizeof wide);
        return wide;
    }
    if (row->size == sizeof letter) {
        memcpy(&letter, field, sizeof letter);
        return letter;
    }
    memcpy(&number, field, sizeof number);
    return number;
}

static void integer_print(const struct bind_row *row, const void *field, FILE *to)
{
    (void)fprintf(to, "%" PRId64, integer_get(row, field));
}

static void yes_no_print(const struct bind_row *row, const void *field, FILE *to)
{
    bool yes;

    (void)row;
    memcpy(&yes, field, sizeof yes);
    (void)fputs(yes ? "yes" : "no", to);
}

static void text_print(const struct bind_row *row, const void *field, FILE *to)
{
    (void)row;
    bind_print_text(field, to);
}

static void choice_print(const struct bind_row *row, const void *field, FILE *to)
{
    int64_t value = integer_get(row, field);

    for (const struct bind_choice *c = row->choices; c->name != NULL; c++)
        if (c->value == value) {
            (void)fputs(c->name, to);
            return;
        }
}

static void (*const PRINTS[])(const struct bind_row *row, const void *field, FILE *to) = {
    [BIND_DECIMAL] = number_print,  [BIND_INTEGER] = integer_print, [BIND_YES_NO] = yes_no_print,
    [BIND_TEXT] = text_print,       [BIND_CHOICE] = choice_print,   [BIND_PATH] = text_print,
    [BIND_DURATION] = number_print,
};

void bind_print(const struct bind_row *rows, const void *base, int indent, FILE *to)
{
    for (const struct bind_row *row = rows; row->key != NULL; row++) {
        const void *field = (const char *)base + row->offset;

        if (row->type > BIND_SECTION)
            continue;
        (void)fprintf(to, "%*s%s:", indent, "", row->key);
        if (row->type == BIND_SECTION) {
            (void)fputc('\n', to);
            bind_print(row->rows, field, indent + 2, to);
            continue;
        }
        (void)fputc(' ', to);
        PRINTS[row->type](row, field, to);
        (void)fputc('\n', to);
    }
}
