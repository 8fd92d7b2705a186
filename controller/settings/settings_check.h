/* settings_check.h - what must hold between keys, once each key by itself has been read.
 *
 * Each check adds a sentence at the line of the key that is easiest to change. A check whose keys
 * could not be read says nothing: that error is already in the list.
 */
#ifndef SETTINGS_CHECK_H
#define SETTINGS_CHECK_H

#include "settings/bind.h"

struct settings_check {
    const struct bind *bind;
    const struct yaml_node *root;
    const struct settings *settings;
    bool is_wiring_good; /* no error in buses and points so far: a bus as a whole can be judged */
};

/* Add an error at the deepest key of path ("limits.sugar_max_c") that the file has. */
void settings_check_error(const struct settings_check *check, const char *path, const char *format, ...)
    PRINTF_LIKE(3, 4);

void settings_check_tank(const struct settings_check *check);   /* facts, limits, paths, roles */
void settings_check_points(const struct settings_check *check); /* each bound point, and heat */
void settings_check_buses(const struct settings_check *check);  /* addresses, units, worst case */

#endif
