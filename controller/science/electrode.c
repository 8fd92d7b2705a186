#include "science/electrode.h"

#include "science/constants.h"
#include "science/science_range.h"

#include <math.h>
#include <stdbool.h>

#define TEMP_MAX_C 100.0
#define NEUTRAL_PH 7.0
#define PH_LOW (-2.0) /* of a reading: strong acids and alkalis, and electrodes that are off */
#define PH_HIGH 16.0
#define SCALE_PH 14.0
#define SPAN_MIN_PH 1.0
#define EMF_MAX_MV 1500.0
#define POINT_EMF_MAX_MV 1000.0
#define SLOPE_MAX_MV 200.0

static double slope_mv_at(double temp_c)
{
    return 1e3 * GAS_J_MOL_K * (temp_c + ZERO_C_K) * LN10 / FARADAY_C_MOL;
}

static bool is_temperature(double temp_c)
{
    return is_within(temp_c, 0, TEMP_MAX_C);
}

static bool is_iso(double iso_ph)
{
    return is_within(iso_ph, 5, 9);
}

static bool is_electrode(const struct electrode *e)
{
    return is_within(e->slope, 0.5, 1.2) && is_within(e->offset_mv, -200, 200) && is_iso(e->iso_ph) &&
           is_temperature(e->calibrated_c);
}

/* The offset is found at one temperature; only at the isopotential point does it hold at all others. */
static double iso_emf_mv(const struct electrode *e)
{
    return e->offset_mv + e->slope * slope_mv_at(e->calibrated_c) * (NEUTRAL_PH - e->iso_ph);
}

enum status electrode_slope_eval(double temp_c, double *slope_mv)
{
    if (!is_temperature(temp_c))
        return ST_RANGE;
    *slope_mv = slope_mv_at(temp_c);
    return ST_OK;
}

enum status electrode_efficiency_eval(double slope_mv, double temp_c, double *slope)
{
    if (!is_within(slope_mv, -SLOPE_MAX_MV, SLOPE_MAX_MV) || !is_temperature(temp_c))
        return ST_RANGE;
    *slope = slope_mv / slope_mv_at(temp_c);
    return ST_OK;
}

enum status electrode_ph_eval(const struct electrode *electrode, double emf_mv, double temp_c, double *ph)
{
    double value;

    if (!is_electrode(electrode) || !is_within(emf_mv, -EMF_MAX_MV, EMF_MAX_MV) || !is_temperature(temp_c))
        return ST_RANGE;
    value = electrode->iso_ph - (emf_mv - iso_emf_mv(electrode)) / (electrode->slope * slope_mv_at(temp_c));
    if (!is_within(value, PH_LOW, PH_HIGH))
        return ST_RANGE;
    *ph = value;
    return ST_OK;
}

enum status electrode_emf_eval(const struct electrode *electrode, double ph, double temp_c, double *emf_mv)
{
    if (!is_electrode(electrode) || !is_within(ph, PH_LOW, PH_HIGH) || !is_temperature(temp_c))
        return ST_RANGE;
    *emf_mv = iso_emf_mv(electrode) - electrode->slope * slope_mv_at(temp_c) * (ph - electrode->iso_ph);
    return ST_OK;
}

/* ---- calibration ------------------------------------------------------------------------- */

static bool are_points(const struct electrode_point *points, size_t count)
{
    double low = SCALE_PH;
    double high = 0;

    if (count < 2 || count > ELECTRODE_POINTS_MAX)
        return false;
    for (size_t i = 0; i < count; i++) {
        if (!is_within(points[i].ph, 0, SCALE_PH) ||
            !is_within(points[i].emf_mv, -POINT_EMF_MAX_MV, POINT_EMF_MAX_MV))
            return false;
        low = fmin(low, points[i].ph);
        high = fmax(high, points[i].ph);
    }
    return high - low >= SPAN_MIN_PH;
}

