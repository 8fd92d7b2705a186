/* world.h - tank, instruments and devices together, and the tank's own time.
 *
 * Thread:    one. Memory: the caller's.
 */
#ifndef SIMULATOR_WORLD_H
#define SIMULATOR_WORLD_H

#include "simulator/devices.h"

#define WORLD_STEP_US 100000
#define WORLD_UTC_START_US INT64_C(1789365600000000) /* 2026-09-14T06:00:00Z */

/* What is wrong with a device on the wire. */
enum unit_fault_kind { UNIT_WELL, UNIT_SILENT, UNIT_SLOW, UNIT_EXCEPTION, UNIT_SHORT };

struct unit_fault {
    enum unit_fault_kind kind;
    int delay_ms; /* UNIT_SLOW, real time */
};

struct world {
    struct plant plant;
    struct plant_inputs inputs; /* as they now act */
    struct instruments instruments;
    struct devices devices;
    struct unit_fault unit_faults[DEVICES_UNITS + 1]; /* index: unit number */
    int64_t tank_us;
};

void world_init(struct world *world, uint64_t seed, const struct plant_declared *declared);

/* One step of 0.1 s with what the devices' registers now switch. */
void world_step(struct world *world);

/* The same with inputs given, past the devices. */
void world_step_with(struct world *world, const struct plant_inputs *inputs);

int64_t world_utc_us(const struct world *world);

#endif
