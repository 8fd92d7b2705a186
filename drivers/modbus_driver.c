#include "drivers/modbus_driver.h"

#include "drivers/modbus_line.h"

#define TCP_MARGIN_MS 20    /* off-writes and closing after a failed call */
#define WRITE_CHARACTERS 20 /* request, reply and the silences between */

static enum status driver_open(const struct bus_settings *bus, void **handle, struct fault *f)
{
    struct line *line = NULL;
    enum status code = modbus_line_open(bus, &line, f);

    *handle = line;
    return code;
}

static void driver_pass(void *handle, int64_t now_us, const struct driver_io *io)
{
    modbus_line_pass(handle, now_us, io);
}

static void driver_close(void *handle)
{
    modbus_line_close(handle);
}

const struct driver MODBUS_TCP_DRIVER = {"modbus_tcp", driver_open, driver_pass, driver_close};
const struct driver MODBUS_RTU_DRIVER = {"modbus_rtu", driver_open, driver_pass, driver_close};

static int bus_outputs(const struct bus_settings *bus)
{
    int outputs = 0;

    for (int i = 0; i < bus->device_count; i++)
        for (int c = 0; c < bus->devices[i].channel_count; c++)
            outputs += bus->devices[i].channels[c].point < POINT_COUNT &&
                       bus->devices[i].channels[c].point >= POINT_INPUT_COUNT;
    return outputs;
}

/* The longest reply, then on a serial line the off-writes and the drain. */
int modbus_driver_worst_case_ms(const struct bus_settings *bus)
{
    int slowest_ms = 0;
    int write_ms;

    for (int i = 0; i < bus->device_count; i++)
        if (bus->devices[i].reply_ms > slowest_ms)
            slowest_ms = bus->devices[i].reply_ms;
    if (bus->kind == BUS_TCP)
        return slowest_ms + TCP_MARGIN_MS;
    write_ms = BUS_BLIND_WAIT_MS + bus->gap_ms + WRITE_CHARACTERS * modbus_bus_character_us(bus) / 1000 + 1;
    return 2 * slowest_ms + bus_outputs(bus) * write_ms;
}

enum status modbus_driver_check(const struct bus_settings *bus, struct fault *f)
{
    struct bus_plan plan;
    enum status code = modbus_bus_check(bus, f);

    return code == ST_OK ? modbus_plan_make(bus, &plan, f) : code;
}
