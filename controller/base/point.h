/* point.h - the vocabulary: every quantity the controller can read or switch.
 *
 * One name per point, used in tank files, JSON, records and messages. A name ends in its
 * unit; a name without one is a yes/no whose 1 means what the name says.
 */
#ifndef BASE_POINT_H
#define BASE_POINT_H

#include <stdbool.h>

enum point {
    /* readings with a number */
    POINT_TANK_TEMP_C,
    POINT_SHEATH_TEMP_C,
    POINT_ROOM_TEMP_C,
    POINT_STRENGTH_PCT,
    POINT_ACIDITY_PH,
    POINT_PROBE_TEMP_C,
    POINT_PROBE_MV,
    POINT_WATER_L,
    POINT_WATER_L_MIN,
    POINT_DOSED_ML,
    POINT_STIRRER_RPM,
    /* readings that are yes or no */
    POINT_LEVEL_COVERS_HEATER,
    POINT_LEVEL_BELOW_BRIM,
    POINT_LID_CLOSED,
    POINT_CHAIN_OK,
    POINT_HEATER_IS_ON,
    POINT_INPUT_COUNT,
    /* outputs */
    POINT_HEATER_ON = POINT_INPUT_COUNT,
    POINT_HEATER_POWER_PCT,
    POINT_STIRRER_ON,
    POINT_STIRRER_SET_RPM,
    POINT_WATER_VALVE_OPEN,
    POINT_DOSE_PUMP_ON,
    POINT_DOSE_ML_MIN,
    POINT_COUNT
};

#define POINT_OUTPUT_COUNT (POINT_COUNT - POINT_INPUT_COUNT)

struct point_info {
    const char *name;    /* "tank_temp_c" */
    const char *unit;    /* "°C", "%", "L"; "" for yes/no */
    const char *meaning; /* one phrase for people */
    bool is_output;
    bool is_yes_no;
    double min; /* what physics and instruments of the trade can give; outside is bad */
    double max;
    int decimals; /* how many a person should see */
};

/* Facts of a point; point must be < POINT_COUNT (asserted). */
const struct point_info *point_info(enum point point);

/* Find by name; POINT_COUNT when there is none. */
enum point point_find(const char *name);

#endif
