/* yaml_tree.h - a YAML file as a small tree that knows its lines; the only user of yaml.h.
 *
 * Does:      maps, lists and scalars, each with its place; limits on size, depth and count.
 * Does not:  know any type but text; accept aliases, anchors, tags, duplicate keys, keys that are
 *            not words, or a second document: each is an error with a sentence.
 * Memory:    one block per tree, freed by yaml_tree_free; nodes live as long as the tree.
 */
#ifndef SETTINGS_YAML_TREE_H
#define SETTINGS_YAML_TREE_H

#include "settings/settings.h"

#include <stdbool.h>
#include <stddef.h>

#define YAML_TREE_BYTES_MAX ((size_t)256 * 1024) /* of the file */
#define YAML_TREE_NODES_MAX 4096
#define YAML_TREE_DEPTH_MAX 12

enum node_kind {
    NODE_SCALAR,
    NODE_MAP,
    NODE_LIST,
    NODE_REFUSED /* an error was already reported here; say nothing more about it */
};

struct yaml_node {
    enum node_kind kind;
    bool is_quoted; /* scalar in quotes or a block: text, never a number */
    int line;       /* of the key where there is one, else of the value; from 1 */
    int column;
    const char *key;  /* in a map, else NULL */
    const char *text; /* of a scalar; "" otherwise */
    const struct yaml_node *parent;
    struct yaml_node *first;
    struct yaml_node *last;
    struct yaml_node *next;
};

struct yaml_tree {
    const struct yaml_node *root; /* a map */
    int node_count;
    struct yaml_node nodes[YAML_TREE_NODES_MAX];
    size_t text_used;
    char text[YAML_TREE_BYTES_MAX + YAML_TREE_NODES_MAX];
};

/* Read a file or a text; file is the name that errors show. Adds to *errors. ST_OK: *tree is
 * usable although errors may have been added (duplicate keys, tags: the rest can still be checked).
 * Otherwise at least one error was added and *tree is NULL. */
enum status yaml_tree_read(const char *file, struct settings_errors *errors,
                           struct yaml_tree **tree) MUST_USE;
enum status yaml_tree_parse(const char *text, size_t length, const char *file, struct settings_errors *errors,
                            struct yaml_tree **tree) MUST_USE;
void yaml_tree_free(struct yaml_tree *tree); /* accepts NULL */

/* The child of a map by key; NULL when there is none or map is NULL or no map. */
const struct yaml_node *yaml_node_find(const struct yaml_node *map, const char *key);

/* The deepest node that exists on a path like "limits.sugar_max_c"; at least the root. */
const struct yaml_node *yaml_node_nearest(const struct yaml_node *root, const char *path);

/* "limits.sugar_max_c", "events[2].at"; "" for the root. Cut when too long. */
void yaml_node_path(const struct yaml_node *node, char *out, size_t size);

#endif
