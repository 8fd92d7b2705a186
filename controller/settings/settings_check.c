#include "settings/settings_check.h"

#include "settings/scalar.h"

#include <stdarg.h>
#include <string.h>
#include <sys/un.h>

void settings_check_error(const struct settings_check *check, const char *path, const char *format, ...)
{
    char sentence[sizeof((struct fault *)0)->text];
    va_list args;

    va_start(args, format);
    (void)vsnprintf(sentence, sizeof sentence, format, args);
    va_end(args);
    bind_error(check->bind, yaml_node_nearest(check->root, path), "%s", sentence);
}

/* The first key must be below the second; both in struct scan_setup. */
struct order {
    const char *low_path;
    size_t low;
    const char *high_path;
    size_t high;
    bool may_be_equal;
    const char *because;
};

#define LIMIT(member) "limits." #member, offsetof(struct scan_setup, limits.member)
#define FACT(member) "tank." #member, offsetof(struct scan_setup, tank.member)

static const struct order ORDERS[] = {
    {LIMIT(sugar_max_c), LIMIT(liquid_max_c), true, "sugar would be asked for where heating has tripped"},
    {LIMIT(dose_max_c), LIMIT(liquid_max_c), true, "acid would be allowed where heating has tripped"},
    {LIMIT(liquid_max_c), LIMIT(sheath_max_c), false,
     "the heater's surface is always hotter than the liquid"},
    {LIMIT(stirrer_min_rpm), FACT(stirrer_rpm), false, "the stirrer would never count as turning"},
    {FACT(heater_cover_l), FACT(capacity_l), false, "the heater would never be covered"},
    {FACT(water_temp_c), LIMIT(liquid_max_c), false, "the water would arrive too hot"},
};

static double number_at(const struct scan_setup *setup, size_t offset)
{
    double number;

    memcpy(&number, (const char *)setup + offset, sizeof number);
    return number;
}

/* A key that could not be read is still 0, and 0 is in range for none of these but water_temp_c,
 * where it cannot break the order. */
static bool is_unread(double number)
{
    return number <= 0;
}

static void orders_check(const struct settings_check *check)
{
    for (size_t i = 0; i < sizeof ORDERS / sizeof ORDERS[0]; i++) {
        const struct order *o = &ORDERS[i];
        double low = number_at(&check->settings->setup, o->low);
        double high = number_at(&check->settings->setup, o->high);

        if (is_unread(low) || is_unread(high) || low < high || (o->may_be_equal && low <= high))
            continue;
        settings_check_error(check, o->low_path, "%s is %g and %s is %g; the first must be below%s: %s.",
                             o->low_path, low, o->high_path, high,
                             o->may_be_equal ? " the second or equal to it" : " the second", o->because);
    }
}

/* About 1 degC for each 300 m: a rule of thumb, no source. Syrup boils a little above water. */
static void boiling_check(const struct settings_check *check)
{
    const struct scan_setup *setup = &check->settings->setup;
    double boiling_c = 100 - setup->tank.altitude_m / 300;

    if (setup->limits.liquid_max_c > boiling_c - 3)
        settings_check_error(check, "limits.liquid_max_c",
                             "limits.liquid_max_c is %g, but at tank.altitude_m %g water boils near %.0f; "
                             "stay at least 3 degrees below.",
                             setup->limits.liquid_max_c, setup->tank.altitude_m, boiling_c);
}

static void socket_check(const struct settings_check *check, const char *key, const char *path)
{
    size_t most = sizeof((struct sockaddr_un *)0)->sun_path - 1;

    if (strlen(path) > most)
        settings_check_error(check, key, "%s has %zu bytes as a whole path (%s); a socket's may have %zu.",
                             key, strlen(path), path, most);
}

static void simulated_check(const struct settings_check *check)
{
    const struct settings *s = check->settings;
    const struct yaml_node *word = yaml_node_find(check->root, "simulated");
    char why[SCALAR_WHY_MAX];
    bool is_simulated = false;

    if (word != NULL && (!scalar_parse_yes_no(word->text, &is_simulated, why) || is_simulated))
        return;
    if (s->owner_role != ROLE_LOOKER)
        settings_check_error(check, "roles.owner_role",
                             "roles.owner_role may be above looker on a simulated tank only; on a real one "
                             "name a Unix group for each role.");
    if (s->sim_clock_path[0] != '\0')
        settings_check_error(check, "sim_clock_path",
                             "sim_clock_path is for a simulated tank only; a real one runs in real time.");
    if (s->operator_group[0] == '\0' && s->supervisor_group[0] == '\0')
        settings_check_error(check, "roles",
                             "nobody could start a batch: name roles.operator_group or "
                             "roles.supervisor_group.");
}

void settings_check_tank(const struct settings_check *check)
{
    orders_check(check);
    boiling_check(check);
    simulated_check(check);
    socket_check(check, "control_path", check->settings->control_path);
    socket_check(check, "sim_clock_path", check->settings->sim_clock_path);
}
