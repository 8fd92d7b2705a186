/* acts.h - what a person does to the physical tank, one line an act.
 *
 *   bag [kg] | lid open|closed | stop pressed|released | reset limiter | water <L> |
 *   acid <g> [name] | read strength|ph | truth | time | fault <name> [args] | fault clear
 *
 * Does:      carry the act out and answer in one line: "ok ...", "error <sentence>", or for
 *            "truth" one JSON object.
 * Does not:  know sockets. Thread: the world's.
 */
#ifndef SIMULATOR_ACTS_H
#define SIMULATOR_ACTS_H

#include "simulator/world.h"

#include <stddef.h>

#define ACTS_LINE_MAX 256
#define ACTS_REPLY_MAX 2048

/* The reply has no newline. */
void acts_do(struct world *world, const char *line, char *reply, size_t size);

/* All acts as text for --help. */
const char *acts_help(void);

#endif
