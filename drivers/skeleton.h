/* skeleton.h - where a new driver starts: copy skeleton.h and skeleton.c, rename, fill in, and add
 * one line to drivers.c. It is in no table; it compiles with every build, so it stays right. */
#ifndef DRIVERS_SKELETON_H
#define DRIVERS_SKELETON_H

#include "drivers/driver.h"

extern const struct driver SKELETON_DRIVER;

#endif
