#include "science/chart.h"

#include "science/normal.h"
#include "science/science_range.h"

#include <math.h>
#include <stdbool.h>

#define SIZE_MAX_ANY 1e9
#define SIGMA_MIN 1e-6
#define LIMIT_FACTOR 2.660 /* customary: 3 / 1.128 */
#define RANGE_FACTOR 3.267
#define RANGE_D2 1.128
#define LINES 3.0 /* Shewhart's limits, in standard deviations */

/* d2, d3 and c4 by integration over the normal distribution, samples of 2 to 25. */
static const double BASE[CHART_SAMPLE_MAX - CHART_SAMPLE_MIN + 1][3] = {
    {1.128379, 0.852503, 0.797885}, /* 2 */
    {1.692569, 0.888368, 0.886227}, /* 3 */
    {2.058751, 0.879809, 0.921318}, /* 4 */
    {2.325929, 0.864081, 0.939986}, /* 5 */
    {2.534413, 0.848039, 0.951533}, /* 6 */
    {2.704357, 0.833206, 0.959369}, /* 7 */
    {2.847201, 0.819831, 0.965030}, /* 8 */
    {2.970026, 0.807834, 0.969311}, /* 9 */
    {3.077505, 0.797050, 0.972659}, /* 10 */
    {3.172873, 0.787314, 0.975350}, /* 11 */
    {3.258455, 0.778478, 0.977559}, /* 12 */
    {3.335980, 0.770416, 0.979406}, /* 13 */
    {3.406763, 0.763023, 0.980971}, /* 14 */
    {3.471827, 0.756211, 0.982316}, /* 15 */
    {3.531983, 0.749908, 0.983484}, /* 16 */
    {3.587884, 0.744052, 0.984506}, /* 17 */
    {3.640064, 0.738591, 0.985410}, /* 18 */
    {3.688963, 0.733481, 0.986214}, /* 19 */
    {3.734950, 0.728686, 0.986934}, /* 20 */
    {3.778336, 0.724173, 0.987583}, /* 21 */
    {3.819385, 0.719915, 0.988170}, /* 22 */
    {3.858323, 0.715887, 0.988705}, /* 23 */
    {3.895348, 0.712068, 0.989193}, /* 24 */
    {3.930629, 0.708441, 0.989640}, /* 25 */
};

static const char *const RULES[CHART_RULE_COUNT] = {
    [CHART_QUIET] = "none",
    [CHART_BEYOND_3] = "beyond-3-sigma",
    [CHART_TWO_OF_THREE] = "two-of-three-beyond-2-sigma",
    [CHART_FOUR_OF_FIVE] = "four-of-five-beyond-1-sigma",
    [CHART_EIGHT_IN_A_ROW] = "eight-in-a-row-on-one-side",
};

const char *chart_rule_name(enum chart_rule rule)
{
    return (unsigned)rule < CHART_RULE_COUNT ? RULES[rule] : NULL;
}

/* ---- constants and limits -------------------------------------------------------------------- */

enum status chart_constants_eval(size_t sample_size, struct chart_constants *constants)
{
    const double *base;
    double n = (double)sample_size;
    double s;

    if (sample_size < CHART_SAMPLE_MIN || sample_size > CHART_SAMPLE_MAX)
        return ST_RANGE;
    base = BASE[sample_size - CHART_SAMPLE_MIN];
    s = LINES * sqrt(1 - base[2] * base[2]) / base[2];
    *constants = (struct chart_constants){
        .d2 = base[0],
        .d3 = base[1],
        .c4 = base[2],
        .a2 = LINES / (base[0] * sqrt(n)),
        .a3 = LINES / (base[2] * sqrt(n)),
        .b3 = fmax(0, 1 - s),
        .b4 = 1 + s,
        .d3_low = fmax(0, 1 - LINES * base[1] / base[0]),
        .d4_high = 1 + LINES * base[1] / base[0],
        .e2 = LINES / base[0],
    };
    return ST_OK;
}

