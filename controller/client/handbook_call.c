#include "client/handbook_call.h"

#include "settings/nearest.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static bool has_unit(const struct handbook_quantity *quantity)
{
    return quantity->choice == NULL && quantity->unit[0] != '\0';
}

/* A difference of temperatures must not be shifted by 273.15: it is in K and nothing else. */
static bool is_difference(const struct handbook_quantity *quantity)
{
    return strcmp(quantity->unit, "K") == 0;
}

/* ---- which input ------------------------------------------------------------------------ */

static const struct handbook_input *exact_find(const struct handbook_call *call, const char *name)
{
    for (size_t i = 0; i < call->input_count; i++)
        if (strcmp(call->inputs[i].quantity->name, name) == 0)
            return &call->inputs[i];
    return NULL;
}

/* The input of that name without its unit, with kind where two share it (water_kg, water_c). */
static const struct handbook_input *stem_find(const struct handbook_call *call, const char *name,
                                              const char *kind)
{
    char stem[HANDBOOK_WORD_NAME_MAX];

    for (size_t i = 0; i < call->input_count; i++) {
        const struct handbook_quantity *q = call->inputs[i].quantity;
        const struct unit *unit = has_unit(q) ? unit_find(q->unit) : NULL;

        handbook_stem(q, stem);
        if (unit != NULL && strcmp(stem, name) == 0 && (kind == NULL || strcmp(kind, unit->kind) == 0))
            return &call->inputs[i];
    }
    return NULL;
}

static enum status unknown_refuse(const struct handbook_call *call, const char *name, struct fault *f)
{
    struct nearest nearest = {.word = name};
    char names[HANDBOOK_NAMES_MAX];
    bool is_near;

    for (size_t i = 0; i < call->input_count; i++)
        nearest_offer(&nearest, call->inputs[i].quantity->name);
    is_near = nearest.best != NULL;
    handbook_names(call->entry->inputs, names);
    return fault_set(f, ST_REFUSED, name, "%s has no input \"%s\"; %s%s%sit takes %s", call->entry->name,
                     name, is_near ? "did you mean " : "", is_near ? nearest.best : "", is_near ? "? " : "",
                     names);
}

/* ---- values ------------------------------------------------------------------------------- */

static enum status choice_take(struct handbook_input *input, const char *text, struct fault *f)
{
    const struct handbook_quantity *q = input->quantity;
    struct nearest nearest = {0};
    char wanted[HANDBOOK_WORD_NAME_MAX];
    char names[HANDBOOK_NAMES_MAX];
    int found;

    (void)snprintf(wanted, sizeof wanted, "%s", text);
    found = handbook_choice_find(q, wanted);
    for (char *c = wanted; *c != '\0'; c++)
        if (*c == '_')
            *c = ' ';
    if (found < 0)
        found = handbook_choice_find(q, wanted);
    if (found >= 0 && strlen(text) < sizeof wanted) {
        input->value = (struct handbook_value){found, found, 0, ""};
        return ST_OK;
    }
    nearest.word = wanted;
    for (int i = (int)q->min; i <= (int)q->max; i++)
        nearest_offer(&nearest, q->choice(i));
    handbook_choices(q, names);
    if (nearest.best != NULL) {
        handbook_choice_print(nearest.best, wanted);
        return fault_set(f, ST_RANGE, q->name, "%s: there is no \"%.40s\"; did you mean %s?", q->name, text,
                         wanted);
    }
    return fault_set(f, ST_RANGE, q->name, "%s: there is no \"%.40s\"; %s%s", q->name, text,
                     names[0] != '\0' ? "it is " : "the explanation of the function lists what there is",
                     names);
}

static enum status unit_refuse(const char *name, const char *text, struct fault *f)
{
    const char *doubt = unit_doubt(text);

    if (doubt != NULL)
        return fault_set(f, ST_RANGE, name, "%s: %s", name, doubt);
    return fault_set(f, ST_RANGE, name,
                     "%s: there is no unit \"%.40s\"; \"syrupwright handbook convert\" lists them", name,
                     text);
}

/* The unit behind a value of this input, which was called by its whole name or by its stem. */
static enum status unit_take(struct handbook_input *input, const char *name, const char *text,
                             const struct unit *unit, struct fault *f)
{
    const struct handbook_quantity *q = input->quantity;
    const struct unit *own = unit_find(q->unit);
    char stem[HANDBOOK_WORD_NAME_MAX];

    handbook_stem(q, stem);
    if (unit == own)
        return ST_OK;
    if (!has_unit(q))
        return fault_set(f, ST_RANGE, name, "%s is a number without a unit; leave %s out", name, unit->name);
    if (strcmp(unit->kind, own->kind) != 0)
        return fault_set(f, ST_RANGE, name, "%s: %s is a unit of %s, but this is one of %s; write it in %s",
                         name, unit->name, unit->kind, own->kind, own->name);
    if (is_difference(q))
        return fault_set(f, ST_RANGE, name, "%s is a difference of temperatures; write it in K", name);
    if (strcmp(stem, name) != 0)
        return fault_set(f, ST_RANGE, name,
                         "%s=%.40s contradicts itself: %s is in %s by its name; write %s=%.40s", name, text,
                         name, own->name, stem, text);
    input->unit = unit;
    return ST_OK;
}

