#include "simulator/devices.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

enum table { TABLE_DISCRETE, TABLE_HOLDING, TABLE_INPUT };
enum format {
    FORMAT_BIT,
    FORMAT_BIT_INVERTED,
    FORMAT_S16,
    FORMAT_U16,
    FORMAT_U32_LOW,
    FORMAT_U32_HIGH,
    FORMAT_F32_LOW,
    FORMAT_F32_HIGH
};

/* LOW and HIGH: which word of a pair comes first. */
struct measured_row {
    enum point point;
    int unit;
    enum table table;
    int address;
    enum format format;
    double step;
};

static const struct measured_row MEASURED[] = {
    {POINT_TANK_TEMP_C, 1, TABLE_INPUT, 0, FORMAT_S16, 0.1},
    {POINT_SHEATH_TEMP_C, 1, TABLE_INPUT, 1, FORMAT_S16, 0.1},
    {POINT_ROOM_TEMP_C, 1, TABLE_INPUT, 2, FORMAT_S16, 0.1},
    {POINT_STRENGTH_PCT, 2, TABLE_HOLDING, 0, FORMAT_F32_HIGH, 0},
    {POINT_PROBE_TEMP_C, 2, TABLE_HOLDING, 2, FORMAT_F32_HIGH, 0},
    {POINT_ACIDITY_PH, 3, TABLE_INPUT, 0, FORMAT_F32_LOW, 0},
    {POINT_PROBE_TEMP_C, 3, TABLE_INPUT, 2, FORMAT_F32_LOW, 0},
    {POINT_PROBE_MV, 3, TABLE_INPUT, 4, FORMAT_F32_LOW, 0},
    {POINT_LEVEL_COVERS_HEATER, 4, TABLE_DISCRETE, 0, FORMAT_BIT, 0},
    {POINT_LEVEL_BELOW_BRIM, 4, TABLE_DISCRETE, 1, FORMAT_BIT_INVERTED, 0},
    {POINT_LID_CLOSED, 4, TABLE_DISCRETE, 2, FORMAT_BIT, 0},
    {POINT_CHAIN_OK, 4, TABLE_DISCRETE, 3, FORMAT_BIT, 0},
    {POINT_HEATER_IS_ON, 4, TABLE_DISCRETE, 4, FORMAT_BIT, 0},
    {POINT_STIRRER_RPM, 5, TABLE_INPUT, 0, FORMAT_U16, 1},
    {POINT_WATER_L, 6, TABLE_INPUT, 0, FORMAT_U32_LOW, 0.01},
    {POINT_WATER_L_MIN, 6, TABLE_INPUT, 2, FORMAT_U16, 0.01},
    {POINT_DOSED_ML, 7, TABLE_INPUT, 0, FORMAT_U32_HIGH, 0.01},
};

struct fixed_row {
    int unit;
    enum table table;
    int address;
    uint16_t value;
};

static const struct fixed_row IDENTITIES[DEVICES_UNITS] = {
    {1, TABLE_INPUT, 10, 5401},  {2, TABLE_HOLDING, 40, 2071}, {3, TABLE_INPUT, 100, 3303},
    {4, TABLE_HOLDING, 0, 4016}, {5, TABLE_HOLDING, 10, 5150}, {6, TABLE_INPUT, 20, 6120},
    {7, TABLE_HOLDING, 9, 7007}, {8, TABLE_HOLDING, 5, 8012},
};

/* Holding registers that may be written, with the largest value they take. */
struct writable_row {
    int unit;
    int address;
    uint16_t most;
};

#define COILS 4
#define COIL_HEATER 0
#define COIL_STIRRER 1
#define COIL_WATER 2
#define COIL_PUMP 3
#define SPEED_WORD 0
#define RATE_WORD 0
#define POWER_WORD 0

static const struct writable_row WRITABLE[] = {
    {4, 1, 60000}, {5, SPEED_WORD, 3000}, {7, RATE_WORD, 10000}, {8, POWER_WORD, 1000}, {8, 6, 60000},
};

/* Where a unit keeps its fallback time, ms. */
#define FALLBACK_COILS_WORD 1
#define FALLBACK_POWER_WORD 6

static uint16_t *image_words(struct device_image *image, enum table table)
{
    return table == TABLE_HOLDING ? image->holding : image->input;
}

struct device_image *devices_unit(struct devices *devices, int unit)
{
    return unit >= 1 && unit <= DEVICES_UNITS ? &devices->units[unit - 1] : NULL;
}

