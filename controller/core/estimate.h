/* estimate.h - second stage: what is in the tank, in kilograms, and the tallies of the batch. */
#ifndef CORE_ESTIMATE_H
#define CORE_ESTIMATE_H

#include "core/turn.h"

#define WATER_KG_L 0.9982 /* at 20 degC; the meter counts litres */

void estimate_step(struct turn *turn);

/* Grams of pure acid in mL of this batch's bottle solution. */
double estimate_acid_g(const struct batch_plan *plan, double solution_ml);

#endif
