/* rig.h - the core on a bench: every reading is set by the test, time is a counter.
 *
 * Readings are refreshed every scan unless they are made silent; commands go into the next scan;
 * everything emitted is kept and can be looked up.
 */
#ifndef TESTS_RIG_H
#define TESTS_RIG_H

#include "core/scan.h"

#define RIG_EVENTS_MAX 4096

struct rig {
    struct scan scan;
    struct scan_setup setup;
    struct scan_in in;
    struct scan_out out;
    double values[POINT_INPUT_COUNT];
    enum quality qualities[POINT_INPUT_COUNT];
    enum reason reasons[POINT_INPUT_COUNT];
    bool silent[POINT_INPUT_COUNT];
    bool acknowledge; /* intentions are confirmed one scan later */
    /* Stirrer speed, contactor feedback and counters follow the outputs, except the kept ones. */
    bool kept[POINT_INPUT_COUNT];
    int event_count;
    struct event events[RIG_EVENTS_MAX];
    struct command_result result; /* of the last command */
};

/* A full tank of the demo's size: everything bound and sound, an idle batch, tripped by power-up. */
void rig_init(struct rig *rig, const struct batch_memory *restored);

/* A plan that fits: 500 kg sugar in 20 bags, 300 kg water, citric acid to pH 4.3. */
struct batch_plan rig_plan(void);

void rig_scan(struct rig *rig);
void rig_run(struct rig *rig, double seconds);
/* Scan until the state is reached or the seconds are over; true when reached. */
bool rig_run_until_state(struct rig *rig, enum batch_state state, double seconds);
bool rig_run_until_step(struct rig *rig, enum step step, double seconds);

/* Give a command as an operator and scan once; returns the refusal. */
enum refusal rig_command(struct rig *rig, enum verb verb);
enum refusal rig_answer(struct rig *rig, enum answer answer, double number);

/* Release, start, and go on to the step by setting the batch memory (as after a power cut). */
void rig_start(struct rig *rig);
void rig_go_to_step(struct rig *rig, enum step step);

double rig_output(const struct rig *rig, enum point point);
int rig_count(const struct rig *rig, enum event_kind kind);
/* Last event of the kind, or NULL. */
const struct event *rig_last(const struct rig *rig, enum event_kind kind);

#endif
