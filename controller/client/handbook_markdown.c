/* The table of functions in DEVELOPERS.md, which a test compares with this. */
#include "client/handbook_show.h"

static void range_print(const struct handbook_quantity *q, const char *between, FILE *to)
{
    if (q->choice != NULL)
        (void)fprintf(to, "%s%s by name", between, q->name);
    else
        (void)fprintf(to, "%s%.4g to %.4g%s%s", between, q->min, q->max, q->unit[0] != '\0' ? " " : "",
                      q->unit);
}

static void entry_print(const struct handbook_entry *entry, FILE *to)
{
    char takes[HANDBOOK_NAMES_MAX];
    char gives[HANDBOOK_NAMES_MAX];

    handbook_names(entry->inputs, takes);
    handbook_names(entry->outputs, gives);
    (void)fprintf(to, "| `%s` | %s | %s | ", entry->name, takes, gives);
    for (size_t i = 0; entry->inputs[i].name != NULL; i++)
        range_print(&entry->inputs[i], i == 0 ? "" : ", ", to);
    (void)fprintf(to, "%s%s | %s |\n", entry->range[0] != '\0' ? "; " : "", entry->range, entry->source);
}

void handbook_markdown_print(FILE *to)
{
    (void)fprintf(to, "| function | takes | gives | valid | source |\n| --- | --- | --- | --- | --- |\n");
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++)
            entry_print(e, to);
}
