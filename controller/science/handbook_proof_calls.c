#include "science/handbook_proof_calls.h"

#include "science/chart.h"
#include "science/decision.h"
#include "science/science_range.h"
#include "science/uncertainty.h"

#include <stddef.h>

/* ---- uncertainty ------------------------------------------------------------------------------ */

const char *proof_shape_choice(int index)
{
    return uncertainty_shape_name((enum uncertainty_shape)index);
}

static enum status give(enum status status, const struct uncertainty_result *result, double out[])
{
    if (status != ST_OK)
        return status;
    out[0] = result->standard_u;
    out[1] = result->freedom;
    out[2] = result->k;
    out[3] = result->expanded_u;
    return ST_OK;
}

/* The row has limits of its own, so that it can say one range for every shape. */
enum status proof_row_standard(const double in[], double out[])
{
    const struct uncertainty_component component = {.shape = (enum uncertainty_shape)in[0],
                                                    .value = in[1],
                                                    .k = in[2],
                                                    .readings = in[3],
                                                    .sensitivity = 1};

    if (!is_within(in[2], 0.1, 10) || !is_within(in[3], 2, 1e6))
        return ST_RANGE;
    return uncertainty_standard_eval(&component, &out[0]);
}

enum status proof_row_coverage(const double in[], double out[])
{
    return uncertainty_coverage_eval(in[0], in[1], &out[0]);
}

enum status proof_row_student(const double in[], double out[])
{
    return uncertainty_t_eval(in[0], in[1], &out[0]);
}

static struct uncertainty_component plain(double u, double freedom)
{
    return (struct uncertainty_component){
        .shape = UNCERTAINTY_NORMAL, .value = u, .k = 1, .sensitivity = 1, .freedom = freedom};
}

enum status proof_row_three(const double in[], double out[])
{
    const struct uncertainty_component components[] = {plain(in[0], in[1]), plain(in[2], in[3]),
                                                       plain(in[4], in[5])};
    struct uncertainty_result result;

    if (!is_within(in[1], 1, 1e6) || !is_within(in[3], 1, 1e6) || !is_within(in[5], 1, 1e6))
        return ST_RANGE;
    return give(uncertainty_combine_eval(components, 3, NULL, 0, &result), &result, out);
}

enum status proof_row_pair(const double in[], double out[])
{
    const struct uncertainty_component components[] = {plain(in[0], 0), plain(in[1], 0)};
    const struct uncertainty_correlation correlation = {0, 1, in[2]};
    struct uncertainty_result result;
    enum status status = uncertainty_combine_eval(components, 2, &correlation, 1, &result);

    if (status == ST_OK)
        out[0] = result.standard_u;
    return status;
}

enum status proof_row_strength(const double in[], double out[])
{
    const struct uncertainty_strength inputs = {in[0], in[1], in[2], in[3], in[4], in[5], 0.01};
    struct uncertainty_result result;

    return give(uncertainty_strength_eval(&inputs, &result), &result, out);
}

enum status proof_row_acidity(const double in[], double out[])
{
    const struct uncertainty_ph inputs = {in[0], in[1], in[2], in[3], in[4], in[5]};
    struct uncertainty_result result;

    return give(uncertainty_ph_eval(&inputs, &result), &result, out);
}

enum status proof_row_mass(const double in[], double out[])
{
    const struct uncertainty_mass inputs = {in[0], in[1], in[2], in[3], in[4], in[5]};
    struct uncertainty_result result;

    return give(uncertainty_mass_eval(&inputs, &result), &result, out);
}

enum status proof_row_volume(const double in[], double out[])
{
    const struct uncertainty_volume inputs = {in[0], in[1], in[2], in[3], in[4], in[5]};
    struct uncertainty_result result;
    double volume_l;
    enum status status = uncertainty_volume_eval(&inputs, &volume_l, &result);

    if (status != ST_OK)
        return status;
    out[0] = volume_l;
    out[1] = result.standard_u;
    out[2] = result.expanded_u;
    return ST_OK;
}

/* ---- decisions --------------------------------------------------------------------------------- */

