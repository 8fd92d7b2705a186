/* scenario.h - what to simulate: from a YAML file, from options, or both (options win).
 *
 * Thread: any. Memory: the caller's struct.
 */
#ifndef SIMULATOR_SCENARIO_H
#define SIMULATOR_SCENARIO_H

#include "base/status.h"
#include "simulator/plant_params.h"

#include <stdint.h>

#define SCENARIO_PATH_MAX 108
#define SCENARIO_EVENTS_MAX 32
#define SCENARIO_ACT_MAX 128

/* An act that happens by itself at a tank time. */
struct scenario_event {
    int64_t at_us;
    char act[SCENARIO_ACT_MAX];
};

struct scenario {
    struct plant_declared declared;
    uint64_t seed;
    int port;    /* 0: a free one */
    double rate; /* times real time while a daemon is connected; 0: as fast as it can */
    char clock_path[SCENARIO_PATH_MAX]; /* "": none */
    char acts_path[SCENARIO_PATH_MAX];  /* "": none */
    int event_count;
    struct scenario_event events[SCENARIO_EVENTS_MAX]; /* in order of time */
};

/* The demo tank, seed 1, a free port, no sockets. */
void scenario_default(struct scenario *scenario);

/* Read a file over *scenario. Every error is printed to standard error with file, line and key;
 * ST_SETTINGS then. */
enum status scenario_read(const char *path, struct scenario *scenario) MUST_USE;

/* Take the options of "run" (argv[0] is "run"); --scenario is read first, wherever it stands.
 * On failure *f has the sentence, ST_SETTINGS when the file's errors were printed already. */
enum status scenario_options(int argc, char **argv, struct scenario *scenario, struct fault *f) MUST_USE;

const char *scenario_help(void);

#endif
