/* wiring.h - buses, devices and bound points of a tank file. */
#ifndef SETTINGS_WIRING_H
#define SETTINGS_WIRING_H

#include "settings/profile.h"

/* Read `buses`: every device with its profile's channels, none bound yet. map may be NULL. */
void wiring_bind_buses(const struct bind *bind, const struct yaml_node *map, struct profiles *profiles,
                       struct settings *settings);

/* Read `points`: bind channels and fill settings->setup.points. map may be NULL. */
void wiring_bind_points(const struct bind *bind, const struct yaml_node *map, struct settings *settings);

/* The channel a point is bound to, with its device and bus (both may be NULL); NULL for none. */
const struct channel *wiring_channel(const struct settings *settings, enum point point,
                                     const struct device **device, const struct bus_settings **bus);

#endif
