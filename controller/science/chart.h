/* chart.h - control charts: is the making of syrup as steady as it was?
 *
 * Does:      constants and limits, the four Western Electric rules, capability.
 * Does not:  draw, allocate, or keep state. Any thread.
 * A function returns ST_OK and writes its result, or ST_RANGE (any argument outside its range or not
 * finite) and writes nothing. Limits mean what they say only for values near a normal distribution and
 * independent of one another; values and widths of sizes up to 1e9.
 */
#ifndef SCIENCE_CHART_H
#define SCIENCE_CHART_H

#include "base/status.h"

#include <stddef.h>

#define CHART_SAMPLE_MIN 2
#define CHART_SAMPLE_MAX 25
#define CHART_CAPABILITY_POINTS_MIN 25 /* with fewer batches Cpk says nothing; our own rule */

/* Shewhart constants for samples of n (ISO 7870-2, ASTM MNL 7). */
struct chart_constants {
    double d2, d3; /* mean and standard deviation of the range, in standard deviations */
    double c4;     /* mean of the sample standard deviation */
    double a2, a3; /* limits of means, from mean range or mean deviation */
    double b3, b4; /* limits of deviations */
    double d3_low; /* D3, D4: limits of ranges */
    double d4_high;
    double e2; /* limits of single values */
};

/* Chart of individuals and moving ranges. */
struct chart_limits {
    double centre;
    double lower;
    double upper;
    double range_mean;  /* mean moving range of two */
    double range_upper; /* its lower limit is 0 */
    double sigma;       /* range_mean / 1.128 */
};

enum chart_rule {
    CHART_QUIET,
    CHART_BEYOND_3,       /* the last point beyond 3 sigma */
    CHART_TWO_OF_THREE,   /* the last and another of the last three beyond 2 sigma, on one side */
    CHART_FOUR_OF_FIVE,   /* the last and three more of the last five beyond 1 sigma, on one side */
    CHART_EIGHT_IN_A_ROW, /* the last eight on one side of the centre */
    CHART_RULE_COUNT
};

/* "two-of-three-beyond-2-sigma"; NULL for no rule. */
const char *chart_rule_name(enum chart_rule rule);

/* Constants for a sample of CHART_SAMPLE_MIN to CHART_SAMPLE_MAX values, six decimals, from the normal
 * distribution; printed tables agree to their last digit but where they computed on from rounded ones. */
enum status chart_constants_eval(size_t sample_size, struct chart_constants *constants) MUST_USE;

/* Limits from mean and mean moving range (0-1e9): mean -+ 2.660 and 3.267 times it, the customary
 * factors (exactly 2.659 and 3.267). Judge only with 20 or more values. */
enum status chart_limits_eval(double mean, double range_mean, struct chart_limits *limits) MUST_USE;

/* The first rule that the last point breaks, in the order of the enum; at least one value, and as many
 * as there are up to eight are looked at. The last point is always one of those beyond the line: a point
 * that is back inside raises no alarm, what was before it did so in its turn. A point exactly on a line is
 * not beyond it. sigma above 0.
 * Source: Western Electric, Statistical Quality Control Handbook (1956). */
enum status chart_rule_eval(const double *values, size_t count, double centre, double sigma,
                            enum chart_rule *rule) MUST_USE;

/* Probability (0-1) that so many of the last points lie beyond a rule's line on one side while nothing has
 * changed, the very last among them or not, as such figures are customarily given; CHART_QUIET is ST_RANGE.
 * With the last among them, as chart_rule_eval wants it, two of three have 0.00205 instead of 0.00306 and
 * four of five 0.00447 instead of 0.00553.
 * All four together raise a false alarm every 92 points on average (Champ and Woodall 1987, from
 * memory). */
enum status chart_false_alarm_eval(enum chart_rule rule, double *probability) MUST_USE;

/* Cpk, and how many of a million would lie outside the limits if the distribution were normal. sigma
 * 1e-6-1e9, lower < upper. 1.33 or more is customary. Negative when the mean is outside. Do not print it
 * with fewer than CHART_CAPABILITY_POINTS_MIN batches; ISO 22514-2 uses quantiles where values are not
 * normal. */
enum status chart_capability_eval(double mean, double sigma, double lower, double upper, double *cpk,
                                  double *outside_ppm) MUST_USE;

#endif
