#include "drivers/driver.h"
#include "settings/settings_check.h"

#include <arpa/inet.h>
#include <string.h>

#define WORST_CASE_MAX_MS 400
#define PATH_MAX_BYTES 128

/* Readings that a trip acts on within a second or so. */
static bool is_protection(enum point point)
{
    static const enum point POINTS[] = {
        POINT_TANK_TEMP_C,      POINT_SHEATH_TEMP_C, POINT_STIRRER_RPM, POINT_LEVEL_COVERS_HEATER,
        POINT_LEVEL_BELOW_BRIM, POINT_LID_CLOSED,    POINT_CHAIN_OK,    POINT_HEATER_IS_ON};

    for (size_t i = 0; i < sizeof POINTS / sizeof POINTS[0]; i++)
        if (POINTS[i] == point)
            return true;
    return false;
}

/* An output or protection point on this bus; POINT_COUNT for none. */
static enum point urgent_point(const struct bus_settings *bus)
{
    for (int d = 0; d < bus->device_count; d++)
        for (int c = 0; c < bus->devices[d].channel_count; c++) {
            enum point point = bus->devices[d].channels[c].point;

            if (point != POINT_COUNT && (point_info(point)->is_output || is_protection(point)))
                return point;
        }
    return POINT_COUNT;
}

static void worst_case_check(const struct settings_check *check, const struct bus_settings *bus,
                             const char *path)
{
    const struct device *slowest = &bus->devices[0];
    enum point urgent = urgent_point(bus);
    int worst_ms;

    if (urgent == POINT_COUNT)
        return;
    worst_ms = driver_worst_case_ms(bus);
    if (worst_ms <= WORST_CASE_MAX_MS)
        return;
    for (int d = 1; d < bus->device_count; d++)
        if (bus->devices[d].reply_ms > slowest->reply_ms)
            slowest = &bus->devices[d];
    settings_check_error(
        check, path,
        "one pass may take %d ms when a device has just died, but this bus carries %s and so "
        "may take %d. The slowest device is %s (reply_ms %d): put it on another bus, or "
        "lower its reply_ms if it is faster than that.",
        worst_ms, point_info(urgent)->name, WORST_CASE_MAX_MS, slowest->name, slowest->reply_ms);
}

/* A bus whose parts are all right by themselves. */
static void whole_check(const struct settings_check *check, const struct bus_settings *bus)
{
    struct fault f = {.text = ""};
    char path[PATH_MAX_BYTES];

    (void)snprintf(path, sizeof path, "buses.%s", bus->name);
    worst_case_check(check, bus, path);
    if (driver_check_bus(bus, &f) != ST_OK)
        settings_check_error(check, path, "%s%s%s", f.where, f.where[0] != '\0' ? ": " : "", f.text);
}

static void device_check(const struct settings_check *check, const struct bus_settings *bus, int index,
                         const char *path)
{
    const struct device *device = &bus->devices[index];

    if (device->poll_ms % 100 != 0)
        settings_check_error(check, path, "poll_ms is %d; it must be a multiple of 100.", device->poll_ms);
    if (device->has_fallback && device->fallback_ms > 0 && device->fallback_ms <= 2 * device->poll_ms)
        settings_check_error(check, path,
                             "fallback_ms is %d, but the device is read only every %d ms: it would switch "
                             "off between two readings.",
                             device->fallback_ms, device->poll_ms);
    for (int d = 0; d < index; d++)
        if (bus->devices[d].unit == device->unit && device->unit != 0)
            settings_check_error(check, path, "unit %d is already used on this bus by %s.", device->unit,
                                 bus->devices[d].name);
}

/* Points name a device without its bus, so names must differ everywhere. */
static void name_check(const struct settings_check *check, int bus_index, const struct device *device,
                       const char *path)
{
    for (int b = 0; b < bus_index; b++)
        for (int d = 0; d < check->settings->buses[b].device_count; d++)
            if (strcmp(check->settings->buses[b].devices[d].name, device->name) == 0)
                settings_check_error(check, path, "bus %s already has a device of this name.",
                                     check->settings->buses[b].name);
}

static void wire_check(const struct settings_check *check, int index, const char *path)
{
    const struct bus_settings *bus = &check->settings->buses[index];
    struct in_addr address;
    char key[PATH_MAX_BYTES + 8];

    (void)snprintf(key, sizeof key, "%s.%s", path, bus->kind == BUS_TCP ? "host" : "path");
    if (bus->kind == BUS_TCP && bus->host[0] != '\0' && inet_pton(AF_INET, bus->host, &address) != 1)
        settings_check_error(check, key,
                             "host is \"%s\", which is not a numeric address such as 192.168.1.50; names are "
                             "not looked up, because that can block.",
                             bus->host);
    for (int b = 0; b < index && bus->kind == BUS_RTU && bus->path[0] != '\0'; b++)
        if (strcmp(check->settings->buses[b].path, bus->path) == 0)
            settings_check_error(check, key, "the serial line %s is already used by bus %s.", bus->path,
                                 check->settings->buses[b].name);
}

void settings_check_buses(const struct settings_check *check)
{
    char path[PATH_MAX_BYTES];

    for (int b = 0; b < check->settings->bus_count; b++) {
        const struct bus_settings *bus = &check->settings->buses[b];
        int before = check->bind->errors->count;

        (void)snprintf(path, sizeof path, "buses.%s", bus->name);
        wire_check(check, b, path);
        for (int d = 0; d < bus->device_count; d++) {
            (void)snprintf(path, sizeof path, "buses.%s.devices.%s", bus->name, bus->devices[d].name);
            device_check(check, bus, d, path);
            name_check(check, b, &bus->devices[d], path);
        }
        if (check->is_wiring_good && check->bind->errors->count == before)
            whole_check(check, bus);
    }
}
