/* Finding one's way in a tree; no yaml.h here. */
#include "settings/yaml_tree.h"

#include <string.h>

static const struct yaml_node *find_bytes(const struct yaml_node *map, const char *key, size_t length)
{
    if (map == NULL || map->kind != NODE_MAP)
        return NULL;
    for (const struct yaml_node *child = map->first; child != NULL; child = child->next)
        if (strncmp(child->key, key, length) == 0 && child->key[length] == '\0')
            return child;
    return NULL;
}

const struct yaml_node *yaml_node_find(const struct yaml_node *map, const char *key)
{
    return find_bytes(map, key, strlen(key));
}

const struct yaml_node *yaml_node_nearest(const struct yaml_node *root, const char *path)
{
    const struct yaml_node *at = root;

    while (*path != '\0') {
        size_t length = strcspn(path, ".");
        const struct yaml_node *child = find_bytes(at, path, length);

        if (child == NULL)
            break;
        at = child;
        path += length + (path[length] == '.');
    }
    return at;
}

static int list_index(const struct yaml_node *node)
{
    int index = 0;

    for (const struct yaml_node *n = node->parent->first; n != node && n != NULL; n = n->next)
        index++;
    return index;
}

void yaml_node_path(const struct yaml_node *node, char *out, size_t size)
{
    const struct yaml_node *way[YAML_TREE_DEPTH_MAX + 1];
    int depth = 0;
    size_t used = 0;

    out[0] = '\0';
    for (; node->parent != NULL; node = node->parent)
        way[depth++] = node;
    while (depth-- > 0 && used < size) {
        const struct yaml_node *n = way[depth];
        int more = n->key != NULL ? snprintf(out + used, size - used, "%s%.40s", used > 0 ? "." : "", n->key)
                                  : snprintf(out + used, size - used, "[%d]", list_index(n) + 1);

        used += more > 0 ? (size_t)more : 0;
    }
}
