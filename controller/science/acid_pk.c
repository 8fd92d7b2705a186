/* How readily each proton of an acid comes off, with temperature. */
#include "science/acid.h"

#include "science/acid_balance.h"
#include "science/constants.h"
#include "science/science_range.h"

#include <math.h>
#include <stdbool.h>

#define T0_K 298.15

struct step_constant { /* at 25 degC and zero ionic strength */
    double pk;
    double heat_kj_mol;
    double capacity_j_mol_k;
};

struct acid_constants {
    int protons;
    struct step_constant steps[ACID_PROTONS_MAX];
};

static const struct acid_constants ACIDS[ACID_COUNT] = {
    [ACID_NONE] = {0, {{0}}},
    [ACID_CITRIC] = {3, {{3.128, 4.07, -131}, {4.761, 2.23, -178}, {6.396, -3.38, -254}}},
    [ACID_ASCORBIC] = {2, {{4.17, 0, 0}, {11.57, 0, 0}}}, /* no heat known */
    [ACID_ACETIC] = {1, {{4.756, -0.41, -142}}},
    [ACID_LACTIC] = {1, {{3.86, -0.33, 0}}},
    [ACID_PHOSPHORIC] = {3, {{2.148, -8.0, -141}, {7.198, 3.6, -230}, {12.35, 16.0, -242}}},
    [ACID_TARTARIC] = {2, {{3.036, 3.19, -147}, {4.366, 0.93, -218}}},
};

int acid_protons(enum acid acid)
{
    return (unsigned)acid < ACID_COUNT ? ACIDS[acid].protons : 0;
}

enum status acid_pk_eval(enum acid acid, int step, double temp_c, double *pk)
{
    const struct step_constant *s;
    double ratio = T0_K / (temp_c + ZERO_C_K);

    if (step < 1 || step > acid_protons(acid) || !is_within(temp_c, 0, 75))
        return ST_RANGE;
    s = &ACIDS[acid].steps[step - 1];
    *pk = s->pk +
          (1e3 * s->heat_kj_mol / T0_K * (ratio - 1) - s->capacity_j_mol_k * (ratio - 1 - log(ratio))) /
              (GAS_J_MOL_K * LN10);
    return ST_OK;
}
