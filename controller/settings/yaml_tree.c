#include "settings/yaml_tree.h"

#include "settings/settings_errors.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <yaml.h>

/* What is being built: the open maps and lists, and the key that waits for its value. */
struct builder {
    const char *file;
    const char *text; /* the whole file */
    struct settings_errors *errors;
    struct yaml_tree *tree;
    struct yaml_node *open[YAML_TREE_DEPTH_MAX];
    int depth;
    const char *key; /* NULL: a map expects a key next */
    int key_line;
    int key_column;
    int documents;
};

typedef enum status builder_act(struct builder *b, const yaml_event_t *event);

static int line_of(const yaml_event_t *event)
{
    return (int)event->start_mark.line + 1;
}

static int column_of(const yaml_event_t *event)
{
    return (int)event->start_mark.column + 1;
}

static const char *text_keep(struct builder *b, const yaml_char_t *bytes, size_t length)
{
    struct yaml_tree *tree = b->tree;
    char *start = tree->text + tree->text_used;

    if (length >= sizeof tree->text - tree->text_used)
        return NULL;
    memcpy(start, bytes, length);
    start[length] = '\0';
    tree->text_used += length + 1;
    return start;
}

static struct yaml_node *node_attach(struct builder *b, struct yaml_node *node)
{
    struct yaml_node *parent = b->depth > 0 ? b->open[b->depth - 1] : NULL;

    node->parent = parent;
    node->key = b->key;
    if (b->key != NULL) {
        const struct yaml_node *earlier = yaml_node_find(parent, b->key);

        node->line = b->key_line;
        node->column = b->key_column;
        b->key = NULL;
        if (earlier != NULL) {
            settings_errors_add(b->errors, b->file, node->line,
                                "the key \"%.40s\" is here a second time; it is already set on line %d. "
                                "Remove one of the two.",
                                node->key, earlier->line);
            return node; /* checked for its own errors, but not part of the tree */
        }
    }
    if (parent == NULL)
        b->tree->root = node;
    else if (parent->first == NULL)
        parent->first = parent->last = node;
    else
        parent->last = parent->last->next = node;
    return node;
}

static struct yaml_node *node_add(struct builder *b, enum node_kind kind, const yaml_event_t *event)
{
    struct yaml_node *node;

    if (b->tree->node_count >= YAML_TREE_NODES_MAX) {
        settings_errors_add(b->errors, b->file, line_of(event),
                            "too many entries: a file may have %d. Is this the right file?",
                            YAML_TREE_NODES_MAX);
        return NULL;
    }
    node = &b->tree->nodes[b->tree->node_count++];
    node->kind = kind;
    node->text = "";
    node->line = line_of(event);
    node->column = column_of(event);
    return node_attach(b, node);
}

static bool expects_key(const struct builder *b)
{
    return b->depth > 0 && b->open[b->depth - 1]->kind == NODE_MAP && b->key == NULL;
}

static void marks_refuse(struct builder *b, const yaml_event_t *event, const yaml_char_t *anchor,
                         const yaml_char_t *tag)
{
    if (anchor != NULL)
        settings_errors_add(b->errors, b->file, line_of(event),
                            "anchors (&%.40s) are not understood here; write the value out.",
                            (const char *)anchor);
    if (tag != NULL)
        settings_errors_add(b->errors, b->file, line_of(event),
                            "tags (%.40s) are not understood here; write the plain value.",
                            (const char *)tag);
}

static enum status key_take(struct builder *b, const yaml_event_t *event)
{
    b->key = text_keep(b, event->data.scalar.value, event->data.scalar.length);
    b->key_line = line_of(event);
    b->key_column = column_of(event);
    if (b->key != NULL && b->key[0] != '\0' && strlen(b->key) == event->data.scalar.length)
        return ST_OK;
    settings_errors_add(b->errors, b->file, b->key_line, "a key is empty or not plain text.");
    return ST_SETTINGS;
}

static enum status scalar_add(struct builder *b, const yaml_event_t *event)
{
    struct yaml_node *node;
    size_t length = event->data.scalar.length;

    marks_refuse(b, event, event->data.scalar.anchor, event->data.scalar.tag);
    if (expects_key(b))
        return key_take(b, event);
    node = node_add(b, NODE_SCALAR, event);
    if (node == NULL)
        return ST_SETTINGS;
    node->is_quoted = event->data.scalar.style != YAML_PLAIN_SCALAR_STYLE;
    node->text = text_keep(b, event->data.scalar.value, length);
    if (node->text == NULL || strlen(node->text) != length) {
        settings_errors_add(b->errors, b->file, line_of(event), "a text is too long or not plain text.");
        return ST_SETTINGS;
    }
    return ST_OK;
}

static enum status collection_open(struct builder *b, const yaml_event_t *event, enum node_kind kind)
{
    struct yaml_node *node;

    if (expects_key(b)) {
        settings_errors_add(b->errors, b->file, line_of(event), "a key must be one word, not a map or list.");
        return ST_SETTINGS;
    }
    if (b->depth >= YAML_TREE_DEPTH_MAX) {
        settings_errors_add(b->errors, b->file, line_of(event), "nested too deeply: %d levels are allowed.",
                            YAML_TREE_DEPTH_MAX);
        return ST_SETTINGS;
    }
    node = node_add(b, kind, event);
    if (node == NULL)
        return ST_SETTINGS;
    b->open[b->depth++] = node;
    return ST_OK;
}

static enum status map_open(struct builder *b, const yaml_event_t *event)
{
    marks_refuse(b, event, event->data.mapping_start.anchor, event->data.mapping_start.tag);
    return collection_open(b, event, NODE_MAP);
}

