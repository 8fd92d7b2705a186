/* acid_balance.h - the charge balance and its root; of this folder only. Any thread.
 *
 * Why one sign change is one root. For a given pH the ionic strength I that goes with it is unique: what
 * the ions make of I grows by less than 0.71 of it (60 degC, all charges threefold, no acid running out).
 * The charge grows with ln a_H all the way: with the sums V = sum c z^2, W = sum c z^4, C = sum c z^3 (of
 * an acid the variances and the covariance) and g the slope of -ln of a single ion's coefficient by I, its
 * derivative is V + C^2 g / (2 - W g); above 0 for g > 0, and also for g < 0 (from 0.39 mol/kg on) since
 * C^2 <= V W.
 */
#ifndef SCIENCE_ACID_BALANCE_H
#define SCIENCE_ACID_BALANCE_H

#include "base/status.h"
#include "science/acid_types.h"

#define ACID_PROTONS_MAX 3

struct acid_solution;

struct acid_species { /* what gives off protons one after the other */
    double mol_kg;
    double k[ACID_PROTONS_MAX]; /* cumulative: product of the first constants; 0 beyond the last proton */
};

/* Everything but the pH. */
struct acid_balance {
    double kw;
    double gas_k1;    /* activity of HCO3- times that of H+, in equilibrium with the gas; 0 closed */
    double gas_k1_k2; /* activity of CO3-- times that of H+ squared */
    double gas_co2;   /* mol/kg */
    double davies;    /* A ln10 */
    double alkalinity;
    int count;
    struct acid_species species[ACID_COUNT]; /* those present; carbonic acid in the place of none */
};

/* The balance at one activity of H+, with the ionic strength that goes with it, mol/kg. Derivatives
 * are complete ones, the ionic strength moving along, by ln of the activity of H+. */
struct acid_point {
    double positive; /* charge; positive = negative at the root */
    double negative;
    double positive_slope;
    double negative_slope;
    double ionic_strength;
    double strength_slope;
    double carbon;     /* total inorganic, when open */
    double per_alkali; /* change of positive with one more mol/kg of alkalinity, near 1 */
};

/* ST_RANGE outside the limits of acid_solution.h. */
enum status acid_balance_set(struct acid_balance *b, const struct acid_solution *solution) MUST_USE;

/* One acid's constants at this temperature; mol_kg becomes 0. ST_RANGE for what is no acid. */
enum status acid_species_set(struct acid_species *species, enum acid acid, double temp_c) MUST_USE;
enum status acid_species_set_carbonic(struct acid_species *species, double temp_c) MUST_USE;

/* The point at a_h. *ionic_strength is the first guess (above 0). */
void acid_point_settle(struct acid_point *p, const struct acid_balance *b, double a_h, double ionic_strength);

/* ln of the activity of H+ where the charges balance, with a point within 1e-7 of it. */
double acid_balance_root(const struct acid_balance *b, struct acid_point *p);

/* How much more of unknown (NULL: of alkalinity) balances the charges at a_h, mol/kg, not less than
 * low nor more than high. */
double acid_balance_amount(const struct acid_balance *b, const struct acid_species *unknown, double a_h,
                           double low, double high);

#endif
