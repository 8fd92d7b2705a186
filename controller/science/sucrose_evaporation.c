#include "science/constants.h"
#include "science/science_range.h"
#include "science/sucrose.h"

#include <math.h>

#define CRITICAL_K 647.096
#define CRITICAL_KG_M3 322.0
#define CRITICAL_PA 22.064e6

struct term {
    double factor;
    double power;
};

/* IAPWS SR1-86 (1992), after Wagner and Pruss (1993): equations 1, 2 and 3. */
static const struct term PRESSURE[6] = {{-7.85951783, 1},  {1.84408259, 1.5}, {-11.7866497, 3},
                                        {22.6807411, 3.5}, {-15.9618719, 4},  {1.80122502, 7.5}};
static const struct term LIQUID[6] = {{1.99274064, 1.0 / 3},   {1.09965342, 2.0 / 3},
                                      {-0.510839303, 5.0 / 3}, {-1.75493479, 16.0 / 3},
                                      {-45.5170352, 43.0 / 3}, {-6.74694450e5, 110.0 / 3}};
static const struct term VAPOUR[6] = {{-2.03150240, 2.0 / 6},  {-2.68302940, 4.0 / 6},
                                      {-5.38626492, 8.0 / 6},  {-17.2991605, 18.0 / 6},
                                      {-44.7586581, 37.0 / 6}, {-63.9201063, 71.0 / 6}};

static double series(const struct term terms[6], double tau)
{
    double sum = 0;

    for (int i = 0; i < 6; i++)
        sum += terms[i].factor * pow(tau, terms[i].power);
    return sum;
}

static double series_slope(const struct term terms[6], double tau)
{
    double sum = 0;

    for (int i = 0; i < 6; i++)
        sum += terms[i].factor * terms[i].power * pow(tau, terms[i].power - 1);
    return sum;
}

/* Clapeyron: the heat is T dp/dT times the volume gained. */
enum status water_evaporation_heat_eval(double temp_c, double *kj_kg)
{
    double temp_k = temp_c + ZERO_C_K;
    double tau = 1 - temp_k / CRITICAL_K;
    double pressure_log;
    double pa_k;
    double gained_m3_kg;

    if (!is_within(temp_c, 0, 135))
        return ST_RANGE;
    pressure_log = CRITICAL_K / temp_k * series(PRESSURE, tau);
    pa_k = -CRITICAL_PA * exp(pressure_log) / temp_k * (pressure_log + series_slope(PRESSURE, tau));
    gained_m3_kg = (1 / exp(series(VAPOUR, tau)) - 1 / (1 + series(LIQUID, tau))) / CRITICAL_KG_M3;
    *kj_kg = temp_k * pa_k * gained_m3_kg / 1000;
    return ST_OK;
}