static void residuals_take(const struct electrode_point *points, size_t count, struct electrode_line *line)
{
    double squares = 0;

    for (size_t i = 0; count > 2 && i < count; i++) {
        line->residual_mv[i] = points[i].emf_mv -
                               (line->offset_mv - line->slope_mv * (points[i].ph - NEUTRAL_PH));
        squares += line->residual_mv[i] * line->residual_mv[i];
    }
    if (count > 2)
        line->deviation_mv = sqrt(squares / (double)(count - 2));
}

enum status electrode_line_eval(const struct electrode_point *points, size_t count,
                                struct electrode_line *line)
{
    struct electrode_line found = {0};
    double ph = 0, emf = 0, ph_ph = 0, ph_emf = 0;

    if (!are_points(points, count))
        return ST_RANGE;
    for (size_t i = 0; i < count; i++) {
        ph += points[i].ph / (double)count;
        emf += points[i].emf_mv / (double)count;
    }
    for (size_t i = 0; i < count; i++) {
        ph_ph += (points[i].ph - ph) * (points[i].ph - ph);
        ph_emf += (points[i].ph - ph) * (points[i].emf_mv - emf);
    }
    found.slope_mv = -ph_emf / ph_ph;
    found.offset_mv = emf - found.slope_mv * (NEUTRAL_PH - ph);
    if (!is_within(found.slope_mv, -SLOPE_MAX_MV, SLOPE_MAX_MV) ||
        !is_within(found.offset_mv, -EMF_MAX_MV, EMF_MAX_MV))
        return ST_RANGE;
    residuals_take(points, count, &found);
    *line = found;
    return ST_OK;
}

/* ---- errors and uncertainty -------------------------------------------------------------------- */

enum status electrode_temperature_error_eval(double ph, double temp_c, double assumed_c, double iso_ph,
                                             double *error_ph)
{
    if (!is_within(ph, 0, SCALE_PH) || !is_temperature(temp_c) || !is_temperature(assumed_c) ||
        !is_iso(iso_ph))
        return ST_RANGE;
    *error_ph = (ph - iso_ph) * ((temp_c + ZERO_C_K) / (assumed_c + ZERO_C_K) - 1);
    return ST_OK;
}

enum status electrode_iso_error_eval(double iso_error_ph, double calibrated_c, double temp_c,
                                     double *error_ph)
{
    if (!is_within(iso_error_ph, -3, 3) || !is_temperature(calibrated_c) || !is_temperature(temp_c))
        return ST_RANGE;
    *error_ph = iso_error_ph * (1 - (calibrated_c + ZERO_C_K) / (temp_c + ZERO_C_K));
    return ST_OK;
}

static bool is_doubt(const struct electrode_doubt *d)
{
    return is_within(d->first_ph, 0, SCALE_PH) && is_within(d->second_ph, 0, SCALE_PH) &&
           fabs(d->second_ph - d->first_ph) >= SPAN_MIN_PH && is_within(d->first_u_ph, 0, 1) &&
           is_within(d->second_u_ph, 0, 1) && is_within(d->emf_u_mv, 0, 20) &&
           is_within(d->junction_u_ph, 0, 1);
}

enum status electrode_uncertainty_eval(const struct electrode_doubt *doubt, double ph, double temp_c,
                                       double *u_ph)
{
    double first, second, emf;

    if (!is_doubt(doubt) || !is_within(ph, 0, SCALE_PH) || !is_temperature(temp_c))
        return ST_RANGE;
    first = (doubt->second_ph - ph) / (doubt->second_ph - doubt->first_ph);
    second = 1 - first;
    emf = doubt->emf_u_mv / slope_mv_at(temp_c);
    *u_ph = hypot(hypot(first * hypot(doubt->first_u_ph, emf), second * hypot(doubt->second_u_ph, emf)),
                  hypot(emf, doubt->junction_u_ph));
    return ST_OK;
}
