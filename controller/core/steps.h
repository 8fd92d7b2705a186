/* steps.h - the steps of a batch, one row each. */
#ifndef CORE_STEPS_H
#define CORE_STEPS_H

#include "core/turn.h"

#include <stddef.h>

enum step_result { STEP_WORKING, STEP_FINISHED, STEP_BACK_TO_DISSOLVE };

struct step_row {
    void (*enter)(struct turn *turn);            /* NULL: nothing to prepare; also after a restart */
    enum step_result (*work)(struct turn *turn); /* sets scan->want, may ask */
    bool (*is_used)(const struct scan_setup *setup, const struct batch_plan *plan); /* NULL: always */
    size_t limit; /* offset of the time limit in struct limits; 0 for none */
};

/* Indexed by enum step. */
extern const struct step_row STEP_ROWS[STEP_COUNT];

#endif
