/* skin_burn.h - published times and temperatures at which hot liquid or a hot surface burns skin.
 *
 * Does:      tables of measured times, read between their rows, with conduction (skin_contact.h) where that
 *            is faster; pure functions.
 * Does not:  say that anything is harmless, allocate, or keep state. Any thread.
 * Rough numbers from few experiments: skin differs, and the sources differ by up to a factor of 2. Warn
 * with the low end; a contact shorter than that can burn too. Syrup clings, so it goes on burning after the
 * contact (skin_film.h).
 * ST_OK and the result, or ST_RANGE (an argument outside its range or not finite) and nothing written.
 */
#ifndef SCIENCE_SKIN_BURN_H
#define SCIENCE_SKIN_BURN_H

#include "base/status.h"
#include "science/span.h"

enum burn_degree {
    BURN_SECOND, /* blisters */
    BURN_THIRD,  /* through the skin; "serious burn" and "full thickness" in some tables */
    BURN_DEGREE_COUNT
};

enum burn_person {
    BURN_ADULT,
    BURN_CHILD, /* also old people: a fifth of an adult's time */
    BURN_PERSON_COUNT
};

/* "second degree", "adult"; NULL for what is none. */
const char *burn_degree_name(int degree);
const char *burn_person_name(int person);

/* Time in hot water until skin has the burn, s; 44-105 degC.
 * Best: the shortest time of any source for that degree or a deeper one and, for the second degree, of
 * skin_contact_time; between the rows straight in the logarithm of the time. Low: half of it, everywhere. The
 * sources differ by up to 2 where there are several, so one alone may be wrong by as much; a straight line
 * between two rows is up to a tenth too long by conduction, as the true curve is hollow; skin warmer than the
 * model's burns up to a sixth sooner; and only the half stays below what ISO 13732-1 says of bare metal
 * (skin_surface_burn_eval). High: the longest time of any source for that degree, never more than for a
 * deeper one, and not widened: a longer time would only tempt. Sources: Moritz and Henriques, Am. J. Pathol.
 * 23 (1947) 695, as tabulated by makers of mixing valves (51 degC: 120 and 252 s, as measured values a
 * calculation was held against); the table of a burn institute, which does not name the degree and is taken
 * for the third; US consumer safety text on tap water; 52.8 and 64.4 degC from a chart recalled from memory.
 * 44 degC: 6 h to lasting damage, taken for both degrees. No source gives the second degree above 60 degC:
 * its best is then the third's or conduction's, its high no more than the 3 s of 60 degC. 70 degC: the source
 * says below 1 s, best continues the fall before it. Above 70 degC nothing was measured: it takes less time
 * than at 70 degC, whose high end is the high end; best is conduction's time to a second-degree burn, for
 * both degrees. Child: a fifth, from about 1 s at 60 degC for a small child (Feldman 1983, from memory)
 * against 5 s for an adult; one pair of numbers, used throughout. Not below 44 degC: long contact burns there
 * too. About 0.3 ms, mostly conduction. */
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
 * 13732-1 (2006), from memory but for 8 h, with an expected error of 3 K at 1 and 10 s and 1 K from a minute
 * on. Best: the lowest value remembered; the ends lie the error outside the lowest and the highest, the low
 * one at ECMA-287's where that is lower (not metal: 85 degC for 1 s, 65 for 10 s). Warn with the low end. The
 * standard sets no limits and does not speak of pain, of more than a tenth of the body, or of children, who
 * burn at less. Stone stands for ceramic and glass too. */
enum status skin_surface_burn_eval(enum burn_surface surface, enum burn_contact contact,
                                   struct span *temp_c) MUST_USE;

#endif
