#include "client/show.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define LABEL_WIDTH 19

struct show show_open(FILE *to)
{
    const char *no_color = getenv("NO_COLOR");
    bool is_wanted = no_color == NULL || no_color[0] == '\0';

    return (struct show){.to = to, .is_styled = is_wanted && isatty(fileno(to)) == 1};
}

double show_number(const json_t *object, const char *key)
{
    const json_t *value = json_object_get(object, key);

    return json_is_number(value) ? json_number_value(value) : (double)NAN;
}

const char *show_text(const json_t *object, const char *key)
{
    const char *text = json_string_value(json_object_get(object, key));

    return text == NULL ? "" : text;
}

void show_clean(const char *text, char out[SHOW_LINE_MAX])
{
    size_t i;

    for (i = 0; text[i] != '\0' && i < SHOW_LINE_MAX - 1; i++)
        out[i] = (char)((unsigned char)text[i] < 0x20 || text[i] == 0x7f ? '?' : text[i]);
    out[i] = '\0';
}

static void row_print(const struct show *show, const char *style, const char *label, const char *text)
{
    char clean[SHOW_LINE_MAX];

    show_clean(text, clean);
    (void)fprintf(show->to, "%-*s %s%s%s\n", LABEL_WIDTH, label, show->is_styled ? style : "", clean,
                  show->is_styled && style[0] != '\0' ? "\033[0m" : "");
}

void show_row(const struct show *show, const char *label, const char *text)
{
    row_print(show, "", label, text);
}

void show_strong(const struct show *show, const char *label, const char *text)
{
    row_print(show, "\033[1m", label, text);
}

void show_danger(const struct show *show, const char *label, const char *text)
{
    row_print(show, "\033[1;31m", label, text);
}
