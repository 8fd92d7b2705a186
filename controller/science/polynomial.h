/* polynomial.h - a polynomial by Horner's rule, its coefficients in an array. Short ones stand written out.
 */
#ifndef SCIENCE_POLYNOMIAL_H
#define SCIENCE_POLYNOMIAL_H

#include <stddef.h>

/* Coefficients from the constant on. */
static inline double polynomial(const double *coefficients, size_t count, double x)
{
    double sum = 0;

    for (size_t i = count; i > 0; i--)
        sum = sum * x + coefficients[i - 1];
    return sum;
}

#endif
