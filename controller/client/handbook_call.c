#include "client/handbook_call.h"

#include "client/handbook_words.h"
#include "science/ratio.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- words that belong together -------------------------------------------------------------- */

static bool has_sign(const char *word)
{
    return strchr(word, '=') != NULL;
}

/* "strength_pct = 62.5", "temp=68 degF", "order=sugar first": one word each was meant. ST_OK where nothing
 * of the kind is seen. */
static enum status blanks_refuse(const char *const words[], int count, struct fault *f)
{
    for (int i = 0; i < count; i++) {
        const char *word = words[i];
        const char *last = i > 0 ? words[i - 1] : "";
        const char *next = i + 1 < count ? words[i + 1] : "";
        bool ends = word[0] != '\0' && word[strlen(word) - 1] == '=';

        if (strcmp(word, "=") == 0)
            return fault_set(f, ST_REFUSED, "", "there are no blanks around \"=\"; write %.60s=%.60s", last,
                             next);
        if (word[0] == '=')
            return fault_set(f, ST_REFUSED, "", "there are no blanks around \"=\"; write %.60s%.60s", last,
                             word);
        if (ends && next[0] != '\0' && !has_sign(next))
            return fault_set(f, ST_REFUSED, "", "there are no blanks around \"=\"; write %.60s%.60s", word,
                             next);
        if (i > 0 && word[0] != '\0' && !has_sign(word) && has_sign(last) && next[0] != '=')
            return fault_set(f, ST_REFUSED, "",
                             "\"%.60s\" stands alone; if it belongs to what is before it, write %.60s%s%.60s",
                             word, last, unit_find(word) != NULL ? "" : "_", word);
    }
    return ST_OK;
}

/* ---- a ratio as it is said -------------------------------------------------------------------- */

/* "2:1 by weight", "2:1_by_weight", "5:3 lb per imperial pint, water first" */
static bool is_ratio(const struct handbook_entry *entry, const char *const words[], int count)
{
    return strcmp(entry->name, "ratio_strength") == 0 && count > 0 && !has_sign(words[0]) &&
           words[0][strspn(words[0], "0123456789. ")] == ':';
}

static enum status ratio_take(struct handbook_call *call, const char *const words[], int count,
                              struct fault *f)
{
    char text[256] = "";
    struct ratio ratio;
    size_t used = 0;

    for (int i = 0; i < count && used < sizeof text; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, "%s%s", i == 0 ? "" : " ", words[i]);
    if (used >= sizeof text)
        return fault_set(f, ST_REFUSED, "", "\"%.60s...\" is longer than any ratio", text);
    for (char *c = text; *c != '\0'; c++)
        if (*c == '_')
            *c = ' ';
    if (ratio_parse(text, &ratio, f) != ST_OK)
        return ST_RANGE;
    const double values[] = {ratio.first, ratio.second, ratio.basis, ratio.order};

    for (size_t i = 0; i < call->input_count; i++) {
        call->inputs[i].is_given = true;
        call->inputs[i].value = (struct handbook_value){values[i], values[i], 0, ""};
    }
    return ST_OK;
}

/* ---- the whole ------------------------------------------------------------------------------ */

static enum status missing_refuse(const struct handbook_call *call, const struct handbook_quantity *q,
                                  struct fault *f)
{
    char names[HANDBOOK_NAMES_MAX];
    double min;
    double max;

    if (q->choice != NULL) {
        handbook_choices(q, names);
        return fault_set(f, ST_REFUSED, q->name, "%s needs %s too%s%s", call->entry->name, q->name,
                         names[0] != '\0' ? ", which is " : "", names);
    }
    handbook_limits(q, NULL, &min, &max);
    return fault_set(f, ST_REFUSED, q->name, "%s needs %s too, %.7g to %.7g%s%s", call->entry->name, q->name,
                     min, max, q->unit[0] != '\0' ? " " : "", q->unit);
}

static enum status words_take(struct handbook_call *call, const char *const words[], int count,
                              struct fault *f)
{
    if (is_ratio(call->entry, words, count))
        return ratio_take(call, words, count, f);
    if (blanks_refuse(words, count, f) != ST_OK)
        return ST_REFUSED;
    for (int i = 0; i < count; i++)
        if (handbook_word_take(call, words[i], f) != ST_OK)
            return f->code;
    return ST_OK;
}

enum status handbook_call_make(const struct handbook_entry *entry, const char *const words[], int count,
                               struct handbook_call *call, struct fault *f)
{
    double rows = 1;

    *call = (struct handbook_call){.entry = entry, .input_count = handbook_count(entry->inputs)};
    for (size_t i = 0; i < call->input_count; i++)
        call->inputs[i].quantity = &entry->inputs[i];
    if (words_take(call, words, count, f) != ST_OK)
        return f->code;
    for (size_t i = 0; i < call->input_count; i++) {
        struct handbook_input *input = &call->inputs[i];
        double usual = 0;

        if (!input->is_given && handbook_left_out(entry, input->quantity, &usual)) {
            input->is_given = input->is_left_out = true;
            input->value = (struct handbook_value){usual, usual, 0, ""};
        }
        if (!input->is_given)
            return missing_refuse(call, input->quantity, f);
        rows *= handbook_value_count(&input->value);
    }
    if (rows > HANDBOOK_POINTS_MAX)
        return fault_set(f, ST_RANGE, "", "this table has %.0f rows; at most %d are listed", rows,
                         HANDBOOK_POINTS_MAX);
    call->rows = (int)rows;
    return ST_OK;
}

double handbook_call_value(const struct handbook_call *call, size_t input, int row)
{
    const struct handbook_value *value = &call->inputs[input].value;

    if (call->range_count == 0 || value->step <= 0)
        return value->from;
    if (input == call->ranges[call->range_count - 1])
        return handbook_value_at(value, row % handbook_value_count(value));
    return handbook_value_at(
        value, row / handbook_value_count(&call->inputs[call->ranges[call->range_count - 1]].value));
}

void handbook_call_inputs(const struct handbook_call *call, int row, double in[HANDBOOK_INPUTS_MAX])
{
    for (size_t i = 0; i < call->input_count; i++)
        if (handbook_input_convert(&call->inputs[i], handbook_call_value(call, i, row), &in[i]) != ST_OK)
            in[i] = NAN;
}

enum status handbook_call_row(const struct handbook_call *call, int row, double in[HANDBOOK_INPUTS_MAX],
                              double out[HANDBOOK_OUTPUTS_MAX])
{
    handbook_call_inputs(call, row, in);
    return handbook_eval(call->entry, in, out);
}
