#include "client/handbook_show.h"

#include <string.h>

#define NAME_WIDTH 25
#define NOTE_INDENT 16
#define LINE_MAX_WIDTH 92
#define COLUMN_MIN 14

/* Words on a line that has begun, up to column at; the lines after it are indented. */
static void words_print(const char *text, int indent, int *at, FILE *to)
{
    while (*text != '\0') {
        int length = (int)strcspn(text, " ");

        if (*at > indent && *at + 1 + length > LINE_MAX_WIDTH)
            *at = fprintf(to, "\n%*s", indent, "") - 1;
        *at += fprintf(to, "%s%.*s", *at > indent ? " " : "", length, text);
        text += length + (text[length] == ' ' ? 1 : 0);
    }
}

static void wrapped_print(const char *label, const char *text, FILE *to)
{
    int at = fprintf(to, "%-*s", NOTE_INDENT, label);

    words_print(text, NOTE_INDENT, &at, to);
    (void)fprintf(to, "\n");
}

static void notes_print(const struct handbook_entry *entry, FILE *to)
{
    if (entry->range[0] != '\0')
        wrapped_print("Also limited", entry->range, to);
    wrapped_print("Source", entry->source, to);
    wrapped_print("Expected error", entry->error, to);
}

static char folded(char c)
{
    if (c >= 'A' && c <= 'Z')
        return (char)(c - 'A' + 'a');
    return c == '_' ? ' ' : c;
}

static bool is_within_text(const char *whole, const char *part)
{
    for (; *whole != '\0'; whole++) {
        size_t i = 0;

        while (part[i] != '\0' && folded(whole[i]) == folded(part[i]))
            i++;
        if (part[i] == '\0')
            return true;
    }
    return false;
}

bool handbook_is_about(const struct handbook_entry *entry, const char *text)
{
    return is_within_text(entry->name, text) || is_within_text(entry->words, text);
}

void handbook_list_print(const char *text, FILE *to)
{
    if (text == NULL)
        (void)fprintf(to, "The functions by which this program calculates.");
    else
        (void)fprintf(to, "The functions that have \"%.60s\" in their name or words.", text);
    (void)fprintf(to, " \"syrupwright handbook NAME\" explains one.\n");
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++) {
        bool has_title = false;

        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++) {
            if (text != NULL && !handbook_is_about(e, text))
                continue;
            if (!has_title)
                (void)fprintf(to, "\n%s\n", s->title);
            has_title = true;
            (void)fprintf(to, "  %-36s %s\n", e->name, e->words);
        }
    }
}

/* ---- one function ---------------------------------------------------------------------- */

static void choices_print(const struct handbook_quantity *q, FILE *to)
{
    int at = fprintf(to, "  %-*s", NAME_WIDTH, q->name);
    char name[HANDBOOK_WORD_NAME_MAX];
    char word[HANDBOOK_WORD_NAME_MAX + 1];

    for (int i = (int)q->min; i <= (int)q->max; i++) {
        handbook_choice_print(q->choice(i), name);
        (void)snprintf(word, sizeof word, "%s%s", name, i < (int)q->max ? "," : "");
        words_print(word, NAME_WIDTH + 2, &at, to);
    }
    (void)fprintf(to, "\n");
}

static void quantity_print(const struct handbook_quantity *q, FILE *to)
{
    double min;
    double max;

    if (q->choice != NULL) {
        choices_print(q, to);
        return;
    }
    handbook_limits(q, NULL, &min, &max);
    (void)fprintf(to, "  %-*s%.7g to %.7g%s%s\n", NAME_WIDTH, q->name, min, max,
                  q->unit[0] != '\0' ? " " : "", q->unit);
}

void handbook_entry_print(const struct handbook_entry *entry, FILE *to)
{
    char example[HANDBOOK_EXAMPLE_MAX];

    (void)fprintf(to, "%s: %s\n\nTakes\n", entry->name, entry->words);
    for (size_t i = 0; entry->inputs[i].name != NULL; i++)
        quantity_print(&entry->inputs[i], to);
    (void)fprintf(to, "\nGives\n");
    for (size_t i = 0; entry->outputs[i].name != NULL; i++)
        quantity_print(&entry->outputs[i], to);
    (void)fprintf(to, "\n");
    notes_print(entry, to);
    if (handbook_example(entry, example))
        (void)fprintf(to, "\nFor example\n  %s\n", example);
}

/* ---- one point -------------------------------------------------------------------------- */

static void value_print(const struct handbook_quantity *q, double value, FILE *to)
{
    char number[HANDBOOK_NUMBER_MAX];
    char name[HANDBOOK_WORD_NAME_MAX];

    if (q->choice != NULL)
        (void)fprintf(to, "%s", handbook_choice_print(q->choice((int)value), name));
    else
        (void)fprintf(to, "%s%s%s", handbook_number_print(value, number), q->unit[0] != '\0' ? " " : "",
                      q->unit);
}

