#include "science/buffer.h"

#include "science/science_range.h"

#include <stdbool.h>
#include <stddef.h>

#define PRIMARY_U_PH 0.01
#define LOOSE_U_PH 0.02
#define HOT_C 60.0 /* above it the published tables of one buffer differ by 0.01 and more */

struct knot {
    double temp_c;
    double ph;
};

/* Tetroxalate to calcium hydroxide, but for phthalate: the NIST values as they stand, three decimals,
 * in public instrument source code; but for 0.001 here and there they are those of Bates (1962) and of
 * Staples and Bates (1969) as remembered. */
static const struct knot TETROXALATE[] = {
    {0, 1.666},  {5, 1.668},  {10, 1.670}, {15, 1.672}, {20, 1.675}, {25, 1.679},
    {30, 1.683}, {35, 1.688}, {40, 1.694}, {45, 1.700}, {50, 1.707}, {55, 1.715},
    {60, 1.723}, {70, 1.743}, {80, 1.765}, {90, 1.792}, {95, 1.806},
};
static const struct knot TARTRATE[] = {
    {25, 3.557}, {30, 3.552}, {35, 3.549}, {40, 3.547}, {45, 3.547}, {50, 3.549},
    {55, 3.554}, {60, 3.560}, {70, 3.580}, {80, 3.610}, {90, 3.650}, {95, 3.675},
};
static const struct knot CITRATE[] = {
    {0, 3.863},  {5, 3.840},  {10, 3.820}, {15, 3.803}, {20, 3.788}, {25, 3.776},
    {30, 3.766}, {35, 3.759}, {40, 3.754}, {45, 3.750}, {50, 3.749},
};
/* To 60 degC the equation of Hetzer et al. (1977), the only redetermination, and nearer to JIS Z 8802 than
 * the other tables. Above it Bates (1962) from memory, but for 70 degC (4.126), which JIS (4.12) does not
 * confirm. The values of IUPAC (2002) are lower by 0.010 at 0 degC, 0.001 at 25 and 0.008 at 70, and
 * higher by 0.008 at 95. */
static const struct knot PHTHALATE[] = {
    {0, 4.0101},  {5, 4.0036},  {10, 4.0001}, {15, 3.9995}, {20, 4.0015}, {25, 4.0059},
    {30, 4.0123}, {35, 4.0209}, {40, 4.0312}, {45, 4.0431}, {50, 4.0566}, {55, 4.0713},
    {60, 4.0873}, {80, 4.164},  {90, 4.205},  {95, 4.227},
};
static const struct knot PHOSPHATE[] = {
    {0, 6.984},  {5, 6.951},  {10, 6.923}, {15, 6.900}, {20, 6.881}, {25, 6.865},
    {30, 6.853}, {35, 6.844}, {40, 6.838}, {45, 6.834}, {50, 6.833}, {55, 6.833},
    {60, 6.836}, {70, 6.845}, {80, 6.859}, {90, 6.876}, {95, 6.886},
};
static const struct knot PHOSPHATE_35[] = {
    {0, 7.534},  {5, 7.500},  {10, 7.472}, {15, 7.448}, {20, 7.429}, {25, 7.413},
    {30, 7.400}, {35, 7.389}, {40, 7.380}, {45, 7.373}, {50, 7.367},
};
static const struct knot BORATE[] = {
    {0, 9.464},  {5, 9.395},  {10, 9.332}, {15, 9.276}, {20, 9.225}, {25, 9.180},
    {30, 9.139}, {35, 9.102}, {40, 9.068}, {45, 9.038}, {50, 9.010}, {55, 8.985},
    {60, 8.962}, {70, 8.921}, {80, 8.884}, {90, 8.850}, {95, 8.833},
};
static const struct knot CARBONATE[] = {
    {0, 10.317}, {5, 10.245}, {10, 10.179}, {15, 10.118}, {20, 10.062}, {25, 10.012},
    {30, 9.966}, {35, 9.925}, {40, 9.889},  {45, 9.857},  {50, 9.828},
};
static const struct knot HYDROXIDE[] = {
    {0, 13.424},  {5, 13.207},  {10, 13.003}, {15, 12.810}, {20, 12.627}, {25, 12.454}, {30, 12.289},
    {35, 12.133}, {40, 11.984}, {45, 11.841}, {50, 11.705}, {55, 11.574}, {60, 11.449},
};
/* An instrument's manual has these to two decimals, and a curve through such steps rises where the buffer
 * falls. So they are smoothed: within 0.005 of the manual's values, exact at 25 degC, and never turning. */
static const struct knot TECHNICAL_4[] = {
    {0, 3.9953},  {5, 3.9954},  {10, 3.9956}, {15, 3.9961}, {20, 3.9973}, {25, 4.0000},
    {30, 4.0060}, {35, 4.0152}, {40, 4.0268}, {45, 4.0403}, {50, 4.0552},
};
static const struct knot TECHNICAL_7[] = {
    {0, 7.1248},  {5, 7.0905},  {10, 7.0607}, {15, 7.0356}, {20, 7.0152}, {25, 7.0000},
    {30, 6.9906}, {35, 6.9852}, {40, 6.9814}, {45, 6.9781}, {50, 6.9748},
};
static const struct knot TECHNICAL_10[] = {
    {0, 10.3184}, {5, 10.2452}, {10, 10.1778}, {15, 10.1161}, {20, 10.0602}, {25, 10.0100},
    {30, 9.9652}, {35, 9.9255}, {40, 9.8905},  {45, 9.8603},  {50, 9.8348},
};

