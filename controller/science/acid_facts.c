/* What the acids are: names, masses, densities of their solutions. */
#include "science/acid.h"
#include "science/science_range.h"

#include <math.h>
#include <stddef.h>
#include <string.h>

#define DENSITY_ROWS_MAX 16

struct acid_fact {
    const char *name;
    double g_mol; /* anhydrous */
    int rows;
    double density[DENSITY_ROWS_MAX][2]; /* % by weight, kg/L at 20 degC */
};

static const struct acid_fact FACTS[ACID_COUNT] = {
    [ACID_NONE] = {"none", 0, 0, {{0}}},
    /* CRC (2021) up to 30 %; 50 % extrapolated */
    [ACID_CITRIC] =
        {"citric",
         192.124,
         7,
         {{0, 0.9982}, {1, 1.0022}, {5, 1.0189}, {10, 1.0402}, {20, 1.0858}, {30, 1.1346}, {50, 1.2420}}},
    /* from an apparent molar volume of 106 cm3/mol, from memory */
    [ACID_ASCORBIC] = {"ascorbic", 176.124, 2, {{0, 0.9982}, {20, 1.0848}}},
    [ACID_ACETIC] = {"acetic",
                     60.052,
                     16,
                     {{0, 0.9982},
                      {1, 0.9996},
                      {5, 1.0052},
                      {10, 1.0121},
                      {15, 1.0187},
                      {20, 1.0250},
                      {26, 1.0323},
                      {30, 1.0369},
                      {40, 1.0474},
                      {44, 1.0510},
                      {50, 1.0562},
                      {60, 1.0629},
                      {64, 1.0650},
                      {70, 1.0673},
                      {74, 1.0678},
                      {80, 1.0680}}},
    [ACID_LACTIC] = {"lactic",
                     90.078,
                     8,
                     {{0, 0.9982},
                      {1, 1.0002},
                      {5, 1.0086},
                      {10, 1.0199},
                      {20, 1.0439},
                      {40, 1.0915},
                      {60, 1.1392},
                      {80, 1.1848}}},
    [ACID_PHOSPHORIC] = {"phosphoric",
                         97.995,
                         11,
                         {{0, 0.9982},
                          {3, 1.0146},
                          {5, 1.0254},
                          {8, 1.0418},
                          {10, 1.0531},
                          {15, 1.0825},
                          {20, 1.1135},
                          {26, 1.1528},
                          {30, 1.1804},
                          {36, 1.2236},
                          {40, 1.2536}}},
    /* old handbook figures, from memory */
    [ACID_TARTARIC] = {"tartaric",
                       150.087,
                       6,
                       {{0, 0.9982}, {10, 1.045}, {20, 1.095}, {30, 1.148}, {40, 1.205}, {50, 1.267}}},
};

static const struct acid_fact *fact(enum acid acid)
{
    return (unsigned)acid < ACID_COUNT ? &FACTS[acid] : &FACTS[ACID_NONE];
}

const char *acid_name(enum acid acid)
{
    return fact(acid)->name;
}

enum acid acid_find(const char *name)
{
    if (name == NULL)
        return ACID_COUNT;
    for (int i = 0; i < ACID_COUNT; i++)
        if (strcmp(FACTS[i].name, name) == 0)
            return (enum acid)i;
    return ACID_COUNT;
}

enum status acid_molar_mass_eval(enum acid acid, double *g_mol)
{
    if (fact(acid)->rows == 0)
        return ST_RANGE;
    *g_mol = fact(acid)->g_mol;
    return ST_OK;
}

double acid_stock_limit_pct(enum acid acid)
{
    const struct acid_fact *a = fact(acid);

    return a->rows == 0 ? 0 : a->density[a->rows - 1][0];
}

static double chord(const struct acid_fact *a, int i)
{
    return (a->density[i + 1][1] - a->density[i][1]) / (a->density[i + 1][0] - a->density[i][0]);
}

