/* electrode.h - the glass electrode's arithmetic: slope, pH from millivolts, calibration line.
 *
 * Does:      Nernst slope, conversion both ways with temperature, the line through calibration points,
 *            what a wrong temperature or a wrong isopotential pH does, the uncertainty of a reading.
 * Does not:  guide a calibration, judge an electrode, allocate, or keep state. Any thread.
 * A function returns ST_OK and writes its result, or ST_RANGE (any argument outside its range or not
 * finite) and writes nothing. Temperature compensation corrects the electrode only, never what the
 * temperature does to the solution. In strong syrup (nonelectrolyte above 0.1 mol/L, the scope of
 * ASTM E70) pH is an apparent, repeatable value, and no uncertainty given here holds.
 * Sign: the potential of a glass electrode falls as pH rises, so a working one has a positive slope
 * here. (USP <791> printed its formula with the wrong sign until August 2024.)
 */
#ifndef SCIENCE_ELECTRODE_H
#define SCIENCE_ELECTRODE_H

#include "base/status.h"

#include <stddef.h>

#define ELECTRODE_POINTS_MAX 5

/* What calibration has found out about an electrode. */
struct electrode {
    double slope;        /* fraction of the Nernst slope, 0.5-1.2 */
    double offset_mv;    /* potential at pH 7 and calibrated_c, -200-200 mV */
    double iso_ph;       /* pH at which temperature does not matter, 5-9; 7 unless the maker says otherwise */
    double calibrated_c; /* 0-100 degC; without effect while iso_ph is 7 */
};

struct electrode_point {
    double ph;     /* the buffer's value at the measured temperature, 0-14 */
    double emf_mv; /* -1000-1000 mV */
};

struct electrode_line {
    double slope_mv;                          /* mV/pH; positive for a working electrode */
    double offset_mv;                         /* potential at pH 7 */
    double residual_mv[ELECTRODE_POINTS_MAX]; /* measured minus line, point by point; 0 for two points */
    double deviation_mv;                      /* standard deviation about the line, n - 2; 0 for two points */
};

/* What is known about a calibration with two buffers. */
struct electrode_doubt {
    double first_ph; /* the buffers, 0-14, at least 1 pH apart */
    double second_ph;
    double first_u_ph; /* standard uncertainties of the buffers, 0-1 */
    double second_u_ph;
    double emf_u_mv;      /* of one potential reading, 0-20 mV */
    double junction_u_ph; /* of the liquid junction between buffer and sample, 0-1 */
};

/* Theoretical slope R T ln10 / F, mV/pH. 0-100 degC.
 * Source: Nernst; R and F of CODATA 2018. Exact for an ideal electrode; USP <791> table 1 differs by
 * up to 0.01 mV because it rounds. */
enum status electrode_slope_eval(double temp_c, double *slope_mv) MUST_USE;

/* A measured slope (-200-200 mV/pH) as fraction of the theoretical one at temp_c. */
enum status electrode_efficiency_eval(double slope_mv, double temp_c, double *slope) MUST_USE;

/* pH of a potential (-1500-1500 mV) at temp_c (0-100 degC), isopotential form; ST_RANGE when it lies
 * outside -2-16. Source: textbook form E = E_iso - s k(T) (pH - pH_iso). */
enum status electrode_ph_eval(const struct electrode *electrode, double emf_mv, double temp_c,
                              double *ph) MUST_USE;

/* Its inverse: potential in mV at a pH of -2-16. There and back within 1e-9. */
enum status electrode_emf_eval(const struct electrode *electrode, double ph, double temp_c,
                               double *emf_mv) MUST_USE;

/* The line through 2 to ELECTRODE_POINTS_MAX points taken at one temperature, by least squares in the
 * potential. The points span at least 1 pH; ST_RANGE when the slope is outside -200-200 mV/pH or the
 * offset outside -1500-1500 mV. A negative slope is answered: buffers exchanged, or a reversed plug. */
enum status electrode_line_eval(const struct electrode_point *points, size_t count,
                                struct electrode_line *line) MUST_USE;

/* Error of the pH (read minus true) when the meter takes assumed_c for temp_c, both 0-100 degC.
 * pH 0-14, iso_ph 5-9. */
enum status electrode_temperature_error_eval(double ph, double temp_c, double assumed_c, double iso_ph,
                                             double *error_ph) MUST_USE;

/* Error of the pH at temp_c when the meter's isopotential pH is wrong by iso_error_ph (meter minus
 * electrode, -3-3) and it was calibrated at calibrated_c. The same at every pH. */
enum status electrode_iso_error_eval(double iso_error_ph, double calibrated_c, double temp_c,
                                     double *error_ph) MUST_USE;

/* Standard uncertainty of a pH (0-14) after a two-point calibration, first order GUM: both buffers and
 * potentials weighted by their distance, the sample's potential, the junction. Source: our derivation
 * after JCGM 100. The junction term dominates in practice and is the least known (Leito et al. 2002);
 * in 50-65 % syrup it is probably 0.1 or more. */
enum status electrode_uncertainty_eval(const struct electrode_doubt *doubt, double ph, double temp_c,
                                       double *u_ph) MUST_USE;

#endif
