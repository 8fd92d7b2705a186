/* Student's t distribution, for whole and broken degrees of freedom. */
#include "science/uncertainty.h"

#include "science/science_range.h"

#include <math.h>

#define T_MAX 1000.0
#define STEPS_MAX 5000 /* the fraction needs about sqrt(freedom) steps */
#define HALVINGS 80
#define TINY 1e-300

static double log_gamma(double x)
{
    int sign; /* lgamma() itself would keep it in a global */

    return lgamma_r(x, &sign);
}

static double off_zero(double x)
{
    return fabs(x) < TINY ? TINY : x;
}

/* Continued fraction of the incomplete beta function by Lentz's method; converges fast for
 * x < (a + 1) / (a + b + 2). Abramowitz and Stegun (1964) 26.5.8. */
static double beta_fraction(double x, double a, double b)
{
    double c = 1;
    double d = 1 / off_zero(1 - (a + b) * x / (a + 1));
    double value = d;

    for (int m = 1; m <= STEPS_MAX; m++) {
        double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
        double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
        double step;

        d = 1 / off_zero(1 + even * d);
        c = off_zero(1 + even / c);
        value *= c * d;
        d = 1 / off_zero(1 + odd * d);
        c = off_zero(1 + odd / c);
        step = c * d;
        value *= step;
        if (fabs(step - 1) < 1e-16)
            break;
    }
    return value;
}

/* I_x(a, b), with y = 1 - x given apart because it may be far smaller than the rounding of x. */
static double beta_share(double x, double y, double a, double b)
{
    double front;

    if (x <= 0 || y <= 0)
        return x <= 0 ? 0 : 1;
    front = exp(log_gamma(a + b) - log_gamma(a) - log_gamma(b) + a * (x < y ? log(x) : log1p(-y)) +
                b * (y < x ? log(y) : log1p(-x)));
    return x < (a + 1) / (a + b + 2) ? front * beta_fraction(x, a, b) / a
                                     : 1 - front * beta_fraction(y, b, a) / b;
}

static double coverage(double t, double freedom)
{
    double square = t * t;

    return beta_share(square / (freedom + square), freedom / (freedom + square), 0.5, freedom / 2);
}

enum status uncertainty_coverage_eval(double t, double freedom, double *probability_pct)
{
    if (!is_within(t, 0, T_MAX) || !is_within(freedom, 1, UNCERTAINTY_FREEDOM_MAX))
        return ST_RANGE;
    *probability_pct = 100 * coverage(t, freedom);
    return ST_OK;
}

enum status uncertainty_t_eval(double probability_pct, double freedom, double *t)
{
    double low = 0;
    double high = T_MAX;

    if (!is_within(probability_pct, 10, 99.9) || !is_within(freedom, 1, UNCERTAINTY_FREEDOM_MAX))
        return ST_RANGE;
    for (int i = 0; i < HALVINGS; i++) {
        double middle = (low + high) / 2;

        if (100 * coverage(middle, freedom) < probability_pct)
            low = middle;
        else
            high = middle;
    }
    *t = (low + high) / 2;
    return ST_OK;
}
