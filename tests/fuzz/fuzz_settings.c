/* A tank file: its YAML as a tree, and where that stands, all of it as settings. What is accepted is
 * printed and read again to the same hash. Device profiles are found through ${PROFILES}. */
#include "fuzz/fuzz.h"

#include "settings/yaml_tree.h"

#include <unistd.h>

static struct settings settings;
static struct settings_errors errors;
static char file_path[256];

static void file_remove(void)
{
    (void)unlink(file_path);
}

int LLVMFuzzerInitialize(int *argc, char ***argv)
{
    const char *folder = getenv("TMPDIR");
    int descriptor;

    (void)argc;
    (void)argv;
    (void)snprintf(file_path, sizeof file_path, "%s/fuzz_settings.XXXXXX", folder != NULL ? folder : "/tmp");
    descriptor = mkstemp(file_path);
    fuzz_claim(descriptor >= 0 && close(descriptor) == 0);
    fuzz_claim(setenv("PROFILES", SOURCE_DIR "/config/devices", 1) == 0);
    return atexit(file_remove);
}

static enum status text_read(const void *text, size_t length)
{
    FILE *to = fopen(file_path, "we");

    fuzz_claim(to != NULL && fwrite(text, 1, length, to) == length && fclose(to) == 0);
    return settings_read(file_path, &settings, &errors);
}

static void errors_check(void)
{
    int kept = errors.count < SETTINGS_ERRORS_MAX ? errors.count : SETTINGS_ERRORS_MAX;

    fuzz_claim(errors.count > 0);
    for (int i = 0; i < kept; i++)
        fuzz_claim(strchr(errors.errors[i].where, ':') != NULL && errors.errors[i].text[0] != '\0');
}

static void node_check(const struct yaml_node *node)
{
    char path[24];

    fuzz_claim(node->line >= 1 && node->column >= 1);
    yaml_node_path(node, path, sizeof path);
    fuzz_claim(memchr(path, '\0', sizeof path) != NULL);
    for (const struct yaml_node *child = node->first; child != NULL; child = child->next) {
        fuzz_claim(child->parent == node && (child->key != NULL) == (node->kind == NODE_MAP));
        fuzz_claim(child->key == NULL || yaml_node_find(node, child->key) == child);
        node_check(child);
    }
}

/* False: it is no tree, and settings_read would say no more. */
static bool tree_check(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size);
    struct yaml_tree *tree = NULL;
    bool is_tree;

    errors.count = 0;
    is_tree = yaml_tree_parse(text, size, "tank.yaml", &errors, &tree) == ST_OK;
    fuzz_claim(is_tree == (tree != NULL));
    if (is_tree)
        node_check(tree->root);
    else
        errors_check();
    yaml_tree_free(tree);
    free(text);
    return is_tree;
}

static void printed_check(void)
{
    char hash[sizeof settings.hash_hex], *text = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&text, &length);

    fuzz_claim(to != NULL);
    settings_print(&settings, to);
    fuzz_claim(fclose(to) == 0);
    memcpy(hash, settings.hash_hex, sizeof hash);
    fuzz_claim(text_read(text, length) == ST_OK);
    fuzz_claim(strcmp(hash, settings.hash_hex) == 0);
    free(text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size > YAML_TREE_BYTES_MAX || !tree_check(data, size))
        return 0;
    if (text_read(data, size) == ST_OK) {
        fuzz_claim(errors.count == 0);
        printed_check();
    } else {
        errors_check();
    }
    return 0;
}
