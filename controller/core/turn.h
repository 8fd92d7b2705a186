/* turn.h - one scan as the stages see it, and the few helpers they all share.
 *
 * Thread: control thread. Memory: none.
 */
#ifndef CORE_TURN_H
#define CORE_TURN_H

#include "core/scan_state.h"

struct turn {
    struct scan *scan;
    const struct scan_setup *setup;
    const struct scan_in *in;
    struct scan_out *out;
};

/* Append an event stamped with this scan's times and DOOR_SELF. Never NULL: when the list is full
 * the loss is counted and a scrap event is returned. Valid until the next call. */
struct event *turn_emit(struct turn *turn, enum event_kind kind, int a, int b);

/* Readings as judged by sense. */
bool turn_is_good(const struct turn *turn, enum point point);
bool turn_is_bound(const struct turn *turn, enum point point);
double turn_value(const struct turn *turn, enum point point); /* NAN when bad */
bool turn_is_yes(const struct turn *turn, enum point point);  /* false when bad: doubt is no */
bool turn_lid_is_shut(const struct turn *turn);               /* also on a tank without a lid switch */

/* Last output of the gate. */
double turn_output(const struct turn *turn, enum point point);
bool turn_output_is_on(const struct turn *turn, enum point point);

/* Seconds since a time stamp of this run. */
double turn_since_s(const struct turn *turn, int64_t then_us);

/* Means: take in the point's reading when it is good and newer than the last taken. */
void mean_clear(struct mean *mean);
void mean_take(struct mean *mean, const struct turn *turn, enum point point);
double mean_value(const struct mean *mean); /* NAN when empty */
double mean_span_s(const struct mean *mean);

#endif
