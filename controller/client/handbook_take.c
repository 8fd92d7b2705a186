/* One word of the command line into the input that it names. */
#include "client/handbook_call.h"
#include "client/handbook_words.h"

#include "settings/nearest.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

static bool has_unit(const struct handbook_quantity *quantity)
{
    return quantity->choice == NULL && quantity->unit[0] != '\0';
}

/* A difference of temperatures must not be shifted by 273.15: it is in K and nothing else. */
static bool is_difference(const struct handbook_quantity *quantity)
{
    return strcmp(quantity->unit, "K") == 0;
}

/* May a unit of this kind stand behind its value? Water by volume too. */
static bool takes_kind(const struct handbook_quantity *quantity, const char *kind)
{
    return has_unit(quantity) && (strcmp(kind, unit_find(quantity->unit)->kind) == 0 ||
                                  (strcmp(quantity->name, "water_kg") == 0 && strcmp(kind, "volume") == 0));
}

bool handbook_is_water(const struct handbook_input *input)
{
    return input->unit != NULL && strcmp(input->unit->kind, unit_find(input->quantity->unit)->kind) != 0;
}

enum status handbook_input_convert(const struct handbook_input *input, double value, double *converted)
{
    bool is_water = handbook_is_water(input);
    double read = value;

    if (input->unit != NULL &&
        unit_convert_eval(value, input->unit, unit_find(is_water ? "L" : input->quantity->unit), &read) !=
            ST_OK)
        return ST_RANGE;
    *converted = is_water ? read * HANDBOOK_WATER_KG_L : read;
    return ST_OK;
}

/* ---- which input ------------------------------------------------------------------------ */

