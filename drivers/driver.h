/* driver.h - the contract between a bus thread and whatever is on the other end of the wire.
 *
 * A driver must:  do at most one bounded pass per call; return every bound input of the bus with
 *                 a quality and a reason, also when nothing answers; write absolute values;
 *                 keep trying to reconnect, with back-off, for ever.
 * It must never:  exit, log once per pass, keep globals, hide that a value is old, or take
 *                 longer than its declared worst case.
 * Thread:         one thread owns one open driver; only drivers allocate, and only in open.
 */
#ifndef DRIVERS_DRIVER_H
#define DRIVERS_DRIVER_H

#include "base/quality.h"
#include "base/status.h"
#include "drivers/channel.h"

/* What a driver may call during a pass. */
struct driver_io {
    void *context;
    /* Post what was read. at_us: tank time of the request. */
    void (*post)(void *context, enum point point, double value, int64_t at_us, enum quality quality,
                 enum reason reason);
    /* The value an output must have now; false: write the safe value 0. */
    bool (*wanted)(void *context, enum point point, double *value);
    /* One line for the log, on a change of condition only. */
    void (*say)(void *context, const char *sentence);
};

struct driver {
    const char *name; /* as in the tank file's bus kind: "modbus_tcp" */
    /* Prepare; need not connect. On failure *handle is NULL. */
    enum status (*open)(const struct bus_settings *bus, void **handle, struct fault *f);
    /* Outputs first, then the reads that are due. now_us is tank time. */
    void (*pass)(void *handle, int64_t now_us, const struct driver_io *io);
    /* Best effort to switch every output off, bounded; then close. Accepts NULL. */
    void (*close)(void *handle);
};

/* NULL-terminated table of all drivers, one line each. */
extern const struct driver *const DRIVERS[];

/* The driver of a kind of bus; NULL when there is none. */
const struct driver *driver_find(enum bus_kind kind);

/* What the settings check asks before any bus is opened: could this bus be driven without two
 * requests that a late reply could mix up, and can every output be written? ST_SETTINGS: *f says
 * which device, which registers, and what to change. */
enum status driver_check_bus(const struct bus_settings *bus, struct fault *f) MUST_USE;

/* The longest time one pass may take when a device has just died, ms: the settings check refuses
 * a bus with an output or a protection point above 400. */
int driver_worst_case_ms(const struct bus_settings *bus);

#endif
