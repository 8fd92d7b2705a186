/* skin_film.h - how much heat a film of syrup that clings to the skin still holds.
 *
 * Syrup holds less heat in a litre than water does. It is worse than water because it sticks: it does not
 * run off, and goes on giving heat where water would be gone. Pure; any thread.
 */
#ifndef SCIENCE_SKIN_FILM_H
#define SCIENCE_SKIN_FILM_H

#include "base/status.h"

/* Heat taken up by bare skin for a second-degree burn, J/cm2: Ripple and others, J. Occup. Med. 1990
 * (abstract). */
#define SKIN_BURN_J_CM2 16.4

struct skin_film {
    double j_cm2; /* given off while cooling to 45 degC */
    double burns; /* that, divided by SKIN_BURN_J_CM2: above 1 it is enough for a burn by itself */
};

/* Film 0-5 mm, 45-105 degC, strength 0-85 %. Density and heat capacity of sucrose.h; 45 degC is where
 * damage becomes slow. Expected error 5 %. What reaches the skin is less, as the film also cools outward;
 * a thin film can burn too, slowly. ST_OK, or ST_RANGE and nothing written. */
enum status skin_film_heat_eval(double film_mm, double temp_c, double strength_pct,
                                struct skin_film *film) MUST_USE;

#endif
