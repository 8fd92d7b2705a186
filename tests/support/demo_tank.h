/* demo_tank.h - the tank of config/tanks/demo.yaml as structs, for tests that read no file. */
#ifndef TESTS_DEMO_TANK_H
#define TESTS_DEMO_TANK_H

#include "core/tank_types.h"

extern const struct tank_facts DEMO_TANK;
extern const struct limits DEMO_LIMITS;

#endif
