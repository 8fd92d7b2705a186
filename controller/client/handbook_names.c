/* What quantities of the handbook are called, without their unit, together, and how far they go. */
#include "client/handbook_call.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DIGITS 7

/* How a unit ends a name: "kg_m3" for kg/m3, "j_kg_k" for J/(kg K). */
static void suffix_print(const char *unit, char suffix[HANDBOOK_WORD_NAME_MAX])
{
    static const struct {
        const char *unit;
        const char *suffix;
    } OWN[] = {{"degC", "c"}, {"%", "pct"}, {"1/h", "per_h"}};
    size_t used = 0;

    for (size_t i = 0; i < sizeof OWN / sizeof OWN[0]; i++)
        if (strcmp(OWN[i].unit, unit) == 0) {
            (void)snprintf(suffix, HANDBOOK_WORD_NAME_MAX, "%s", OWN[i].suffix);
            return;
        }
    for (; *unit != '\0' && used < HANDBOOK_WORD_NAME_MAX - 1; unit++) {
        char c = *unit;

        if (c >= 'A' && c <= 'Z')
            c = (char)(c - 'A' + 'a');
        if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'))
            suffix[used++] = c;
        else if (used > 0 && suffix[used - 1] != '_')
            suffix[used++] = '_';
    }
    while (used > 0 && suffix[used - 1] == '_')
        used--;
    suffix[used] = '\0';
}

void handbook_stem(const struct handbook_quantity *quantity, char stem[HANDBOOK_WORD_NAME_MAX])
{
    char suffix[HANDBOOK_WORD_NAME_MAX] = "";
    size_t length = strlen(quantity->name);
    size_t end;

    (void)snprintf(stem, HANDBOOK_WORD_NAME_MAX, "%s", quantity->name);
    suffix_print(quantity->unit, suffix);
    end = strlen(suffix);
    if (end > 0 && length > end + 1 && length < HANDBOOK_WORD_NAME_MAX && stem[length - end - 1] == '_' &&
        strcmp(stem + length - end, suffix) == 0)
        stem[length - end - 1] = '\0';
}

/* value to 7 digits, and never beyond it: upwards or downwards. */
static double round_towards(double value, bool is_up)
{
    char text[HANDBOOK_NUMBER_MAX];
    double rounded = strtod(handbook_number_print(value, text), NULL);
    double digit = value == 0 ? 0 : pow(10, floor(log10(fabs(value))) - (DIGITS - 1));

    if (is_up && rounded < value)
        rounded += digit;
    if (!is_up && rounded > value)
        rounded -= digit;
    return rounded;
}

void handbook_limits(const struct handbook_quantity *quantity, const struct unit *unit, double *min,
                     double *max)
{
    const struct unit *own = unit_find(quantity->unit);

    *min = quantity->min;
    *max = quantity->max;
    if (unit != NULL && (unit_convert_eval(*min, own, unit, min) != ST_OK ||
                         unit_convert_eval(*max, own, unit, max) != ST_OK))
        return;
    *min = round_towards(*min, true);
    *max = round_towards(*max, false);
}

void handbook_names(const struct handbook_quantity *quantities, char out[HANDBOOK_NAMES_MAX])
{
    size_t used = 0;

    out[0] = '\0';
    for (size_t i = 0; quantities[i].name != NULL && used < HANDBOOK_NAMES_MAX; i++)
        used += (size_t)snprintf(out + used, HANDBOOK_NAMES_MAX - used, "%s%s", i == 0 ? "" : ", ",
                                 quantities[i].name);
}

const char *handbook_choice_print(const char *name, char out[HANDBOOK_WORD_NAME_MAX])
{
    (void)snprintf(out, HANDBOOK_WORD_NAME_MAX, "%s", name);
    for (char *c = out; *c != '\0'; c++)
        if (*c == ' ')
            *c = '_';
    return out;
}

void handbook_choices(const struct handbook_quantity *quantity, char out[HANDBOOK_NAMES_MAX])
{
    int first = (int)quantity->min;
    int last = (int)quantity->max;
    char name[HANDBOOK_WORD_NAME_MAX];
    size_t used = 0;

    out[0] = '\0';
    for (int i = first; quantity->choice != NULL && i <= last && used < HANDBOOK_NAMES_MAX; i++) {
        handbook_choice_print(quantity->choice(i), name);
        used += (size_t)snprintf(out + used, HANDBOOK_NAMES_MAX - used, "%s%s",
                                 i == first ? "" : (i == last ? " or " : ", "), name);
    }
    if (used >= HANDBOOK_NAMES_MAX)
        out[0] = '\0';
}
