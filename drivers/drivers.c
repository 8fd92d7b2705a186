#include "drivers/modbus_driver.h"

#include <stddef.h>

const struct driver *const DRIVERS[] = {
    [BUS_TCP] = &MODBUS_TCP_DRIVER,
    [BUS_RTU] = &MODBUS_RTU_DRIVER,
    NULL,
};

const struct driver *driver_find(enum bus_kind kind)
{
    return (unsigned)kind < BUS_KIND_COUNT ? DRIVERS[kind] : NULL;
}

int driver_worst_case_ms(const struct bus_settings *bus)
{
    return modbus_driver_worst_case_ms(bus);
}

enum status driver_check_bus(const struct bus_settings *bus, struct fault *f)
{
    return modbus_driver_check(bus, f);
}
