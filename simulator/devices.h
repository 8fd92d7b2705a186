/* devices.h - the registers of the simulated devices: eight units, as the device profiles say.
 *
 *   1 temperature module   2 refractometer   3 pH transmitter      4 switching module
 *   5 stirrer drive        6 water meter     7 acid pump           8 power controller
 *
 * Does:      keep the register images, take what was written to the outputs, drop the outputs of
 *            units 4 and 8 when their fallback time passes without a request.
 * Does not:  speak Modbus (wire.h). An address inside the image that means nothing reads 0.
 * Thread:    as the plant. Memory: the caller's.
 */
#ifndef SIMULATOR_DEVICES_H
#define SIMULATOR_DEVICES_H

#include "simulator/instruments.h"

#include <stdint.h>

#define DEVICES_UNITS 8
#define DEVICE_BITS 16
#define DEVICE_WORDS 128

struct device_image {
    uint8_t coils[DEVICE_BITS];
    uint8_t discretes[DEVICE_BITS];
    uint16_t holding[DEVICE_WORDS];
    uint16_t input[DEVICE_WORDS];
    int64_t asked_us; /* tank time of the last request */
};

struct devices {
    struct device_image units[DEVICES_UNITS];
};

/* As after power-up: identities set, outputs off, fallback times 0 (off). */
void devices_init(struct devices *devices);

/* The image of a unit number; NULL when no such unit is on the bus. */
struct device_image *devices_unit(struct devices *devices, int unit);

/* Values into the registers of every unit. */
void devices_refresh(struct devices *devices, const struct instrument_values *values);

/* What the outputs now switch. */
void devices_inputs_get(const struct devices *devices, struct plant_inputs *inputs);

/* A unit has received a request. */
void devices_asked(struct devices *devices, int unit, int64_t tank_us);

/* Let fallback timers act. */
void devices_fallback_step(struct devices *devices, int64_t tank_us);

enum device_write { DEVICE_WRITE_OK, DEVICE_WRITE_ADDRESS, DEVICE_WRITE_VALUE };

/* May this coil or holding register be given this value? */
enum device_write devices_coil_check(int unit, int address);
enum device_write devices_holding_check(int unit, int address, uint16_t value);

#endif
