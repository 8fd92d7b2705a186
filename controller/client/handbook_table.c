/* A table of the handbook for people: a line a row, columns as wide as what stands in them. */
#include "client/handbook_page.h"
#include "client/handbook_show.h"
#include "client/handbook_words.h"

#include <string.h>

#define COLUMNS_MAX (HANDBOOK_RANGES_MAX + HANDBOOK_OUTPUTS_MAX)

struct table_column {
    char name[HANDBOOK_WORD_NAME_MAX];
    const char *unit;
    bool is_text; /* begins at the left, as words do */
    int width;
};

struct table {
    const struct handbook_call *call;
    int count;
    struct table_column columns[COLUMNS_MAX];
};

/* The cells of a row; ST_RANGE: only those of the inputs. */
static enum status cells_make(const struct handbook_call *call, int row,
                              char cells[COLUMNS_MAX][HANDBOOK_WORD_NAME_MAX])
{
    double in[HANDBOOK_INPUTS_MAX];
    double out[HANDBOOK_OUTPUTS_MAX];
    int count = call->range_count;
    enum status status = handbook_call_row(call, row, in, out);

    for (int i = 0; i < count; i++)
        handbook_number_print(handbook_call_value(call, call->ranges[i], row), cells[i]);
    for (size_t i = 0; status == ST_OK && call->entry->outputs[i].name != NULL; i++)
        handbook_result_print(call->entry, i, out[i], cells[count++]);
    return status;
}

static void column_widen(struct table_column *column, const char *text)
{
    int length = (int)strlen(text);

    if (length > column->width)
        column->width = length;
}

static void column_add(struct table *table, const char *name, const char *unit, bool is_text)
{
    struct table_column *column = &table->columns[table->count++];

    (void)snprintf(column->name, sizeof column->name, "%s", name);
    column->unit = unit;
    column->is_text = is_text;
    column_widen(column, name);
    column_widen(column, unit);
}

/* An input in a person's own unit is called by its name without one. */
static void table_make(const struct handbook_call *call, struct table *table)
{
    char cells[COLUMNS_MAX][HANDBOOK_WORD_NAME_MAX];
    char name[HANDBOOK_WORD_NAME_MAX];

    *table = (struct table){.call = call};
    for (int i = 0; i < call->range_count; i++) {
        const struct handbook_input *input = &call->inputs[call->ranges[i]];

        (void)snprintf(name, sizeof name, "%s", input->quantity->name);
        if (input->unit != NULL)
            handbook_stem(input->quantity, name);
        column_add(table, name, input->unit != NULL ? input->unit->name : input->quantity->unit, false);
    }
    for (const struct handbook_quantity *q = call->entry->outputs; q->name != NULL; q++)
        column_add(table, q->name, q->unit, q->choice != NULL);
    for (int row = 0; row < call->rows; row++) {
        int filled = cells_make(call, row, cells) == ST_OK ? table->count : call->range_count;

        for (int i = 0; i < filled; i++)
            column_widen(&table->columns[i], cells[i]);
    }
}

static void cell_print(const struct table *table, int index, const char *text, FILE *to)
{
    const struct table_column *column = &table->columns[index];
    bool is_last = index == table->count - 1;

    if (column->is_text && is_last)
        (void)fprintf(to, "%s%s", text[0] != '\0' ? "  " : "", text);
    else
        (void)fprintf(to, "  %*s", column->is_text ? -column->width : column->width, text);
}

static enum status row_print(const struct table *table, int row, FILE *to)
{
    char cells[COLUMNS_MAX][HANDBOOK_WORD_NAME_MAX];
    enum status status = cells_make(table->call, row, cells);
    int filled = status == ST_OK ? table->count : table->call->range_count;

    for (int i = 0; i < filled; i++)
        cell_print(table, i, cells[i], to);
    (void)fprintf(to, "%s\n", status == ST_OK ? "" : "  out of range");
    return status;
}

/* Water by volume, and where the last step is not the end that was asked for. */
static void ranges_print(const struct handbook_call *call, FILE *to)
{
    for (int i = 0; i < call->range_count; i++) {
        const struct handbook_input *input = &call->inputs[call->ranges[i]];
        double last = handbook_value_at(&input->value, handbook_value_count(&input->value) - 1);

        if (last < input->value.to || last > input->value.to)
            (void)fprintf(to, "%s ends at %.7g; the next step would pass %.7g.\n", input->quantity->name,
                          last, input->value.to);
        if (handbook_is_water(input))
            (void)fprintf(to, "A litre of water is taken for %.4g kg, as at 20 degC.\n", HANDBOOK_WATER_KG_L);
    }
}

/* What the columns are called, and their units where any has one. */
static void head_print(const struct table *table, FILE *to)
{
    bool has_units = false;

    for (int i = 0; i < table->count; i++) {
        cell_print(table, i, table->columns[i].name, to);
        has_units |= table->columns[i].unit[0] != '\0';
    }
    (void)fprintf(to, "\n");
    for (int i = 0; has_units && i < table->count; i++)
        cell_print(table, i, table->columns[i].unit, to);
    (void)fprintf(to, "%s", has_units ? "\n" : "");
}

void handbook_table_print(const struct handbook_call *call, FILE *to, int *outside)
{
    double in[HANDBOOK_INPUTS_MAX];
    struct table table;

    table_make(call, &table);
    handbook_call_inputs(call, 0, in);
    handbook_head_print(call->entry, to);
    for (size_t i = 0; i < call->input_count; i++)
        if (call->inputs[i].value.step <= 0)
            handbook_input_print(&call->inputs[i], in[i], to);
    (void)fprintf(to, "%s", (int)call->input_count > call->range_count ? "\n" : "");
    head_print(&table, to);
    *outside = 0;
    for (int row = 0; row < call->rows; row++)
        *outside += row_print(&table, row, to) != ST_OK;
    (void)fprintf(to, "\n");
    ranges_print(call, to);
    if (handbook_remark(call->entry) != NULL)
        handbook_wrapped_print("", 0, handbook_remark(call->entry), to);
    handbook_notes_print(call->entry, to);
}
