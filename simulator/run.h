/* run.h - the simulator as a program: wire, clock and acts sockets in one poll loop. */
#ifndef SIMULATOR_RUN_H
#define SIMULATOR_RUN_H

#include "base/status.h"
#include "simulator/scenario.h"

/* Runs until SIGTERM or SIGINT. Prints "ready port=PORT" on standard output when all sockets
 * listen. ST_OK: ended by a signal, sockets removed. Otherwise *f has the sentence. */
enum status run_simulator(const struct scenario *scenario, struct fault *f) MUST_USE;

#endif