const struct handbook_input *handbook_input_find(const struct handbook_call *call, const char *name)
{
    for (size_t i = 0; i < call->input_count; i++)
        if (strcasecmp(call->inputs[i].quantity->name, name) == 0)
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

        handbook_stem(q, stem);
        if (has_unit(q) && strcasecmp(stem, name) == 0 && (kind == NULL || takes_kind(q, kind)))
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

/* The input that is meant by this name, with a unit behind its value or none. */
static enum status input_find(const struct handbook_call *call, const char *name, const char *text,
                              const struct unit *unit, size_t *index, struct fault *f)
{
    const struct handbook_input *found = handbook_input_find(call, name);
    char own[HANDBOOK_WORD_NAME_MAX];

    if (found == NULL && stem_find(call, name, NULL) != NULL) {
        found = stem_find(call, name, unit == NULL ? NULL : unit->kind);
        if (found == NULL)
            found = stem_find(call, name, NULL);
        handbook_choice_print(found->quantity->unit, own);
        if (unit == NULL) /* a unit that begins with a digit keeps its distance: 5_1/h */
            return fault_set(f, ST_RANGE, name, "%s needs a unit: write %s=%.40s, or %s=%.40s%s%s", name,
                             found->quantity->name, text, name, text,
                             own[0] >= '0' && own[0] <= '9' ? "_" : "", own);
    }
    if (found == NULL)
        return unknown_refuse(call, name, f);
    *index = (size_t)(found - call->inputs);
    return ST_OK;
}

/* ---- values ------------------------------------------------------------------------------- */

/* "degC, degF or K" */
static void kind_print(const char *kind, char out[HANDBOOK_NAMES_MAX])
{
    size_t used = 0;

    out[0] = '\0';
    for (const struct unit *u = UNITS; u->name != NULL && used < HANDBOOK_NAMES_MAX; u++) {
        char name[HANDBOOK_WORD_NAME_MAX];
        bool is_last = u[1].name == NULL || strcmp(u[1].kind, kind) != 0;

        if (strcmp(u->kind, kind) == 0)
            used += (size_t)snprintf(out + used, HANDBOOK_NAMES_MAX - used, "%s%s",
                                     used == 0 ? "" : (is_last ? " or " : ", "),
                                     handbook_choice_print(u->name, name));
    }
}

static enum status unit_refuse(const struct handbook_quantity *q, const char *name, const char *text,
                               struct fault *f)
{
    const char *doubt = unit_doubt(text);
    char units[HANDBOOK_NAMES_MAX];

    if (doubt != NULL)
        return fault_set(f, ST_RANGE, name, "%s: %s", name, doubt);
    if (!has_unit(q) || is_difference(q))
        return fault_set(f, ST_RANGE, name, "%s: there is no unit \"%.40s\"; it is a number%s", name, text,
                         has_unit(q) ? " in K" : " without a unit");
    kind_print(unit_find(q->unit)->kind, units);
    return fault_set(f, ST_RANGE, name, "%s: there is no unit \"%.40s\"; it is given in %s", name, text,
                     units);
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
    if (!takes_kind(q, unit->kind))
        return fault_set(f, ST_RANGE, name, "%s: %s is a unit of %s, but this is one of %s; write it in %s",
                         name, unit->name, unit->kind, own->kind, own->name);
    if (is_difference(q))
        return fault_set(f, ST_RANGE, name, "%s is a difference of temperatures; write it in K", name);
    if (strcasecmp(stem, name) != 0)
        return fault_set(f, ST_RANGE, name,
                         "%s=%.40s contradicts itself: %s is in %s by its name; write %s=%.40s", name, text,
                         name, own->name, stem, text);
    input->unit = unit;
    return ST_OK;
}

static enum status limits_check(const struct handbook_call *call, const struct handbook_input *input,
                                const char *name, struct fault *f)
{
    const struct handbook_quantity *q = input->quantity;
    const struct unit *unit = handbook_is_water(input) ? NULL : input->unit;
    const char *given = input->unit != NULL ? input->unit->name : q->unit;
    const char *own = unit != NULL ? unit->name : q->unit;
    const char *below = handbook_below(call->entry);
    double value = 0;
    bool is_value = handbook_input_convert(input, input->value.from, &value) == ST_OK;
    double min;
    double max;

    if (input->value.step > 0 || (is_value && value >= q->min && value <= q->max))
        return ST_OK;
    handbook_limits(q, unit, &min, &max);
    return fault_set(f, ST_RANGE, name,
                     "%s: %.7g%s%s is outside the range of this function, %.7g to %.7g%s%s%s%s", name,
                     input->value.from, given[0] ? " " : "", given, min, max, own[0] ? " " : "", own,
                     is_value && value < q->min && below != NULL ? "; " : "",
                     is_value && value < q->min && below != NULL ? below : "");
}

static enum status number_take(struct handbook_call *call, const char *name, const char *text,
                               struct fault *f)
{
    const struct handbook_input *found = handbook_input_find(call, name);
    struct handbook_hint hint;
    struct handbook_value value;
    const struct unit *unit;
    struct handbook_input *input;
    size_t index = 0;

    if (found == NULL)
        found = stem_find(call, name, NULL);
    if (found == NULL)
        return unknown_refuse(call, name, f);
    handbook_hint_make(call->entry, found->quantity, &hint);
    if (handbook_value_parse(name, text, &hint, &value, f) != ST_OK)
        return ST_RANGE;
    unit = unit_find(value.unit);
    if (unit == NULL && value.unit[0] != '\0')
        return unit_refuse(found->quantity, name, value.unit, f);
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
        return limits_check(call, input, name, f);
    if (call->range_count == HANDBOOK_RANGES_MAX)
        return fault_set(f, ST_REFUSED, name, "%s is the third range; a table has at most two", name);
    call->ranges[call->range_count++] = index;
    return ST_OK;
}

/* The first input that is still missing, as an example. */
static void example_make(const struct handbook_call *call, struct handbook_hint *hint)
{
    size_t missing = 0;

    while (missing + 1 < call->input_count && call->inputs[missing].is_given)
        missing++;
    handbook_hint_make(call->entry, call->inputs[missing].quantity, hint);
}

enum status handbook_word_take(struct handbook_call *call, const char *word, struct fault *f)
{
    char name[HANDBOOK_WORD_NAME_MAX] = "";
    const struct handbook_input *found;
    struct handbook_input *input;
    struct handbook_hint hint;
    const char *text = "";
    double number = 0;

    example_make(call, &hint);
    if (handbook_word_split(word, hint.value, name, &text, f) != ST_OK)
        return ST_REFUSED;
    found = handbook_input_find(call, name);
    if (found == NULL || found->quantity->choice == NULL)
        return number_take(call, name, text, f);
    input = &call->inputs[found - call->inputs];
    if (input->is_given)
        return fault_set(f, ST_REFUSED, name, "%s has been given already; give it once",
                         found->quantity->name);
    if (handbook_choice_take(found->quantity, text, &number, f) != ST_OK)
        return ST_RANGE;
    input->is_given = true;
    input->value = (struct handbook_value){number, number, 0, ""};
    return ST_OK;
}
