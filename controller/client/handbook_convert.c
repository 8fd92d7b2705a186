/* syrupwright handbook convert VALUE UNIT UNIT. */
#include "client/commands.h"
#include "client/handbook_call.h"
#include "client/run_handbook.h"
#include "science/units.h"
#include "settings/nearest.h"

#include <string.h>

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
    (void)printf("Usage: syrupwright handbook convert VALUE UNIT UNIT, as in \"convert 10 US_gal L\".\n"
                 "A blank in a unit may be written as an underscore. The units:\n");
    for (const struct unit *u = UNITS; u->name != NULL; u++) {
        if (u == UNITS || strcmp(u->kind, u[-1].kind) != 0)
            (void)printf("\n  %-18s", u->kind);
        else
            (void)printf(",");
        (void)printf(" %s", u->name);
    }
    (void)printf("\n");
    return handbook_flush();
}

static enum status unit_read(const char *text, const struct unit **unit, struct fault *f)
{
    struct nearest nearest = {0};
    const char *doubt = unit_doubt(text);
    char wanted[HANDBOOK_WORD_NAME_MAX];
    char name[HANDBOOK_WORD_NAME_MAX];

    *unit = unit_find(text);
    if (*unit != NULL)
        return ST_OK;
    if (doubt != NULL)
        return fault_set(f, ST_RANGE, text, "%s", doubt);
    (void)snprintf(wanted, sizeof wanted, "%s", text);
    for (char *c = wanted; *c != '\0'; c++)
        if (*c == '_')
            *c = ' ';
    nearest.word = wanted;
    for (const struct unit *u = UNITS; u->name != NULL; u++)
        nearest_offer(&nearest, u->name);
    if (nearest.best == NULL)
        return fault_set(f, ST_RANGE, text,
                         "there is no unit \"%.40s\"; \"syrupwright handbook convert\" lists them", text);
    handbook_choice_print(nearest.best, name);
    return fault_set(f, ST_RANGE, text, "there is no unit \"%.40s\"; did you mean %s?", text, name);
}

static enum status value_read(const char *text, double *value, struct fault *f)
{
    const char *end = handbook_number_read(text, value);

    if (end != NULL && *end == '\0')
        return ST_OK;
    if (strchr(text, ',') != NULL)
        return fault_set(f, ST_RANGE, "", "\"%.40s\" has a comma; the decimal sign is the point, as in 5.5",
                         text);
    return fault_set(
        f, ST_RANGE, "",
        "\"%.40s\" is not a number; write the value and the units apart, as in \"convert 10 US_gal L\"",
        text);
}

static enum status convert(const char *const words[3], double *value, const struct unit *units[2],
                           double *result, struct fault *f)
{
    if (value_read(words[0], value, f) != ST_OK || unit_read(words[1], &units[0], f) != ST_OK ||
        unit_read(words[2], &units[1], f) != ST_OK)
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
