/* wire_answer.h - one Modbus request to one reply; the simulator's only user of modbus.h.
 *
 * Does:      check what may be written, let libmodbus compose the reply from the unit's image and
 *            send it; send wrong or no replies for a unit with a fault.
 * Does not:  read from the socket or wait.
 */
#ifndef SIMULATOR_WIRE_ANSWER_H
#define SIMULATOR_WIRE_ANSWER_H

#include "simulator/world.h"

#include <stdbool.h>
#include <stdint.h>

struct wire_answerer;

/* NULL: no memory. */
struct wire_answerer *wire_answerer_open(void);
void wire_answerer_close(struct wire_answerer *answerer); /* accepts NULL */

/* Answer a whole frame (header included) on this socket. false: the reply could not be sent and
 * the connection must be closed. */
bool wire_answer(struct wire_answerer *answerer, int fd, struct world *world, const uint8_t *frame,
                 int length);

#endif
