#include "settings/bind.h"

#include "settings/bind_value.h"
#include "settings/nearest.h"
#include "settings/settings_errors.h"

#include <assert.h>
#include <stdarg.h>
#include <string.h>

#define PATH_TEXT_MAX 128

const char BIND_KEEP[] = "(as set before)";

void bind_error(const struct bind *bind, const struct yaml_node *at, const char *format, ...)
{
    char path[PATH_TEXT_MAX];
    char sentence[sizeof((struct fault *)0)->text];
    va_list args;

    yaml_node_path(at, path, sizeof path);
    va_start(args, format);
    (void)vsnprintf(sentence, sizeof sentence, format, args);
    va_end(args);
    settings_errors_add(bind->errors, bind->file, at->line, "%s%s%s", path, path[0] != '\0' ? ": " : "",
                        sentence);
}

void bind_name(const struct bind *bind, const struct yaml_node *node, char *out, size_t size)
{
    static const char LETTERS[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-";

    (void)snprintf(out, size, "%s", node->key);
    if (node->key[strspn(node->key, LETTERS)] != '\0' || strlen(node->key) >= size)
        bind_error(bind, node, "a name may have up to %zu letters, digits, _ and -.", size - 1);
}

static void *field_of(const struct bind_row *row, void *base)
{
    return (char *)base + row->offset;
}

bool bind_kind_check(const struct bind *bind, const struct yaml_node *node, enum node_kind kind,
                     const char *help)
{
    static const char *const FOUND[] = {
        [NODE_SCALAR] = "a single value", [NODE_MAP] = "\"key: value\" lines", [NODE_LIST] = "a list"};

    if (node->kind == kind)
        return true;
    if (node->kind != NODE_REFUSED)
        bind_error(bind, node, "found %s, allowed: %s (%s).", FOUND[node->kind], FOUND[kind], help);
    return false;
}

static void scalar_bind(const struct bind *bind, const struct yaml_node *node, const struct bind_row *row,
                        void *base)
{
    char why[BIND_WHY_MAX] = "";
    char allowed[BIND_ALLOWED_MAX];
    const char *quote = node->is_quoted ? "\"" : "";

    if (!bind_kind_check(bind, node, NODE_SCALAR, row->help))
        return;
    if (bind_value_store(row, node->text, node->is_quoted, bind->folder, field_of(row, base), why))
        return;
    bind_value_allowed(row, allowed);
    bind_error(bind, node, "found %s%.40s%s%s%s; allowed: %s (%s).", quote, node->text, quote,
               why[0] != '\0' ? ": " : "", why, allowed, row->help);
}

static void section_bind(const struct bind *bind, const struct yaml_node *map, const struct yaml_node *node,
                         const struct bind_row *row, void *base)
{
    const struct yaml_node empty = {.kind = NODE_MAP,
                                    .line = map->line,
                                    .column = map->column,
                                    .key = row->key,
                                    .text = "",
                                    .parent = map};

    if (node == NULL)
        bind_map(bind, &empty, row->rows, field_of(row, base));
    else if (bind_kind_check(bind, node, NODE_MAP, row->help))
        bind_map(bind, node, row->rows, field_of(row, base));
}

static bool is_scalar(const struct bind_row *row)
{
    return row->type < BIND_SECTION;
}

/* A default goes through the same parser as a written value; one that fails is our own bug. */
static void standard_bind(const struct bind *bind, const struct bind_row *row, void *base)
{
    char why[BIND_WHY_MAX];
    bool is_text = row->type == BIND_TEXT || row->type == BIND_PATH;
    bool stored = bind_value_store(row, row->standard, is_text, bind->folder, field_of(row, base), why);

    assert(stored);
    (void)stored;
}

static void missing_bind(const struct bind *bind, const struct yaml_node *map, const struct bind_row *row,
                         void *base)
{
    char allowed[BIND_ALLOWED_MAX] = "a section of its own";

    if (row->standard == NULL) {
        if (is_scalar(row))
            bind_value_allowed(row, allowed);
        bind_error(bind, map, "the key \"%s\" is missing; allowed: %s (%s).", row->key, allowed, row->help);
    } else if (row->type == BIND_SECTION) {
        section_bind(bind, map, NULL, row, base);
    } else if (is_scalar(row) && row->standard != BIND_KEEP) {
        standard_bind(bind, row, base);
    }
}

static void collection_check(const struct bind *bind, const struct yaml_node *node,
                             const struct bind_row *row)
{
    bool is_good = bind_kind_check(bind, node, row->type == BIND_MAP ? NODE_MAP : NODE_LIST, row->help);

    (void)is_good; /* the caller walks an empty collection then */
}

void bind_rows(const struct bind *bind, const struct yaml_node *map, const struct bind_row *rows, void *base)
{
    for (const struct bind_row *row = rows; row->key != NULL; row++) {
        const struct yaml_node *node = yaml_node_find(map, row->key);

        if (node == NULL)
            missing_bind(bind, map, row, base);
        else if (row->type == BIND_SECTION)
            section_bind(bind, map, node, row, base);
        else if (is_scalar(row))
            scalar_bind(bind, node, row, base);
        else
            collection_check(bind, node, row);
    }
}

static bool rows_have(const struct bind_row *rows, const char *key, struct nearest *nearest)
{
    for (const struct bind_row *row = rows; row != NULL && row->key != NULL; row++) {
        if (strcmp(row->key, key) == 0)
            return true;
        nearest_offer(nearest, row->key);
    }
    return false;
}

static void keys_list(const struct bind_row *rows, char *out, size_t size)
{
    size_t used = 0;

    out[0] = '\0';
    for (const struct bind_row *row = rows; row != NULL && row->key != NULL && used < size; row++)
        used += (size_t)snprintf(out + used, size - used, "%s%s", row == rows ? "" : ", ", row->key);
}

void bind_unknown(const struct bind *bind, const struct yaml_node *map, const struct bind_row *rows,
                  const struct bind_row *more_rows)
{
    char keys[240];

    for (const struct yaml_node *node = map->first; node != NULL; node = node->next) {
        struct nearest nearest = {.word = node->key};

        if (rows_have(rows, node->key, &nearest) || rows_have(more_rows, node->key, &nearest))
            continue;
        if (nearest.best != NULL) {
            bind_error(bind, node, "unknown key; did you mean \"%s\"?", nearest.best);
            continue;
        }
        keys_list(rows, keys, sizeof keys);
        bind_error(bind, node, "unknown key; allowed here: %s.", keys);
    }
}

void bind_map(const struct bind *bind, const struct yaml_node *map, const struct bind_row *rows, void *base)
{
    bind_rows(bind, map, rows, base);
    bind_unknown(bind, map, rows, NULL);
}
