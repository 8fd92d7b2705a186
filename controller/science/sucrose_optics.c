#include "science/sucrose_optics.h"

#include "science/polynomial.h"
#include "science/science_range.h"
#include "science/sucrose_isotherm.h"

#include <math.h>
#include <stddef.h>

#define END_SLACK_PCT 0.05 /* half of 0.1 %; half of the fourth decimal of an index is 0.02-0.035 % */

/* ---- the index ----------------------------------------------------------------------- */

/* Lorentz and Lorenz: refraction = (n2 - 1)/(n2 + 2), in proportion to the density, times a small
 * factor of temperature: of the water d[], of the sugar the rest; T = (t - 20)/100. */
struct optics {
    struct isotherm here;
    struct isotherm at_20;
    double factor[3]; /* coefficients of w */
    double refraction;
};

static struct optics optics_at(double temp_c)
{
    static const double WATER[] = {1, -0.003848186, 0.005967750, -0.003567654, 0.001330528};
    double t = (temp_c - 20) / 100;

    return (struct optics){
        .here = isotherm_at(temp_c),
        .at_20 = isotherm_at(20),
        .factor = {polynomial(WATER, 5, t), 0.014404 * t, -0.006366 * t},
    };
}

/* Index at 20 degC and its slope for a whole unit of w. */
static struct slope index_at_20(double w)
{
    double w2 = w * w;

    return (struct slope){
        (1.33299 + 0.1426967 * w) + w2 * ((0.05509664 + 0.01107236 * w) + w2 * (0.01448767 - 0.01007924 * w)),
        (0.1426967 + 2 * 0.05509664 * w) +
            w2 * ((3 * 0.01107236 + 4 * 0.01448767 * w) - w2 * (5 * 0.01007924)),
    };
}

enum status sucrose_refractive_index_eval(double strength_pct, double temp_c, double *index)
{
    double w = strength_pct / 100;
    struct optics o;
    double square, refraction;

    if (!is_within(strength_pct, 0, SUCROSE_STRENGTH_MAX_PCT) || !is_within(temp_c, 0, SUCROSE_TEMP_MAX_C))
        return ST_RANGE;
    o = optics_at(temp_c);
    square = index_at_20(w).value;
    square *= square;
    refraction = (square - 1) * isotherm_density(&o.here, w) * polynomial(o.factor, 3, w) /
                 ((square + 2) * isotherm_density(&o.at_20, w));
    *index = sqrt((1 + 2 * refraction) / (1 - refraction));
    return ST_OK;
}

/* How far the refraction at w is beyond the wanted one; multiplied out, so that no step divides. */
static struct slope refraction_beyond(const void *of, double w)
{
    const struct optics *o = of;
    struct slope n = index_at_20(w);
    struct slope here = isotherm_slope(&o->here, w);
    struct slope at_20 = isotherm_slope(&o->at_20, w);
    double square = n.value * n.value;
    double factor = o->factor[0] + w * (o->factor[1] + w * o->factor[2]);
    double more = here.value * factor;
    double less = o->refraction * at_20.value;

    return (struct slope){
        (square - 1) * more - (square + 2) * less,
        2 * n.value * n.slope * (more - less) +
            (square - 1) * (here.slope * factor + here.value * (o->factor[1] + 2 * w * o->factor[2])) -
            (square + 2) * o->refraction * at_20.slope,
    };
}

/* The start is least squares over the whole range, within 0.01 of w. */
enum status sucrose_strength_from_index_eval(double index, double temp_c, double *strength_pct)
{
    double x = index - 1.33299;
    double t = (temp_c - 20) / 100;
    struct optics o;
    double w;

    if (!is_within(index, 1.31, 1.52) || !is_within(temp_c, 0, SUCROSE_TEMP_MAX_C))
        return ST_RANGE;
    o = optics_at(temp_c);
    o.refraction = (index * index - 1) / (index * index + 2);
    if (!newton_find(refraction_beyond, &o,
                     0.002 + x * (6.8653 - 0.2408 * t + x * (-15.2242 + x * 23.9562)) +
                         t * (0.0934 + 0.0331 * t),
                     SUCROSE_FRACTION_MAX, END_SLACK_PCT / 100, &w))
        return ST_RANGE;
    *strength_pct = 100 * w;
    return ST_OK;
}

/* ---- a reading at another temperature -------------------------------------------------- */

enum status sucrose_strength_from_inline_reading_eval(double reading_pct, double temp_c, double *strength_pct)
{
    if (!is_within(reading_pct, 0, SUCROSE_STRENGTH_MAX_PCT))
        return ST_RANGE;
    return sucrose_strength_from_index_eval(index_at_20(reading_pct / 100).value, temp_c, strength_pct);
}

#define PRISM_COLD_C 10
#define PRISM_ROWS 21
#define PRISM_STEP_PCT 5
#define PRISM_COLUMNS 15

/* International temperature correction table (1936): hundredths of a percent to add; rows 10-30 degC,
 * columns readings of 0-70 %. Rows 10-19 and 21 as printed in a GOST table for laboratory
 * refractometers (A.1; its 0.57 at 12 degC and 40 % taken for a misprint of 0.58), the rest from
 * memory. */
