/* skin_burn.h - published times and temperatures at which hot liquid or a hot surface burns skin.
 *
 * Does:      tables of measured times, read between their rows; pure functions.
 * Does not:  say that anything is harmless, allocate, or keep state. Any thread.
 * Rough numbers from few experiments: skin differs, and the sources differ by up to a factor of 2. Warn
 * with the low end. Syrup clings, so it goes on burning after the contact (skin_film.h).
 * ST_OK and the result, or ST_RANGE (an argument outside its range or not finite) and nothing written.
 */
#ifndef SCIENCE_SKIN_BURN_H
#define SCIENCE_SKIN_BURN_H

#include "base/status.h"
#include "science/span.h"

enum burn_degree {
    BURN_SECOND, /* blisters */
    BURN_THIRD,  /* through the skin; "serious burn" in some tables */
    BURN_DEGREE_COUNT
};

enum burn_person {
    BURN_ADULT,
    BURN_CHILD, /* also old people: a quarter of an adult's time (Feldman 1983, from memory) */
    BURN_PERSON_COUNT
};

/* "second degree", "adult"; NULL for what is none. */
const char *burn_degree_name(int degree);
const char *burn_person_name(int person);

/* Time in hot water until the burn, s; 44-70 degC. Low: the shortest time any source gives, high: the
 * longest, best: their geometric mean; between the rows straight in the logarithm of the time. Sources:
 * Moritz and Henriques, Am. J. Pathol. 23 (1947) 695, as tabulated by makers of mixing valves; the table
 * of a burn institute; US consumer safety text on tap water. 44 degC: 6 h to lasting damage, taken for
 * both degrees. Above 60 degC there is one "serious burn" for both; at 70 degC the source says below 1 s,
 * the low end continues the fall before it. Not below 44 degC: long pressure burns there too. */
enum status skin_burn_time_eval(double temp_c, enum burn_degree degree, enum burn_person person,
                                struct span *seconds) MUST_USE;

enum burn_surface { SURFACE_METAL, SURFACE_STONE, SURFACE_PLASTIC, SURFACE_WOOD, SURFACE_COUNT };
enum burn_contact {
    CONTACT_SECOND,
    CONTACT_TEN_SECONDS,
    CONTACT_MINUTE,
    CONTACT_TEN_MINUTES,
    CONTACT_EIGHT_HOURS,
    CONTACT_COUNT
};

/* "bare metal", "1 s"; NULL for what is none. */
const char *burn_surface_name(int surface);
const char *burn_contact_name(int contact);

/* Surface temperature at which touching it for so long begins to burn, degC, for adults. Source: ISO
 * 13732-1 (2006), the values from memory: the ends are those remembered, expected error 3 K at 1 and 10 s,
 * 1 K from a minute on. The standard sets no limits and does not speak of pain, of more than a tenth of
 * the body, or of children. Stone stands for ceramic and glass too. */
enum status skin_surface_burn_eval(enum burn_surface surface, enum burn_contact contact,
                                   struct span *temp_c) MUST_USE;

#endif
