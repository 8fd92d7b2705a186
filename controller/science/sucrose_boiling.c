#include "science/science_range.h"
#include "science/sucrose.h"

#include <math.h>

#define KELVIN 273.15
#define GAS_J_MOL_K 8.314462618
#define SUCROSE_G_MOL 342.297
#define WATER_G_MOL 18.0153

enum status air_pressure_eval(double altitude_m, double *pressure_kpa)
{
    if (!is_within(altitude_m, -500, 5000))
        return ST_RANGE;
    *pressure_kpa = 101.325 * pow(1 - 2.25577e-5 * altitude_m, 5.25588);
    return ST_OK;
}

/* Vapour pressure of water, kPa, 273.15-647 K; IAPWS-IF97 (1997) region 4, equation 30. */
static double water_vapour_kpa(double temp_k)
{
    double t = temp_k - 0.23855557567849 / (temp_k - 0.65017534844798e3);
    double a = t * t + 0.11670521452767e4 * t - 0.72421316703206e6;
    double b = -0.17073846940092e2 * t * t + 0.12020824702470e5 * t - 0.32325550322333e7;
    double c = 0.14915108613530e2 * t * t - 0.48232657361591e4 * t + 0.40511340542057e6;
    double beta = 2 * c / (-b + sqrt(b * b - 4 * a * c));

    return 1e3 * beta * beta * beta * beta;
}

/* Starzak and Peacock, Zuckerindustrie 122 (1997): ln gamma = Q/RT x^2 (1 + a x + b x^2). */
static double water_activity(double strength_pct, double temp_k)
{
    double sugar_mol = strength_pct / SUCROSE_G_MOL;
    double water_mol = (100 - strength_pct) / WATER_G_MOL;
    double x = sugar_mol / (sugar_mol + water_mol);
    double ln_gamma = -17638 / (GAS_J_MOL_K * temp_k) * x * x * (1 - 1.0038 * x - 0.24653 * x * x);

    return (1 - x) * exp(ln_gamma);
}

enum status sucrose_boiling_point_eval(double strength_pct, double pressure_kpa, double *temp_c)
{
    double low = 75; /* water boils at 81 degC at 50 kPa */
    double high = 130;

    if (!is_within(strength_pct, 0, 85) || !is_within(pressure_kpa, 50, 110))
        return ST_RANGE;
    for (int i = 0; i < 50; i++) {
        double middle = (low + high) / 2;
        double temp_k = middle + KELVIN;

        if (water_activity(strength_pct, temp_k) * water_vapour_kpa(temp_k) < pressure_kpa)
            low = middle;
        else
            high = middle;
    }
    *temp_c = (low + high) / 2;
    return ST_OK;
}

enum status sucrose_water_activity_eval(double strength_pct, double *activity)
{
    if (!is_within(strength_pct, 0, 80))
        return ST_RANGE;
    *activity = water_activity(strength_pct, 25 + KELVIN);
    return ST_OK;
}
