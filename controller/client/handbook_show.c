#include "client/handbook_show.h"

#include "client/handbook_page.h"
#include "client/handbook_words.h"

#include <stdlib.h>
#include <string.h>

#define NAME_WIDTH 25
#define NOTE_INDENT 16
#define LIST_INDENT 40 /* behind the longest name */
#define LIST_NARROW 6  /* where the words stand below the name */
#define NARROW_INDENT 4
#define NARROW 60    /* on a narrower page, what stands beside a name stands below it */
#define LIST_WIDE 76 /* and in the list on one narrower than this */
#define SPAN_PARTS 3

void handbook_notes_print(const struct handbook_entry *entry, FILE *to)
{
    const int indent = handbook_page_width() < NARROW ? NARROW_INDENT / 2 : NOTE_INDENT;

    if (entry->range[0] != '\0')
        handbook_wrapped_print("Note", indent, entry->range, to);
    handbook_wrapped_print("Source", indent, entry->source, to);
    handbook_wrapped_print("Expected error", indent, entry->error, to);
}

void handbook_head_print(const struct handbook_entry *entry, FILE *to)
{
    int at = fprintf(to, "%s:", entry->name);

    handbook_words_print(entry->words, 0, &at, to);
    (void)fprintf(to, "\n\n");
}

static void line_print(const char *name, const char *words, FILE *to)
{
    char label[HANDBOOK_WORD_NAME_MAX + 2];

    (void)snprintf(label, sizeof label, "  %s", name);
    if (handbook_page_width() >= LIST_WIDE) {
        handbook_wrapped_print(label, LIST_INDENT, words, to);
        return;
    }
    (void)fprintf(to, "%s\n", label);
    handbook_wrapped_print("", LIST_NARROW, words, to);
}

static void paragraph_print(const char *text, FILE *to)
{
    handbook_wrapped_print("", 0, text, to);
}

void handbook_list_print(const char *text, FILE *to)
{
    char about[128];

    (void)snprintf(about, sizeof about, "The functions about \"%.60s\", by name, words, inputs or choices.",
                   text == NULL ? "" : text);
    paragraph_print(text == NULL ? "The functions by which this program calculates." : about, to);
    paragraph_print("\"syrupwright handbook NAME\" explains one, \"syrupwright handbook WORD\" searches, "
                    "\"syrupwright handbook convert\" converts units.",
                    to);
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++) {
        bool has_title = false;

        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++) {
            if (!handbook_is_listed(s, e, text))
                continue;
            if (!has_title) {
                (void)fprintf(to, "\n");
                paragraph_print(s->title, to);
            }
            has_title = true;
            line_print(e->name, e->words, to);
        }
    }
}

/* ---- one function ---------------------------------------------------------------------- */

/* A name, and where the lines beside or below it begin. */
static int name_print(const char *name, int *at, FILE *to)
{
    if (handbook_page_width() >= NARROW) {
        *at = fprintf(to, "  %-*s", NAME_WIDTH, name);
        return NAME_WIDTH + 2;
    }
    (void)fprintf(to, "  %s\n", name);
    *at = fprintf(to, "%*s", NARROW_INDENT, "");
    return NARROW_INDENT;
}

/* end: what stands behind the last. */
static void choices_print(const struct handbook_quantity *q, const char *end, int indent, int *at, FILE *to)
{
    char name[HANDBOOK_WORD_NAME_MAX];
    char word[HANDBOOK_WORD_NAME_MAX + 1];

    for (int i = (int)q->min; i <= (int)q->max; i++) {
        handbook_choice_print(q->choice(i), name);
        (void)snprintf(word, sizeof word, "%s%s", name, i < (int)q->max ? "," : end);
        handbook_words_print(word, indent, at, to);
    }
}

/* Where choices say what they mean, a line each. */
static void choice_meanings_print(const struct handbook_quantity *q, int indent, FILE *to)
{
    char text[256];
    char name[HANDBOOK_WORD_NAME_MAX];

    if (q->choice == NULL)
        return;
    for (int i = (int)q->min; i <= (int)q->max; i++) {
        const char *meaning = handbook_choice_meaning(q->choice(i));

        (void)snprintf(text, sizeof text, "%s: %s", handbook_choice_print(q->choice(i), name), meaning);
        if (meaning[0] != '\0')
            handbook_wrapped_print("", indent, text, to);
    }
}

static void quantity_print(const struct handbook_entry *entry, const struct handbook_quantity *q, FILE *to)
{
    const char *meaning = handbook_meaning(entry, q);
    const char *end = meaning[0] != '\0' ? ";" : "";
    char range[HANDBOOK_NAMES_MAX];
    int at = 0;
    int indent = name_print(q->name, &at, to);
    double min;
    double max;

    if (q->choice != NULL) {
        choices_print(q, end, indent, &at, to);
    } else {
        handbook_limits(q, NULL, &min, &max);
        (void)snprintf(range, sizeof range, "%.7g to %.7g%s%s%s", min, max, q->unit[0] != '\0' ? " " : "",
                       q->unit, end);
        handbook_words_print(range, indent, &at, to);
    }
    handbook_words_print(meaning, indent, &at, to);
    (void)fprintf(to, "\n");
    choice_meanings_print(q, indent, to);
}

