/* The handbook: what the program calculates with, listed, explained and called. No daemon. */
#include "client/run_handbook.h"

#include "client/commands.h"
#include "client/handbook_show.h"
#include "client/handbook_words.h"
#include "settings/nearest.h"

#include <string.h>
#include <strings.h>

#define NAME_MAX_WORDS 256 /* of a name or a search in several words */

int handbook_flush(void)
{
    struct fault f;

    if (fflush(stdout) == 0 && ferror(stdout) == 0)
        return EX_OK;
    (void)fault_set(&f, ST_SYSTEM, "", "the result cannot be written to standard output");
    (void)fault_exit(NULL, &f);
    return EX_IOERR;
}

int handbook_print_json(const struct arguments *arguments, const json_t *object)
{
    struct fault f;

    if (object != NULL)
        return json_print(object);
    (void)fault_set(&f, ST_SYSTEM, "", "memory is short");
    return fault_exit(arguments, &f);
}

/* Print an object and let it go. */
static int object_print(const struct arguments *arguments, json_t *object)
{
    int status = handbook_print_json(arguments, object);

    json_decref(object);
    return status;
}

/* text NULL: everything. */
static int list_run(const struct arguments *arguments, const char *text)
{
    if (arguments->wants_json)
        return object_print(arguments, handbook_list_json(text));
    if (arguments->wants_markdown)
        handbook_markdown_print(stdout);
    else
        handbook_list_print(text, stdout);
    return handbook_flush();
}

static int unknown_exit(const struct arguments *arguments, const char *name)
{
    struct nearest nearest = {.word = name};
    struct fault f;

    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++)
            nearest_offer(&nearest, e->name);
    if (nearest.best != NULL)
        (void)fault_set(&f, ST_REFUSED, "", "the handbook has no function \"%.60s\"; did you mean %s?", name,
                        nearest.best);
    else
        (void)fault_set(
            &f, ST_REFUSED, "",
            "the handbook has no function \"%.60s\", and none about it; \"syrupwright handbook\" lists them",
            name);
    return usage_exit(arguments, &f);
}

/* Each input is within its range, and there is no answer all the same. */
static int point_refuse(const struct arguments *arguments, const struct handbook_call *call)
{
    const char *range = call->entry->range;
    struct fault f;

    (void)fault_set(&f, ST_RANGE, "", "%s has no answer for these inputs%s: %s", call->entry->name,
                    call->input_count > 1 ? " together" : "",
                    range[0] != '\0' ? range : "see its explanation");
    return fault_exit(arguments, &f);
}

static int point_run(const struct arguments *arguments, const struct handbook_call *call)
{
    double in[HANDBOOK_INPUTS_MAX];
    double out[HANDBOOK_OUTPUTS_MAX];

    if (handbook_call_row(call, 0, in, out) != ST_OK)
        return point_refuse(arguments, call);
    if (arguments->wants_json)
        return object_print(arguments, handbook_point_json(call, in, out));
    handbook_point_print(call, in, out, stdout);
    return handbook_flush();
}

/* The rows are printed in any case; those out of range make it a failure, said on standard error. */
static int table_run(const struct arguments *arguments, const struct handbook_call *call)
{
    const char *below = handbook_below(call->entry);
    json_t *object = NULL;
    int outside = 0;
    struct fault f;
    int status;

    if (arguments->wants_json)
        object = handbook_table_json(call, &outside);
    else
        handbook_table_print(call, stdout, &outside);
    (void)fault_set(&f, ST_RANGE, "", "%d of %d rows are out of the range of %s%s%s", outside, call->rows,
                    call->entry->name, below != NULL ? "; " : "", below != NULL ? below : "");
    if (object != NULL && outside > 0 &&
        (json_object_set_new(object, "ok", json_false()) != 0 ||
         json_object_set_new(object, "error",
                             json_pack("{s:s,s:s}", "code", status_name(f.code), "sentence", f.text)) != 0)) {
        json_decref(object);
        object = NULL;
    }
    status = arguments->wants_json ? object_print(arguments, object) : handbook_flush();
    return status == EX_OK && outside > 0 ? fault_exit(NULL, &f) : status;
}

/* The words before the first "NAME=VALUE", joined. */
static void name_join(const struct arguments *arguments, int count, const char *between,
                      char out[NAME_MAX_WORDS])
{
    size_t used = 0;

    out[0] = '\0';
    for (int i = 0; i < count && used < NAME_MAX_WORDS; i++)
        used += (size_t)snprintf(out + used, NAME_MAX_WORDS - used, "%s%s", i == 0 ? "" : between,
                                 arguments->operands[i]);
}

/* The function of the longest beginning of the words, "sucrose density" as sucrose_density, and how many
 * words that took; NULL when none is a function. */
static const struct handbook_entry *entry_find(const struct arguments *arguments, int *words)
{
    char name[NAME_MAX_WORDS];

    for (*words = arguments->operand_count; *words > 0; --*words) {
        name_join(arguments, *words, "_", name);
        for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
            for (const struct handbook_entry *e = s->entries; e->name != NULL; e++)
                if (strcasecmp(e->name, name) == 0)
                    return e;
    }
    return NULL;
}

static int entry_run(const struct arguments *arguments, const struct handbook_entry *entry, int words)
{
    struct handbook_call call;
    struct fault f = {0};

    if (arguments->operand_count == words && arguments->wants_json)
        return object_print(arguments, handbook_entry_json(entry));
    if (arguments->operand_count == words) {
        handbook_entry_print(entry, stdout);
        return handbook_flush();
    }
    if (handbook_call_make(entry, arguments->operands + words, arguments->operand_count - words, &call, &f) !=
        ST_OK)
        return f.code == ST_REFUSED ? usage_exit(arguments, &f) : fault_exit(arguments, &f);
    return call.range_count == 0 ? point_run(arguments, &call) : table_run(arguments, &call);
}

int run_handbook(const struct arguments *arguments)
{
    const char *first = arguments->operand_count > 0 ? arguments->operands[0] : NULL;
    const struct handbook_entry *entry;
    char about[NAME_MAX_WORDS];
    int words = 0;
    struct fault f = {0};

    if (first == NULL)
        return list_run(arguments, NULL);
    if (arguments->wants_markdown) {
        (void)fault_set(&f, ST_REFUSED, "", "--markdown prints the table of all functions; leave %.60s out",
                        first);
        return usage_exit(arguments, &f);
    }
    if (strcasecmp(first, "convert") == 0)
        return run_handbook_convert(arguments);
    entry = entry_find(arguments, &words);
    if (entry != NULL)
        return entry_run(arguments, entry, words);
    name_join(arguments, arguments->operand_count, " ", about);
    if (strspn(about, " _") < strlen(about) && strchr(about, '=') == NULL && handbook_is_found(about))
        return list_run(arguments, about);
    return unknown_exit(arguments, about);
}