enum status chart_limits_eval(double mean, double range_mean, struct chart_limits *limits)
{
    if (!is_within(mean, -SIZE_MAX_ANY, SIZE_MAX_ANY) || !is_within(range_mean, 0, SIZE_MAX_ANY))
        return ST_RANGE;
    *limits = (struct chart_limits){
        .centre = mean,
        .lower = mean - LIMIT_FACTOR * range_mean,
        .upper = mean + LIMIT_FACTOR * range_mean,
        .range_mean = range_mean,
        .range_upper = RANGE_FACTOR * range_mean,
        .sigma = range_mean / RANGE_D2,
    };
    return ST_OK;
}

/* ---- rules ------------------------------------------------------------------------------------ */

/* Among the last window points, needed are further than sigmas from the centre, on one side, and the very
 * last is one of them. */
static const struct {
    size_t window;
    size_t needed;
    double sigmas;
} TESTS[CHART_RULE_COUNT] = {
    [CHART_BEYOND_3] = {1, 1, 3},
    [CHART_TWO_OF_THREE] = {3, 2, 2},
    [CHART_FOUR_OF_FIVE] = {5, 4, 1},
    [CHART_EIGHT_IN_A_ROW] = {8, 8, 0},
};

static bool is_broken(enum chart_rule rule, const double *values, size_t count, double centre, double sigma)
{
    double side = values[count - 1] > centre ? 1 : -1;
    size_t beyond = 0;
    bool is_last_beyond = false;

    for (size_t i = count > TESTS[rule].window ? count - TESTS[rule].window : 0; i < count; i++) {
        is_last_beyond = side * (values[i] - centre) / sigma > TESTS[rule].sigmas;
        beyond += is_last_beyond;
    }
    return is_last_beyond && beyond >= TESTS[rule].needed;
}

enum status chart_rule_eval(const double *values, size_t count, double centre, double sigma,
                            enum chart_rule *rule)
{
    int found = CHART_BEYOND_3;

    if (count < 1 || !is_within(centre, -SIZE_MAX_ANY, SIZE_MAX_ANY) ||
        !is_within(sigma, SIGMA_MIN, SIZE_MAX_ANY))
        return ST_RANGE;
    for (size_t i = 0; i < count; i++)
        if (!is_within(values[i], -SIZE_MAX_ANY, SIZE_MAX_ANY))
            return ST_RANGE;
    while (found < CHART_RULE_COUNT && !is_broken((enum chart_rule)found, values, count, centre, sigma))
        found++;
    *rule = found == CHART_RULE_COUNT ? CHART_QUIET : (enum chart_rule)found;
    return ST_OK;
}

/* ---- probabilities ------------------------------------------------------------------------------ */

enum status chart_false_alarm_eval(enum chart_rule rule, double *probability)
{
    double beyond, sum = 0, ways = 1;

    if (rule <= CHART_QUIET || rule >= CHART_RULE_COUNT)
        return ST_RANGE;
    beyond = normal_tail(TESTS[rule].sigmas);
    for (size_t missing = 0; missing <= TESTS[rule].window - TESTS[rule].needed; missing++) {
        sum += ways * pow(beyond, (double)(TESTS[rule].window - missing)) * pow(1 - beyond, (double)missing);
        ways *= (double)(TESTS[rule].window - missing) / (double)(missing + 1);
    }
    *probability = 2 * sum;
    return ST_OK;
}

enum status chart_capability_eval(double mean, double sigma, double lower, double upper, double *cpk,
                                  double *outside_ppm)
{
    if (!is_within(mean, -SIZE_MAX_ANY, SIZE_MAX_ANY) || !is_within(sigma, SIGMA_MIN, SIZE_MAX_ANY) ||
        !is_within(lower, -SIZE_MAX_ANY, SIZE_MAX_ANY) || !is_within(upper, -SIZE_MAX_ANY, SIZE_MAX_ANY) ||
        lower >= upper)
        return ST_RANGE;
    *cpk = fmin(upper - mean, mean - lower) / (LINES * sigma);
    *outside_ppm = 1e6 * (normal_tail((upper - mean) / sigma) + normal_tail((mean - lower) / sigma));
    return ST_OK;
}