void devices_init(struct devices *devices)
{
    memset(devices, 0, sizeof *devices);
    for (size_t i = 0; i < sizeof IDENTITIES / sizeof *IDENTITIES; i++) {
        const struct fixed_row *row = &IDENTITIES[i];

        image_words(devices_unit(devices, row->unit), row->table)[row->address] = row->value;
    }
}

static double whole_within(double value, double low, double high)
{
    return isfinite(value) ? fmax(low, fmin(high, round(value))) : low;
}

static void put_pair(uint16_t *words, uint32_t bits, bool low_first)
{
    words[low_first ? 0 : 1] = (uint16_t)(bits & 0xffff);
    words[low_first ? 1 : 0] = (uint16_t)(bits >> 16);
}

static void put_word(uint16_t *words, const struct measured_row *row, double value)
{
    float single = (float)value;
    uint32_t bits;

    switch (row->format) {
    case FORMAT_S16:
        *words = (uint16_t)(int16_t)whole_within(value / row->step, -32768, 32767);
        break;
    case FORMAT_U16:
        *words = (uint16_t)whole_within(value / row->step, 0, 65535);
        break;
    case FORMAT_U32_LOW:
    case FORMAT_U32_HIGH:
        bits = (uint32_t)whole_within(value / row->step, 0, 4294967295.0);
        put_pair(words, bits, row->format == FORMAT_U32_LOW);
        break;
    default:
        memcpy(&bits, &single, sizeof bits);
        put_pair(words, bits, row->format == FORMAT_F32_LOW);
        break;
    }
}

void devices_refresh(struct devices *devices, const struct instrument_values *values)
{
    for (size_t i = 0; i < sizeof MEASURED / sizeof *MEASURED; i++) {
        const struct measured_row *row = &MEASURED[i];
        struct device_image *image = devices_unit(devices, row->unit);
        double value = values->value[row->point];

        if (row->table == TABLE_DISCRETE)
            image->discretes[row->address] = (value != 0) != (row->format == FORMAT_BIT_INVERTED);
        else
            put_word(image_words(image, row->table) + row->address, row, value);
    }
}

void devices_inputs_get(const struct devices *devices, struct plant_inputs *inputs)
{
    const uint8_t *coils = devices->units[4 - 1].coils;

    *inputs = (struct plant_inputs){
        .heater_on = coils[COIL_HEATER],
        .stirrer_on = coils[COIL_STIRRER],
        .water_valve_open = coils[COIL_WATER],
        .dose_pump_on = coils[COIL_PUMP],
        .stirrer_set_rpm = devices->units[5 - 1].holding[SPEED_WORD],
        .dose_ml_min = 0.1 * devices->units[7 - 1].holding[RATE_WORD],
        .heater_power_pct = 0.1 * devices->units[8 - 1].holding[POWER_WORD],
    };
}

void devices_asked(struct devices *devices, int unit, int64_t tank_us)
{
    struct device_image *image = devices_unit(devices, unit);

    if (image != NULL)
        image->asked_us = tank_us;
}

static bool is_overdue(const struct device_image *image, int word, int64_t tank_us)
{
    int64_t allowed_us = (int64_t)image->holding[word] * 1000;

    return allowed_us > 0 && tank_us - image->asked_us > allowed_us;
}

void devices_fallback_step(struct devices *devices, int64_t tank_us)
{
    struct device_image *switches = devices_unit(devices, 4), *power = devices_unit(devices, 8);

    if (is_overdue(switches, FALLBACK_COILS_WORD, tank_us))
        memset(switches->coils, 0, sizeof switches->coils);
    if (is_overdue(power, FALLBACK_POWER_WORD, tank_us))
        power->holding[POWER_WORD] = 0;
}

enum device_write devices_coil_check(int unit, int address)
{
    return unit == 4 && address >= 0 && address < COILS ? DEVICE_WRITE_OK : DEVICE_WRITE_ADDRESS;
}

enum device_write devices_holding_check(int unit, int address, uint16_t value)
{
    for (size_t i = 0; i < sizeof WRITABLE / sizeof *WRITABLE; i++)
        if (WRITABLE[i].unit == unit && WRITABLE[i].address == address)
            return value <= WRITABLE[i].most ? DEVICE_WRITE_OK : DEVICE_WRITE_VALUE;
    return DEVICE_WRITE_ADDRESS;
}