static void remark_print(const struct handbook_entry *entry, FILE *to)
{
    if (handbook_remark(entry) != NULL)
        paragraph_print(handbook_remark(entry), to);
}

void handbook_entry_print(const struct handbook_entry *entry, FILE *to)
{
    char example[HANDBOOK_EXAMPLE_MAX];

    handbook_head_print(entry, to);
    (void)fprintf(to, "Takes\n");
    for (size_t i = 0; entry->inputs[i].name != NULL; i++)
        quantity_print(entry, &entry->inputs[i], to);
    (void)fprintf(to, "\nGives\n");
    for (size_t i = 0; entry->outputs[i].name != NULL; i++)
        quantity_print(entry, &entry->outputs[i], to);
    remark_print(entry, to);
    (void)fprintf(to, "\n");
    handbook_notes_print(entry, to);
    if (handbook_example(entry, example))
        (void)fprintf(to, "\nFor example\n  %s\n", example);
}

/* ---- one point -------------------------------------------------------------------------- */

static bool is_span(const struct handbook_entry *entry)
{
    static const char *const PARTS[SPAN_PARTS] = {"low", "best", "high"};

    for (size_t i = 0; i < SPAN_PARTS; i++)
        if (entry->outputs[i].name == NULL ||
            strncmp(entry->outputs[i].name, PARTS[i], strlen(PARTS[i])) != 0)
            return false;
    return true;
}

const char *handbook_result_print(const struct handbook_entry *entry, size_t output, double value,
                                  char out[HANDBOOK_WORD_NAME_MAX])
{
    const struct handbook_quantity *q = &entry->outputs[output];
    char rounded[HANDBOOK_NUMBER_MAX];

    if (q->choice != NULL)
        return handbook_choice_print(q->choice((int)value), out);
    (void)snprintf(rounded, sizeof rounded, "%.2e", value);
    return handbook_number_print(output < SPAN_PARTS && is_span(entry) ? strtod(rounded, NULL) : value, out);
}

void handbook_input_print(const struct handbook_input *input, double value, FILE *to)
{
    const struct handbook_quantity *q = input->quantity;
    char text[HANDBOOK_WORD_NAME_MAX];
    char range[HANDBOOK_NAMES_MAX];
    int at = 0;
    int indent = name_print(q->name, &at, to);
    double min;
    double max;

    at += fprintf(to, "%s%s%s",
                  q->choice != NULL ? handbook_choice_print(q->choice((int)value), text)
                                    : handbook_number_print(value, text),
                  q->unit[0] != '\0' ? " " : "", q->unit);
    if (input->unit != NULL)
        at += fprintf(to, " = %.7g %s", input->value.from, input->unit->name);
    if (handbook_is_water(input))
        at += fprintf(to, " at %.4g kg/L, 20 degC", HANDBOOK_WATER_KG_L);
    if (q->choice == NULL) {
        handbook_limits(q, NULL, &min, &max);
        (void)snprintf(range, sizeof range, "  (range %.7g to %.7g)", min, max);
        handbook_words_print(range, indent, &at, to);
    }
    handbook_words_print(input->is_left_out ? "  (left out; this is usual)" : "", indent, &at, to);
    (void)fprintf(to, "\n");
}

static void result_print(const struct handbook_entry *entry, size_t output, double value, FILE *to)
{
    const struct handbook_quantity *q = &entry->outputs[output];
    const char *meaning = q->choice != NULL ? handbook_choice_meaning(q->choice((int)value)) : "";
    char text[HANDBOOK_WORD_NAME_MAX];
    int at = 0;
    int indent = name_print(q->name, &at, to);

    at += fprintf(to, "%s%s%s%s", handbook_result_print(entry, output, value, text),
                  q->unit[0] != '\0' ? " " : "", q->unit, meaning[0] != '\0' ? ":" : "");
    handbook_words_print(meaning, indent, &at, to);
    (void)fprintf(to, "\n");
}

void handbook_point_print(const struct handbook_call *call, const double in[], const double out[], FILE *to)
{
    const struct handbook_entry *entry = call->entry;

    handbook_head_print(entry, to);
    (void)fprintf(to, "For\n");
    for (size_t i = 0; i < call->input_count; i++)
        handbook_input_print(&call->inputs[i], in[i], to);
    (void)fprintf(to, "\nResult\n");
    for (size_t i = 0; entry->outputs[i].name != NULL; i++)
        result_print(entry, i, out[i], to);
    remark_print(entry, to);
    (void)fprintf(to, "\n");
    handbook_notes_print(entry, to);
}
