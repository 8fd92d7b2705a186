/* clock.h - tank time: when the next scan is, for the control thread and the bus threads.
 *
 * Real tank: scans every 100 ms on the monotonic clock; bus threads pass on the same beat, half
 * a period before the scan. A beat that was missed is left out, not made up for.
 * Simulated tank: the simulator owns time. It grants scans over a local socket; a scan begins
 * when every bus thread has finished its pass and the record has settled, so a loaded machine
 * slows the tank and never trips it. When the simulator goes away, time runs on in real time
 * from where it was, so that everything downstream sees an ordinary lost bus.
 * Only this module knows which of the two it is.
 *
 * Grant protocol (simulator listens, one client): the simulator sends lines
 * "grant <tank_us> <utc_us>\n"; the daemon answers "done <tank_us>\n" when it is ready for the
 * next one. The first grant comes right after connecting.
 */
#ifndef RUNTIME_CLOCK_H
#define RUNTIME_CLOCK_H

#include "base/status.h"

#include <stdbool.h>
#include <stdint.h>

struct clock;

struct clock_time {
    int64_t tank_us;
    int64_t utc_us;
    bool utc_synced; /* real: the kernel says the clock is disciplined; simulated: true, and
                        false after the simulator went away */
    bool is_late;    /* real: this scan began more than half a period late */
};

/* sim_socket: path of the simulator's grant socket, or NULL for a real tank.
 * parties: how many threads take part (bus threads and the record). Waits up to 5 s for the
 * simulator. On failure *clock is NULL and *f has the sentence. */
enum status clock_open(const char *sim_socket, int parties, struct clock **clock, struct fault *f) MUST_USE;
void clock_close(struct clock *clock); /* accepts NULL */

/* Control thread: wait for the next scan; false when clock_stop was called. In simulated time:
 * answers the grant of the last scan, takes the next, lets the bus threads pass, waits until all
 * parties are settled. */
bool clock_wait_scan(struct clock *clock, struct clock_time *time);

/* Bus threads: wait for the next pass; party is 0..parties-1. Calling it again says that the
 * last pass is finished. false when clock_stop was called. */
bool clock_wait_pass(struct clock *clock, int party, int64_t *tank_us);

/* Control thread, before its first scan: this party is a bus thread that has been started; scans
 * in simulated time wait for its passes from the first grant on. (The thread's first
 * clock_wait_pass says the same, but perhaps after that grant.) */
void clock_join(struct clock *clock, int party);

/* Any thread: this party has work in flight that simulated time must wait for (the record,
 * while an intention is not yet durable), or has none any more. */
void clock_set_busy(struct clock *clock, int party, bool busy);

/* Any thread or signal-safe context's follow-up: make the waits return false. */
void clock_stop(struct clock *clock);

/* Control thread: true when simulated time was lost because the simulator went away. */
bool clock_lost_simulator(const struct clock *clock);

/* By how much a library's real-time timeout may be stretched: 1 for a real tank; more where tank
 * time stands still during a pass, so that a loaded machine is slow and never looks like a dead
 * device. */
int clock_patience(const struct clock *clock);

#endif
