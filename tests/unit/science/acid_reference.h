/* acid_reference.h - the charge balance once more, slowly and on its own: plain sums, powers of ten,
 * bisection. Only the published constants are shared with what is tested. */
#ifndef TESTS_ACID_REFERENCE_H
#define TESTS_ACID_REFERENCE_H

#include "science/acid.h"
#include "science/acid_solution.h"
#include "science/water.h"
#include "support/support.h"

#include <math.h>

struct reference {
    double kw, k1, k2, kh, a;
    double k[ACID_COUNT][3];
};

static inline double reference_constant(enum status (*eval)(double, double *), double temp_c)
{
    double pk = NAN;

    ck_assert_int_eq(eval(temp_c, &pk), ST_OK);
    return pow(10, -pk);
}

static inline void reference_set(struct reference *r, double temp_c)
{
    r->kw = reference_constant(water_pkw_eval, temp_c);
    r->k1 = reference_constant(water_pk1_eval, temp_c);
    r->k2 = reference_constant(water_pk2_eval, temp_c);
    r->kh = reference_constant(water_pkh_eval, temp_c);
    ck_assert_int_eq(water_debye_huckel_eval(temp_c, &r->a), ST_OK);
    for (int acid = 0; acid < ACID_COUNT; acid++)
        for (int j = 0; j < acid_protons((enum acid)acid); j++) {
            double pk = NAN;

            ck_assert_int_eq(acid_pk_eval((enum acid)acid, j + 1, temp_c, &pk), ST_OK);
            r->k[acid][j] = pow(10, -pk);
        }
}

/* One step of a weak acid: its charge, and its part of the ionic strength. */
static inline double reference_acid(const double k[3], int protons, double a_h, const double g[5],
                                    double mol_kg, double *strength)
{
    double amount[4] = {1, 0, 0, 0};
    double sum = 1;
    double charge = 0;

    for (int z = 1; z <= protons; z++) {
        amount[z] = amount[z - 1] * g[z - 1] * k[z - 1] / (a_h * g[z]);
        sum += amount[z];
    }
    for (int z = 1; z <= protons; z++) {
        charge += z * amount[z] / sum * mol_kg;
        *strength += z * z * amount[z] / sum * mol_kg / 2;
    }
    return charge;
}

/* Surplus of positive charge at this pH and ionic strength; *strength becomes what the ions make. */
static inline double reference_charge(const struct reference *r, const struct acid_solution *s, double ph,
                                      double *strength)
{
    double limited = fmin(*strength, 0.5);
    double log_g = -r->a * (sqrt(limited) / (1 + sqrt(limited)) - 0.3 * limited);
    double g[5], a_h = pow(10, -ph), charge;
    const double carbonic[3] = {r->k1, r->k2, 0};

    for (int z = 0; z < 5; z++)
        g[z] = pow(10, z * z * log_g);
    charge = s->alkalinity_meq_kg / 1000 + a_h / g[1] - r->kw / a_h / g[1];
    *strength = fabs(s->alkalinity_meq_kg) / 2000 + (a_h + r->kw / a_h) / g[1] / 2;
    if (s->is_open) {
        double co2 = r->kh * s->co2_kpa / 101.325;
        double single = co2 * r->k1 / a_h / g[1];
        double pair = co2 * r->k1 / a_h * r->k2 / a_h / g[2];

        charge -= single + 2 * pair;
        *strength += single / 2 + 2 * pair;
    } else {
        charge -= reference_acid(carbonic, 2, a_h, g, s->carbon_mmol_kg / 1000, strength);
    }
    for (int acid = 1; acid < ACID_COUNT; acid++)
        charge -= reference_acid(r->k[acid], acid_protons((enum acid)acid), a_h, g, s->acid_mol_kg[acid],
                                 strength);
    return charge;
}

/* The same with the ionic strength that goes with the pH, found by repeating. */
static inline double reference_settled(const struct reference *r, const struct acid_solution *s, double ph)
{
    double strength = 0.1;

    for (int i = 0; i < 500; i++) {
        double made = strength;
        double charge = reference_charge(r, s, ph, &made);

        if (fabs(made - strength) <= 1e-15 * made)
            return charge;
        strength = made;
    }
    ck_abort_msg("no ionic strength for pH %g", ph);
    return 0;
}

static inline double reference_ph(const struct reference *r, const struct acid_solution *s)
{
    double low = 0;
    double high = 14.5;

    for (int i = 0; i < 60; i++) {
        double middle = (low + high) / 2;

        if (reference_settled(r, s, middle) > 0)
            low = middle;
        else
            high = middle;
    }
    return (low + high) / 2;
}

#endif
