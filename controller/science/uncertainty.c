#include "science/uncertainty.h"

#include "science/science_range.h"

#include <math.h>
#include <stdbool.h>

static const char *const SHAPES[UNCERTAINTY_SHAPE_COUNT] = {
    [UNCERTAINTY_NORMAL] = "normal",
    [UNCERTAINTY_RECTANGULAR] = "rectangular",
    [UNCERTAINTY_TRIANGULAR] = "triangular",
    [UNCERTAINTY_READINGS] = "readings",
};

const char *uncertainty_shape_name(enum uncertainty_shape shape)
{
    return (unsigned)shape < UNCERTAINTY_SHAPE_COUNT ? SHAPES[shape] : NULL;
}

static bool is_component(const struct uncertainty_component *c)
{
    if ((unsigned)c->shape >= UNCERTAINTY_SHAPE_COUNT || !is_within(c->value, 0, UNCERTAINTY_VALUE_MAX) ||
        !is_within(c->sensitivity, -UNCERTAINTY_VALUE_MAX, UNCERTAINTY_VALUE_MAX))
        return false;
    if (c->shape == UNCERTAINTY_NORMAL && !is_within(c->k, 0.1, 10))
        return false;
    if (c->shape == UNCERTAINTY_READINGS && !is_within(c->readings, 2, UNCERTAINTY_FREEDOM_MAX))
        return false;
    return c->freedom == 0 || is_within(c->freedom, 1, UNCERTAINTY_FREEDOM_MAX);
}

/* With the sign of the sensitivity: correlated inputs may cancel. */
static double contribution(const struct uncertainty_component *c)
{
    double u = c->value;

    switch (c->shape) {
    case UNCERTAINTY_NORMAL:
        u /= c->k;
        break;
    case UNCERTAINTY_RECTANGULAR:
        u /= sqrt(3);
        break;
    case UNCERTAINTY_TRIANGULAR:
        u /= sqrt(6);
        break;
    default:
        u /= sqrt(c->readings);
    }
    return c->sensitivity * u;
}

static double freedom_of(const struct uncertainty_component *c)
{
    if (c->freedom > 0)
        return c->freedom;
    return c->shape == UNCERTAINTY_READINGS ? c->readings - 1 : UNCERTAINTY_FREEDOM_MAX;
}

enum status uncertainty_standard_eval(const struct uncertainty_component *component, double *u)
{
    if (!is_component(component))
        return ST_RANGE;
    *u = fabs(contribution(component));
    return ST_OK;
}

/* Adds the correlated terms to the variance; false for a correlation that is none. */
static bool correlations_add(const struct uncertainty_component *components, size_t count,
                             const struct uncertainty_correlation *correlations, size_t correlation_count,
                             double *variance)
{
    for (size_t i = 0; i < correlation_count; i++) {
        const struct uncertainty_correlation *c = &correlations[i];

        if (c->first >= count || c->second >= count || c->first == c->second ||
            !is_within(c->coefficient, -1, 1))
            return false;
        *variance += 2 * c->coefficient * contribution(&components[c->first]) *
                     contribution(&components[c->second]);
    }
    return true;
}

/* Shares instead of fourth powers: tiny uncertainties must not vanish. */
static double welch_satterthwaite(const struct uncertainty_component *components, size_t count,
                                  double variance)
{
    double sum = 0;

    for (size_t i = 0; i < count && variance > 0; i++) {
        double u = contribution(&components[i]);
        double share = u * u / variance;

        sum += share * share / freedom_of(&components[i]);
    }
    return sum * UNCERTAINTY_FREEDOM_MAX > 1 ? fmax(1 / sum, 1) : UNCERTAINTY_FREEDOM_MAX;
}

static double smallest_freedom(const struct uncertainty_component *components, size_t count)
{
    double freedom = UNCERTAINTY_FREEDOM_MAX;

    for (size_t i = 0; i < count; i++)
        if (contribution(&components[i]) != 0)
            freedom = fmin(freedom, freedom_of(&components[i]));
    return freedom;
}

enum status uncertainty_combine_eval(const struct uncertainty_component *components, size_t count,
                                     const struct uncertainty_correlation *correlations,
                                     size_t correlation_count, struct uncertainty_result *result)
{
    struct uncertainty_result found = {0};
    double variance = 0;
    double rounding;
    enum status status;

    if (count < 1 || count > UNCERTAINTY_COMPONENTS_MAX)
        return ST_RANGE;
    for (size_t i = 0; i < count; i++) {
        if (!is_component(&components[i]))
            return ST_RANGE;
        variance += contribution(&components[i]) * contribution(&components[i]);
    }
    rounding = 1e-12 * variance; /* inputs that cancel leave no exact 0 */
    if (!correlations_add(components, count, correlations, correlation_count, &variance) ||
        variance < -rounding)
        return ST_RANGE;
    variance = variance > rounding ? variance : 0;
    found.standard_u = sqrt(variance);
    found.freedom = correlation_count > 0 ? smallest_freedom(components, count)
                                          : welch_satterthwaite(components, count, variance);
    status = uncertainty_t_eval(UNCERTAINTY_COVERAGE_PCT, floor(found.freedom * (1 + 1e-12)), &found.k);
    if (status != ST_OK)
        return status;
    found.expanded_u = found.k * found.standard_u;
    *result = found;
    return ST_OK;
}
