#include "science/water.h"

#include "science/constants.h"
#include "science/polynomial.h"
#include "science/science_range.h"
#include "science/water_davies.h"

#include <math.h>

/* log10 K = a + b T + c/T + d log10 T + e/T^2 */
static const double LOG_KW[5] = {-283.9710, -0.05069842, 13323.00, 102.24447, -1119669};
static const double LOG_K1[5] = {-356.3094, -0.06091964, 21834.37, 126.8339, -1684915};
static const double LOG_K2[5] = {-107.8871, -0.03252849, 5151.79, 38.92561, -563713.9};
static const double LOG_KH[5] = {108.3865, 0.01985076, -6919.53, -40.45154, 669365};

static enum status pk_eval(const double fit[5], double temp_c, double *pk)
{
    double t = temp_c + ZERO_C_K;

    if (!is_within(temp_c, 0, 90))
        return ST_RANGE;
    *pk = -(fit[0] + fit[1] * t + fit[2] / t + fit[3] * log10(t) + fit[4] / (t * t));
    return ST_OK;
}

enum status water_pkw_eval(double temp_c, double *pkw)
{
    return pk_eval(LOG_KW, temp_c, pkw);
}

enum status water_pk1_eval(double temp_c, double *pk1)
{
    return pk_eval(LOG_K1, temp_c, pk1);
}

enum status water_pk2_eval(double temp_c, double *pk2)
{
    return pk_eval(LOG_K2, temp_c, pk2);
}

enum status water_pkh_eval(double temp_c, double *pkh)
{
    return pk_eval(LOG_KH, temp_c, pkh);
}

enum status water_permittivity_eval(double temp_c, double *permittivity)
{
    static const double FIT[4] = {87.740, -0.40008, 9.398e-4, -1.410e-6};

    if (!is_within(temp_c, 0, 100))
        return ST_RANGE;
    *permittivity = polynomial(FIT, sizeof FIT / sizeof FIT[0], temp_c);
    return ST_OK;
}

enum status water_debye_huckel_eval(double temp_c, double *a)
{
    double permittivity;
    double product;

    if (water_permittivity_eval(temp_c, &permittivity) != ST_OK)
        return ST_RANGE;
    product = permittivity * (temp_c + ZERO_C_K);
    *a = 1.82483e6 / (product * sqrt(product));
    return ST_OK;
}

enum status water_activity_coefficient_eval(int charge, double ionic_strength_mol_kg, double temp_c,
                                            double *coefficient)
{
    double a;

    if (charge < -4 || charge > 4 || !is_within(ionic_strength_mol_kg, 0, 1) ||
        water_debye_huckel_eval(temp_c, &a) != ST_OK)
        return ST_RANGE;
    *coefficient = exp(-davies_ln(a * LN10, ionic_strength_mol_kg) * charge * charge);
    return ST_OK;
}
