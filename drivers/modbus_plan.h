/* modbus_plan.h - which requests a bus needs: as few as possible, no two that could be mixed up.
 *
 * Does:      make one block read of all bound channels of a device that share a register kind;
 *            place the identity and fallback registers; refuse what cannot be told apart.
 * Does not:  talk to anything. Pure.
 * Why:       a late reply on a serial line carries no address. Two reads of one unit and function
 *            with the same length could be answered by each other's reply, silently. With
 *            different lengths that is always an error.
 */
#ifndef DRIVERS_MODBUS_PLAN_H
#define DRIVERS_MODBUS_PLAN_H

#include "base/status.h"
#include "drivers/channel.h"

#define PLAN_BLOCKS_MAX (REGISTER_KIND_COUNT + 2)
/* Blocks of equal length are joined into one read when it stays this short, registers or coils. */
#define PLAN_JOIN_MAX 32

struct plan_block {
    enum register_kind kind;
    int address;
    int count;         /* registers or coils */
    bool has_channels; /* read at the device's poll time */
    bool has_identity;
    bool has_fallback;
};

struct device_plan {
    int block_count;
    struct plan_block blocks[PLAN_BLOCKS_MAX];
};

struct bus_plan {
    struct device_plan devices[BUS_DEVICES_MAX];
};

/* Plan a whole bus. ST_SETTINGS: it must not be driven; *f names device and registers and says
 * what to change. A device without bound channel and identity gets no block. */
enum status modbus_plan_make(const struct bus_settings *bus, struct bus_plan *plan, struct fault *f) MUST_USE;

#endif
