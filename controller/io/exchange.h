/* exchange.h - the mailboxes between bus threads and the control thread.
 *
 * Does:      carry readings one way and outputs the other, newest value wins, never waits
 *            for more than a short mutex.
 * Does not:  know buses, devices or what a reading means.
 * Thread:    any; every call locks. Times are tank time in microseconds.
 */
#ifndef IO_EXCHANGE_H
#define IO_EXCHANGE_H

#include "core/scan_types.h"

struct exchange;

/* Returns NULL when memory is short. exchange_free accepts NULL. */
struct exchange *exchange_new(int64_t output_expiry_us);
void exchange_free(struct exchange *x);

/* Bus threads: post a reading; a later one of the same point replaces it. */
void exchange_post_reading(struct exchange *x, enum point point, const struct reading *reading);

/* Control thread: move all readings posted since the last call into in->readings. */
void exchange_take_readings(struct exchange *x, struct scan_in *in);

/* Control thread: publish the outputs of a scan. */
void exchange_post_outputs(struct exchange *x, const double outputs[POINT_OUTPUT_COUNT], int64_t scan_us);

/* Bus threads: the value an output must have now. false: nothing was ever published or the last
 * publication is older than the expiry, so the caller writes the safe value (0). */
bool exchange_get_output(struct exchange *x, enum point point, int64_t now_us, double *value);

#endif
