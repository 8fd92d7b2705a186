#include "simulator/world.h"

#include <string.h>

void world_init(struct world *world, uint64_t seed, const struct plant_declared *declared)
{
    struct plant_params params;

    memset(world, 0, sizeof *world);
    plant_params_draw(seed, declared, &params);
    plant_init(&world->plant, &params);
    instruments_init(&world->instruments, seed, &world->plant);
    devices_init(&world->devices);
    devices_refresh(&world->devices, &world->instruments.values);
}

void world_step_with(struct world *world, const struct plant_inputs *inputs)
{
    world->inputs = *inputs;
    plant_step(&world->plant, inputs, WORLD_STEP_US * 1e-6);
    instruments_step(&world->instruments, &world->plant, WORLD_STEP_US * 1e-6);
    world->tank_us += WORLD_STEP_US;
}

void world_step(struct world *world)
{
    struct plant_inputs inputs;

    devices_fallback_step(&world->devices, world->tank_us);
    devices_inputs_get(&world->devices, &inputs);
    world_step_with(world, &inputs);
    devices_refresh(&world->devices, &world->instruments.values);
}

int64_t world_utc_us(const struct world *world)
{
    return WORLD_UTC_START_US + world->tank_us;
}
