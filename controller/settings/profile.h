/* profile.h - device profiles: what registers a kind of device has.
 *
 * Does:      read each profile once, from the tank file's device_profiles or from a file in the
 *            profiles folder, and check it by itself.
 * Does not:  know which points are bound.
 */
#ifndef SETTINGS_PROFILE_H
#define SETTINGS_PROFILE_H

#include "settings/bind.h"

#define PROFILES_MAX (SETTINGS_BUSES_MAX * BUS_DEVICES_MAX)

struct profiles {
    const struct bind *bind; /* the tank file's */
    const char *folder;
    int count;
    struct device kept[PROFILES_MAX]; /* profile is its name; no channels when it could not be read */
};

/* Read those written in the tank file; map may be NULL. */
void profiles_bind(struct profiles *profiles, const struct yaml_node *map);

/* Fill *device with the profile called name; at is where the tank file asks for it. When there is no
 * such profile an error is added and *device has no channels. */
void profiles_get(struct profiles *profiles, const char *name, const struct yaml_node *at,
                  struct device *device);

#endif
