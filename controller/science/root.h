/* root.h - turns round a function of which only values are known, in a bracket. newton.h is quicker where the
 * slope is known; hmf.c, acid_root.c and uncertainty_student.c have steps of their own, made for one curve.
 */
#ifndef SCIENCE_ROOT_H
#define SCIENCE_ROOT_H

#include <math.h>

/* Where the function is 0 between low and high, within tolerance. It must be continuous there and
 * its values at low and high must not have the same sign. Method ITP (Oliveira and Takahashi 2020,
 * ACM Transactions on Mathematical Software 47, 5): for any such function at most one step more than
 * halving would take, log2((high - low) / (2 tolerance)) + 1; for smooth ones about eight. */
static inline double root_find(double (*function)(double x, const void *context), const void *context,
                               double low, double high, double tolerance)
{
    double at_low = function(low, context);
    double at_high = function(high, context);
    double width = high - low;
    double reach = ldexp(tolerance, (int)ceil(log2(width / (2 * tolerance))) + 1);

    if (at_low == 0 || at_high == 0)
        return at_low == 0 ? low : high;
    for (; high - low > 2 * tolerance; reach /= 2) {
        double middle = (low + high) / 2;
        double free = fmax(0, reach - (high - low) / 2); /* how far from the middle keeps the bound */
        double chord = low - at_low * (high - low) / (at_high - at_low);
        double to_middle = middle - chord;
        double nudge = fmin(0.2 * (high - low) * (high - low) / width, fabs(to_middle));
        double x = chord + copysign(nudge, to_middle);
        double at_x;

        x = fmin(fmax(x, middle - free), middle + free);
        at_x = function(x, context);
        if (at_x == 0)
            return x;
        if ((at_x < 0) == (at_low < 0)) {
            low = x;
            at_low = at_x;
        } else {
            high = x;
            at_high = at_x;
        }
    }
    return (low + high) / 2;
}

#endif
