#include "settings/settings.h"

#include "runtime/crypto.h"
#include "settings/schema.h"
#include "settings/settings_check.h"
#include "settings/settings_errors.h"
#include "settings/wiring.h"

#include <errno.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>

/* The absolute folder of a file, so that what is printed means the same anywhere. */
static bool folder_get(const char *file, char folder[PATH_MAX])
{
    if (realpath(file, folder) == NULL)
        return false;
    *strrchr(folder, '/') = '\0';
    return true;
}

static bool hash_fill(struct settings *settings)
{
    char *text = NULL;
    size_t length = 0;
    struct fault f;
    FILE *to = open_memstream(&text, &length);

    if (to == NULL)
        return false;
    settings_print(settings, to);
    if (fclose(to) != 0 || crypto_init(&f) != ST_OK) {
        free(text);
        return false;
    }
    crypto_sha256_hex(text, length, settings->hash_hex);
    free(text);
    return true;
}

static void edited_check(const struct settings_check *check, const struct schema_reading *reading)
{
    if (!reading->is_edited)
        settings_check_error(check, "edited",
                             "this file is still an example. Go through every line, make it true for your "
                             "tank, and then write \"edited: yes\".");
}

static void all_bind(const struct bind *bind, const struct yaml_node *root, struct profiles *profiles,
                     struct settings *out)
{
    struct settings_check check = {.bind = bind, .root = root, .settings = out};
    struct schema_reading reading = {.is_edited = true};
    int before;

    bind_rows(bind, root, SCHEMA_READING, &reading);
    bind_rows(bind, root, SCHEMA_TANK_FILE, out);
    bind_unknown(bind, root, SCHEMA_TANK_FILE, SCHEMA_READING);
    out->setup.is_simulated = out->is_simulated;
    before = bind->errors->count;
    profiles->folder = reading.profiles_path;
    profiles_bind(profiles, yaml_node_find(root, "device_profiles"));
    wiring_bind_buses(bind, yaml_node_find(root, "buses"), profiles, out);
    wiring_bind_points(bind, yaml_node_find(root, "points"), out);
    settings_check_points(&check);
    check.is_wiring_good = bind->errors->count == before;
    settings_check_buses(&check);
    settings_check_tank(&check);
    edited_check(&check, &reading);
}

enum status settings_read(const char *path, struct settings *out, struct settings_errors *errors)
{
    char folder[PATH_MAX];
    const struct bind bind = {path, folder, errors};
    struct yaml_tree *tree = NULL;
    struct profiles *profiles = calloc(1, sizeof *profiles);

    memset(out, 0, sizeof *out);
    errors->count = 0;
    if (profiles == NULL) {
        settings_errors_add(errors, path, 1, "out of memory while reading this file.");
    } else if (yaml_tree_read(path, errors, &tree) == ST_OK) {
        profiles->bind = &bind;
        if (folder_get(path, folder))
            all_bind(&bind, tree->root, profiles, out);
        else
            settings_errors_add(errors, path, 1, "the folder of this file cannot be found: %s.",
                                strerror(errno));
    }
    if (errors->count == 0 && !hash_fill(out))
        settings_errors_add(errors, path, 1, "out of memory, or no random numbers, while making the hash.");
    settings_errors_sort(errors);
    yaml_tree_free(tree);
    free(profiles);
    return errors->count == 0 ? ST_OK : ST_SETTINGS;
}
