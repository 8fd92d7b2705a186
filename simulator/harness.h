/* harness.h - the tank in one process with the core: no wire, no clock, thousands of batches.
 *
 *     harness_init(&h, seed, &declared);
 *     loop: harness_readings(&h, bound, h.world.tank_us, &in); scan_step(..., &in, &out);
 *           harness_outputs(&h, bound_outputs, out.outputs); harness_advance(&h);
 *
 * Does:      readings as a driver would post them: at each device's poll rate, rounded to its
 *            registers; outputs as the registers would take them; a person who answers.
 * Does not:  call the core or acknowledge intentions: the test does.
 * Thread:    one. Memory: the caller's.
 */
#ifndef SIMULATOR_HARNESS_H
#define SIMULATOR_HARNESS_H

#include "core/scan_types.h"
#include "core/snapshot_types.h"
#include "simulator/person.h"
#include "simulator/world.h"

struct harness {
    struct world world;
    struct plant_inputs inputs;
    int64_t polled_us[POINT_INPUT_COUNT]; /* last reading; -1: none yet */
};

void harness_init(struct harness *harness, uint64_t seed, const struct plant_declared *declared);

/* Append to in->readings what is due at scan_us. bound[POINT_INPUT_COUNT]: which instruments the
 * tank has. A unit with fault "silent" posts bus_lost, "exception" device, "short" bus_lost. */
void harness_readings(struct harness *harness, const bool bound[], int64_t scan_us, struct scan_in *in);

/* outputs[POINT_OUTPUT_COUNT] of a scan; act from the next harness_advance on. */
void harness_outputs(struct harness *harness, const double outputs[]);

/* 0.1 s of tank time. */
void harness_advance(struct harness *harness);

struct harness_person {
    struct person person;
    uint64_t next_id; /* of the commands given */
};

void harness_person_init(struct harness_person *person, uint64_t seed, double delay_s);

/* Look at the snapshot, do by hand what is due. true: *command is an answer to give now. */
bool harness_person_step(struct harness_person *person, struct harness *harness,
                         const struct snapshot *snapshot, struct command *command);

#endif
