/* person_client.h - the helper as a program: control socket on one side, acts socket on the other. */
#ifndef SIMULATOR_PERSON_CLIENT_H
#define SIMULATOR_PERSON_CLIENT_H

#include "base/status.h"

#include <stdint.h>

struct person_options {
    const char *control_path;
    const char *acts_path;
    uint64_t seed;
    double delay_s;
};

/* Statuses of syrupwright-sim person. */
#define PERSON_COMPLETE 0
#define PERSON_NOT_COMPLETE 1 /* stopped or aborted */
#define PERSON_LOST 2         /* a connection is gone or never was */

/* Answers questions until the batch ends; prints a line for each. Starts and releases nothing. */
int person_client_run(const struct person_options *options);

#endif