static void limits_print(const struct handbook_quantity *q, FILE *to)
{
    double min;
    double max;

    handbook_limits(q, NULL, &min, &max);
    (void)fprintf(to, "   (range %.7g to %.7g)", min, max);
}

static void input_print(const struct handbook_input *input, double value, FILE *to)
{
    const struct handbook_quantity *q = input->quantity;

    (void)fprintf(to, "  %-*s", NAME_WIDTH, q->name);
    value_print(q, value, to);
    if (input->unit != NULL)
        (void)fprintf(to, " = %.7g %s", input->value.from, input->unit->name);
    if (q->choice == NULL)
        limits_print(q, to);
    (void)fprintf(to, "\n");
}

void handbook_point_print(const struct handbook_call *call, const double in[], const double out[], FILE *to)
{
    const struct handbook_entry *entry = call->entry;

    (void)fprintf(to, "%s: %s\n\nFor\n", entry->name, entry->words);
    for (size_t i = 0; i < call->input_count; i++)
        input_print(&call->inputs[i], in[i], to);
    (void)fprintf(to, "\nResult\n");
    for (size_t i = 0; entry->outputs[i].name != NULL; i++) {
        (void)fprintf(to, "  %-*s", NAME_WIDTH, entry->outputs[i].name);
        value_print(&entry->outputs[i], out[i], to);
        if (entry->outputs[i].choice == NULL)
            limits_print(&entry->outputs[i], to);
        (void)fprintf(to, "\n");
    }
    (void)fprintf(to, "\n");
    notes_print(entry, to);
}

/* ---- a table ------------------------------------------------------------------------------ */

static int column_width(const char *name)
{
    int length = (int)strlen(name) + 2;

    return length > COLUMN_MIN ? length : COLUMN_MIN;
}

/* Two lines: what the columns are called, and their units. An input in a person's own unit is called
 * by its name without one. */
static void head_print(const struct handbook_call *call, bool is_units, FILE *to)
{
    char name[HANDBOOK_WORD_NAME_MAX];

    for (int i = 0; i < call->range_count; i++) {
        const struct handbook_input *input = &call->inputs[call->ranges[i]];

        (void)snprintf(name, sizeof name, "%s", input->quantity->name);
        if (input->unit != NULL)
            handbook_stem(input->quantity, name);
        (void)fprintf(to, "%*s", column_width(input->quantity->name),
                      !is_units ? name : (input->unit != NULL ? input->unit->name : input->quantity->unit));
    }
    for (const struct handbook_quantity *q = call->entry->outputs; q->name != NULL; q++)
        (void)fprintf(to, "%*s", column_width(q->name), is_units ? q->unit : q->name);
    (void)fprintf(to, "\n");
}

static enum status row_print(const struct handbook_call *call, int row, FILE *to)
{
    double in[HANDBOOK_INPUTS_MAX];
    double out[HANDBOOK_OUTPUTS_MAX];
    char number[HANDBOOK_NUMBER_MAX];
    char name[HANDBOOK_WORD_NAME_MAX];
    enum status status = handbook_call_row(call, row, in, out);

    for (int i = 0; i < call->range_count; i++)
        (void)fprintf(to, "%*s", column_width(call->inputs[call->ranges[i]].quantity->name),
                      handbook_number_print(handbook_call_value(call, call->ranges[i], row), number));
    if (status != ST_OK)
        (void)fprintf(to, "  out of range");
    for (size_t i = 0; status == ST_OK && call->entry->outputs[i].name != NULL; i++) {
        const struct handbook_quantity *q = &call->entry->outputs[i];

        (void)fprintf(to, "%*s", column_width(q->name),
                      q->choice != NULL ? handbook_choice_print(q->choice((int)out[i]), name)
                                        : handbook_number_print(out[i], number));
    }
    (void)fprintf(to, "\n");
    return status;
}

void handbook_table_print(const struct handbook_call *call, FILE *to, int *outside)
{
    double in[HANDBOOK_INPUTS_MAX];

    handbook_call_inputs(call, 0, in);
    (void)fprintf(to, "%s: %s\n\n", call->entry->name, call->entry->words);
    for (size_t i = 0; i < call->input_count; i++)
        if (call->inputs[i].value.step <= 0)
            input_print(&call->inputs[i], in[i], to);
    head_print(call, false, to);
    head_print(call, true, to);
    *outside = 0;
    for (int row = 0; row < call->rows; row++)
        *outside += row_print(call, row, to) != ST_OK;
    (void)fprintf(to, "\n");
    notes_print(call->entry, to);
}
