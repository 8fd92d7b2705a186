/* newton.h - turns round a smooth rising function whose slope is known, in few steps: for what is called
 * often and has to be quick. root.h needs no slope. */
#ifndef SCIENCE_NEWTON_H
#define SCIENCE_NEWTON_H

#include <math.h>
#include <stdbool.h>

struct slope {
    double value;
    double slope;
};

/* x in 0..max with f(x) = 0; the edge where it lies beyond it by no more than slack (at least 1e-11);
 * false, and *x as it was, when there is none. f must rise over the whole range and curve little: the
 * error left is about the square of the last step (1e-14). At most 12 steps; a step that would leave the
 * range ends at its edge. */
static inline bool newton_find(struct slope (*f)(const void *of, double x), const void *of, double start,
                               double max, double slack, double *x)
{
    double at = fmin(fmax(start, 0), max);

    for (int i = 0; i < 12; i++) {
        struct slope here = f(of, at);
        double step = -here.value / here.slope;
        double next = fmin(fmax(at + step, 0), max);

        if (fabs(step) <= 1e-7 || next == at) {
            if (fabs(at + step - next) > slack)
                return false; /* the zero lies too far beyond the edge */
            *x = next;
            return true;
        }
        at = next;
    }
    return false;
}

#endif
