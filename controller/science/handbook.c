#include "science/handbook.h"

#include "science/science_range.h"

#include <string.h>

const struct handbook_section HANDBOOK[] = {
    {"Sugar and water: density and refraction", HANDBOOK_SUGAR},
    {"Sugar and water: solubility, flow, heat and boiling", HANDBOOK_HEAT},
    {"Volumes, dilution and blends", HANDBOOK_MIX},
    {"Ratios and units", HANDBOOK_RATIO},
    {"Water and acid", HANDBOOK_ACID},
    {"The pH probe and its buffers", HANDBOOK_PROBE},
    {"Change with time", HANDBOOK_CHANGE},
    {"Heat and skin", HANDBOOK_SKIN},
    {"Uncertainty and conformity", HANDBOOK_PROOF},
    {NULL, NULL},
};

const struct handbook_entry *handbook_find(const char *name)
{
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++)
            if (strcmp(e->name, name) == 0)
                return e;
    return NULL;
}

enum status handbook_eval(const struct handbook_entry *entry, const double in[], double out[])
{
    for (size_t i = 0; entry->inputs[i].name != NULL; i++) {
        const struct handbook_quantity *q = &entry->inputs[i];

        /* a choice is turned into a whole number by its row, so it must be one */
        if (q->choice != NULL && (!is_within(in[i], q->min, q->max) || in[i] != (int)in[i]))
            return ST_RANGE;
    }
    return entry->eval(in, out);
}

size_t handbook_count(const struct handbook_quantity *quantities)
{
    size_t count = 0;

    while (quantities[count].name != NULL)
        count++;
    return count;
}

int handbook_choice_find(const struct handbook_quantity *quantity, const char *name)
{
    if (quantity->choice == NULL)
        return -1;
    for (int i = (int)quantity->min; i <= (int)quantity->max; i++)
        if (strcmp(quantity->choice(i), name) == 0)
            return i;
    return -1;
}
