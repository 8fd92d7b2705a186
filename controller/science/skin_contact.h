/* skin_contact.h - how long skin held in a hot liquid takes to burn, from conduction and damage.
 *
 * Does:      heat conduction into three layers of skin in one dimension, with the damage integral of
 *            skin_dose.h at the basal layer; pure functions on a fixed grid.
 * Does not:  know blood flow, clothes or thick skin, allocate, or keep state. Any thread.
 * Epidermis 0.08 mm, 0.235 W/(m K), 4.31 MJ/(m3 K); dermis 2 mm, 0.445, 3.96; fat 10 mm, 0.185, 2.50, held
 * at 37 degC behind. To begin with 32.5 degC outside, rising straight to 37 where the fat begins. An adult's
 * skin; that of children is thinner. Expected error a factor of 2 against measured times. Good for comparing
 * liquids and for what lies between the published rows, not for saying that a contact is harmless. One call
 * takes at most 400 steps over 47 points, about 0.3 ms: not for every scan. ST_OK and the result, or ST_RANGE
 * (an argument outside its range or not finite, or no burn within 8 h) and nothing written.
 */
#ifndef SCIENCE_SKIN_CONTACT_H
#define SCIENCE_SKIN_CONTACT_H

#include "base/status.h"

/* Time to a second-degree burn (dose 1) with the skin's surface held at a temperature, s; 45-105 degC. */
enum status skin_contact_time_eval(double surface_c, double *seconds) MUST_USE;

/* The same in a liquid that gives off its heat through a film, s. Liquid 45-105 degC, film 100-1e5 W/(m2 K):
 * moving water 500-5000; thick syrup at rest gives less at first and sticks. */
enum status skin_film_time_eval(double liquid_c, double film_w_m2_k, double *seconds) MUST_USE;

#endif