static enum status limits_check(const struct handbook_input *input, const char *name, struct fault *f)
{
    const struct handbook_quantity *q = input->quantity;
    const struct unit *own = has_unit(q) ? unit_find(q->unit) : NULL;
    const char *unit = input->unit != NULL ? input->unit->name : q->unit;
    double value = input->value.from;
    double min;
    double max;

    if (input->value.step > 0 ||
        (input->unit != NULL && unit_convert_eval(value, input->unit, own, &value) == ST_OK &&
         value >= q->min && value <= q->max))
        return ST_OK;
    if (input->unit == NULL && value >= q->min && value <= q->max)
        return ST_OK;
    handbook_limits(q, input->unit, &min, &max);
    return fault_set(f, ST_RANGE, name,
                     "%s: %.7g%s%s is outside the range of this function, %.7g to %.7g%s%s", name,
                     input->value.from, unit[0] ? " " : "", unit, min, max, unit[0] ? " " : "", unit);
}

/* The input that is meant by this name, with a unit behind its value or none. */
static enum status input_find(const struct handbook_call *call, const char *name, const char *text,
                              const struct unit *unit, size_t *index, struct fault *f)
{
    const struct handbook_input *found = exact_find(call, name);

    if (found == NULL && stem_find(call, name, NULL) != NULL) {
        found = stem_find(call, name, unit == NULL ? NULL : unit->kind);
        if (found == NULL)
            found = stem_find(call, name, NULL);
        if (unit == NULL)
            return fault_set(f, ST_RANGE, name, "%s needs a unit: write %s=%.40s, or %s=%.40s_%s", name,
                             found->quantity->name, text, name, text, found->quantity->unit);
    }
    if (found == NULL)
        return unknown_refuse(call, name, f);
    *index = (size_t)(found - call->inputs);
    return ST_OK;
}

static enum status number_take(struct handbook_call *call, const char *name, const char *text,
                               struct fault *f)
{
    struct handbook_value value;
    const struct unit *unit;
    struct handbook_input *input;
    size_t index = 0;

    if (exact_find(call, name) == NULL && stem_find(call, name, NULL) == NULL)
        return unknown_refuse(call, name, f);
    if (handbook_value_parse(name, text, &value, f) != ST_OK)
        return ST_RANGE;
    unit = unit_find(value.unit);
    if (unit == NULL && value.unit[0] != '\0')
        return unit_refuse(name, value.unit, f);
    if (input_find(call, name, text, unit, &index, f) != ST_OK)
        return f->code;
    input = &call->inputs[index];
    if (input->is_given)
        return fault_set(f, ST_REFUSED, name, "%s has been given already; give it once",
                         input->quantity->name);
    if (unit != NULL && unit_take(input, name, text, unit, f) != ST_OK)
        return ST_RANGE;
    input->is_given = true;
    input->value = value;
    if (value.step <= 0)
        return limits_check(input, name, f);
    if (call->range_count == HANDBOOK_RANGES_MAX)
        return fault_set(f, ST_REFUSED, name, "%s is the third range; a table has at most two", name);
    call->ranges[call->range_count++] = index;
    return ST_OK;
}

static enum status word_take(struct handbook_call *call, const char *word, struct fault *f)
{
    char name[HANDBOOK_WORD_NAME_MAX] = "";
    const struct handbook_input *found;
    struct handbook_input *input;
    const char *text = "";

    if (handbook_word_split(word, name, &text, f) != ST_OK)
        return ST_REFUSED;
    found = exact_find(call, name);
    if (found == NULL || found->quantity->choice == NULL)
        return number_take(call, name, text, f);
    input = &call->inputs[found - call->inputs];
    if (input->is_given)
        return fault_set(f, ST_REFUSED, name, "%s has been given already; give it once", name);
    input->is_given = true;
    return choice_take(input, text, f);
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

enum status handbook_call_make(const struct handbook_entry *entry, const char *const words[], int count,
                               struct handbook_call *call, struct fault *f)
{
    double rows = 1;

    *call = (struct handbook_call){.entry = entry, .input_count = handbook_count(entry->inputs)};
    for (size_t i = 0; i < call->input_count; i++)
        call->inputs[i].quantity = &entry->inputs[i];
    for (int i = 0; i < count; i++)
        if (word_take(call, words[i], f) != ST_OK)
            return f->code;
    for (size_t i = 0; i < call->input_count; i++) {
        if (!call->inputs[i].is_given)
            return missing_refuse(call, call->inputs[i].quantity, f);
        rows *= handbook_value_count(&call->inputs[i].value);
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
    for (size_t i = 0; i < call->input_count; i++) {
        const struct handbook_input *input = &call->inputs[i];

        in[i] = handbook_call_value(call, i, row);
        if (input->unit != NULL &&
            unit_convert_eval(in[i], input->unit, unit_find(input->quantity->unit), &in[i]) != ST_OK)
            in[i] = NAN;
    }
}

enum status handbook_call_row(const struct handbook_call *call, int row, double in[HANDBOOK_INPUTS_MAX],
                              double out[HANDBOOK_OUTPUTS_MAX])
{
    handbook_call_inputs(call, row, in);
    return handbook_eval(call->entry, in, out);
}
