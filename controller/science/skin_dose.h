/* skin_dose.h - how much damage a temperature of the living skin layer adds up to.
 *
 * Does:      the damage integral of Henriques and the equivalent minutes at 43 degC; pure functions.
 * Does not:  know what temperature the skin takes from a liquid (skin_contact.h), allocate, keep state.
 *            Any thread; a dose belongs to the caller.
 * The temperature here is that of the basal layer, about 0.08 mm deep: NOT of the liquid. At 60 degC the
 * layer is burnt in 0.2 s once it is that warm, but skin held in water of 60 degC takes some 4 s.
 * Constants: Henriques (1947), 3.1e98 1/s with 75000 K (150000 cal/mol and a gas constant of 2). Papers
 * that pair 3.1e98 with 627900 J/mol and 8.314 get doses five times too small: the pair must be kept.
 * ST_OK and the result, or ST_RANGE (an argument outside its range or not finite) and nothing written.
 */
#ifndef SCIENCE_SKIN_DOSE_H
#define SCIENCE_SKIN_DOSE_H

#include "base/status.h"

/* The dose of 1e4 that lecture notes give for the third degree is left out: the constants were never fitted
 * to it, and at 60 degC it would take half an hour where water burns through the skin in 5 s. */
enum skin_grade {
    SKIN_FIRST,  /* dose 0.53: reddening */
    SKIN_SECOND, /* dose 1: blisters */
    SKIN_GRADE_COUNT
};

/* "first degree"; NULL for what is none. */
const char *skin_grade_name(int grade);

/* Damage for each second at a basal temperature, 1/s; 20-110 degC, 0 below 44 degC by the definition of the
 * integral: 43 degC held for hours burns all the same. Expected error a factor of 2 in the time. */
enum status skin_damage_rate_eval(double basal_c, double *per_s) MUST_USE;

/* Time at a constant basal temperature until a grade, s; 44-110 degC. Not how long a contact may last: at 47
 * degC it is 1.5 times longer than measured in water, and skin differs. */
enum status skin_damage_time_eval(double basal_c, enum skin_grade grade, double *seconds) MUST_USE;

/* Equivalent minutes at 43 degC (Sapareto and Dewey 1984): each degree above doubles, each below quarters.
 * 20-60 degC, 0-1e6 s. Harm to skin is reported from tens of minutes on; 240 is often used for dead tissue
 * (necrosis), not for what skin may be given. Not good above 55 degC, nor far below 39 (review of 2003). */
enum status skin_cem43_eval(double basal_c, double seconds, double *minutes) MUST_USE;

/* What has been added up; begins as {0}. */
struct skin_dose {
    double damage;
    double cem43_min; /* counted as if never warmer than 60 degC */
};

/* The dose after a time (0-1e6 s) in which the basal temperature went straight from one value to another,
 * 20-110 degC; before and after may be the same. Exact to 1e-9, bounded: at most 160 panels of 5 points. */
enum status skin_dose_advance_eval(const struct skin_dose *before, double seconds, double from_c, double to_c,
                                   struct skin_dose *after) MUST_USE;

#endif
