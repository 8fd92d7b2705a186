/* fake.h - a driver without a wire, for tests: a test sets what the instruments show.
 *
 * In no table of drivers, so no tank file can name it.
 * Thread: the pass in one thread, everything else from any.
 */
#ifndef DRIVERS_FAKE_H
#define DRIVERS_FAKE_H

#include "drivers/driver.h"

extern const struct driver FAKE_DRIVER;

enum fake_mode {
    FAKE_ANSWERS,
    FAKE_LATE,  /* each pass posts what the one before it found, with that time */
    FAKE_STUCK, /* the values of the moment this mode began, with fresh times */
    FAKE_ABSENT /* nothing answers: all inputs bad, outputs not taken over */
};

/* handle: what FAKE_DRIVER.open gave. */
void fake_set_mode(void *handle, enum fake_mode mode);

/* What the instrument of a point shows from the next pass on; good, or bad with a reason. */
void fake_set(void *handle, enum point point, double value);
void fake_set_bad(void *handle, enum point point, enum reason reason);

/* What the last pass wrote to an output; 0 before the first. */
double fake_get_output(void *handle, enum point point);

#endif
