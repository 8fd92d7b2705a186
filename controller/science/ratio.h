/* ratio.h - sugar to water as the trade says it, turned into % by weight.
 *
 * "2:1" alone means anything from 61 to 67 %, so a ratio cannot exist here without its basis
 * and its order. Pure; any thread; no memory kept.
 *
 * Sources: pound, gallons and pint as defined by law (0.45359237 kg, 3.785411784 L, 4.54609 L,
 * 0.56826125 L); water 0.9982 kg/L at 20 degC (Kell 1975); bulk of dry white sugar 0.85 kg/L
 * (trade figure; 0.80-0.90 in practice, so a ratio by volume is good to about 1.5 % only).
 */
#ifndef SCIENCE_RATIO_H
#define SCIENCE_RATIO_H

#include "base/status.h"

enum ratio_basis {
    RATIO_BY_WEIGHT, /* kg : kg, lb : lb */
    RATIO_BY_VOLUME, /* dry white sugar, bulk 0.85 kg/L, to water */
    RATIO_KG_PER_L,  /* kg sugar : litres water at 20 degC */
    RATIO_LB_PER_US_GAL,
    RATIO_LB_PER_IMP_GAL,
    RATIO_LB_PER_IMP_PINT,
    RATIO_BASIS_COUNT
};

enum ratio_order { RATIO_SUGAR_FIRST, RATIO_WATER_FIRST };

struct ratio {
    double first;
    double second;
    enum ratio_basis basis;
    enum ratio_order order;
};

/* "by weight", "lb per imperial pint", ...: the words ratio_parse takes; never NULL. */
const char *ratio_basis_words(enum ratio_basis basis);

/* Strength of the mix, % by weight; ST_RANGE for a ratio that is not positive and finite (nothing
 * written then). Exact but for the figures above. */
enum status ratio_strength_eval(const struct ratio *ratio, double *strength_pct) MUST_USE;

/* Read "5:3 by weight", "2:1 lb per imperial pint", "1:2 by weight, water first". The basis is
 * required; the order is sugar first unless "water first" is said. Upper and lower case and extra
 * blanks do not matter; a number has a decimal point, no comma, and lies within 0.001-10000.
 * ST_RANGE with the sentence in *f (may be NULL), and *ratio as it was, for anything else. */
enum status ratio_parse(const char *text, struct ratio *ratio, struct fault *f) MUST_USE;

#endif
