/* The budgets behind the numbers on a certificate. */
#include "science/sucrose.h"
#include "science/uncertainty.h"

#include "science/constants.h"
#include "science/science_range.h"

#include <math.h>
#include <stdbool.h>

#define STRENGTH_SLOPE_PCT_K 0.08 /* of an uncompensated refractometer near 60 %, from memory */
#define NEUTRAL_PH 7.0
#define DENSITY_ERROR_KG_M3 1.0
#define STEP 0.01 /* for the density's derivatives: % or K */
#define COUNT(array) (sizeof(array) / sizeof(array)[0])

static struct uncertainty_component normal(double value, double k, double sensitivity)
{
    return (struct uncertainty_component){
        .shape = UNCERTAINTY_NORMAL, .value = value, .k = k, .sensitivity = sensitivity};
}

static struct uncertainty_component rectangular(double value, double sensitivity)
{
    return (struct uncertainty_component){
        .shape = UNCERTAINTY_RECTANGULAR, .value = value, .sensitivity = sensitivity};
}

static struct uncertainty_component readings(double value, double count, double sensitivity)
{
    return (struct uncertainty_component){
        .shape = UNCERTAINTY_READINGS, .value = value, .readings = count, .sensitivity = sensitivity};
}

/* ---- strength ---------------------------------------------------------------------------------- */

enum status uncertainty_strength_eval(const struct uncertainty_strength *in,
                                      struct uncertainty_result *result)
{
    const struct uncertainty_component components[] = {
        rectangular(in->instrument_pct, 1),
        rectangular(in->compensation_pct, 1),
        readings(in->repeatability_pct, in->readings, 1),
        normal(in->temp_u_k, 1, STRENGTH_SLOPE_PCT_K),
        normal(in->reference_pct, 2, 1),
        rectangular(in->resolution_pct / 2, 1),
    };

    if (!is_within(in->instrument_pct, 0, 10) || !is_within(in->compensation_pct, 0, 10) ||
        !is_within(in->repeatability_pct, 0, 10) || !is_within(in->readings, 2, 1000) ||
        !is_within(in->temp_u_k, 0, 10) || !is_within(in->reference_pct, 0, 10) ||
        !is_within(in->resolution_pct, 0, 10))
        return ST_RANGE;
    return uncertainty_combine_eval(components, COUNT(components), NULL, 0, result);
}

/* ---- pH ------------------------------------------------------------------------------------------ */

enum status uncertainty_ph_eval(const struct uncertainty_ph *in, struct uncertainty_result *result)
{
    double per_kelvin = (in->ph - NEUTRAL_PH) / (in->temp_c + ZERO_C_K);
    const struct uncertainty_component components[] = {
        normal(in->buffers_ph, 2, 1),
        normal(in->buffers_ph, 2, 1),
        rectangular(in->junction_ph, 1),
        rectangular(in->drift_ph, 1),
        rectangular(in->temp_error_k, per_kelvin),
    };

    if (!is_within(in->buffers_ph, 0, 1) || !is_within(in->junction_ph, 0, 1) ||
        !is_within(in->drift_ph, 0, 1) || !is_within(in->temp_error_k, 0, 20) || !is_within(in->ph, 0, 14) ||
        !is_within(in->temp_c, 0, 100))
        return ST_RANGE;
    return uncertainty_combine_eval(components, COUNT(components), NULL, 0, result);
}

/* ---- mass ------------------------------------------------------------------------------------------ */

enum status uncertainty_mass_eval(const struct uncertainty_mass *in, struct uncertainty_result *result)
{
    double per_pct = in->mass_kg / 100;
    const struct uncertainty_component components[] = {
        rectangular(in->meter_pct, per_pct),
        readings(in->repeatability_pct, in->runs, per_pct * sqrt(in->runs + 1)),
        {.shape = UNCERTAINTY_TRIANGULAR, .value = in->pulse_kg, .sensitivity = 1},
        rectangular(in->density_pct, per_pct),
    };

    if (!is_within(in->mass_kg, 1e-3, 1e6) || !is_within(in->meter_pct, 0, 10) ||
        !is_within(in->repeatability_pct, 0, 10) || !is_within(in->runs, 2, 1000) ||
        !is_within(in->pulse_kg, 0, 100) || !is_within(in->density_pct, 0, 10))
        return ST_RANGE;
    return uncertainty_combine_eval(components, COUNT(components), NULL, 0, result);
}

/* ---- volume ------------------------------------------------------------------------------------------ */

static bool is_volume(const struct uncertainty_volume *in)
{
    return is_within(in->mass_kg, 1e-3, 1e6) && is_within(in->mass_u_kg, 0, 1e5) &&
           is_within(in->strength_pct, 0, 85) && is_within(in->strength_u_pct, 0, 10) &&
           is_within(in->temp_c, 0, 100) && is_within(in->temp_u_k, 0, 20);
}

/* Density and its derivatives on strength and temperature, one-sided towards the middle of the range. */
static enum status density_take(const struct uncertainty_volume *in, double *density, double *per_pct,
                                double *per_k)
{
    double strength_step = in->strength_pct > 40 ? -STEP : STEP;
    double temp_step = in->temp_c > 50 ? -STEP : STEP;
    double stronger, warmer;
    enum status status = sucrose_density_eval(in->strength_pct, in->temp_c, density);

    if (status == ST_OK)
        status = sucrose_density_eval(in->strength_pct + strength_step, in->temp_c, &stronger);
    if (status == ST_OK)
        status = sucrose_density_eval(in->strength_pct, in->temp_c + temp_step, &warmer);
    if (status != ST_OK)
        return status;
    *per_pct = (stronger - *density) / strength_step;
    *per_k = (warmer - *density) / temp_step;
    return ST_OK;
}

enum status uncertainty_volume_eval(const struct uncertainty_volume *in, double *volume_l,
                                    struct uncertainty_result *result)
{
    double density, per_pct, per_k, volume, per_density;
    enum status status;

    if (!is_volume(in))
        return ST_RANGE;
    status = density_take(in, &density, &per_pct, &per_k);
    if (status != ST_OK)
        return status;
    volume = in->mass_kg / density * 1e3;
    per_density = -volume / density;
    const struct uncertainty_component components[] = {
        normal(in->mass_u_kg, 1, 1e3 / density),
        normal(in->strength_u_pct, 1, per_density * per_pct),
        normal(in->temp_u_k, 1, per_density * per_k),
        rectangular(DENSITY_ERROR_KG_M3, per_density),
    };
    status = uncertainty_combine_eval(components, COUNT(components), NULL, 0, result);
    if (status == ST_OK)
        *volume_l = volume;
    return status;
}
