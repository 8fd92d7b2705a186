/* scan.h - the core: one scan, ten times a second, one direction.
 *
 *   readings -> sense -> estimate -> protect -> sequence -> regulate -> gate -> outputs
 *                                                                   `-> events
 *
 * Does:      decide everything that is decided about the tank.
 * Does not:  read a clock, a file or a socket, allocate, or keep anything outside *scan.
 * Thread:    the control thread. Memory: the caller's, fixed size.
 */
#ifndef CORE_SCAN_H
#define CORE_SCAN_H

#include "core/scan_state.h"
#include "core/scan_types.h"
#include "core/snapshot_types.h"

/* Begin: held with the restored batch, or idle without one; always tripped (TRIP_POWER_UP).
 * restored may be NULL; one with another MEMORY_LAYOUT counts as none. */
void scan_init(struct scan *scan, const struct scan_setup *setup, const struct batch_memory *restored);

/* One scan. in->scan_us must grow; if it does not, outputs go safe. *out is overwritten.
 * After every return each output holds a value that is allowed now. */
void scan_step(struct scan *scan, const struct scan_setup *setup, const struct scan_in *in,
               struct scan_out *out);

/* What readers may see after the last scan. */
void scan_snapshot_get(const struct scan *scan, const struct scan_setup *setup, struct snapshot *snapshot);

#endif
