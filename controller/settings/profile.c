#include "settings/profile.h"

#include "settings/schema.h"

#include <errno.h>
#include <math.h>
#include <string.h>
#include <unistd.h>

static bool is_wide(enum register_type type)
{
    return type == TYPE_U32 || type == TYPE_S32 || type == TYPE_F32;
}

static void channel_type_check(const struct bind *bind, const struct yaml_node *node,
                               const struct channel *channel)
{
    bool is_bit_table = channel->kind == REGISTER_COIL || channel->kind == REGISTER_DISCRETE;

    if (!is_bit_table && channel->type == TYPE_BIT)
        bind_error(bind, node, "a holding or input register needs a type: u16, s16, u32, s32 or f32.");
    if (is_bit_table && channel->type != TYPE_BIT)
        bind_error(bind, node, "a coil or discrete input holds a bit; leave the type out.");
    if (!is_wide(channel->type))
        return;
    if (yaml_node_find(node, "order") == NULL)
        bind_error(bind, node,
                   "a 32-bit number needs its word order: high_first or low_first; devices differ, and the "
                   "wrong one gives numbers that look real.");
    if (channel->address == 65535)
        bind_error(bind, node, "a 32-bit number at address 65535 would run over the end.");
}

static void channel_number_check(const struct bind *bind, const struct yaml_node *node,
                                 const struct channel *channel)
{
    if (channel->type != TYPE_BIT && channel->is_inverted)
        bind_error(bind, node, "only a bit can be inverted.");
    if (channel->type == TYPE_BIT &&
        (fabs(channel->scale - 1) > 0 || fabs(channel->offset) > 0 || channel->resolution > 0))
        bind_error(bind, node, "a bit has no scale, offset or resolution.");
    if (fabs(channel->scale) <= 0)
        bind_error(bind, node, "scale 0 would make every reading the same.");
}

/* Two names for one register would let a command be read back as if it were a measurement. */
static void channel_twin_check(const struct bind *bind, const struct yaml_node *node,
                               const struct device *device)
{
    const struct channel *last = &device->channels[device->channel_count - 1];
    int last_end = last->address + is_wide(last->type);

    for (const struct channel *c = device->channels; c < last; c++)
        if (c->kind == last->kind && c->address <= last_end && last->address <= c->address + is_wide(c->type))
            bind_error(bind, node, "uses the same register as channel %s.", c->name);
}

static void channels_bind(const struct bind *bind, const struct yaml_node *map, struct device *device)
{
    const struct yaml_node *node = map != NULL ? map->first : NULL;

    for (; node != NULL; node = node->next) {
        struct channel *channel = &device->channels[device->channel_count];
        int before = bind->errors->count;

        if (device->channel_count == DEVICE_CHANNELS_MAX) {
            bind_error(bind, node, "a profile may have %d channels.", DEVICE_CHANNELS_MAX);
            return;
        }
        device->channel_count++;
        channel->point = POINT_COUNT;
        bind_name(bind, node, channel->name, sizeof channel->name);
        if (!bind_kind_check(bind, node, NODE_MAP, "a channel"))
            continue;
        bind_map(bind, node, SCHEMA_CHANNEL, channel);
        if (bind->errors->count > before)
            continue;
        channel_type_check(bind, node, channel);
        channel_number_check(bind, node, channel);
        channel_twin_check(bind, node, device);
    }
    if (device->channel_count == 0 && map != NULL)
        bind_error(bind, map, "a profile needs at least one channel.");
}

static void parts_bind(const struct bind *bind, const struct yaml_node *map, struct device *device)
{
    const struct yaml_node *identity = yaml_node_find(map, "identity");
    const struct yaml_node *fallback = yaml_node_find(map, "fallback");
    const struct yaml_node *channels = yaml_node_find(map, "channels");

    device->has_identity = identity != NULL && identity->kind == NODE_MAP;
    device->has_fallback = fallback != NULL && fallback->kind == NODE_MAP;
    if (device->has_identity) {
        device->identity_kind = REGISTER_INPUT;
        bind_map(bind, identity, SCHEMA_IDENTITY, device);
        if (device->identity_kind != REGISTER_HOLDING && device->identity_kind != REGISTER_INPUT)
            bind_error(bind, identity, "the identity must be a holding or input register.");
    }
    if (device->has_fallback)
        bind_map(bind, fallback, SCHEMA_FALLBACK, device);
    if (channels != NULL && channels->kind == NODE_MAP)
        channels_bind(bind, channels, device);
}

static struct device *profile_bind(struct profiles *profiles, const struct bind *bind,
                                   const struct yaml_node *map, const char *name)
{
    struct device *device = &profiles->kept[profiles->count++];

    (void)snprintf(device->profile, sizeof device->profile, "%s", name);
    if (map == NULL)
        return device;
    bind_map(bind, map, SCHEMA_PROFILE, device);
    parts_bind(bind, map, device);
    return device;
}

void profiles_bind(struct profiles *profiles, const struct yaml_node *map)
{
    const struct yaml_node *node = map != NULL && map->kind == NODE_MAP ? map->first : NULL;
    char name[CHANNEL_NAME_MAX];

    for (; node != NULL; node = node->next) {
        if (profiles->count == PROFILES_MAX) {
            bind_error(profiles->bind, node, "there may be %d profiles.", PROFILES_MAX);
            return;
        }
        bind_name(profiles->bind, node, name, sizeof name);
        if (bind_kind_check(profiles->bind, node, NODE_MAP, "a device profile"))
            (void)profile_bind(profiles, profiles->bind, node, name);
    }
}

static const struct device *profile_read(struct profiles *profiles, const char *name,
                                         const struct yaml_node *at)
{
    char file[SETTINGS_PATH_MAX + CHANNEL_NAME_MAX + 16];
    struct bind bind = *profiles->bind;
    struct yaml_tree *tree = NULL;
    const struct device *device;

    (void)snprintf(file, sizeof file, "%s/%s%s", profiles->folder, name, SCHEMA_PROFILE_SUFFIX);
    bind.file = file;
    if (strchr(name, '/') != NULL)
        bind_error(profiles->bind, at, "\"%s\" is not the name of a profile: leave folder and .yaml out.",
                   name);
    else if (access(file, R_OK) != 0)
        bind_error(profiles->bind, at, "there is no usable device profile \"%s\": %s: %s.", name, file,
                   strerror(errno));
    else if (yaml_tree_read(file, bind.errors, &tree) != ST_OK)
        tree = NULL; /* the reader has said why */
    device = profile_bind(profiles, &bind, tree != NULL ? tree->root : NULL, name);
    yaml_tree_free(tree);
    return device;
}

void profiles_get(struct profiles *profiles, const char *name, const struct yaml_node *at,
                  struct device *device)
{
    const struct device *found = NULL;

    for (int i = 0; i < profiles->count && found == NULL; i++)
        if (strcmp(profiles->kept[i].profile, name) == 0)
            found = &profiles->kept[i];
    if (found == NULL && profiles->count == PROFILES_MAX)
        bind_error(profiles->bind, at, "there may be %d profiles.", PROFILES_MAX);
    else if (found == NULL)
        found = profile_read(profiles, name, at);
    if (found != NULL)
        memcpy(device, found, sizeof *device);
}
