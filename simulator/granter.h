/* granter.h - tank time: grants scans to one daemon, or lets time run when there is none.
 *
 * With a daemon: "grant <tank_us> <utc_us>" out, "done <tank_us>" in, then one step of the tank,
 * then the next grant; a rate limits it. A daemon that takes long slows the tank.
 * Without one: the tank runs in real time, so that the devices' fallback timers work.
 * Tank time goes on where it was when a daemon leaves and comes back.
 * Thread: one. Does not read a clock: real time is an argument.
 */
#ifndef SIMULATOR_GRANTER_H
#define SIMULATOR_GRANTER_H

#include "simulator/line_server.h"
#include "simulator/world.h"

struct granter {
    struct line_server server;
    struct world *world;
    double rate; /* times real time; 0: as fast as the daemon can */
    bool has_daemon;
    bool is_granted;    /* a grant is out and not yet answered */
    int64_t granted_us; /* real time of the last grant */
    int64_t due_us;     /* real time of the next step without a daemon, or of the next grant */
};

/* path NULL: no socket, real time only. */
enum status granter_open(struct granter *granter, const char *path, struct world *world, double rate,
                         int64_t now_us, struct fault *f) MUST_USE;
void granter_close(struct granter *granter);

int granter_polls(const struct granter *granter, struct pollfd *polls);
void granter_serve(struct granter *granter, const struct pollfd *polls, int count, int64_t now_us);

/* Step or grant what is due; real time of the next such moment, INT64_MAX while a grant is out. */
int64_t granter_run(struct granter *granter, int64_t now_us);

#endif
