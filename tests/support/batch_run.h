/* batch_run.h - a whole batch in one process: the core against the simulated tank, from cold water
 * to the end, with a person who answers. After every scan the invariants are checked. */
#ifndef TESTS_BATCH_RUN_H
#define TESTS_BATCH_RUN_H

#include "core/scan.h"
#include "settings/settings.h"
#include "simulator/harness.h"

/* Called after each scan; NULL for none. */
typedef void batch_watcher(void *context, const struct scan_in *in, const struct scan_out *out);

struct batch_run {
    struct settings settings; /* config/tanks/demo.yaml */
    struct harness harness;
    struct harness_person person;
    struct scan scan;
    struct scan_in in;
    struct scan_out out;
    struct snapshot snapshot;
    struct batch_plan plan;
    double water_ph_true; /* of the acidified water, when the acid step ends; NAN without */
    double seconds;
    uint64_t scans;
    const char *broken; /* the first invariant that did not hold, or NULL */
    batch_watcher *watcher;
    void *watcher_context;
};

/* Read the demo's settings, plan request (NULL: the demo's 600 L, 62.5 %, pH 4.3) and start. */
void batch_run_init(struct batch_run *run, uint64_t seed, const struct plan_request *request);

/* The same with a watcher that sees every scan from the first. */
void batch_run_init_watched(struct batch_run *run, uint64_t seed, const struct plan_request *request,
                            batch_watcher *watcher, void *context);

/* The same on a tank with a thermometer, a contactor and a stirrer, and nothing else. */
void batch_run_init_smallest(struct batch_run *run, uint64_t seed, const struct plan_request *request);

/* One scan of 0.1 s. */
void batch_run_scan(struct batch_run *run);

/* Until the batch is complete, stopped, aborted or held, or the hours are over. */
enum batch_state batch_run_to_end(struct batch_run *run, double hours);

/* Give a command as a supervisor in the next scan; returns what the core said. */
enum refusal batch_run_command(struct batch_run *run, enum verb verb);

/* What is truly in the tank. */
struct plant_truth batch_run_truth(struct batch_run *run);

#endif
