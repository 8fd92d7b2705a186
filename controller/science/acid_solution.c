#include "science/acid_solution.h"

#include "science/acid_balance.h"
#include "science/science_range.h"
#include "science/water_davies.h"

#include <math.h>
#include <stddef.h>

#define ACID_MAX_MOL_KG 0.1
#define CARBON_MAX_MOL_KG 0.2
#define ALKALINITY_MAX_MEQ_KG 100.0

static double a_h_of(double ph)
{
    return exp(-LN10 * ph);
}

enum status acid_solution_ph_eval(const struct acid_solution *solution, double *ph)
{
    struct acid_balance b;
    struct acid_point p;

    if (acid_balance_set(&b, solution) != ST_OK)
        return ST_RANGE;
    *ph = -acid_balance_root(&b, &p) / LN10;
    return ST_OK;
}

enum status acid_solution_dose_eval(const struct acid_solution *solution, enum acid acid, double target_ph,
                                    double *acid_mol_kg)
{
    struct acid_balance b;
    struct acid_species unknown;
    double room = ACID_MAX_MOL_KG;
    double needed;

    if (!is_within(target_ph, 2, 9) || acid_balance_set(&b, solution) != ST_OK ||
        acid_species_set(&unknown, acid, solution->temp_c) != ST_OK)
        return ST_RANGE;
    for (int i = 0; i < ACID_COUNT; i++)
        room -= solution->acid_mol_kg[i];
    needed = acid_balance_amount(&b, &unknown, a_h_of(target_ph), 0, 2 * ACID_MAX_MOL_KG);
    if (needed > fmax(room, 0))
        return ST_RANGE;
    *acid_mol_kg = needed;
    return ST_OK;
}

enum status acid_solution_alkalinity_eval(const struct acid_solution *solution, double ph,
                                          double *alkalinity_meq_kg)
{
    const double slack = 1e-9; /* so that rounding at the ends does not refuse a true inverse */
    struct acid_solution neutral = *solution;
    struct acid_balance b;
    double meq;

    neutral.alkalinity_meq_kg = 0;
    if (!is_within(ph, 2, 11) || acid_balance_set(&b, &neutral) != ST_OK)
        return ST_RANGE;
    meq = 1000 * acid_balance_amount(&b, NULL, a_h_of(ph), -1, 1);
    if (!is_within(fabs(meq), 0, ALKALINITY_MAX_MEQ_KG + slack))
        return ST_RANGE;
    *alkalinity_meq_kg = fmin(fmax(meq, -ALKALINITY_MAX_MEQ_KG), ALKALINITY_MAX_MEQ_KG);
    return ST_OK;
}

enum status acid_solution_carbon_eval(const struct acid_solution *solution, double *carbon_mmol_kg)
{
    struct acid_balance b;
    struct acid_point p;

    if (acid_balance_set(&b, solution) != ST_OK)
        return ST_RANGE;
    if (!solution->is_open) {
        *carbon_mmol_kg = solution->carbon_mmol_kg;
        return ST_OK;
    }
    acid_point_settle(&p, &b, exp(acid_balance_root(&b, &p)), 0.01);
    *carbon_mmol_kg = 1000 * p.carbon;
    return ST_OK;
}

enum status acid_report_carbon_eval(double alkalinity_meq_kg, double ph, double temp_c,
                                    double *carbon_mmol_kg)
{
    struct acid_solution bare = {.alkalinity_meq_kg = alkalinity_meq_kg, .temp_c = temp_c};
    struct acid_species carbonic;
    struct acid_balance b;
    double carbon;

    if (!is_within(alkalinity_meq_kg, 0.01, ALKALINITY_MAX_MEQ_KG) || !is_within(ph, 4, 11) ||
        acid_balance_set(&b, &bare) != ST_OK || acid_species_set_carbonic(&carbonic, temp_c) != ST_OK)
        return ST_RANGE;
    carbon = acid_balance_amount(&b, &carbonic, a_h_of(ph), -CARBON_MAX_MOL_KG, 2 * CARBON_MAX_MOL_KG);
    if (!is_within(carbon, 0, CARBON_MAX_MOL_KG))
        return ST_RANGE;
    *carbon_mmol_kg = 1000 * carbon;
    return ST_OK;
}

enum status acid_solution_buffer_eval(const struct acid_solution *solution, double *buffer_mol_kg)
{
    struct acid_balance b;
    struct acid_point p;
    double x;

    if (acid_balance_set(&b, solution) != ST_OK)
        return ST_RANGE;
    x = acid_balance_root(&b, &p);
    acid_point_settle(&p, &b, exp(x), p.ionic_strength);
    *buffer_mol_kg = LN10 * (p.positive_slope - p.negative_slope) / p.per_alkali;
    return ST_OK;
}

/* ---- mixing ------------------------------------------------------------------------------ */

enum status acid_solution_mix_eval(const struct acid_solution *a, double a_kg, const struct acid_solution *b,
                                   double b_kg, struct acid_solution *mixed)
{
    struct acid_solution sum = {0};
    double share, carbon_a, carbon_b;

    if (!is_within(a_kg, 0, 1e6) || !is_within(b_kg, 0, 1e6) || a_kg + b_kg == 0 ||
        acid_solution_carbon_eval(a, &carbon_a) != ST_OK || acid_solution_carbon_eval(b, &carbon_b) != ST_OK)
        return ST_RANGE;
    share = b_kg / (a_kg + b_kg);
#define MIX(x, y) ((1 - share) * (x) + share * (y))
    sum.alkalinity_meq_kg = MIX(a->alkalinity_meq_kg, b->alkalinity_meq_kg);
    sum.carbon_mmol_kg = MIX(carbon_a, carbon_b);
    sum.temp_c = MIX(a->temp_c, b->temp_c);
    for (int i = 0; i < ACID_COUNT; i++)
        sum.acid_mol_kg[i] = MIX(a->acid_mol_kg[i], b->acid_mol_kg[i]);
#undef MIX
    *mixed = sum;
    return ST_OK;
}

enum status acid_solution_dilute_eval(const struct acid_solution *solution, double factor,
                                      struct acid_solution *diluted)
{
    struct acid_solution thin = *solution;
    struct acid_balance b;

    if (!is_within(factor, 1, 1000) || acid_balance_set(&b, solution) != ST_OK)
        return ST_RANGE;
    thin.alkalinity_meq_kg /= factor;
    thin.carbon_mmol_kg = solution->is_open ? 0 : solution->carbon_mmol_kg / factor;
    for (int i = 0; i < ACID_COUNT; i++)
        thin.acid_mol_kg[i] /= factor;
    *diluted = thin;
    return ST_OK;
}
