/* schema.h - the tables of every key that a tank file and a device profile may have.
 *
 * A key ends in its unit where it has one. Times in hours or minutes are written with their unit
 * instead ("4 h"). Order here is the order of settings_print.
 */
#ifndef SETTINGS_SCHEMA_H
#define SETTINGS_SCHEMA_H

#include "settings/bind.h"

#define SCHEMA_PROFILE_SUFFIX ".yaml"

/* Tank file, top level: rows of struct settings, and rows that only steer the reading. */
extern const struct bind_row SCHEMA_TANK_FILE[]; /* struct settings */
struct schema_reading {
    bool is_edited;
    char profiles_path[SETTINGS_PATH_MAX];
};
extern const struct bind_row SCHEMA_READING[]; /* struct schema_reading */

/* Maps of named entries below it. */
extern const struct bind_row SCHEMA_BUS_KIND[]; /* struct bus_settings; `kind` alone */
extern const struct bind_row SCHEMA_BUS_TCP[];  /* struct bus_settings */
extern const struct bind_row SCHEMA_BUS_RTU[];
extern const struct bind_row SCHEMA_DEVICE[];          /* struct device */
extern const struct bind_row SCHEMA_DEVICE_FALLBACK[]; /* struct device; devices with a fallback */

/* One bound point. Which keys make sense depends on what the point is. */
struct schema_point {
    char device[CHANNEL_NAME_MAX];
    char channel[CHANNEL_NAME_MAX];
    struct point_setup setup;
};
const struct bind_row *schema_point_rows(enum point point); /* struct schema_point */

/* Device profile. */
extern const struct bind_row SCHEMA_PROFILE[];  /* struct device */
extern const struct bind_row SCHEMA_IDENTITY[]; /* struct device */
extern const struct bind_row SCHEMA_FALLBACK[]; /* struct device */
extern const struct bind_row SCHEMA_CHANNEL[];  /* struct channel */

#endif
