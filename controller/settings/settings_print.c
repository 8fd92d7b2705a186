#include "settings/schema.h"
#include "settings/wiring.h"

#include <string.h>

static void channel_print(const struct channel *channel, FILE *to)
{
    (void)fprintf(to, "      %s:\n", channel->name);
    bind_print(SCHEMA_CHANNEL, channel, 8, to);
}

static void profile_print(const struct device *device, FILE *to)
{
    (void)fprintf(to, "  %s:\n", device->profile);
    bind_print(SCHEMA_PROFILE, device, 4, to);
    if (device->has_identity) {
        (void)fputs("    identity:\n", to);
        bind_print(SCHEMA_IDENTITY, device, 6, to);
    }
    if (device->has_fallback) {
        (void)fputs("    fallback:\n", to);
        bind_print(SCHEMA_FALLBACK, device, 6, to);
    }
    (void)fputs("    channels:\n", to);
    for (int c = 0; c < device->channel_count; c++)
        channel_print(&device->channels[c], to);
}

/* True when a device before this one, in file order, has the same profile. */
static bool is_printed(const struct settings *s, int bus, int device)
{
    const char *profile = s->buses[bus].devices[device].profile;

    for (int b = 0; b <= bus; b++)
        for (int d = 0; d < (b < bus ? s->buses[b].device_count : device); d++)
            if (strcmp(s->buses[b].devices[d].profile, profile) == 0)
                return true;
    return false;
}

static void profiles_print(const struct settings *s, FILE *to)
{
    (void)fputs("device_profiles:\n", to);
    for (int b = 0; b < s->bus_count; b++)
        for (int d = 0; d < s->buses[b].device_count; d++)
            if (!is_printed(s, b, d))
                profile_print(&s->buses[b].devices[d], to);
}

static void buses_print(const struct settings *s, FILE *to)
{
    (void)fputs("buses:\n", to);
    for (int b = 0; b < s->bus_count; b++) {
        const struct bus_settings *bus = &s->buses[b];

        (void)fprintf(to, "  %s:\n", bus->name);
        bind_print(bus->kind == BUS_TCP ? SCHEMA_BUS_TCP : SCHEMA_BUS_RTU, bus, 4, to);
        (void)fputs("    devices:\n", to);
        for (int d = 0; d < bus->device_count; d++) {
            const struct device *device = &bus->devices[d];

            (void)fprintf(to, "      %s:\n", device->name);
            bind_print(device->has_fallback ? SCHEMA_DEVICE_FALLBACK : SCHEMA_DEVICE, device, 8, to);
        }
    }
}

static void points_print(const struct settings *s, FILE *to)
{
    (void)fputs("points:\n", to);
    for (int p = 0; p < POINT_COUNT; p++) {
        struct schema_point entry = {.setup = s->setup.points[p]};
        const struct device *device = NULL;
        const struct channel *channel = wiring_channel(s, (enum point)p, &device, NULL);

        if (channel == NULL) {
            (void)fprintf(to, "  # %s: not fitted; a person is asked where it is needed\n",
                          point_info((enum point)p)->name);
            continue;
        }
        (void)snprintf(entry.device, sizeof entry.device, "%s", device->name);
        (void)snprintf(entry.channel, sizeof entry.channel, "%s", channel->name);
        (void)fprintf(to, "  %s:\n", point_info((enum point)p)->name);
        bind_print(schema_point_rows((enum point)p), &entry, 4, to);
    }
}

/* What is allowed but worth knowing: outputs that stay as they are when this program dies. */
static void cautions_print(const struct settings *s, FILE *to)
{
    for (int p = POINT_INPUT_COUNT; p < POINT_COUNT; p++) {
        const struct device *device = NULL;

        if (wiring_channel(s, (enum point)p, &device, NULL) != NULL && !device->has_fallback)
            (void)fprintf(to,
                          "# caution: %s is on device %s, whose profile has no fallback: it keeps its last "
                          "state when the connection is lost\n",
                          point_info((enum point)p)->name, device->name);
    }
}

void settings_print(const struct settings *settings, FILE *to)
{
    (void)fputs("# The effective settings, every default filled in. This text can be read back.\n", to);
    cautions_print(settings, to);
    (void)fputs("edited: yes\n"
                "# profiles: not needed here; the profiles in use are under device_profiles\n",
                to);
    bind_print(SCHEMA_TANK_FILE, settings, 0, to);
    profiles_print(settings, to);
    buses_print(settings, to);
    points_print(settings, to);
}
