/* skin_contact.h - how long skin held at a temperature takes to burn, from conduction and damage.
 *
 * Does:      heat conduction into three layers of skin in one dimension, with the damage integral of
 *            skin_dose.h at the basal layer; pure functions on a fixed grid.
 * Does not:  know blood flow, clothes or thick skin, allocate, or keep state. Any thread.
 * Epidermis 0.08 mm, 0.235 W/(m K), 4.31 MJ/(m3 K); dermis 2 mm, 0.445, 3.96; fat 10 mm, 0.185, 2.50, held
 * at 37 degC behind. To begin with 32.5 degC outside, rising straight to 37 where the fat begins; skin warm
 * throughout would burn up to a sixth sooner. An adult's skin; that of children is thinner. Against measured
 * times it is up to 1.6 times LONGER (47 degC 1880 s against 1200, 60 degC 4 s against 3), so it must not be
 * used to judge danger: the low end of skin_burn_time_eval is for that. Good for what lies between the
 * published rows. One call takes at most 400 steps over 47 points, about 0.3 ms: not for every scan. ST_OK
 * and the result, or ST_RANGE (an argument outside its range or not finite) and nothing written.
 */
#ifndef SCIENCE_SKIN_CONTACT_H
#define SCIENCE_SKIN_CONTACT_H

#include "base/status.h"

/* Time to a second-degree burn (dose 1) with the skin's surface held at a temperature, s; 45-105 degC. */
enum status skin_contact_time_eval(double surface_c, double *seconds) MUST_USE;

#endif
