/* The handbook for programs: the same as handbook_show.c and handbook_table.c print, with all digits. */
#include "client/handbook_show.h"

#include <math.h>

/* An object, or NULL when any part could not be made. */
static json_t *object_finish(json_t *object, int failed)
{
    if (failed == 0)
        return object;
    json_decref(object);
    return NULL;
}

json_t *handbook_list_json(const char *text)
{
    json_t *sections = json_array();
    int failed = 0;

    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++) {
        json_t *functions = json_array();

        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++)
            if (handbook_is_listed(s, e, text))
                failed |= json_array_append_new(functions,
                                                json_pack("{s:s,s:s}", "name", e->name, "words", e->words));
        if (functions != NULL && json_array_size(functions) == 0)
            json_decref(functions);
        else
            failed |= json_array_append_new(
                sections, json_pack("{s:s,s:o}", "title", s->title, "functions", functions));
    }
    return object_finish(json_pack("{s:b,s:o}", "ok", 1, "sections", sections), failed);
}

/* A number, or the name of a choice. */
static json_t *value_json(const struct handbook_quantity *q, double value)
{
    char name[HANDBOOK_WORD_NAME_MAX];

    return q->choice != NULL ? json_string(handbook_choice_print(q->choice((int)value), name))
                             : json_real(value);
}

static json_t *quantity_json(const struct handbook_quantity *q)
{
    char name[HANDBOOK_WORD_NAME_MAX];
    json_t *choices;
    int failed = 0;

    if (q->choice == NULL)
        return json_pack("{s:s,s:s,s:f,s:f}", "name", q->name, "unit", q->unit, "min", q->min, "max", q->max);
    choices = json_array();
    for (int i = (int)q->min; i <= (int)q->max; i++)
        failed |= json_array_append_new(choices, json_string(handbook_choice_print(q->choice(i), name)));
    return object_finish(json_pack("{s:s,s:s,s:o}", "name", q->name, "unit", q->unit, "choices", choices),
                         failed);
}

/* The quantities of a list; values NULL: without a value. */
static json_t *quantities_json(const struct handbook_quantity *quantities, const double values[])
{
    json_t *list = json_array();
    int failed = 0;

    for (size_t i = 0; quantities[i].name != NULL; i++) {
        json_t *object = quantity_json(&quantities[i]);

        if (values != NULL)
            failed |= json_object_set_new(object, "value", value_json(&quantities[i], values[i]));
        failed |= json_array_append_new(list, object);
    }
    return object_finish(list, failed);
}

/* Beside the value of an input, what the person wrote in a unit of their own, or that it was left out. */
static int given_put(const struct handbook_call *call, json_t *inputs)
{
    int failed = 0;

    for (size_t i = 0; i < call->input_count; i++) {
        const struct handbook_input *input = &call->inputs[i];

        if (input->unit != NULL)
            failed |= json_object_set_new(
                json_array_get(inputs, i), "given",
                json_pack("{s:f,s:s}", "value", input->value.from, "unit", input->unit->name));
        if (input->is_left_out)
            failed |= json_object_set_new(json_array_get(inputs, i), "left_out", json_true());
    }
    return failed;
}

static json_t *whole_json(const struct handbook_entry *e, json_t *inputs, json_t *results)
{
    return json_pack("{s:b,s:s,s:s,s:o,s:o,s:s,s:s,s:s}", "ok", 1, "name", e->name, "words", e->words,
                     "inputs", inputs, "results", results, "range", e->range, "source", e->source,
                     "expected_error", e->error);
}

json_t *handbook_entry_json(const struct handbook_entry *entry)
{
    json_t *object = whole_json(entry, quantities_json(entry->inputs, NULL),
                                quantities_json(entry->outputs, NULL));
    char example[HANDBOOK_EXAMPLE_MAX];
    int failed = 0;

    if (handbook_example(entry, example))
        failed = json_object_set_new(object, "example", json_string(example));
    return object_finish(object, failed);
}

json_t *handbook_point_json(const struct handbook_call *call, const double in[], const double out[])
{
    json_t *inputs = quantities_json(call->entry->inputs, in);

    if (given_put(call, inputs) != 0)
        inputs = object_finish(inputs, 1);
    return whole_json(call->entry, inputs, quantities_json(call->entry->outputs, out));
}

/* {"temp_c":0,"strength_pct":50,"density_kg_m3":1234.5}; null where the function says nothing. */
static json_t *row_json(const struct handbook_call *call, int row, int *outside)
{
    const struct handbook_quantity *outputs = call->entry->outputs;
    double in[HANDBOOK_INPUTS_MAX];
    double out[HANDBOOK_OUTPUTS_MAX];
    bool is_inside = handbook_call_row(call, row, in, out) == ST_OK;
    json_t *object = json_object();
    int failed = 0;

    for (size_t i = 0; i < call->input_count; i++) /* what no unit has is no number in JSON either */
        failed |= json_object_set_new(object, call->inputs[i].quantity->name,
                                      isfinite(in[i]) ? value_json(call->inputs[i].quantity, in[i])
                                                      : json_null());
    for (size_t i = 0; outputs[i].name != NULL; i++)
        failed |= json_object_set_new(object, outputs[i].name,
                                      is_inside ? value_json(&outputs[i], out[i]) : json_null());
    *outside += is_inside ? 0 : 1;
    return object_finish(object, failed);
}

json_t *handbook_table_json(const struct handbook_call *call, int *outside)
{
    const struct handbook_entry *entry = call->entry;
    json_t *object = whole_json(entry, quantities_json(entry->inputs, NULL),
                                quantities_json(entry->outputs, NULL));
    json_t *rows = json_array();
    int failed = 0;

    *outside = 0;
    for (int row = 0; row < call->rows; row++)
        failed |= json_array_append_new(rows, row_json(call, row, outside));
    failed |= json_object_set_new(object, "rows", rows);
    return object_finish(object, failed);
}
