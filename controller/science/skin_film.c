#include "science/skin_film.h"

#include "science/science_range.h"
#include "science/sucrose.h"

#define COOL_C 45.0
#define CM2_M2 1e4

enum status skin_film_heat_eval(double film_mm, double temp_c, double strength_pct, double *j_cm2)
{
    double density;
    double j_kg_k;
    enum status status;

    if (!is_within(film_mm, 0, 5) || !is_within(temp_c, COOL_C, 105) || !is_within(strength_pct, 0, 85))
        return ST_RANGE;
    status = sucrose_density_eval(strength_pct, temp_c, &density);
    if (status == ST_OK) /* the capacity is straight in the temperature: its mean is that of the middle */
        status = sucrose_heat_capacity_eval(strength_pct, (temp_c + COOL_C) / 2, &j_kg_k);
    if (status != ST_OK)
        return status;
    *j_cm2 = density * film_mm / 1000 * j_kg_k * (temp_c - COOL_C) / CM2_M2;
    return ST_OK;
}
