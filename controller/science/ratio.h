/* ratio.h - sugar to water as the trade says it, turned into % by weight and back.
 *
 * "2:1" alone means anything from 61 to 67 %, so a ratio cannot exist here without its basis
 * and its order: a zeroed one is refused. Pure; any thread; no memory kept.
 *
 * Two kinds of basis: sugar to the water it is put into, and sugar "made up to" a volume of finished
 * syrup at 20 degC, water added until it is full. The first counts the water, the second does not.
 *
 * Sources: pound, gallons and pints as defined by law (0.45359237 kg; US gallon 3.785411784 L;
 * imperial gallon 4.54609 L; 8 pints each); water 0.9982 kg/L at 20 degC (Kell 1975); bulk of dry
 * white sugar 0.85 kg/L (trade figure; 0.80-0.90 in practice, so a ratio by volume is good to about
 * 1.5 % only); finished syrup by sucrose_density_eval, at 20 degC good to 0.06 %.
 */
#ifndef SCIENCE_RATIO_H
#define SCIENCE_RATIO_H

#include "base/status.h"

enum ratio_basis {
    RATIO_BASIS_NONE, /* what a zeroed struct holds: no ratio */
    RATIO_BY_WEIGHT,  /* kg : kg, lb : lb */
    RATIO_BY_VOLUME,  /* dry white sugar, bulk 0.85 kg/L, to water */
    RATIO_KG_PER_L,   /* kg sugar : litres water at 20 degC */
    RATIO_LB_PER_US_GAL,
    RATIO_LB_PER_IMP_GAL,
    RATIO_LB_PER_US_PINT,
    RATIO_LB_PER_IMP_PINT,
    RATIO_KG_MADE_UP_TO_L, /* kg sugar : litres finished syrup at 20 degC */
    RATIO_LB_MADE_UP_TO_US_GAL,
    RATIO_LB_MADE_UP_TO_IMP_GAL,
    RATIO_BASIS_COUNT
};

enum ratio_order { RATIO_ORDER_NONE, RATIO_SUGAR_FIRST, RATIO_WATER_FIRST };

/* Each number of a ratio, for the calculations; people's are within 0.001-10000 (ratio_parse). */
#define RATIO_NUMBER_MIN 1e-9
#define RATIO_NUMBER_MAX 1e9

/* "Water" is the finished syrup, where the basis is made up to a volume. */
struct ratio {
    double first;
    double second;
    enum ratio_basis basis;
    enum ratio_order order;
};

/* "by weight", "lb per imperial pint", ...: the words ratio_parse takes; "" for none and outside. */
const char *ratio_basis_words(enum ratio_basis basis);

/* "sugar first", "water first"; "" for none and outside. */
const char *ratio_order_words(enum ratio_order order);

/* Strength of the mix, % by weight, 0-100. ST_RANGE, and nothing written, for numbers outside
 * RATIO_NUMBER_MIN-MAX, without a basis or an order, and where more sugar than an 85 % syrup holds is made up
 * to a volume. Exact but for the figures above. It does not ask whether that much sugar can dissolve. */
enum status ratio_strength_eval(const struct ratio *ratio, double *strength_pct) MUST_USE;

/* The inverse: the second number beside first, for a strength of 0.001-99.999 % (at most 85 % made up
 * to a volume). Back through ratio_strength_eval within 1e-9. ST_RANGE, and nothing written, also
 * where the second number would be outside RATIO_NUMBER_MIN-MAX. */
enum status ratio_second_eval(double first, double strength_pct, enum ratio_basis basis,
                              enum ratio_order order, double *second) MUST_USE;

/* Read "5:3 by weight", "2:1 lb per imperial pint", "4:1 lb made up to us gallons", "1:2 by weight,
 * water first". The basis is required; the order is sugar first unless "water first" is said. Upper
 * and lower case and extra blanks do not matter; a number has a decimal point, no comma, and lies
 * within 0.001-10000. What is read has a strength. ST_RANGE with the sentence in *f (may be NULL),
 * and *ratio as it was, for anything else. */
enum status ratio_parse(const char *text, struct ratio *ratio, struct fault *f) MUST_USE;

#endif
