/* What goes into the balance. */
#include "science/acid_balance.h"

#include "science/acid.h"
#include "science/acid_solution.h"
#include "science/constants.h"
#include "science/science_range.h"
#include "science/water.h"
#include "science/water_davies.h"

#include <math.h>
#include <stdbool.h>

#define ACID_MAX_MOL_KG 0.1

static double power10(double x)
{
    return exp(LN10 * x);
}

enum status acid_species_set(struct acid_species *species, enum acid acid, double temp_c)
{
    int protons = acid_protons(acid);
    double sum = 0;

    if (protons == 0)
        return ST_RANGE;
    *species = (struct acid_species){0};
    for (int j = 0; j < protons; j++) {
        double pk;

        if (acid_pk_eval(acid, j + 1, temp_c, &pk) != ST_OK)
            return ST_RANGE;
        sum += pk;
        species->k[j] = power10(-sum);
    }
    return ST_OK;
}

enum status acid_species_set_carbonic(struct acid_species *species, double temp_c)
{
    double pk1, pk2;

    if (water_pk1_eval(temp_c, &pk1) != ST_OK || water_pk2_eval(temp_c, &pk2) != ST_OK)
        return ST_RANGE;
    *species = (struct acid_species){.k = {power10(-pk1), power10(-pk1 - pk2)}};
    return ST_OK;
}

static bool is_valid(const struct acid_solution *s)
{
    double sum = 0;

    for (int i = 0; i < ACID_COUNT; i++) {
        if (!is_within(s->acid_mol_kg[i], 0, ACID_MAX_MOL_KG))
            return false;
        sum += s->acid_mol_kg[i];
    }
    /* mixtures of solutions at the limit may pass it by rounding */
    return s->acid_mol_kg[ACID_NONE] == 0 && sum <= ACID_MAX_MOL_KG * (1 + 1e-12) &&
           is_within(s->alkalinity_meq_kg, -100, 100) && is_within(s->temp_c, 0, 60) &&
           (s->is_open ? is_within(s->co2_kpa, 0, ATM_KPA) : is_within(s->carbon_mmol_kg, 0, 200));
}

static enum status carbon_set(struct acid_balance *b, const struct acid_solution *s)
{
    struct acid_species carbonic;
    double pkh;

    b->gas_co2 = b->gas_k1 = b->gas_k1_k2 = 0;
    if (s->is_open ? s->co2_kpa == 0 : s->carbon_mmol_kg == 0)
        return ST_OK;
    if (acid_species_set_carbonic(&carbonic, s->temp_c) != ST_OK || water_pkh_eval(s->temp_c, &pkh) != ST_OK)
        return ST_RANGE;
    if (s->is_open) {
        b->gas_co2 = s->co2_kpa / ATM_KPA * power10(-pkh);
        b->gas_k1 = b->gas_co2 * carbonic.k[0];
        b->gas_k1_k2 = b->gas_co2 * carbonic.k[1];
        return ST_OK;
    }
    carbonic.mol_kg = s->carbon_mmol_kg / 1000;
    b->species[b->count++] = carbonic;
    return ST_OK;
}

enum status acid_balance_set(struct acid_balance *b, const struct acid_solution *solution)
{
    double pkw, a;

    if (!is_valid(solution) || water_pkw_eval(solution->temp_c, &pkw) != ST_OK ||
        water_debye_huckel_eval(solution->temp_c, &a) != ST_OK)
        return ST_RANGE;
    b->kw = power10(-pkw);
    b->davies = a * LN10;
    b->alkalinity = solution->alkalinity_meq_kg / 1000;
    b->count = 0;
    for (int i = ACID_NONE + 1; i < ACID_COUNT; i++) {
        if (solution->acid_mol_kg[i] == 0)
            continue;
        if (acid_species_set(&b->species[b->count], (enum acid)i, solution->temp_c) != ST_OK)
            return ST_RANGE;
        b->species[b->count++].mol_kg = solution->acid_mol_kg[i];
    }
    return carbon_set(b, solution);
}