static const signed char PRISM[PRISM_ROWS][PRISM_COLUMNS] = {
    {-50, -54, -58, -61, -64, -66, -68, -70, -72, -73, -74, -75, -76, -78, -79},
    {-46, -49, -53, -55, -58, -60, -62, -64, -65, -66, -67, -68, -69, -70, -71},
    {-42, -45, -48, -50, -52, -54, -56, -57, -58, -59, -60, -61, -61, -63, -63},
    {-37, -40, -42, -44, -46, -48, -49, -50, -51, -52, -53, -54, -54, -55, -55},
    {-33, -35, -37, -39, -40, -41, -42, -43, -44, -45, -45, -46, -46, -47, -47},
    {-27, -29, -31, -33, -34, -34, -35, -36, -37, -37, -38, -39, -39, -40, -40},
    {-22, -24, -25, -26, -27, -28, -28, -29, -30, -30, -30, -31, -31, -32, -32},
    {-17, -18, -19, -20, -21, -21, -21, -22, -22, -23, -23, -23, -23, -24, -24},
    {-12, -13, -13, -14, -14, -14, -14, -15, -15, -15, -15, -16, -16, -16, -16},
    {-6, -6, -6, -7, -7, -7, -7, -8, -8, -8, -8, -8, -8, -8, -8},
    {0},
    {6, 7, 7, 7, 7, 8, 8, 8, 8, 8, 8, 8, 8, 8, 8},
    {13, 13, 14, 14, 15, 15, 15, 15, 15, 16, 16, 16, 16, 16, 16},
    {19, 20, 21, 22, 22, 23, 23, 23, 23, 24, 24, 24, 24, 24, 24},
    {26, 27, 28, 29, 30, 30, 31, 31, 31, 31, 31, 32, 32, 32, 32},
    {33, 35, 36, 37, 38, 38, 39, 40, 40, 40, 40, 40, 40, 40, 40},
    {40, 42, 43, 44, 45, 46, 47, 48, 48, 48, 48, 48, 48, 48, 48},
    {48, 50, 52, 53, 54, 55, 55, 56, 56, 56, 56, 56, 56, 56, 56},
    {56, 57, 60, 61, 62, 63, 63, 64, 64, 64, 64, 64, 64, 64, 64},
    {64, 66, 68, 69, 71, 72, 72, 73, 73, 73, 73, 73, 73, 73, 73},
    {72, 74, 77, 78, 79, 80, 80, 81, 81, 81, 81, 81, 81, 81, 81},
};

/* Linear between the two columns of one row. */
static double prism_row(size_t row, size_t column, double share)
{
    return PRISM[row][column] + share * (PRISM[row][column + 1] - PRISM[row][column]);
}

enum status sucrose_strength_from_prism_reading_eval(double reading_pct, double temp_c, double *strength_pct)
{
    double across = reading_pct / PRISM_STEP_PCT;
    double down = temp_c - PRISM_COLD_C;
    size_t row, column;
    double first, strength;

    if (!is_within(reading_pct, 0, PRISM_STEP_PCT * (PRISM_COLUMNS - 1)) ||
        !is_within(temp_c, PRISM_COLD_C, PRISM_COLD_C + PRISM_ROWS - 1))
        return ST_RANGE;
    row = down < PRISM_ROWS - 1 ? (size_t)down : PRISM_ROWS - 2;
    column = across < PRISM_COLUMNS - 1 ? (size_t)across : PRISM_COLUMNS - 2;
    across -= (double)column;
    first = prism_row(row, column, across);
    strength = reading_pct +
               (first + (down - (double)row) * (prism_row(row + 1, column, across) - first)) / 100;
    if (strength < -END_SLACK_PCT)
        return ST_RANGE;
    *strength_pct = fmax(strength, 0);
    return ST_OK;
}

/* ---- what is not sucrose ----------------------------------------------------------------- */

struct knot {
    double x;
    double y;
};

/* Linear between the knots; the first and the last value hold outside them. */
static double between_knots(const struct knot *knots, size_t count, double x)
{
    size_t i = 1;

    if (x <= knots[0].x)
        return knots[0].y;
    while (i < count && knots[i].x < x)
        i++;
    if (i == count)
        return knots[count - 1].y;
    return knots[i - 1].y +
           (knots[i].y - knots[i - 1].y) * (x - knots[i - 1].x) / (knots[i].x - knots[i - 1].x);
}

enum status sucrose_acid_correction_eval(double acid_pct, struct span *add_pct)
{
    static const struct knot JUICE[] = {{0, 0}, {1, 0.20}, {2, 0.39}, {5, 0.97}, {10, 1.91}};
    double low = 0.12 * acid_pct;
    double high;

    if (!is_within(acid_pct, 0, 10))
        return ST_RANGE;
    high = between_knots(JUICE, 5, acid_pct);
    *add_pct = (struct span){low, (low + high) / 2, high};
    return ST_OK;
}

enum status sucrose_invert_correction_eval(double reading_pct, double invert_pct, struct span *add_pct)
{
    static const struct knot PER_PCT[] = {{10, 0.011}, {20, 0.012}, {30, 0.014}, {40, 0.017}, {48, 0.018}};
    double low, high;

    if (!is_within(reading_pct, 0, SUCROSE_STRENGTH_MAX_PCT) ||
        !is_within(invert_pct, 0, SUCROSE_STRENGTH_MAX_PCT) || invert_pct > reading_pct + 0.022 * invert_pct)
        return ST_RANGE;
    low = invert_pct * between_knots(PER_PCT, 5, reading_pct);
    high = invert_pct * 0.022;
    *add_pct = (struct span){low, (low + high) / 2, high};
    return ST_OK;
}