struct buffer_row {
    const char *name;
    const struct knot *knots;
    size_t count;
    double expanded_ph;
};

#define KNOTS(array) (array), sizeof(array) / sizeof(array)[0]

static const struct buffer_row BUFFERS[BUFFER_COUNT] = {
    [BUFFER_TETROXALATE] = {"tetroxalate", KNOTS(TETROXALATE), LOOSE_U_PH},
    [BUFFER_TARTRATE] = {"tartrate", KNOTS(TARTRATE), PRIMARY_U_PH},
    [BUFFER_CITRATE] = {"citrate", KNOTS(CITRATE), PRIMARY_U_PH},
    [BUFFER_PHTHALATE] = {"phthalate", KNOTS(PHTHALATE), PRIMARY_U_PH},
    [BUFFER_PHOSPHATE] = {"phosphate-1:1", KNOTS(PHOSPHATE), PRIMARY_U_PH},
    [BUFFER_PHOSPHATE_35] = {"phosphate-1:3.5", KNOTS(PHOSPHATE_35), PRIMARY_U_PH},
    [BUFFER_BORATE] = {"borate", KNOTS(BORATE), PRIMARY_U_PH},
    [BUFFER_CARBONATE] = {"carbonate", KNOTS(CARBONATE), PRIMARY_U_PH},
    [BUFFER_HYDROXIDE] = {"calcium-hydroxide", KNOTS(HYDROXIDE), LOOSE_U_PH},
    [BUFFER_TECHNICAL_4] = {"technical-4.00", KNOTS(TECHNICAL_4), LOOSE_U_PH},
    [BUFFER_TECHNICAL_7] = {"technical-7.00", KNOTS(TECHNICAL_7), LOOSE_U_PH},
    [BUFFER_TECHNICAL_10] = {"technical-10.01", KNOTS(TECHNICAL_10), LOOSE_U_PH},
};

/* NULL for no buffer, or where its table does not reach. */
static const struct buffer_row *row_at(enum buffer buffer, double temp_c)
{
    const struct buffer_row *row;

    if ((unsigned)buffer >= BUFFER_COUNT)
        return NULL;
    row = &BUFFERS[buffer];
    return is_within(temp_c, row->knots[0].temp_c, row->knots[row->count - 1].temp_c) ? row : NULL;
}

/* ---- the curve ------------------------------------------------------------------------------ */

static double width(const struct buffer_row *row, size_t i)
{
    return row->knots[i + 1].temp_c - row->knots[i].temp_c;
}

static double secant(const struct buffer_row *row, size_t i)
{
    return (row->knots[i + 1].ph - row->knots[i].ph) / width(row, i);
}

/* Slope at a knot, of the parabola through it and its neighbours (at the ends: the nearest three). */
static double tangent(const struct buffer_row *row, size_t i)
{
    size_t middle = i == 0 ? 1 : i == row->count - 1 ? i - 1 : i;
    double left = width(row, middle - 1);
    double right = width(row, middle);
    double bend = (secant(row, middle) - secant(row, middle - 1)) / (left + right);

    if (i < middle)
        return secant(row, 0) - bend * left;
    if (i > middle)
        return secant(row, middle) + bend * right;
    return secant(row, middle - 1) + bend * left;
}

/* Cubic between two knots with the tangents at both; value and derivative. */
static void curve(const struct buffer_row *row, double temp_c, double *ph, double *change_ph)
{
    size_t i = 0;
    double h, x, start, end, rise;

    while (i + 2 < row->count && temp_c > row->knots[i + 1].temp_c)
        i++;
    h = width(row, i);
    x = (temp_c - row->knots[i].temp_c) / h;
    start = tangent(row, i) * h;
    end = tangent(row, i + 1) * h;
    rise = row->knots[i + 1].ph - row->knots[i].ph;
    *ph = row->knots[i].ph + x * (start + x * (3 * rise - 2 * start - end + x * (start + end - 2 * rise)));
    *change_ph = (start + x * (2 * (3 * rise - 2 * start - end) + 3 * x * (start + end - 2 * rise))) / h;
}

/* ---- public ------------------------------------------------------------------------------------ */

const char *buffer_name(enum buffer buffer)
{
    return (unsigned)buffer < BUFFER_COUNT ? BUFFERS[buffer].name : NULL;
}

enum status buffer_range_eval(enum buffer buffer, double *low_c, double *high_c)
{
    if ((unsigned)buffer >= BUFFER_COUNT)
        return ST_RANGE;
    *low_c = BUFFERS[buffer].knots[0].temp_c;
    *high_c = BUFFERS[buffer].knots[BUFFERS[buffer].count - 1].temp_c;
    return ST_OK;
}

enum status buffer_ph_eval(enum buffer buffer, double temp_c, double *ph)
{
    const struct buffer_row *row = row_at(buffer, temp_c);
    double change_ph;

    if (row == NULL)
        return ST_RANGE;
    curve(row, temp_c, ph, &change_ph);
    return ST_OK;
}

enum status buffer_change_eval(enum buffer buffer, double temp_c, double *change_ph)
{
    const struct buffer_row *row = row_at(buffer, temp_c);
    double ph;

    if (row == NULL)
        return ST_RANGE;
    curve(row, temp_c, &ph, change_ph);
    return ST_OK;
}

enum status buffer_uncertainty_eval(enum buffer buffer, double temp_c, double *expanded_ph)
{
    const struct buffer_row *row = row_at(buffer, temp_c);

    if (row == NULL)
        return ST_RANGE;
    *expanded_ph = temp_c > HOT_C ? LOOSE_U_PH : row->expanded_ph;
    return ST_OK;
}
