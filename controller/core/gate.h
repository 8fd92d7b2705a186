/* gate.h - last stage, always run: the only writer of outputs.
 *
 * Applies what is forbidden, the state, minimum on and off times, the durable acknowledgement of
 * intentions and the soundness of time. A demand is a wish; nothing here can be overruled.
 */
#ifndef CORE_GATE_H
#define CORE_GATE_H

#include "core/turn.h"

void gate_init(struct gate *gate);

/* Writes out->outputs and remembers them. */
void gate_step(struct turn *turn);

#endif
