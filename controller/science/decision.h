/* decision.h - does a measured value conform, given how well it is known?
 *
 * Does:      the guard-banded, non-binary decision of ILAC-G8:09/2019 after JCGM 106:2012, and the
 *            probabilities behind it.
 * Does not:  word anything for people, allocate, or keep state. Any thread.
 * Target, tolerance, measured value and uncertainty are in one and the same unit, sizes up to 1e9. The
 * _eval functions return ST_OK, or ST_RANGE (any argument outside its range or not finite) with nothing
 * written.
 */
#ifndef SCIENCE_DECISION_H
#define SCIENCE_DECISION_H

#include "base/status.h"

enum decision {
    DECISION_NOT_JUDGED,           /* no target, or the batch was not finished */
    DECISION_CANNOT_SAY,           /* uncertainty unknown, or larger than the tolerance */
    DECISION_CONFORMS,             /* inside the limits by the guard band or more */
    DECISION_CONFORMS_CONDITIONAL, /* inside, but by less than the guard band */
    DECISION_FAILS_CONDITIONAL,    /* outside, but by no more than the guard band */
    DECISION_FAILS,                /* outside by more than the guard band */
    DECISION_COUNT
};

/* The certificate's decision: guard band w = U. tolerance: half width of the interval around target;
 * expanded_u: U with k = 2. Whatever is missing or makes no sense is DECISION_CANNOT_SAY. */
enum decision decision_make(double measured, double target, double tolerance, double expanded_u);

/* The same with any guard factor w/U of 0-2; 0 is simple acceptance. tolerance and expanded_u above 0;
 * U larger than the tolerance is DECISION_CANNOT_SAY: then no statement means anything. */
enum status decision_conformity_eval(double measured, double target, double tolerance, double expanded_u,
                                     double guard, enum decision *decision) MUST_USE;

/* The interval in which a value conforms: target -+ (tolerance - guard U); ST_RANGE when it is empty. */
enum status decision_acceptance_eval(double target, double tolerance, double expanded_u, double guard,
                                     double *low, double *high) MUST_USE;

/* Probability (0-1) that the true value lies within target +- tolerance, given the measured one; normal
 * distribution, no knowledge beside the measurement. Standard uncertainty above 0.
 * Source: JCGM 106 7.4. */
enum status decision_probability_eval(double measured, double target, double tolerance, double standard_u,
                                      double *probability) MUST_USE;

/* Probability (0-1) that the true value is beyond a limit when the measured one lies exactly at the
 * acceptance limit: the largest risk of a wrong "conforms", at one limit. guard = w/U of 0-3, U with
 * k = 2. Source: ILAC-G8:09/2019 table 1, JCGM 106 8.3. */
enum status decision_risk_eval(double guard, double *probability) MUST_USE;

/* Do two measurements of the same thing agree? en = |first - second| / sqrt(U1^2 + U2^2), U with k = 2,
 * each 1e-6-1e9; up to 1 they agree within both uncertainties. Source: ISO 13528 (2015) 9.7, the E_n
 * number. The two must not share a calibration: then they may agree and both be wrong. */
enum status decision_agreement_eval(double first, double first_expanded_u, double second,
                                    double second_expanded_u, double *en) MUST_USE;

#endif
