/* syrupwright handbook convert VALUE UNIT UNIT. */
#include "client/commands.h"
#include "client/handbook_call.h"
#include "client/handbook_page.h"
#include "client/run_handbook.h"
#include "science/units.h"
#include "settings/nearest.h"

#include <string.h>

#define KIND_INDENT 22 /* behind the longest name of a kind */

/* A kind a line, or more lines with an indent. */
static void units_print(void)
{
    char word[HANDBOOK_WORD_NAME_MAX + 1];
    char name[HANDBOOK_WORD_NAME_MAX];
    int at = 0;

    handbook_wrapped_print("", 0, "Usage: syrupwright handbook convert VALUE UNIT UNIT, as in", stdout);
    (void)printf("  syrupwright handbook convert 10 US_gal L\nThe units:\n");
    for (const struct unit *u = UNITS; u->name != NULL; u++) {
        bool is_last = u[1].name == NULL || strcmp(u->kind, u[1].kind) != 0;

        if (u == UNITS || strcmp(u->kind, u[-1].kind) != 0)
            at = printf("\n  %-*s", KIND_INDENT - 2, u->kind) - 1;
        (void)snprintf(word, sizeof word, "%s%s", handbook_choice_print(u->name, name), is_last ? "" : ",");
        handbook_words_print(word, KIND_INDENT, &at, stdout);
    }
    (void)printf("\n");
}

static int units_list(const struct arguments *arguments)
{
    json_t *list = json_array();
    json_t *object;
    int failed = 0;
    int status;

    for (const struct unit *u = UNITS; arguments->wants_json && u->name != NULL; u++)
        failed |= json_array_append_new(list, json_pack("{s:s,s:s}", "name", u->name, "kind", u->kind));
    object = json_pack("{s:b,s:o}", "ok", 1, "units", list);
    if (arguments->wants_json) {
        status = handbook_print_json(arguments, failed == 0 ? object : NULL);
        json_decref(object);
        return status;
    }
    json_decref(object);
    units_print();
    return handbook_flush();
}

/* kind: of the other unit, which alone can be meant; NULL where that is unknown too. */
static enum status unit_refuse(const char *text, const char *kind, struct fault *f)
{
    struct nearest nearest = {0};
    const char *doubt = unit_doubt(text);
    char wanted[HANDBOOK_WORD_NAME_MAX];
    char name[HANDBOOK_WORD_NAME_MAX];

    if (doubt != NULL)
        return fault_set(f, ST_RANGE, text, "%s", doubt);
    (void)snprintf(wanted, sizeof wanted, "%s", text);
    for (char *c = wanted; *c != '\0'; c++)
        if (*c == '_')
            *c = ' ';
    nearest.word = wanted;
    for (const struct unit *u = UNITS; kind != NULL && u->name != NULL; u++)
        if (strcmp(u->kind, kind) == 0)
            nearest_offer(&nearest, u->name);
    if (nearest.best == NULL)
        return fault_set(f, ST_RANGE, text,
                         "there is no unit \"%.40s\"; \"syrupwright handbook convert\" lists them", text);
    handbook_choice_print(nearest.best, name);
    return fault_set(f, ST_RANGE, text, "there is no unit \"%.40s\"; did you mean %s?", text, name);
}

static enum status units_read(const char *const words[2], const struct unit *units[2], struct fault *f)
{
    for (int i = 0; i < 2; i++)
        units[i] = unit_find(words[i]);
    for (int i = 0; i < 2; i++)
        if (units[i] == NULL)
            return unit_refuse(words[i], units[1 - i] == NULL ? NULL : units[1 - i]->kind, f);
    return ST_OK;
}

static enum status value_read(const char *text, double *value, struct fault *f)
{
    const char *end = handbook_number_read(text, value);

    if (end != NULL && *end == '\0')
        return ST_OK;
    if (handbook_comma_refuse("", text, f) != ST_OK)
        return ST_RANGE;
    return fault_set(
        f, ST_RANGE, "",
        "\"%.40s\" is not a number; write the value and the units apart, as in \"convert 10 US_gal L\"",
        text);
}

static enum status convert(const char *const words[3], double *value, const struct unit *units[2],
                           double *result, struct fault *f)
{
    if (value_read(words[0], value, f) != ST_OK || units_read(words + 1, units, f) != ST_OK)
        return ST_RANGE;
    if (strcmp(units[0]->kind, units[1]->kind) != 0)
        return fault_set(f, ST_RANGE, "", "%s is a unit of %s, and %s one of %s; they do not convert",
                         units[0]->name, units[0]->kind, units[1]->name, units[1]->kind);
    if (unit_convert_eval(*value, units[0], units[1], result) != ST_OK)
        return fault_set(f, ST_RANGE, "", "%.7g %s is %s", *value, units[0]->name,
                         strcmp(units[0]->kind, UNITS[0].kind) == 0 ? "below absolute zero or too large"
                                                                    : "too large to convert");
    return ST_OK;
}

int run_handbook_convert(const struct arguments *arguments)
{
    const struct unit *units[2] = {NULL, NULL};
    double value = 0;
    char numbers[2][HANDBOOK_NUMBER_MAX];
    struct fault f = {0};
    double result = 0;
    json_t *object;
    int status;

    if (arguments->operand_count == 1)
        return units_list(arguments);
    if (arguments->operand_count != 4) {
        (void)fault_set(&f, ST_REFUSED, "",
                        "convert needs a value and two units, as in \"convert 10 US_gal L\"");
        return usage_exit(arguments, &f);
    }
    if (convert(arguments->operands + 1, &value, units, &result, &f) != ST_OK)
        return fault_exit(arguments, &f);
    if (!arguments->wants_json) {
        (void)printf("%s %s = %s %s\n", handbook_number_print(value, numbers[0]), units[0]->name,
                     handbook_number_print(result, numbers[1]), units[1]->name);
        return handbook_flush();
    }
    object = json_pack("{s:b,s:s,s:f,s:s,s:f,s:s}", "ok", 1, "kind", units[0]->kind, "value", value, "unit",
                       units[0]->name, "result", result, "result_unit", units[1]->name);
    status = handbook_print_json(arguments, object);
    json_decref(object);
    return status;
}
