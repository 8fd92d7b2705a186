#include "science/decision.h"

#include "science/normal.h"
#include "science/science_range.h"

#include <math.h>
#include <stdbool.h>

/* Limits such as 60.5 - 0.144 are no exact doubles; far below any instrument's resolution. */
#define ROUNDING 1e-9
#define SIZE_MAX_ANY 1e9
#define SIZE_MIN 1e-6 /* of a tolerance or an uncertainty: well above the rounding */
#define COVERAGE_FACTOR 2.0

static bool is_value(double value)
{
    return is_within(value, -SIZE_MAX_ANY, SIZE_MAX_ANY);
}

static bool is_width(double value)
{
    return is_within(value, SIZE_MIN, SIZE_MAX_ANY);
}

static enum decision decide(double off, double tolerance, double expanded_u, double guard)
{
    double band = guard * expanded_u;

    if (!isfinite(off) || !isfinite(tolerance) || !(tolerance > 0) || !(expanded_u > 0) ||
        expanded_u > tolerance + ROUNDING)
        return DECISION_CANNOT_SAY;
    if (off <= tolerance - band + ROUNDING)
        return DECISION_CONFORMS;
    if (off <= tolerance + ROUNDING)
        return DECISION_CONFORMS_CONDITIONAL;
    return off <= tolerance + band + ROUNDING ? DECISION_FAILS_CONDITIONAL : DECISION_FAILS;
}

enum decision decision_make(double measured, double target, double tolerance, double expanded_u)
{
    return decide(fabs(measured - target), tolerance, expanded_u, 1);
}

enum status decision_conformity_eval(double measured, double target, double tolerance, double expanded_u,
                                     double guard, enum decision *decision)
{
    if (!is_value(measured) || !is_value(target) || !is_width(tolerance) || !is_width(expanded_u) ||
        !is_within(guard, 0, 2))
        return ST_RANGE;
    *decision = decide(fabs(measured - target), tolerance, expanded_u, guard);
    return ST_OK;
}

enum status decision_acceptance_eval(double target, double tolerance, double expanded_u, double guard,
                                     double *low, double *high)
{
    double half = tolerance - guard * expanded_u;

    if (!is_value(target) || !is_width(tolerance) || !is_width(expanded_u) || !is_within(guard, 0, 2) ||
        half < 0)
        return ST_RANGE;
    *low = target - half;
    *high = target + half;
    return ST_OK;
}

enum status decision_probability_eval(double measured, double target, double tolerance, double standard_u,
                                      double *probability)
{
    double off = fabs(measured - target);

    if (!is_value(measured) || !is_value(target) || !is_width(tolerance) || !is_width(standard_u))
        return ST_RANGE;
    *probability = normal_tail((off - tolerance) / standard_u) - normal_tail((off + tolerance) / standard_u);
    return ST_OK;
}

enum status decision_risk_eval(double guard, double *probability)
{
    if (!is_within(guard, 0, 3))
        return ST_RANGE;
    *probability = normal_tail(COVERAGE_FACTOR * guard);
    return ST_OK;
}

enum status decision_agreement_eval(double first, double first_expanded_u, double second,
                                    double second_expanded_u, double *en)
{
    if (!is_value(first) || !is_value(second) || !is_width(first_expanded_u) || !is_width(second_expanded_u))
        return ST_RANGE;
    *en = fabs(first - second) / hypot(first_expanded_u, second_expanded_u);
    return ST_OK;
}
