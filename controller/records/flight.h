/* flight.h - what went into the scans, as a compact stream of bytes, and back again.
 *
 * The set-up, the memory at the start of a run and this stream are all a later replay needs, so
 * what comes back is bit for bit what went in: doubles keep their bits; a reading that did not
 * change takes one or two bytes, a scan in which nothing arrived two.
 *
 * Does not:  allocate, read a clock, or trust the stream: a damaged one gives ST_BAD_REPLY.
 * Memory:    the caller's, fixed size. Thread: any, one at a time for each struct flight.
 */
#ifndef RECORDS_FLIGHT_H
#define RECORDS_FLIGHT_H

#include "base/status.h"
#include "core/scan_types.h"

#include <stddef.h>

#define FLIGHT_SCAN_MAX 3072 /* no scan takes more bytes */

/* What the last scan was: the next one is written as the difference. Encoder and decoder keep
 * the same. */
struct flight {
    int64_t scan_us;
    int64_t utc_us;
    uint64_t durable_intent;
    int64_t age_us[POINT_INPUT_COUNT];
    struct reading last[POINT_INPUT_COUNT];
};

/* Begin a stream; a chunk that is to be read on its own begins a new one. */
void flight_start(struct flight *flight);

/* Append one scan; returns the bytes written to `to`, which has FLIGHT_SCAN_MAX. */
size_t flight_encode(struct flight *flight, const struct scan_in *in, unsigned char to[FLIGHT_SCAN_MAX]);

/* Take one scan from the count bytes at from; *used is what it took. *in is complete after ST_OK
 * (all unused parts 0). ST_BAD_REPLY: the stream is damaged or ends too early; *in and *flight
 * must not be used further. */
enum status flight_decode(struct flight *flight, const unsigned char *from, size_t count, size_t *used,
                          struct scan_in *in, struct fault *f) MUST_USE;

#endif
