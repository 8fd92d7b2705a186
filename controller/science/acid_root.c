/* The ions at one pH, and the pH at which their charges balance. */
#include "science/acid_balance.h"
#include "science/water_davies.h"

#include <math.h>
#include <stddef.h>

/* At pH 0 there is 1 mol/kg of H+ or more, at most 0.8 of negative charge within the limits of a solution
 * (0.1 of strong acid, 0.3 of acid, 0.4 of carbon); at pH 14.5 more OH- than the alkalinity's 0.1. */
#define LN_A_H_MIN (-14.5 * LN10)
#define LN_A_H_MAX 0.0
#define ROOT_ROUNDS 200 /* every other one halves the last step or the bracket; 14 have been seen */
#define SETTLE_ROUNDS 60
#define SLOPE_MAX 0.8
#define STEP_MIN 1e-7 /* Newton's next error is its square */
#define TIGHT 1e-6    /* of the ionic strength: leaves 1e-12 of the charges */
#define LOOSE 1e-2    /* leaves 1e-3 of them at worst, with threefold charges */
#define SIGN_CERTAIN 2e-2

/* ---- sums over the ions --------------------------------------------------------------------- */

/* Charge z of one mole: means of z, z^2, and how they move. With u the inverse activity coefficient
 * of a single charge, an ion's amount goes as u^(z^2) / a_h^z, which makes the derivatives variances. */
struct moments {
    double charge;          /* mean z */
    double square;          /* mean z^2 */
    double variance;        /* of z: fall of charge with ln a_h */
    double covariance;      /* of z and z^2: fall of square with ln a_h, rise of charge with ln u */
    double square_variance; /* of z^2: rise of square with ln u */
};

static struct moments moments_of(const struct acid_species *s, double per_h, const double u_z[])
{
    double one = s->k[0] * per_h * u_z[0]; /* for each that has given off none */
    double two = s->k[1] * per_h * per_h * u_z[1];
    double three = s->k[2] * per_h * per_h * per_h * u_z[2];
    double share = 1 / (1 + one + two + three);
    double z1 = share * (one + 2 * two + 3 * three);
    double z2 = share * (one + 4 * two + 9 * three);
    double z3 = share * (one + 8 * two + 27 * three);
    double z4 = share * (one + 16 * two + 81 * three);

    return (struct moments){z1, z2, z2 - z1 * z1, z3 - z1 * z2, z4 - z2 * z2};
}

/* Amounts and their derivatives by ln a_h (_x) and ln u (_u) at one a_h and ionic strength. */
struct sums {
    double positive, negative, strength;
    double positive_u, negative_u, strength_u;
    double positive_x, negative_x, strength_x;
    double u_slope; /* of ln u by the ionic strength */
    double u_z[ACID_PROTONS_MAX];
    double carbon, carbon_u;
};

static void species_add(struct sums *s, const struct acid_species *species, double per_h)
{
    struct moments m = moments_of(species, per_h, s->u_z);

    s->negative += species->mol_kg * m.charge;
    s->negative_x -= species->mol_kg * m.variance;
    s->negative_u += species->mol_kg * m.covariance;
    s->strength += species->mol_kg * m.square / 2;
    s->strength_x -= species->mol_kg * m.covariance / 2;
    s->strength_u += species->mol_kg * m.square_variance / 2;
}

static void sums_set(struct sums *s, const struct acid_balance *b, double a_h, double ionic_strength)
{
    double per_h = 1 / a_h;
    double u = exp(davies_ln(b->davies, ionic_strength));
    double u4 = u * u * u * u;
    double h = a_h * u;
    double single = (b->kw + b->gas_k1) * per_h * u;
    double pair = b->gas_k1_k2 * per_h * per_h * u4;

    s->u_slope = davies_slope(b->davies, ionic_strength);
    s->u_z[0] = u;
    s->u_z[1] = u4;
    s->u_z[2] = u4 * u4 * u;
    s->positive = h + fmax(b->alkalinity, 0);
    s->positive_x = s->positive_u = h;
    s->negative = single + 2 * pair + fmax(-b->alkalinity, 0);
    s->negative_x = -single - 4 * pair;
    s->negative_u = single + 8 * pair;
    s->strength = (h + single + fabs(b->alkalinity)) / 2 + 2 * pair;
    s->strength_x = (h - single) / 2 - 4 * pair;
    s->strength_u = (h + single) / 2 + 8 * pair;
    s->carbon = b->gas_co2 + b->gas_k1 * per_h * u + pair;
    s->carbon_u = b->gas_k1 * per_h * u + 4 * pair;
    for (int i = 0; i < b->count; i++)
        species_add(s, &b->species[i], per_h);
}

/* ---- solving -------------------------------------------------------------------------------- */

