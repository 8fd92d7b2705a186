/* settings.h - the tank file, checked: one struct, or all errors at once.
 *
 * Does:      read YAML through the schema table, resolve device profiles, check across keys.
 * Does not:  accept an unknown key, a number with trailing text, or a decimal comma.
 * Memory:    the caller's struct; nothing is kept.
 */
#ifndef SETTINGS_H
#define SETTINGS_H

#include "base/status.h"
#include "core/scan_types.h"
#include "drivers/channel.h"

#include <stdio.h>

#define SETTINGS_BUSES_MAX 4
#define SETTINGS_PATH_MAX 256

struct settings {
    char tank_name[PLAN_NAME_MAX];
    char farm_name[PLAN_NAME_MAX];
    bool is_simulated;
    char sim_clock_path[SETTINGS_PATH_MAX]; /* simulated only: the simulator's grant socket */
    char control_path[SETTINGS_PATH_MAX];   /* the control socket */
    char records_path[SETTINGS_PATH_MAX];   /* folder of records, keys, certificates */
    char helper_group[WHO_NAME_MAX];        /* "" for none */
    char operator_group[WHO_NAME_MAX];
    char supervisor_group[WHO_NAME_MAX];
    enum role owner_role; /* of the user who runs the daemon; above looker only when simulated */
    enum acid default_acid;
    struct scan_setup setup;
    int bus_count;
    struct bus_settings buses[SETTINGS_BUSES_MAX];
    char hash_hex[65]; /* SHA-256 of the effective settings as printed */
};

#define SETTINGS_ERRORS_MAX 64
struct settings_errors {
    int count;                                /* all found, also beyond the kept ones */
    struct fault errors[SETTINGS_ERRORS_MAX]; /* where is "file:line", text is the sentence */
};

/* Read and check a tank file. Relative paths in it are relative to the file. ST_OK: *out is
 * complete and errors->count is 0. Otherwise ST_SETTINGS and *out must not be used. */
enum status settings_read(const char *path, struct settings *out, struct settings_errors *errors) MUST_USE;

/* The effective settings with every default filled in, as YAML, in the schema's order. */
void settings_print(const struct settings *settings, FILE *to);

#endif