static enum status list_open(struct builder *b, const yaml_event_t *event)
{
    marks_refuse(b, event, event->data.sequence_start.anchor, event->data.sequence_start.tag);
    return collection_open(b, event, NODE_LIST);
}

static enum status collection_close(struct builder *b, const yaml_event_t *event)
{
    (void)event;
    b->depth--;
    return ST_OK;
}

static enum status alias_refuse(struct builder *b, const yaml_event_t *event)
{
    settings_errors_add(b->errors, b->file, line_of(event),
                        "aliases (*%.40s) are not understood here; write the value out.",
                        (const char *)event->data.alias.anchor);
    if (expects_key(b))
        return ST_SETTINGS;
    return node_add(b, NODE_REFUSED, event) == NULL ? ST_SETTINGS : ST_OK;
}

static enum status document_open(struct builder *b, const yaml_event_t *event)
{
    if (event->data.document_start.tag_directives.start != event->data.document_start.tag_directives.end)
        settings_errors_add(b->errors, b->file, line_of(event), "%%TAG lines are not understood here.");
    if (b->documents++ == 0)
        return ST_OK;
    settings_errors_add(b->errors, b->file, line_of(event),
                        "a second document begins here (\"---\"); a file must hold one. Everything below "
                        "would have been ignored.");
    return ST_SETTINGS;
}

static builder_act *const ACTS[] = {
    [YAML_DOCUMENT_START_EVENT] = document_open,
    [YAML_ALIAS_EVENT] = alias_refuse,
    [YAML_SCALAR_EVENT] = scalar_add,
    [YAML_SEQUENCE_START_EVENT] = list_open,
    [YAML_SEQUENCE_END_EVENT] = collection_close,
    [YAML_MAPPING_START_EVENT] = map_open,
    [YAML_MAPPING_END_EVENT] = collection_close,
};

/* For a byte that is no UTF-8 the library gives an offset, but no line. */
static int line_at(const char *text, size_t offset)
{
    int line = 1;

    for (size_t i = 0; i < offset; i++)
        line += text[i] == '\n';
    return line;
}

static void syntax_refuse(struct builder *b, const yaml_parser_t *parser)
{
    bool is_encoding = parser->error == YAML_READER_ERROR;
    int line = is_encoding ? line_at(b->text, parser->problem_offset) : (int)parser->problem_mark.line + 1;

    settings_errors_add(b->errors, b->file, line, "this is not valid YAML: %s%s%s at column %d.%s",
                        parser->context != NULL ? parser->context : "", parser->context != NULL ? ", " : "",
                        parser->problem != NULL ? parser->problem : "unknown problem",
                        (int)parser->problem_mark.column + 1,
                        is_encoding ? " The file must be UTF-8 text." : " Indent with spaces, never tabs.");
}

static enum status events_build(struct builder *b, yaml_parser_t *parser)
{
    for (;;) {
        yaml_event_t event;
        enum status st = ST_OK;
        yaml_event_type_t type;

        if (!yaml_parser_parse(parser, &event)) {
            syntax_refuse(b, parser);
            return ST_SETTINGS;
        }
        type = event.type;
        if (type < sizeof ACTS / sizeof ACTS[0] && ACTS[type] != NULL)
            st = ACTS[type](b, &event);
        yaml_event_delete(&event);
        if (st != ST_OK || type == YAML_STREAM_END_EVENT)
            return st;
    }
}

static enum status root_check(struct builder *b)
{
    if (b->tree->root != NULL && b->tree->root->kind == NODE_MAP)
        return ST_OK;
    settings_errors_add(b->errors, b->file, 1, "%s",
                        b->tree->root == NULL ? "the file is empty."
                                              : "the file must consist of \"key: value\" lines.");
    return ST_SETTINGS;
}

enum status yaml_tree_parse(const char *text, size_t length, const char *file, struct settings_errors *errors,
                            struct yaml_tree **tree)
{
    struct builder b = {.file = file, .text = text, .errors = errors, .tree = calloc(1, sizeof *b.tree)};
    yaml_parser_t parser;
    enum status st = ST_SETTINGS;

    *tree = NULL;
    if (b.tree == NULL || !yaml_parser_initialize(&parser)) {
        settings_errors_add(errors, file, 1, "out of memory while reading this file.");
        goto free_tree;
    }
    yaml_parser_set_encoding(&parser, YAML_UTF8_ENCODING);
    yaml_parser_set_input_string(&parser, (const unsigned char *)text, length);
    st = events_build(&b, &parser);
    if (st == ST_OK)
        st = root_check(&b);
    yaml_parser_delete(&parser);
free_tree:
    if (st == ST_OK)
        *tree = b.tree;
    else
        free(b.tree);
    return st;
}

enum status yaml_tree_read(const char *file, struct settings_errors *errors, struct yaml_tree **tree)
{
    FILE *from = fopen(file, "re");
    char *text = malloc(YAML_TREE_BYTES_MAX + 1);
    enum status st = ST_SETTINGS;
    size_t length;

    *tree = NULL;
    if (from == NULL || text == NULL) {
        settings_errors_add(errors, file, 1, "this file cannot be read: %s.", strerror(errno));
        goto release;
    }
    length = fread(text, 1, YAML_TREE_BYTES_MAX + 1, from);
    if (ferror(from))
        settings_errors_add(errors, file, 1, "this file cannot be read: %s.", strerror(errno));
    else if (length > YAML_TREE_BYTES_MAX)
        settings_errors_add(errors, file, 1, "this file is larger than %zu KiB. Is it the right one?",
                            YAML_TREE_BYTES_MAX / 1024);
    else
        st = yaml_tree_parse(text, length, file, errors, tree);
release:
    free(text);
    if (from != NULL)
        (void)fclose(from);
    return st;
}

void yaml_tree_free(struct yaml_tree *tree)
{
    free(tree);
}
