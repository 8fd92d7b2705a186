#include "science/constants.h"
#include "science/root.h"
#include "science/science_range.h"
#include "science/sucrose.h"
#include "science/sucrose_activity.h"

#include <math.h>

#define STRENGTH_MAX_PCT 85.0
#define WATER_MAX_C 135.0
#define SYRUP_MAX_C 125.0
#define PRESSURE_MIN_KPA 50.0
#define PRESSURE_MAX_KPA 110.0
#define BOILING_MIN_C 75.0 /* water boils at 81 degC at 50 kPa */
#define TOLERANCE 1e-10    /* % or K */
#define END_SLACK_K 0.05   /* half of 0.1 K; also the error of the boiling point of water */

/* IAPWS-IF97 (1997) table 34. */
static const double N[11] = {0,
                             0.11670521452767e4,
                             -0.72421316703206e6,
                             -0.17073846940092e2,
                             0.12020824702470e5,
                             -0.32325550322333e7,
                             0.14915108613530e2,
                             -0.48232657361591e4,
                             0.40511340542057e6,
                             -0.23855557567849,
                             0.65017534844798e3};

enum status air_pressure_eval(double altitude_m, double *pressure_kpa)
{
    if (!is_within(altitude_m, -500, 5000))
        return ST_RANGE;
    *pressure_kpa = ATM_KPA * pow(1 - 2.25577e-5 * altitude_m, 5.25588);
    return ST_OK;
}

/* ---- water: IAPWS-IF97 region 4 ---------------------------------------------------------- */

/* Equation 30, kPa. */
static double water_vapour_kpa(double temp_c)
{
    double temp_k = temp_c + ZERO_C_K;
    double t = temp_k + N[9] / (temp_k - N[10]);
    double a = t * t + N[1] * t + N[2];
    double b = N[3] * t * t + N[4] * t + N[5];
    double c = N[6] * t * t + N[7] * t + N[8];
    double beta = 2 * c / (-b + sqrt(b * b - 4 * a * c));

    return 1e3 * beta * beta * beta * beta;
}

/* Equation 31, which solves the same relation for the temperature. */
static double water_boiling_c(double pressure_kpa)
{
    double beta = sqrt(sqrt(pressure_kpa / 1e3));
    double e = beta * beta + N[3] * beta + N[6];
    double f = N[1] * beta * beta + N[4] * beta + N[7];
    double g = N[2] * beta * beta + N[5] * beta + N[8];
    double d = 2 * g / (-f - sqrt(f * f - 4 * e * g));
    double sum = N[10] + d;

    return (sum - sqrt(sum * sum - 4 * (N[9] + N[10] * d))) / 2 - ZERO_C_K;
}

enum status water_vapour_pressure_eval(double temp_c, double *pressure_kpa)
{
    if (!is_within(temp_c, 0, WATER_MAX_C))
        return ST_RANGE;
    *pressure_kpa = water_vapour_kpa(temp_c);
    return ST_OK;
}

enum status water_boiling_point_eval(double pressure_kpa, double *temp_c)
{
    if (!is_within(pressure_kpa, 1, 300))
        return ST_RANGE;
    *temp_c = water_boiling_c(pressure_kpa);
    return ST_OK;
}

/* ---- syrup --------------------------------------------------------------------------------- */

static double activity_log(double strength_pct, double temp_c)
{
    double x = sucrose_mole_fraction(strength_pct);
    double q = STARZAK_Q_J_MOL / (GAS_J_MOL_K * (temp_c + ZERO_C_K));

    return log1p(-x) + q * x * x * (1 + STARZAK_A * x + STARZAK_B * x * x);
}

static bool is_syrup(double strength_pct, double temp_c)
{
    return is_within(strength_pct, 0, STRENGTH_MAX_PCT) && is_within(temp_c, 0, SYRUP_MAX_C);
}

enum status sucrose_water_activity_at_eval(double strength_pct, double temp_c, double *activity)
{
    if (!is_syrup(strength_pct, temp_c))
        return ST_RANGE;
    *activity = exp(activity_log(strength_pct, temp_c));
    return ST_OK;
}

enum status sucrose_water_activity_eval(double strength_pct, double *activity)
{
    return sucrose_water_activity_at_eval(strength_pct, 25, activity);
}

enum status sucrose_vapour_pressure_eval(double strength_pct, double temp_c, double *pressure_kpa)
{
    if (!is_syrup(strength_pct, temp_c))
        return ST_RANGE;
    *pressure_kpa = exp(activity_log(strength_pct, temp_c)) * water_vapour_kpa(temp_c);
    return ST_OK;
}

/* Two known things of a syrup; the search looks for the third. */
struct known {
    double strength_pct;
    double temp_c;
    double logarithm; /* of the activity or of the pressure in kPa */
};

