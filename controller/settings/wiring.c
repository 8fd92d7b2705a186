#include "settings/wiring.h"

#include "settings/nearest.h"
#include "settings/schema.h"

#include <string.h>

static void device_bind(const struct bind *bind, const struct yaml_node *node, struct profiles *profiles,
                        struct bus_settings *bus)
{
    struct device *device = &bus->devices[bus->device_count];
    const struct yaml_node *profile = yaml_node_find(node, "profile");

    if (bus->device_count == BUS_DEVICES_MAX) {
        bind_error(bind, node, "a bus may have %d devices; put this one on another.", BUS_DEVICES_MAX);
        return;
    }
    bus->device_count++;
    if (profile != NULL && profile->kind == NODE_SCALAR && profile->text[0] != '\0')
        profiles_get(profiles, profile->text, profile, device);
    bind_name(bind, node, device->name, sizeof device->name);
    if (bind_kind_check(bind, node, NODE_MAP, "a device"))
        bind_map(bind, node,
                 device->has_fallback || device->channel_count == 0 ? SCHEMA_DEVICE_FALLBACK : SCHEMA_DEVICE,
                 device);
}

static void bus_bind(const struct bind *bind, const struct yaml_node *node, struct profiles *profiles,
                     struct bus_settings *bus)
{
    const struct yaml_node *devices = yaml_node_find(node, "devices");

    bind_name(bind, node, bus->name, sizeof bus->name);
    bus->parity = 'N';
    if (!bind_kind_check(bind, node, NODE_MAP, "a bus"))
        return;
    bus->kind = BUS_KIND_COUNT;
    bind_rows(bind, node, SCHEMA_BUS_KIND, bus);
    if (bus->kind != BUS_KIND_COUNT)
        bind_map(bind, node, bus->kind == BUS_TCP ? SCHEMA_BUS_TCP : SCHEMA_BUS_RTU, bus);
    if (devices == NULL || devices->kind != NODE_MAP)
        return;
    for (const struct yaml_node *d = devices->first; d != NULL; d = d->next)
        device_bind(bind, d, profiles, bus);
    if (bus->device_count == 0)
        bind_error(bind, devices, "a bus without devices has no use; add one or remove the bus.");
}

void wiring_bind_buses(const struct bind *bind, const struct yaml_node *map, struct profiles *profiles,
                       struct settings *settings)
{
    const struct yaml_node *node = map != NULL && map->kind == NODE_MAP ? map->first : NULL;

    for (; node != NULL; node = node->next) {
        if (settings->bus_count == SETTINGS_BUSES_MAX) {
            bind_error(bind, node, "a tank may have %d buses.", SETTINGS_BUSES_MAX);
            return;
        }
        bus_bind(bind, node, profiles, &settings->buses[settings->bus_count++]);
    }
}

static struct device *device_find(struct settings *settings, const char *name, struct nearest *nearest)
{
    for (int b = 0; b < settings->bus_count; b++)
        for (int d = 0; d < settings->buses[b].device_count; d++) {
            struct device *device = &settings->buses[b].devices[d];

            if (strcmp(device->name, name) == 0)
                return device;
            nearest_offer(nearest, device->name);
        }
    return NULL;
}

static struct channel *channel_find(struct device *device, const char *name, struct nearest *nearest)
{
    for (int c = 0; c < device->channel_count; c++) {
        if (strcmp(device->channels[c].name, name) == 0)
            return &device->channels[c];
        nearest_offer(nearest, device->channels[c].name);
    }
    return NULL;
}

static void unknown_refuse(const struct bind *bind, const struct yaml_node *at, const char *what,
                           const struct nearest *nearest)
{
    if (nearest->best != NULL)
        bind_error(bind, at, "there is no %s \"%s\"; did you mean \"%s\"?", what, nearest->word,
                   nearest->best);
    else
        bind_error(bind, at, "there is no %s \"%s\".", what, nearest->word);
}

static void channel_take(const struct bind *bind, const struct yaml_node *node, enum point point,
                         const struct schema_point *entry, struct settings *settings)
{
    struct nearest near_device = {.word = entry->device};
    struct nearest near_channel = {.word = entry->channel};
    struct device *device = device_find(settings, entry->device, &near_device);
    struct point_setup *setup = &settings->setup.points[point];
    struct channel *channel;

    if (device == NULL) {
        unknown_refuse(bind, node, "device under buses called", &near_device);
        return;
    }
    channel = channel_find(device, entry->channel, &near_channel);
    if (channel == NULL) {
        if (device->channel_count > 0) /* otherwise the profile itself was reported */
            unknown_refuse(bind, node, "channel in that device's profile called", &near_channel);
        return;
    }
    if (channel->point != POINT_COUNT) {
        bind_error(bind, node, "%s.%s already serves %s; one channel serves one point.", entry->device,
                   entry->channel, point_info(channel->point)->name);
        return;
    }
    channel->point = point;
    *setup = entry->setup;
    setup->is_bound = true;
    setup->resolution = channel->resolution;
    if (!point_info(point)->is_output && setup->max_age_s <= 0) {
        double three_polls_s = 3 * device->poll_ms / 1000.0;

        setup->max_age_s = three_polls_s > 2 ? three_polls_s : 2;
    }
}

static void point_bind(const struct bind *bind, const struct yaml_node *node, struct settings *settings)
{
    enum point point = point_find(node->key);
    struct nearest nearest = {.word = node->key};
    struct schema_point entry = {.device = ""};
    int before = bind->errors->count;

    if (point == POINT_COUNT) {
        for (int p = 0; p < POINT_COUNT; p++)
            nearest_offer(&nearest, point_info((enum point)p)->name);
        unknown_refuse(bind, node, "point called", &nearest);
        return;
    }
    settings->setup.points[point].is_bound = true; /* even if wrong: it is not missing as well */
    if (!bind_kind_check(bind, node, NODE_MAP, "a bound point"))
        return;
    entry.setup = settings->setup.points[point];
    bind_map(bind, node, schema_point_rows(point), &entry);
    if (bind->errors->count == before)
        channel_take(bind, node, point, &entry, settings);
}

void wiring_bind_points(const struct bind *bind, const struct yaml_node *map, struct settings *settings)
{
    const struct yaml_node *node = map != NULL && map->kind == NODE_MAP ? map->first : NULL;

    for (int p = 0; p < POINT_COUNT; p++) {
        settings->setup.points[p].min = point_info((enum point)p)->min;
        settings->setup.points[p].max = point_info((enum point)p)->max;
    }
    for (; node != NULL; node = node->next)
        point_bind(bind, node, settings);
}

const struct channel *wiring_channel(const struct settings *settings, enum point point,
                                     const struct device **device, const struct bus_settings **bus)
{
    for (int b = 0; b < settings->bus_count; b++)
        for (int d = 0; d < settings->buses[b].device_count; d++)
            for (int c = 0; c < settings->buses[b].devices[d].channel_count; c++) {
                const struct channel *channel = &settings->buses[b].devices[d].channels[c];

                if (channel->point != point)
                    continue;
                if (bus != NULL)
                    *bus = &settings->buses[b];
                if (device != NULL)
                    *device = &settings->buses[b].devices[d];
                return channel;
            }
    return NULL;
}
