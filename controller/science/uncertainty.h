/* uncertainty.h - how well a result is known: GUM budgets (JCGM 100:2008).
 *
 * Does:      turn what is known of each input into a standard uncertainty, combine them, give degrees of
 *            freedom, coverage factor and expanded uncertainty for 95.45 %; ready budgets for strength,
 *            pH, mass and volume.
 * Does not:  find inputs nobody has thought of: a budget is as good as its list. Allocates nothing; any
 *            thread.
 * A function returns ST_OK and writes its result, or ST_RANGE (any argument outside its range or not
 * finite) and writes nothing. First order only: inputs whose effect bends within their uncertainty need
 * another method.
 */
#ifndef SCIENCE_UNCERTAINTY_H
#define SCIENCE_UNCERTAINTY_H

#include "base/status.h"

#include <stddef.h>

#define UNCERTAINTY_COMPONENTS_MAX 16
#define UNCERTAINTY_FREEDOM_MAX 1e6            /* stands for "as good as infinite" */
#define UNCERTAINTY_VALUE_MAX 1e9              /* of any value or sensitivity */
#define UNCERTAINTY_COVERAGE_PCT 95.4499736104 /* +- 2 standard deviations of a normal distribution */

enum uncertainty_shape {
    UNCERTAINTY_NORMAL,      /* value is U = k u, from a certificate */
    UNCERTAINTY_RECTANGULAR, /* value is the half width: anywhere inside is as likely */
    UNCERTAINTY_TRIANGULAR,  /* value is the half width: the middle is likelier */
    UNCERTAINTY_READINGS,    /* value is the standard deviation of single readings, type A */
    UNCERTAINTY_SHAPE_COUNT
};

struct uncertainty_component {
    enum uncertainty_shape shape;
    double value;       /* 0-1e9, in the input's unit */
    double k;           /* UNCERTAINTY_NORMAL: 0.1-10; else unused */
    double readings;    /* UNCERTAINTY_READINGS: how many were averaged, 2-1e6; else unused */
    double sensitivity; /* of the result on this input, -1e9-1e9 */
    double freedom;     /* 1-1e6; 0 for readings - 1, or without limit for the other shapes */
};

/* Inputs found with one and the same standard are not independent. */
struct uncertainty_correlation {
    size_t first; /* two different components, by index */
    size_t second;
    double coefficient; /* -1-1 */
};

struct uncertainty_result {
    double standard_u; /* combined standard uncertainty */
    double freedom;    /* effective degrees of freedom, 1-1e6 */
    double k;          /* coverage factor for 95.45 % */
    double expanded_u; /* U = k u */
};

/* Name of a distribution: "rectangular"; NULL for none. */
const char *uncertainty_shape_name(enum uncertainty_shape shape);

/* What one component adds to the result, |c| u: U/k, a/sqrt(3), a/sqrt(6) or s/sqrt(n) times the
 * sensitivity. Source: JCGM 100 4.2.3, 4.3. */
enum status uncertainty_standard_eval(const struct uncertainty_component *component, double *u) MUST_USE;

/* The whole budget: 1 to UNCERTAINTY_COMPONENTS_MAX components, and any correlations between them.
 * Source: JCGM 100 5.1.2, 5.2.2 (combined), G.4 (Welch-Satterthwaite, and k from Student's t with the
 * freedom cut to a whole number, which is the careful side: just below 2 it is the k of 1, 13.97). With any
 * correlation Welch-Satterthwaite does not hold: the smallest freedom of all components is taken.
 * Correlations no set of inputs can have together (a negative variance) are ST_RANGE. */
enum status uncertainty_combine_eval(const struct uncertainty_component *components, size_t count,
                                     const struct uncertainty_correlation *correlations,
                                     size_t correlation_count, struct uncertainty_result *result) MUST_USE;

/* Share of Student's t distribution within -t..t, %. t 0-1000, freedom 1-1e6 (not only whole).
 * Source: incomplete beta function by continued fraction. Good to 1e-9 relative up to 1e4 degrees of
 * freedom, 1e-7 above. */
enum status uncertainty_coverage_eval(double t, double freedom, double *probability_pct) MUST_USE;

/* Its inverse: the t that encloses probability_pct (10-99.9 %). There and back within 1e-9. */
enum status uncertainty_t_eval(double probability_pct, double freedom, double *t) MUST_USE;

/* ---- ready budgets --------------------------------------------------------------------------
 * The assumptions about distributions are stated here and go with the number. */

/* Strength by a refractometer, % sugar. All 0-10 % (of mass); temperature 0-10 K. */
struct uncertainty_strength {
    double instrument_pct;    /* maker's limit of error, rectangular */
    double compensation_pct;  /* what temperature compensation leaves, rectangular */
    double repeatability_pct; /* standard deviation of readings */
    double readings;          /* averaged, 2-1000 */
    double temp_u_k;          /* standard uncertainty of the temperature; 0.08 %/K, from memory */
    double reference_pct;     /* U (k = 2) of the solution it was checked with */
    double resolution_pct;    /* last digit of the display, rectangular over half a digit each way */
};

enum status uncertainty_strength_eval(const struct uncertainty_strength *inputs,
                                      struct uncertainty_result *result) MUST_USE;

/* pH in the water (not in syrup, where the junction alone is worth 0.1 or more and is not known). */
struct uncertainty_ph {
    double buffers_ph;   /* U (k = 2) of each of the two buffers, 0-1; both count in full */
    double junction_ph;  /* liquid junction, rectangular, 0-1 */
    double drift_ph;     /* since the calibration, rectangular, 0-1 */
    double temp_error_k; /* of the compensation, rectangular, 0-20 K */
    double ph;           /* the reading, 0-14: the error of compensation grows away from 7 */
    double temp_c;       /* 0-100 degC */
};

enum status uncertainty_ph_eval(const struct uncertainty_ph *inputs,
                                struct uncertainty_result *result) MUST_USE;

/* Mass that went through a meter. */
struct uncertainty_mass {
    double mass_kg;           /* 0.001-1e6 */
    double meter_pct;         /* limit of error of the reading, rectangular, 0-10 % */
    double repeatability_pct; /* standard deviation over trial runs, 0-10 % */
    double runs;              /* 2-1000 */
    double pulse_kg;          /* 0-100 kg; cut off at start and end, together triangular: pulse / sqrt(6) */
    double density_pct;       /* limit of error of the density, rectangular, 0-10 %; 0 for a mass meter */
};

/* The mean of the trial runs corrects the meter, so the repeatability enters twice: as the mean's, and in
 * full for this one run. Both come from the same runs and are taken together as s sqrt(1 + 1/n). */
enum status uncertainty_mass_eval(const struct uncertainty_mass *inputs,
                                  struct uncertainty_result *result) MUST_USE;

/* Volume of a known mass of syrup, from strength and temperature. */
struct uncertainty_volume {
    double mass_kg;        /* 0.001-1e6 */
    double mass_u_kg;      /* standard uncertainties: 0-1e5 kg */
    double strength_pct;   /* 0-85 */
    double strength_u_pct; /* 0-10 */
    double temp_c;         /* 0-100 */
    double temp_u_k;       /* 0-20 */
};

/* Adds the density formula's own error, +-1 kg/m3 rectangular. volume_l is the volume itself. */
enum status uncertainty_volume_eval(const struct uncertainty_volume *inputs, double *volume_l,
                                    struct uncertainty_result *result) MUST_USE;

#endif