static double activity_excess(double strength_pct, const void *context)
{
    const struct known *known = context;

    return activity_log(strength_pct, known->temp_c) - known->logarithm;
}

static double pressure_excess(double temp_c, const void *context)
{
    const struct known *known = context;

    return activity_log(known->strength_pct, temp_c) + log(water_vapour_kpa(temp_c)) - known->logarithm;
}

enum status sucrose_strength_for_activity_eval(double activity, double temp_c, double *strength_pct)
{
    struct known known = {.temp_c = temp_c};

    if (!is_within(activity, 0, 1) || !is_within(temp_c, 0, SYRUP_MAX_C) ||
        activity < exp(activity_log(STRENGTH_MAX_PCT, temp_c)))
        return ST_RANGE;
    known.logarithm = fmax(log(activity), activity_log(STRENGTH_MAX_PCT, temp_c));
    *strength_pct = root_find(activity_excess, &known, 0, STRENGTH_MAX_PCT, TOLERANCE);
    return ST_OK;
}

static bool is_boilable(double strength_pct, double pressure_kpa)
{
    return is_within(strength_pct, 0, STRENGTH_MAX_PCT) &&
           is_within(pressure_kpa, PRESSURE_MIN_KPA, PRESSURE_MAX_KPA);
}

static double syrup_boiling_c(double strength_pct, double pressure_kpa)
{
    const struct known known = {.strength_pct = strength_pct, .logarithm = log(pressure_kpa)};

    return root_find(pressure_excess, &known, BOILING_MIN_C, SYRUP_MAX_C, TOLERANCE);
}

enum status sucrose_boiling_point_eval(double strength_pct, double pressure_kpa, double *temp_c)
{
    if (!is_boilable(strength_pct, pressure_kpa))
        return ST_RANGE;
    *temp_c = syrup_boiling_c(strength_pct, pressure_kpa);
    return ST_OK;
}

enum status sucrose_boiling_rise_eval(double strength_pct, double pressure_kpa, double *rise_k)
{
    double temp_c;
    enum status status = sucrose_boiling_point_eval(strength_pct, pressure_kpa, &temp_c);

    if (status == ST_OK)
        *rise_k = fmax(0, temp_c - water_boiling_c(pressure_kpa));
    return status;
}

enum status sucrose_boiling_point_at_altitude_eval(double strength_pct, double altitude_m, double *temp_c)
{
    double pressure_kpa;
    enum status status = air_pressure_eval(altitude_m, &pressure_kpa);

    return status != ST_OK ? status : sucrose_boiling_point_eval(strength_pct, pressure_kpa, temp_c);
}

enum status sucrose_boiling_margin_eval(double strength_pct, double pressure_kpa, double temp_c,
                                        double *margin_k)
{
    double boiling_c;
    enum status status = sucrose_boiling_point_eval(strength_pct, pressure_kpa, &boiling_c);

    if (!is_within(temp_c, 0, SYRUP_MAX_C))
        return ST_RANGE;
    if (status == ST_OK)
        *margin_k = boiling_c - temp_c;
    return status;
}

enum status sucrose_boiling_margin_at_altitude_eval(double strength_pct, double altitude_m, double temp_c,
                                                    double *margin_k)
{
    double pressure_kpa;
    enum status status = air_pressure_eval(altitude_m, &pressure_kpa);

    return status != ST_OK ? status
                           : sucrose_boiling_margin_eval(strength_pct, pressure_kpa, temp_c, margin_k);
}

enum status sucrose_strength_for_boiling_eval(double boiling_c, double pressure_kpa, double *strength_pct)
{
    struct known known = {.temp_c = boiling_c};
    double lowest_c, highest_c;

    if (!is_within(boiling_c, BOILING_MIN_C, SYRUP_MAX_C) ||
        !is_within(pressure_kpa, PRESSURE_MIN_KPA, PRESSURE_MAX_KPA))
        return ST_RANGE;
    lowest_c = water_boiling_c(pressure_kpa);
    highest_c = syrup_boiling_c(STRENGTH_MAX_PCT, pressure_kpa);
    if (boiling_c < lowest_c - END_SLACK_K || boiling_c > highest_c + END_SLACK_K)
        return ST_RANGE;
    if (boiling_c <= lowest_c || boiling_c >= highest_c) {
        *strength_pct = boiling_c <= lowest_c ? 0 : STRENGTH_MAX_PCT;
        return ST_OK;
    }
    /* what boils has over it the pressure of the air */
    known.logarithm = fmin(0, log(pressure_kpa / water_vapour_kpa(boiling_c)));
    known.logarithm = fmax(known.logarithm, activity_log(STRENGTH_MAX_PCT, boiling_c));
    *strength_pct = root_find(activity_excess, &known, 0, STRENGTH_MAX_PCT, TOLERANCE);
    return ST_OK;
}
