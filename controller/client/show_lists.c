#include "client/numbers.h"
#include "client/show.h"

#include <math.h>
#include <string.h>

/* A cell whatever its type; lists come from the record and are shown as they are. */
static void cell_print(const json_t *object, const char *key, int decimals, char out[SHOW_LINE_MAX])
{
    const json_t *value = json_object_get(object, key);
    char number[NUMBER_TEXT_MAX];

    if (json_is_string(value))
        show_clean(json_string_value(value), out);
    else if (json_is_number(value))
        (void)snprintf(out, SHOW_LINE_MAX, "%s", number_print(json_number_value(value), decimals, number));
    else if (json_is_boolean(value))
        (void)snprintf(out, SHOW_LINE_MAX, "%s", json_is_true(value) ? "yes" : "no");
    else
        (void)snprintf(out, SHOW_LINE_MAX, "-");
}

struct column {
    const char *key;
    const char *title;
    int width;
    int decimals;
};

static const struct column BATCH_COLUMNS[] = {
    {"batch", "batch", 12, 0},
    {"started", "started", 21, 0},
    {"ended", "ended", 21, 0},
    {"outcome", "outcome", 11, 0},
    {"strength_pct", "strength %", 11, 2},
    {"certificate", "certificate", 12, 0},
    {"simulated", "simulated", 9, 0},
};

void show_batches(const struct show *show, const json_t *batches)
{
    const size_t columns = sizeof BATCH_COLUMNS / sizeof BATCH_COLUMNS[0];
    char cell[SHOW_LINE_MAX];

    if (json_array_size(batches) == 0) {
        (void)fprintf(show->to, "There is no batch in the record yet.\n");
        return;
    }
    for (size_t i = 0; i < columns; i++)
        (void)fprintf(show->to, "%-*s", BATCH_COLUMNS[i].width, BATCH_COLUMNS[i].title);
    (void)fprintf(show->to, "\n");
    for (size_t row = 0; row < json_array_size(batches); row++) {
        for (size_t i = 0; i < columns; i++) {
            cell_print(json_array_get(batches, row), BATCH_COLUMNS[i].key, BATCH_COLUMNS[i].decimals, cell);
            (void)fprintf(show->to, "%-*s", BATCH_COLUMNS[i].width, cell);
        }
        (void)fprintf(show->to, "\n");
    }
}

void show_journal(const struct show *show, const json_t *journal)
{
    char utc[SHOW_LINE_MAX];
    char sentence[SHOW_LINE_MAX];

    if (json_array_size(journal) == 0)
        (void)fprintf(show->to, "Nothing is written about that batch.\n");
    for (size_t i = 0; i < json_array_size(journal); i++) {
        cell_print(json_array_get(journal, i), "utc", 0, utc);
        cell_print(json_array_get(journal, i), "sentence", 0, sentence);
        (void)fprintf(show->to, "%s  %s\n", utc, sentence);
    }
}

void show_hello(const struct show *show, const json_t *reply)
{
    const json_t *you = json_object_get(reply, "you");
    char line[SHOW_LINE_MAX];

    (void)snprintf(line, sizeof line, "%s, with the role %s", show_text(you, "name"), show_text(you, "role"));
    show_row(show, "You are", line);
    (void)snprintf(line, sizeof line, "%s%s", show_text(reply, "tank"),
                   json_is_true(json_object_get(reply, "simulated")) ? " (simulated: nothing here is real)"
                                                                     : "");
    show_row(show, "The tank is", line);
    (void)snprintf(line, sizeof line, "%s %s", show_text(reply, "program"), show_text(reply, "version"));
    show_row(show, "Run by", line);
}
