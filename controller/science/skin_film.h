/* skin_film.h - how much heat a film of syrup that clings to the skin still holds.
 *
 * Syrup holds less heat in a litre than water does. It is worse than water because it sticks: it does not
 * run off, and goes on giving heat where water would be gone. Pure; any thread.
 */
#ifndef SCIENCE_SKIN_FILM_H
#define SCIENCE_SKIN_FILM_H

#include "base/status.h"

/* Heat a film gives off while cooling to 45 degC, where damage becomes slow, J/cm2. Film 0-5 mm, 45-105 degC,
 * strength 0-85 %. Density and heat capacity of sucrose.h; expected error 5 %. For comparison: 16.4 J/cm2
 * taken up by bare skin gave a second-degree burn (Ripple and others, J. Occup. Med. 1990, abstract), of
 * which 1 mm of syrup at 95 degC has more. That is no lower limit: half a millimetre has 0.57 of it, and
 * conduction with the damage of skin_dose.h, nothing lost outward, still comes to a second-degree burn.
 * ST_OK, or ST_RANGE and nothing written. */
enum status skin_film_heat_eval(double film_mm, double temp_c, double strength_pct, double *j_cm2) MUST_USE;

#endif
