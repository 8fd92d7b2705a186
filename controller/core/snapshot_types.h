/* snapshot_types.h - what a reader outside the core may see after a scan: plain data, no pointers. */
#ifndef CORE_SNAPSHOT_TYPES_H
#define CORE_SNAPSHOT_TYPES_H

#include "core/scan_types.h"
#include "science/skin.h"

struct snapshot {
    int64_t scan_us;
    int64_t utc_us;
    bool utc_synced;
    bool is_simulated;
    struct batch_memory memory; /* batch, state, step, plan, tallies */
    struct prompt prompt;
    struct reading readings[POINT_INPUT_COUNT]; /* as sensed: quality and reason decided */
    double outputs[POINT_OUTPUT_COUNT];
    struct opinion opinions[POINT_INPUT_COUNT];
    struct trip_state trips[TRIP_COUNT];
    int first_trip;     /* the first cause; -1 when nothing is tripped */
    unsigned forbidden; /* FORBID_ bits now */
    enum scald scald;
    double warmth_target_c;     /* NAN when the step has none */
    double strength_target_pct; /* NAN without a batch */
    double acidity_target_ph;   /* NAN without acid */
    double time_left_s;         /* expected, people's waiting left out; NAN when unknown */
    uint64_t scans;             /* since the daemon's start */
    uint64_t scans_late;
};

#endif
