/* What the acids are: names, masses, densities of their solutions. */
#include "science/acid.h"
#include "science/science_range.h"

#include <stddef.h>
#include <string.h>

#define DENSITY_ROWS_MAX 11

struct acid_fact {
    const char *name;
    double g_mol; /* anhydrous */
    int rows;
    double density[DENSITY_ROWS_MAX][2]; /* % by weight, kg/L at 20 degC */
};

static const struct acid_fact FACTS[ACID_COUNT] = {
    [ACID_NONE] = {"none", 0, 0, {{0}}},
    /* CRC (2021) up to 30 %; 50 % extrapolated */
    [ACID_CITRIC] = {"citric",
                     192.124,
                     6,
                     {{0, 0.9982}, {5, 1.0189}, {10, 1.0402}, {20, 1.0858}, {30, 1.1346}, {50, 1.242}}},
    /* from an apparent molar volume of 106 cm3/mol, from memory */
    [ACID_ASCORBIC] = {"ascorbic", 176.124, 2, {{0, 0.9982}, {20, 1.0848}}},
    [ACID_ACETIC] = {"acetic",
                     60.052,
                     10,
                     {{0, 0.9982},
                      {5, 1.0052},
                      {10, 1.0121},
                      {20, 1.0250},
                      {30, 1.0369},
                      {40, 1.0474},
                      {50, 1.0562},
                      {60, 1.0629},
                      {70, 1.0673},
                      {80, 1.0680}}},
    [ACID_LACTIC] =
        {"lactic",
         90.078,
         7,
         {{0, 0.9982}, {5, 1.0086}, {10, 1.0199}, {20, 1.0439}, {40, 1.0915}, {60, 1.1392}, {80, 1.1848}}},
    [ACID_PHOSPHORIC] = {"phosphoric",
                         97.995,
                         6,
                         {{0, 0.9982}, {5, 1.0254}, {10, 1.0531}, {20, 1.1135}, {30, 1.1804}, {40, 1.2536}}},
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

enum status acid_stock_density_eval(enum acid acid, double stock_pct, double *kg_l)
{
    const struct acid_fact *a = fact(acid);
    int i = 1;

    if (a->rows == 0 || !is_within(stock_pct, 0, acid_stock_limit_pct(acid)))
        return ST_RANGE;
    while (i < a->rows - 1 && stock_pct > a->density[i][0])
        i++;
    *kg_l = a->density[i - 1][1] + (stock_pct - a->density[i - 1][0]) /
                                       (a->density[i][0] - a->density[i - 1][0]) *
                                       (a->density[i][1] - a->density[i - 1][1]);
    return ST_OK;
}
