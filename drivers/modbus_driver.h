/* modbus_driver.h - the Modbus drivers for the table: TCP and serial (RTU). */
#ifndef DRIVERS_MODBUS_DRIVER_H
#define DRIVERS_MODBUS_DRIVER_H

#include "drivers/driver.h"

extern const struct driver MODBUS_TCP_DRIVER;
extern const struct driver MODBUS_RTU_DRIVER;

/* See driver_worst_case_ms and driver_check_bus. */
int modbus_driver_worst_case_ms(const struct bus_settings *bus);
enum status modbus_driver_check(const struct bus_settings *bus, struct fault *f) MUST_USE;

#endif
