/* bind.h - rows of a table that say which keys a map may have and where their values go.
 *
 * Does:      read a yaml_tree map into a struct by its table; fill in defaults; refuse unknown keys
 *            (and suggest the nearest), missing keys, wrong types and values out of range, each with
 *            file, line, key, what was found and what is allowed; print a struct back as YAML.
 * Does not:  stop at an error: it goes on, so that all are reported at once.
 * Thread:    any. Memory: the caller's. Usable for any file: the tank file, device profiles, the
 *            simulator's scenario.
 *
 *     static const struct bind_row ROWS[] = {
 *         BIND_NUMBER("capacity_l", BIND_DECIMAL, struct tank_facts, capacity_l, 20, 20000, NULL,
 *                     "litres that fit"),
 *         {"name", BIND_TEXT, BIND_AT(struct thing, name), .min = 1, .help = "its name"},
 *         {0}};
 */
#ifndef SETTINGS_BIND_H
#define SETTINGS_BIND_H

#include "settings/yaml_tree.h"

#include <stddef.h>

enum bind_type {
    BIND_DECIMAL,  /* double */
    BIND_INTEGER,  /* int, or int64_t by size; min and max as doubles */
    BIND_YES_NO,   /* bool */
    BIND_TEXT,     /* char[]; min: fewest bytes; size bounds it; no control characters */
    BIND_CHOICE,   /* an enum or int, or one char by size; choices ends with {NULL, 0} */
    BIND_PATH,     /* char[]; relative ones are put behind bind->folder; "" stays "" */
    BIND_DURATION, /* double, seconds, from "15 min"; min and max in seconds */
    BIND_SECTION,  /* a map bound by .rows into the struct at offset; missing: its defaults */
    BIND_MAP,      /* any map; only its kind is checked, the caller walks it */
    BIND_LIST      /* any list; the same */
};

struct bind_choice {
    const char *name;
    int value;
};

struct bind_row {
    const char *key; /* NULL ends a table */
    enum bind_type type;
    size_t offset; /* see BIND_AT */
    size_t size;
    double min;
    double max;
    const char *standard; /* default as it would be written; NULL: the key is required;
                             BIND_KEEP: a missing key leaves the field as the caller set it */
    const char *help;     /* one phrase for the error message */
    const struct bind_choice *choices;
    const struct bind_row *rows;
    bool may_use_environment; /* ${NAME} and ${NAME:-default}; always for BIND_PATH */
};

#define BIND_AT(structure, member) offsetof(structure, member), sizeof(((structure *)0)->member)
/* A whole row of a number: BIND_DECIMAL, BIND_INTEGER or BIND_DURATION. */
#define BIND_NUMBER(name, kind, structure, member, least, most, normal, phrase)                              \
    {                                                                                                        \
        .key = (name), .type = (kind), .offset = offsetof(structure, member),                                \
        .size = sizeof(((structure *)0)->member), .min = (least), .max = (most), .standard = (normal),       \
        .help = (phrase)                                                                                     \
    }
#define BIND_OPTIONAL "" /* standard of a section, map or list that may be left out */
extern const char BIND_KEEP[];

struct bind {
    const char *file;   /* as shown in errors */
    const char *folder; /* absolute, for relative paths */
    struct settings_errors *errors;
};

/* Bind one map. Keys in rows are stored at base + offset; any other key is an error. A field whose
 * value was wrong is left unchanged: look at errors->count before using the struct. */
void bind_map(const struct bind *bind, const struct yaml_node *map, const struct bind_row *rows, void *base);

/* The two halves of bind_map, for a map whose keys are spread over two tables. */
void bind_rows(const struct bind *bind, const struct yaml_node *map, const struct bind_row *rows, void *base);
void bind_unknown(const struct bind *bind, const struct yaml_node *map, const struct bind_row *rows,
                  const struct bind_row *more_rows); /* more_rows may be NULL */

/* Add an error at a node: "key.path: sentence". */
void bind_error(const struct bind *bind, const struct yaml_node *at, const char *format, ...)
    PRINTF_LIKE(3, 4);

/* True when the node is of this kind; otherwise adds an error that says what is expected there. */
bool bind_kind_check(const struct bind *bind, const struct yaml_node *node, enum node_kind kind,
                     const char *help) MUST_USE;

/* The key of a node as the name of a thing (bus, device, channel): letters, digits, _ and -; cut and
 * reported when it is not. */
void bind_name(const struct bind *bind, const struct yaml_node *node, char *out, size_t size);

/* Print all rows but maps and lists, `indent` spaces deep, as bind_map reads them. */
void bind_print(const struct bind_row *rows, const void *base, int indent, FILE *to);

/* A text in double quotes, escaped. */
void bind_print_text(const char *text, FILE *to);

#endif
