/* acidity.h - the acid loop: half a dose, wait, look, learn the water, and never past the target. */
#ifndef CORE_ACIDITY_H
#define CORE_ACIDITY_H

#include "core/turn.h"

/* Begin (also after a restart): mixes and measures before anything is dosed. */
void acidity_enter(struct turn *turn);

/* One scan of the loop; true when the water is as acid as it may become without passing the target.
 * Leaves water_ph in the batch memory. */
bool acidity_step(struct turn *turn);

#endif