const char *proof_decision_choice(int index)
{
    static const char *const NAMES[DECISION_COUNT] = {
        [DECISION_NOT_JUDGED] = "not-judged",
        [DECISION_CANNOT_SAY] = "cannot-say",
        [DECISION_CONFORMS] = "conforms",
        [DECISION_CONFORMS_CONDITIONAL] = "conforms-conditionally",
        [DECISION_FAILS_CONDITIONAL] = "does-not-conform-conditionally",
        [DECISION_FAILS] = "does-not-conform",
    };

    return index >= 0 && index < DECISION_COUNT ? NAMES[index] : NULL;
}

enum status proof_row_conformity(const double in[], double out[])
{
    enum decision decision;
    enum status status = decision_conformity_eval(in[0], in[1], in[2], in[3], in[4], &decision);

    if (status == ST_OK)
        out[0] = decision;
    return status;
}

enum status proof_row_acceptance(const double in[], double out[])
{
    return decision_acceptance_eval(in[0], in[1], in[2], in[3], &out[0], &out[1]);
}

enum status proof_row_probability(const double in[], double out[])
{
    return decision_probability_eval(in[0], in[1], in[2], in[3], &out[0]);
}

enum status proof_row_agreement(const double in[], double out[])
{
    return decision_agreement_eval(in[0], in[1], in[2], in[3], &out[0]);
}

enum status proof_row_risk(const double in[], double out[])
{
    return decision_risk_eval(in[0], &out[0]);
}

/* ---- charts -------------------------------------------------------------------------------------- */

const char *proof_sample_choice(int index)
{
    static const char *const SIZES[] = {"2",  "3",  "4",  "5",  "6",  "7",  "8",  "9",
                                        "10", "11", "12", "13", "14", "15", "16", "17",
                                        "18", "19", "20", "21", "22", "23", "24", "25"};

    return index >= CHART_SAMPLE_MIN && index <= CHART_SAMPLE_MAX ? SIZES[index - CHART_SAMPLE_MIN] : NULL;
}

const char *proof_rule_choice(int index)
{
    return chart_rule_name((enum chart_rule)index);
}

enum status proof_row_chart_range(const double in[], double out[])
{
    struct chart_constants c;
    enum status status = chart_constants_eval((size_t)in[0], &c);

    if (status != ST_OK)
        return status;
    out[0] = c.d2;
    out[1] = c.d3;
    out[2] = c.d3_low;
    out[3] = c.d4_high;
    return ST_OK;
}

enum status proof_row_chart_deviation(const double in[], double out[])
{
    struct chart_constants c;
    enum status status = chart_constants_eval((size_t)in[0], &c);

    if (status != ST_OK)
        return status;
    out[0] = c.c4;
    out[1] = c.b3;
    out[2] = c.b4;
    return ST_OK;
}

enum status proof_row_chart_mean(const double in[], double out[])
{
    struct chart_constants c;
    enum status status = chart_constants_eval((size_t)in[0], &c);

    if (status != ST_OK)
        return status;
    out[0] = c.a2;
    out[1] = c.a3;
    out[2] = c.e2;
    return ST_OK;
}

enum status proof_row_chart_limits(const double in[], double out[])
{
    struct chart_limits limits;
    enum status status = chart_limits_eval(in[0], in[1], &limits);

    if (status != ST_OK)
        return status;
    out[0] = limits.lower;
    out[1] = limits.upper;
    out[2] = limits.range_upper;
    out[3] = limits.sigma;
    return ST_OK;
}

enum status proof_row_chart_rule(const double in[], double out[])
{
    enum chart_rule rule;
    enum status status;

    for (int i = 0; i < 5; i++)
        if (!is_within(in[i], -100, 100))
            return ST_RANGE;
    status = chart_rule_eval(in, 5, 0, 1, &rule);
    if (status == ST_OK)
        out[0] = rule;
    return status;
}

enum status proof_row_false_alarm(const double in[], double out[])
{
    return chart_false_alarm_eval((enum chart_rule)in[0], &out[0]);
}

enum status proof_row_capability(const double in[], double out[])
{
    return chart_capability_eval(in[0], in[1], in[2], in[3], &out[0], &out[1]);
}