/* Of the parabola through three rows, bounded so that the curve never turns between rows. */
static double density_slope(const struct acid_fact *a, int i)
{
    int last = a->rows - 1;
    double before, after, width_before, width_after;

    if (last == 1)
        return chord(a, 0);
    if (i == 0 || i == last) {
        int near = i == 0 ? 0 : last - 1;
        int far = i == 0 ? 1 : last - 2;
        double near_width = a->density[near + 1][0] - a->density[near][0];
        double far_width = a->density[far + 1][0] - a->density[far][0];
        double slope = chord(a, near) +
                       (chord(a, near) - chord(a, far)) * near_width / (near_width + far_width);

        return fmin(fmax(slope, 0), 3 * chord(a, near));
    }
    before = chord(a, i - 1);
    after = chord(a, i);
    width_before = a->density[i][0] - a->density[i - 1][0];
    width_after = a->density[i + 1][0] - a->density[i][0];
    return fmin((before * width_after + after * width_before) / (width_before + width_after),
                3 * fmin(before, after));
}

enum status acid_stock_density_eval(enum acid acid, double stock_pct, double *kg_l)
{
    const struct acid_fact *a = fact(acid);
    int i = 1;
    double width, at, rest;

    if (a->rows == 0 || !is_within(stock_pct, 0, acid_stock_limit_pct(acid)))
        return ST_RANGE;
    while (i < a->rows - 1 && stock_pct > a->density[i][0])
        i++;
    width = a->density[i][0] - a->density[i - 1][0];
    at = (stock_pct - a->density[i - 1][0]) / width;
    rest = 1 - at;
    *kg_l = rest * rest * (1 + 2 * at) * a->density[i - 1][1] + at * at * (1 + 2 * rest) * a->density[i][1] +
            at * rest * width * (rest * density_slope(a, i - 1) - at * density_slope(a, i));
    return ST_OK;
}

enum status acid_stock_content_eval(enum acid acid, double stock_pct, double *g_l, double *mol_l)
{
    double kg_l;

    if (acid_stock_density_eval(acid, stock_pct, &kg_l) != ST_OK)
        return ST_RANGE;
    *g_l = 1000 * kg_l * stock_pct / 100;
    *mol_l = *g_l / fact(acid)->g_mol;
    return ST_OK;
}

/* Citric acid, %, every 10 degC from 10 on: to 30 degC figures given by engineers, then the usual handbook
 * table. The crystals lose their water near 36 degC, so the curve has a bend there and is not smoothed. */
#define SATURATED_FROM_C 10.0
#define SATURATED_STEP_C 10.0
static const double CITRIC_SATURATED_PCT[] = {54.0, 59.2, 64.3, 68.6, 70.9, 73.5, 76.2, 78.8, 81.4, 84.0};
#define SATURATED_LAST (sizeof CITRIC_SATURATED_PCT / sizeof CITRIC_SATURATED_PCT[0] - 1)

static double citric_saturated_pct(double temp_c)
{
    double steps = (temp_c - SATURATED_FROM_C) / SATURATED_STEP_C;
    size_t i = (size_t)steps;
    double share;

    if (i == SATURATED_LAST) /* 100 degC: the end of the last stretch */
        i--;
    share = steps - (double)i;
    return (1 - share) * CITRIC_SATURATED_PCT[i] + share * CITRIC_SATURATED_PCT[i + 1];
}

enum status acid_solubility_eval(enum acid acid, double temp_c, double *saturated_pct)
{
    if (acid == ACID_CITRIC && is_within(temp_c, 10, 100)) {
        *saturated_pct = citric_saturated_pct(temp_c);
        return ST_OK;
    }
    if (acid == ACID_ASCORBIC && is_within(temp_c, 20, 25)) {
        *saturated_pct = 100 * 33.0 / 133.0;
        return ST_OK;
    }
    return ST_RANGE;
}