/* The next ionic strength to try. Newton near the solution, where the slope is below 0.7; far below it
 * the slope is any, and what the ions make of it leads upwards surely. */
static double ionic_next(double ionic_strength, double made, double slope)
{
    double next = ionic_strength + (made - ionic_strength) / (1 - slope);

    return slope < SLOPE_MAX && next > 0 ? next : made;
}

static void point_settle(struct acid_point *p, const struct acid_balance *b, double a_h,
                         double ionic_strength, double tolerance)
{
    struct sums s;
    double rest = 0;
    double slope = 0;

    for (int i = 0; i < SETTLE_ROUNDS; i++) {
        double next;

        sums_set(&s, b, a_h, ionic_strength);
        slope = s.strength_u * s.u_slope;
        next = ionic_next(ionic_strength, s.strength, slope);
        rest = next - ionic_strength;
        if (fabs(rest) <= tolerance * ionic_strength)
            break; /* what is left goes into the charges to first order; the second is below its square */
        ionic_strength = next;
    }
    p->ionic_strength = ionic_strength + rest;
    p->positive = s.positive + s.positive_u * s.u_slope * rest;
    p->negative = s.negative + s.negative_u * s.u_slope * rest;
    p->strength_slope = s.strength_x / (1 - slope);
    p->positive_slope = s.positive_x + s.positive_u * s.u_slope * p->strength_slope;
    p->negative_slope = s.negative_x + s.negative_u * s.u_slope * p->strength_slope;
    p->carbon = s.carbon + s.carbon_u * s.u_slope * rest;
    p->per_alkali = 1 +
                    (s.positive_u - s.negative_u) * s.u_slope * copysign(0.5, b->alkalinity) / (1 - slope);
}

void acid_point_settle(struct acid_point *p, const struct acid_balance *b, double a_h, double ionic_strength)
{
    point_settle(p, b, a_h, ionic_strength, TIGHT);
}

/* Acid left over makes it about pH 3.5, alkalinity left over about 8. */
static double first_guess(const struct acid_balance *b)
{
    double alkalinity = b->alkalinity;

    for (int i = 0; i < b->count; i++)
        alkalinity -= b->species[i].mol_kg * (b->species[i].k[0] > 1e-6);
    return alkalinity > 0 ? -8 * LN10 : -3.5 * LN10;
}

double acid_balance_root(const struct acid_balance *b, struct acid_point *p)
{
    double low = LN_A_H_MIN;
    double high = LN_A_H_MAX;
    double x = first_guess(b);
    double step = high - low;
    double ionic_strength = 0.01;

    for (int i = 0; i < ROOT_ROUNDS; i++) {
        double step_before = step;
        double gap;

        /* the logarithm of the ratio is nearly straight where the difference is steep */
        point_settle(p, b, exp(x), ionic_strength, LOOSE);
        gap = log(p->positive / p->negative);
        if (fabs(gap) < SIGN_CERTAIN) {
            acid_point_settle(p, b, exp(x), p->ionic_strength);
            gap = log(p->positive / p->negative);
        }
        if (gap > 0)
            high = x;
        else
            low = x;
        step = -gap / (p->positive_slope / p->positive - p->negative_slope / p->negative);
        if (fabs(step) < STEP_MIN)
            return x + step;
        if (!(x + step > low && x + step < high) || (i > 2 && 2 * fabs(step) > fabs(step_before)))
            step = (low + high) / 2 - x;
        x += step;
        ionic_strength = fmax(p->ionic_strength + p->strength_slope * step, p->ionic_strength / 4);
    }
    return x;
}

double acid_balance_amount(const struct acid_balance *b, const struct acid_species *unknown, double a_h,
                           double low, double high)
{
    struct moments m = {-1, 1, 0, 0, 0}; /* alkalinity */
    double ionic_strength = 0.01;
    double amount = 0;

    for (int i = 0; i < SETTLE_ROUNDS; i++) {
        struct sums s;
        double slope = 0; /* of the amount by ln u */
        double strength_u, next;

        sums_set(&s, b, a_h, ionic_strength);
        if (unknown != NULL)
            m = moments_of(unknown, 1 / a_h, s.u_z);
        amount = (s.positive - s.negative) / m.charge;
        if (amount > low && amount < high)
            slope = (s.positive_u - s.negative_u - amount * m.covariance) / m.charge;
        amount = fmin(fmax(amount, low), high);
        strength_u = s.strength_u +
                     (copysign(1, amount) * slope * m.square + fabs(amount) * m.square_variance) / 2;
        next = ionic_next(ionic_strength, s.strength + fabs(amount) * m.square / 2, strength_u * s.u_slope);
        if (fabs(next - ionic_strength) <= 1e-14 * ionic_strength)
            break;
        ionic_strength = next;
    }
    return amount;
}
