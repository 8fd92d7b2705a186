#include "base/point.h"

#include <assert.h>
#include <stddef.h>
#include <string.h>

static const struct point_info POINTS[POINT_COUNT] = {
    /* name, unit, meaning, output, yes/no, min, max, decimals */
    [POINT_TANK_TEMP_C] = {"tank_temp_c", "°C", "liquid in the tank", false, false, -20, 130, 1},
    [POINT_SHEATH_TEMP_C] = {"sheath_temp_c", "°C", "surface of the heating element", false, false, -20, 400,
                             1},
    [POINT_ROOM_TEMP_C] = {"room_temp_c", "°C", "air around the tank", false, false, -40, 60, 1},
    [POINT_STRENGTH_PCT] = {"strength_pct", "% by weight", "dissolved sugar, by refractometer", false, false,
                            -2, 95, 2},
    [POINT_ACIDITY_PH] = {"acidity_ph", "pH", "acidity, by probe", false, false, 0, 14, 2},
    [POINT_PROBE_TEMP_C] = {"probe_temp_c", "°C", "temperature at the pH probe", false, false, -20, 130, 1},
    [POINT_PROBE_MV] = {"probe_mv", "mV", "raw voltage of the pH probe", false, false, -1000, 1000, 1},
    [POINT_WATER_L] = {"water_l", "L", "water counted by the meter since it was powered", false, false, 0,
                       1e7, 1},
    [POINT_WATER_L_MIN] = {"water_l_min", "L/min", "water flowing in", false, false, -1, 500, 1},
    [POINT_DOSED_ML] = {"dosed_ml", "mL", "acid solution counted by the pump since it was powered", false,
                        false, 0, 1e7, 1},
    [POINT_STIRRER_RPM] = {"stirrer_rpm", "rpm", "turning speed of the stirrer", false, false, -10, 5000, 0},
    [POINT_LEVEL_COVERS_HEATER] = {"level_covers_heater", "", "the liquid covers the heating element", false,
                                   true, 0, 1, 0},
    [POINT_LEVEL_BELOW_BRIM] = {"level_below_brim", "", "the liquid is below the highest allowed level",
                                false, true, 0, 1, 0},
    [POINT_LID_CLOSED] = {"lid_closed", "", "lid or charging hatch is closed", false, true, 0, 1, 0},
    [POINT_CHAIN_OK] = {"chain_ok", "", "the hard-wired safety chain is closed", false, true, 0, 1, 0},
    [POINT_HEATER_IS_ON] = {"heater_is_on", "", "the heater contactor reports closed", false, true, 0, 1, 0},
    [POINT_HEATER_ON] = {"heater_on", "", "heater contactor", true, true, 0, 1, 0},
    [POINT_HEATER_POWER_PCT] = {"heater_power_pct", "%", "share of the heater's power", true, false, 0, 100,
                                0},
    [POINT_STIRRER_ON] = {"stirrer_on", "", "stirrer motor", true, true, 0, 1, 0},
    [POINT_STIRRER_SET_RPM] = {"stirrer_set_rpm", "rpm", "speed asked of the stirrer", true, false, 0, 5000,
                               0},
    [POINT_WATER_VALVE_OPEN] = {"water_valve_open", "", "water valve", true, true, 0, 1, 0},
    [POINT_DOSE_PUMP_ON] = {"dose_pump_on", "", "acid dosing pump", true, true, 0, 1, 0},
    [POINT_DOSE_ML_MIN] = {"dose_ml_min", "mL/min", "rate asked of the dosing pump", true, false, 0, 5000, 1},
};

const struct point_info *point_info(enum point point)
{
    assert((unsigned)point < POINT_COUNT);
    return &POINTS[point];
}

enum point point_find(const char *name)
{
    for (int i = 0; name != NULL && i < POINT_COUNT; i++)
        if (strcmp(POINTS[i].name, name) == 0)
            return (enum point)i;
    return POINT_COUNT;
}
