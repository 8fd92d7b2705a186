/* units.h - the units people bring, into those the program keeps, and back.
 *
 * Does:      find a unit by the ways people write it, convert within one kind of quantity, and say
 *            why a word that means two things is none.
 * Does not:  read numbers, allocate, or keep state. Any thread.
 * Sources: pound 0.45359237 kg, foot 0.3048 m, US gallon 231 cubic inches, imperial gallon 4.54609 L
 * (by law); standard atmosphere 101325 Pa and mmHg 133.322387415 Pa (by convention); SI brochure
 * (2019) for the rest. Alkalinity: a German degree is 10 mg/L of calcium oxide and a French degree 10 mg/L
 * of calcium carbonate, by definition and exactly; the other steps go by molar masses, 100.087 g/mol for
 * CaCO3, 56.077 for CaO, 61.017 for HCO3, good to 0.002 %. A German degree is so 17.848 mg/L CaCO3, and
 * 1 meq/kg is 50.0435 mg/L CaCO3. mg/L and the degrees take a litre of water for one kilogram, which is
 * right within 0.3 % up to 25 degC.
 */
#ifndef SCIENCE_UNITS_H
#define SCIENCE_UNITS_H

#include "base/status.h"

#include <stddef.h>

struct unit {
    const char *name;     /* "US gal": the one way the program writes it */
    const char *spelling; /* other ways, with blanks between: "C celsius"; underscores for blanks; "" */
    const char *kind;     /* "temperature"; only units of one kind convert into each other */
    double factor;        /* value in the kind's base unit = (value + offset) * factor */
    double offset;
};

/* Every unit, kinds together, the base unit of a kind first; the name of the last is NULL. */
extern const struct unit UNITS[];
#define UNIT_COUNT 73

/* By name or spelling; a blank and an underscore are the same, and blanks at the ends do not count.
 * Capitals do not matter, except in words of one letter (K, k) and in a first m (mV, MV). NULL when
 * there is none, and for words that mean two things, such as "gallon". */
const struct unit *unit_find(const char *text);

/* Why such a word is no unit, and what to write instead, as one sentence: "gallon", "ppm", "ton". NULL
 * when nothing is known about it. */
const char *unit_doubt(const char *text);

/* Name of UNITS[index], for choices; "" outside. */
const char *unit_name(int index);

/* A value from one unit into another of the same kind; ST_RANGE for other kinds, what is not finite
 * (also as a result), and temperatures below absolute zero. There and back within 1e-12 of the value;
 * temperatures within 1e-12 of it or of 500 degrees. */
enum status unit_convert_eval(double value, const struct unit *from, const struct unit *to,
                              double *converted) MUST_USE;

#endif
