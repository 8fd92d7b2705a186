#include "science/acid.h"

#include "science/science_range.h"

#include <math.h>
#include <stddef.h>

#define LN10 2.302585092994046
#define KELVIN 273.15
#define GAS_J_MOL_K 8.314462618
#define PROTONS_MAX 3
#define ACID_MAX_MOL_KG 0.1
#define WATER_ALKALINITY_MAX 20.0
#define IONIC_STRENGTH_MAX 0.5 /* the end of the Davies equation; higher is treated as this */
#define IONIC_ROUNDS 40        /* each halves the rest at worst */

/* ---- constants ----------------------------------------------------------------------- */

struct step_constant { /* one proton given off, at 25 degC and zero ionic strength */
    double pk;
    double heat_kj_mol;
    double capacity_j_mol_k;
};

struct acid_constants {
    int protons;
    struct step_constant steps[PROTONS_MAX];
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

static double step_log_k(const struct step_constant *s, double temp_k)
{
    double t0 = 298.15;
    double ln_k = -s->pk * LN10 - 1e3 * s->heat_kj_mol / GAS_J_MOL_K * (1 / temp_k - 1 / t0) +
                  s->capacity_j_mol_k / GAS_J_MOL_K * (t0 / temp_k - 1 + log(temp_k / t0));

    return ln_k / LN10;
}

/* log10 of an equilibrium constant: a + b T + c/T + d log10 T + e/T^2. */
static double log_k(const double fit[5], double temp_k)
{
    return fit[0] + fit[1] * temp_k + fit[2] / temp_k + fit[3] * log10(temp_k) + fit[4] / (temp_k * temp_k);
}

static const double LOG_K1[5] = {-356.3094, -0.06091964, 21834.37, 126.8339, -1684915};
static const double LOG_K2[5] = {-107.8871, -0.03252849, 5151.79, 38.92561, -563713.9};
static const double LOG_KH[5] = {108.3865, 0.01985076, -6919.53, -40.45154, 669365};
static const double LOG_KW[5] = {-283.9710, -0.05069842, 13323.00, 102.24447, -1119669};

/* Everything that depends on temperature and acid alone. */
struct water {
    double kw;
    double co2_k1;    /* activity of HCO3- times that of H+, in equilibrium with air */
    double co2_k1_k2; /* activity of CO3-- times that of H+ squared */
    double davies_a;
    int protons;
    double k[PROTONS_MAX]; /* cumulative: product of the first constants */
};

static void water_set(struct water *w, enum acid acid, double temp_c)
{
    double temp_k = temp_c + KELVIN;
    double co2 = pow(10, log_k(LOG_KH, temp_k) - 3.4);
    /* relative permittivity: Malmberg and Maryott (1956) */
    double epsilon = 87.740 - 0.40008 * temp_c + 9.398e-4 * temp_c * temp_c - 1.410e-6 * pow(temp_c, 3);
    double log_sum = 0;

    w->kw = pow(10, log_k(LOG_KW, temp_k));
    w->co2_k1 = co2 * pow(10, log_k(LOG_K1, temp_k));
    w->co2_k1_k2 = w->co2_k1 * pow(10, log_k(LOG_K2, temp_k));
    w->davies_a = 1.82483e6 / pow(epsilon * temp_k, 1.5); /* density of water taken as 1 */
    w->protons = ACIDS[acid].protons;
    for (int j = 0; j < w->protons; j++) {
        log_sum += step_log_k(&ACIDS[acid].steps[j], temp_k);
        w->k[j] = pow(10, log_sum);
    }
}

/* ---- the balance at a given pH and ionic strength -------------------------------------- */

/* Charges and half squared charges, per kg of water and per mole of acid. */
struct balance {
    double surplus; /* H+ less OH-, HCO3-, CO3--: the acid and the alkalinity make up the rest */
    double strength;
    double acid_charge; /* mean charge of one mole of acid */
    double acid_strength;
};

static void balance_set(struct balance *b, const struct water *w, double ph, double ionic_strength)
{
    double root = sqrt(fmin(ionic_strength, IONIC_STRENGTH_MAX));
    double g1 = pow(10, -w->davies_a * (root / (1 + root) - 0.3 * root * root));
    double g2 = g1 * g1 * g1 * g1; /* the exponent grows with the charge squared */
    double a_h = pow(10, -ph);
    double single = w->kw / (a_h * g1) + w->co2_k1 / (a_h * g1);
    double pair = w->co2_k1_k2 / (a_h * a_h * g2);
    double total = 1;
    double a_h_j = 1;
    double g_j[PROTONS_MAX] = {g1, g2, g2 * g2 * g1};

    b->surplus = a_h / g1 - single - 2 * pair;
    b->strength = (a_h / g1 + single) / 2 + 2 * pair;
    b->acid_charge = 0;
    b->acid_strength = 0;
    for (int j = 1; j <= w->protons && j <= PROTONS_MAX; j++) {
        double share;

        a_h_j *= a_h;
        share = w->k[j - 1] / (a_h_j * g_j[j - 1]);
        total += share;
        b->acid_charge += j * share;
        b->acid_strength += j * j * share / 2.0;
    }
    b->acid_charge /= total;
    b->acid_strength /= total;
}

enum unknown { FIND_NOTHING, FIND_ACID, FIND_ALKALINITY };

/* The balance with the ionic strength that goes with it. At a given pH it is linear, so acid or
 * alkalinity follow at once. All three public functions use this, which makes them inverses of
 * each other. */
static void balance_solve(struct balance *b, const struct water *w, double ph, enum unknown find,
                          double *acid_mol_kg, double *alkalinity)
{
    double ionic_strength = 0;

    for (int i = 0; i < IONIC_ROUNDS; i++) {
        balance_set(b, w, ph, ionic_strength);
        if (find == FIND_ACID)
            *acid_mol_kg = fmin(fmax((b->surplus + *alkalinity) / b->acid_charge, 0), 2 * ACID_MAX_MOL_KG);
        if (find == FIND_ALKALINITY)
            *alkalinity = *acid_mol_kg * b->acid_charge - b->surplus;
        /* alkalinity counts as the single charged ions it was measured against */
        ionic_strength = b->strength + fabs(*alkalinity) / 2 + *acid_mol_kg * b->acid_strength;
    }
}

/* ---- public -------------------------------------------------------------------------- */

static bool is_dose(enum acid acid, double acid_mol_kg)
{
    return (unsigned)acid < ACID_COUNT && is_within(acid_mol_kg, 0, acid == ACID_NONE ? 0 : ACID_MAX_MOL_KG);
}

enum status acid_water_ph_eval(double alkalinity_meq_kg, enum acid acid, double acid_mol_kg, double temp_c,
                               double *ph)
{
    double alkalinity = alkalinity_meq_kg / 1000;
    double low = 0;
    double high = 13;
    struct water w;

    if (!is_within(alkalinity_meq_kg, 0, 100) || !is_dose(acid, acid_mol_kg) || !is_within(temp_c, 0, 60))
        return ST_RANGE;
    water_set(&w, acid, temp_c);
    for (int i = 0; i < 50; i++) {
        struct balance b;
        double middle = (low + high) / 2;

        balance_solve(&b, &w, middle, FIND_NOTHING, &acid_mol_kg, &alkalinity);
        if (b.surplus + alkalinity - acid_mol_kg * b.acid_charge > 0)
            low = middle;
        else
            high = middle;
    }
    *ph = (low + high) / 2;
    return ST_OK;
}

enum status acid_for_ph_eval(double alkalinity_meq_kg, enum acid acid, double target_ph, double temp_c,
                             double *acid_mol_kg)
{
    double alkalinity = alkalinity_meq_kg / 1000;
    double needed = 0;
    struct water w;
    struct balance b;

    if (acid == ACID_NONE || (unsigned)acid >= ACID_COUNT || !is_within(target_ph, 3, 7) ||
        !is_within(alkalinity_meq_kg, 0, WATER_ALKALINITY_MAX) || !is_within(temp_c, 0, 60))
        return ST_RANGE;
    water_set(&w, acid, temp_c);
    balance_solve(&b, &w, target_ph, FIND_ACID, &needed, &alkalinity);
    if (needed > ACID_MAX_MOL_KG)
        return ST_RANGE;
    *acid_mol_kg = needed;
    return ST_OK;
}

enum status acid_alkalinity_eval(enum acid acid, double acid_mol_kg, double ph, double temp_c,
                                 double *alkalinity_meq_kg)
{
    const double slack = 1e-6; /* so that rounding at the ends does not refuse a true inverse */
    double alkalinity = 0;
    struct water w;
    struct balance b;

    if (!is_dose(acid, acid_mol_kg) || !is_within(ph, 2, 9) || !is_within(temp_c, 0, 60))
        return ST_RANGE;
    water_set(&w, acid, temp_c);
    balance_solve(&b, &w, ph, FIND_ALKALINITY, &acid_mol_kg, &alkalinity);
    if (!is_within(alkalinity * 1000, -slack, WATER_ALKALINITY_MAX + slack))
        return ST_RANGE;
    *alkalinity_meq_kg = fmin(fmax(alkalinity * 1000, 0), WATER_ALKALINITY_MAX);
    return ST_OK;
}
