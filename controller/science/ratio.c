#include "science/ratio.h"

#include "science/constants.h"
#include "science/science_range.h"
#include "science/sucrose.h"

#include <stdbool.h>

#define WATER_KG_L 0.9982
#define SUGAR_BULK_KG_L 0.85
#define SYRUP_TEMP_C 20
#define STRENGTH_MIN_PCT 0.001
#define STRENGTH_MAX_PCT 99.999

struct basis {
    const char *words;
    double sugar_kg; /* in one unit of sugar */
    double water_kg; /* in one unit of water; 0 where it is made up to syrup */
    double syrup_l;  /* in one unit of finished syrup */
};

static const struct basis BASIS[RATIO_BASIS_COUNT] = {
    [RATIO_BY_WEIGHT] = {"by weight", 1, 1, 0},
    [RATIO_BY_VOLUME] = {"by volume", SUGAR_BULK_KG_L, WATER_KG_L, 0},
    [RATIO_KG_PER_L] = {"kg per litre", 1, WATER_KG_L, 0},
    [RATIO_LB_PER_US_GAL] = {"lb per us gallon", LB_KG, US_GAL_L *WATER_KG_L, 0},
    [RATIO_LB_PER_IMP_GAL] = {"lb per imperial gallon", LB_KG, IMP_GAL_L *WATER_KG_L, 0},
    [RATIO_LB_PER_US_PINT] = {"lb per us pint", LB_KG, US_GAL_L / 8 * WATER_KG_L, 0},
    [RATIO_LB_PER_IMP_PINT] = {"lb per imperial pint", LB_KG, IMP_GAL_L / 8 * WATER_KG_L, 0},
    [RATIO_KG_MADE_UP_TO_L] = {"kg made up to litres", 1, 0, 1},
    [RATIO_LB_MADE_UP_TO_US_GAL] = {"lb made up to us gallons", LB_KG, 0, US_GAL_L},
    [RATIO_LB_MADE_UP_TO_IMP_GAL] = {"lb made up to imperial gallons", LB_KG, 0, IMP_GAL_L},
};

static bool is_basis(enum ratio_basis basis)
{
    return basis > RATIO_BASIS_NONE && basis < RATIO_BASIS_COUNT;
}

static bool is_order(enum ratio_order order)
{
    return order == RATIO_SUGAR_FIRST || order == RATIO_WATER_FIRST;
}

const char *ratio_basis_words(enum ratio_basis basis)
{
    return is_basis(basis) ? BASIS[basis].words : "";
}

const char *ratio_order_words(enum ratio_order order)
{
    static const char *const WORDS[] = {
        [RATIO_SUGAR_FIRST] = "sugar first", [RATIO_WATER_FIRST] = "water first"};

    return is_order(order) ? WORDS[order] : "";
}

static bool is_number(double value)
{
    return is_within(value, RATIO_NUMBER_MIN, RATIO_NUMBER_MAX);
}

enum status ratio_strength_eval(const struct ratio *ratio, double *strength_pct)
{
    const struct basis *basis;
    double water_per_sugar;

    if (!is_basis(ratio->basis) || !is_order(ratio->order) || !is_number(ratio->first) ||
        !is_number(ratio->second))
        return ST_RANGE;
    basis = &BASIS[ratio->basis];
    water_per_sugar = ratio->order == RATIO_SUGAR_FIRST ? ratio->second / ratio->first
                                                        : ratio->first / ratio->second;
    if (basis->syrup_l > 0)
        return sucrose_strength_from_concentration_eval(
            1000 * basis->sugar_kg / (water_per_sugar * basis->syrup_l), SYRUP_TEMP_C, strength_pct);
    *strength_pct = 100 / (1 + water_per_sugar * basis->water_kg / basis->sugar_kg);
    return ST_OK;
}

/* Units of water, or of finished syrup, to one unit of sugar. */
static enum status water_per_sugar_eval(const struct basis *basis, double strength_pct, double *units)
{
    double g_l;

    if (basis->syrup_l > 0) {
        if (sucrose_concentration_eval(strength_pct, SYRUP_TEMP_C, &g_l) != ST_OK)
            return ST_RANGE;
        *units = 1000 * basis->sugar_kg / g_l / basis->syrup_l;
    } else {
        *units = (100 / strength_pct - 1) * basis->sugar_kg / basis->water_kg;
    }
    return ST_OK;
}

enum status ratio_second_eval(double first, double strength_pct, enum ratio_basis basis,
                              enum ratio_order order, double *second)
{
    double units;
    double result;

    if (!is_basis(basis) || !is_order(order) || !is_number(first) ||
        !is_within(strength_pct, STRENGTH_MIN_PCT, STRENGTH_MAX_PCT) ||
        water_per_sugar_eval(&BASIS[basis], strength_pct, &units) != ST_OK)
        return ST_RANGE;
    result = order == RATIO_SUGAR_FIRST ? first * units : first / units;
    if (!is_number(result))
        return ST_RANGE;
    *second = result;
    return ST_OK;
}
