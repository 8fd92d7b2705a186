/* handbook_usual.h - values that are usual at work, for the examples of the handbook. Pure; no allocation. */
#ifndef CLIENT_HANDBOOK_USUAL_H
#define CLIENT_HANDBOOK_USUAL_H

#include "science/handbook.h"

#include <stdbool.h>

/* The usual value of an input of this function, the number of a choice too; false where none is known, or
 * where it is outside the input's range. */
bool handbook_usual(const struct handbook_entry *entry, const struct handbook_quantity *input, double *value);

#endif
