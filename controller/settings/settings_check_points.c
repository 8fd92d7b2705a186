#include "settings/settings_check.h"
#include "settings/wiring.h"

#include <math.h>
#include <string.h>

/* What heat depends on, also on the smallest tank. The rest (level, chain, stirrer speed) is used where
 * it is bound; the hard-wired devices that act without the program are required either way. */
static const enum point HEAT_NEEDS[] = {POINT_TANK_TEMP_C, POINT_STIRRER_ON};

static void point_error(const struct settings_check *check, enum point point, const char *sentence)
{
    char path[64];

    (void)snprintf(path, sizeof path, "points.%s", point_info(point)->name);
    settings_check_error(check, path, "%s", sentence);
}

/* Off must be 0 on the wire, because that is what a module falls back to by itself. */
static void output_check(const struct settings_check *check, enum point point, const struct channel *channel)
{
    if (channel->kind == REGISTER_DISCRETE || channel->kind == REGISTER_INPUT)
        point_error(
            check, point,
            "this is an output, but the channel is read-only (discrete or input); bind it to a coil or "
            "holding register.");
    if (channel->is_inverted || fabs(channel->offset) > 0)
        point_error(check, point,
                    "an output's off must be 0 on the wire, so its channel must not be inverted or have an "
                    "offset: a module that loses the connection falls back to 0.");
}

static void reading_check(const struct settings_check *check, enum point point, const struct device *device)
{
    const struct point_setup *setup = &check->settings->setup.points[point];

    if (setup->max_age_s * 1000 <= device->poll_ms) {
        char sentence[160];

        (void)snprintf(sentence, sizeof sentence,
                       "max_age_s is %g, but device %s is read every %d ms: every reading would go stale. "
                       "Allow at least two readings' time.",
                       setup->max_age_s, device->name, device->poll_ms);
        point_error(check, point, sentence);
    }
}

static void type_check(const struct settings_check *check, enum point point, const struct channel *channel)
{
    bool is_bit = channel->type == TYPE_BIT;

    if (is_bit == point_info(point)->is_yes_no)
        return;
    point_error(check, point,
                is_bit ? "this is a number, but the channel holds a single bit."
                       : "this is a yes or no, but the channel holds a number; bind it to a coil or discrete "
                         "input.");
}

static void range_check(const struct settings_check *check, enum point point)
{
    const struct point_info *info = point_info(point);
    const struct point_setup *setup = &check->settings->setup.points[point];
    char sentence[192];

    if (setup->min < setup->max && setup->min >= info->min && setup->max <= info->max)
        return;
    (void)snprintf(sentence, sizeof sentence,
                   "min %g and max %g must be in order and within %g to %g %s, which is all that %s can be.",
                   setup->min, setup->max, info->min, info->max, info->unit, info->name);
    point_error(check, point, sentence);
}

/* A reading that ends below its trip limit would go bad there instead of naming the heat. */
static void reach_check(const struct settings_check *check, enum point point, const char *key, double limit)
{
    const struct point_setup *setup = &check->settings->setup.points[point];
    char sentence[160];

    if (!setup->is_bound || setup->max > limit)
        return;
    (void)snprintf(sentence, sizeof sentence,
                   "max is %g, but limits.%s is %g: the reading must reach above it.", setup->max, key,
                   limit);
    point_error(check, point, sentence);
}

static void heat_check(const struct settings_check *check)
{
    const struct point_setup *points = check->settings->setup.points;
    enum point heater = points[POINT_HEATER_ON].is_bound ? POINT_HEATER_ON : POINT_HEATER_POWER_PCT;
    char missing[128] = "";
    char sentence[320];
    size_t used = 0;

    if (!points[heater].is_bound)
        return;
    for (size_t i = 0; i < sizeof HEAT_NEEDS / sizeof HEAT_NEEDS[0]; i++)
        if (!points[HEAT_NEEDS[i]].is_bound)
            used += (size_t)snprintf(missing + used, sizeof missing - used, "%s%s", used > 0 ? ", " : "",
                                     point_info(HEAT_NEEDS[i])->name);
    if (used == 0)
        return;
    (void)snprintf(sentence, sizeof sentence,
                   "heat would be impossible: the heater is bound, but not %s, and it is never let on "
                   "without. Bind what is missing, or leave the heater out and heat by hand.",
                   missing);
    point_error(check, heater, sentence);
}

/* An output that can do nothing, or nothing good, without another one. */
static void partner_check(const struct settings_check *check)
{
    static const struct {
        enum point point;
        enum point needs;
        const char *sentence;
    } PARTNERS[] = {
        {POINT_HEATER_POWER_PCT, POINT_HEATER_ON,
         "power is controlled, but no contactor (heater_on) is bound: nothing could take the heat away "
         "altogether. Bind heater_on."},
        {POINT_STIRRER_SET_RPM, POINT_STIRRER_ON, "a speed is set, but stirrer_on is not bound. Bind it."},
        {POINT_DOSE_ML_MIN, POINT_DOSE_PUMP_ON, "a rate is set, but dose_pump_on is not bound. Bind it."},
        {POINT_DOSE_PUMP_ON, POINT_STIRRER_ON,
         "acid is never dosed unless the stirrer turns, but stirrer_on is not bound. Bind it, or leave the "
         "pump out and add acid by hand."},
    };
    const struct point_setup *points = check->settings->setup.points;

    for (size_t i = 0; i < sizeof PARTNERS / sizeof PARTNERS[0]; i++)
        if (points[PARTNERS[i].point].is_bound && !points[PARTNERS[i].needs].is_bound)
            point_error(check, PARTNERS[i].point, PARTNERS[i].sentence);
}

/* What must not go on when the computer has died. A relay keeps its state; only its module can tell. */
static void fallback_check(const struct settings_check *check)
{
    static const enum point RELAYS[] = {POINT_HEATER_ON, POINT_WATER_VALVE_OPEN, POINT_DOSE_PUMP_ON};

    for (size_t i = 0; i < sizeof RELAYS / sizeof RELAYS[0]; i++) {
        const struct device *device = NULL;

        if (wiring_channel(check->settings, RELAYS[i], &device, NULL) != NULL && !device->has_fallback)
            point_error(check, RELAYS[i],
                        "this output would stay on when the computer or the wire dies: its device profile "
                        "names no fallback. Use a module that switches off by itself when it hears nothing, "
                        "and give its fallback register in the profile.");
    }
}

void settings_check_points(const struct settings_check *check)
{
    const struct limits *limits = &check->settings->setup.limits;

    for (int p = 0; p < POINT_COUNT; p++) {
        enum point point = (enum point)p;
        const struct device *device = NULL;
        const struct channel *channel = wiring_channel(check->settings, point, &device, NULL);

        if (channel == NULL)
            continue;
        type_check(check, point, channel);
        if (!point_info(point)->is_yes_no)
            range_check(check, point);
        if (point_info(point)->is_output)
            output_check(check, point, channel);
        else
            reading_check(check, point, device);
    }
    reach_check(check, POINT_TANK_TEMP_C, "liquid_max_c", limits->liquid_max_c);
    reach_check(check, POINT_SHEATH_TEMP_C, "sheath_max_c", limits->sheath_max_c);
    heat_check(check);
    partner_check(check);
    fallback_check(check);
}
