#include "simulator/plant_parts.h"

#include <assert.h>
#include <math.h>

/* Constants of the simulator's own, not those of controller/science, so that agreement is not
 * built in:
 *   carbonic acid   Harned & Davis 1943, Harned & Scholes 1941 (forms from memory; at 25 degC
 *                   6.351, 10.330 and 1.466 against 6.352, 10.329 and 1.468 of Plummer &
 *                   Busenberg 1982)
 *   water           Harned & Owen (from memory; 13.995 at 25 degC)
 *   citric acid     Benezeth, Palmer, Wesolowski 1997; others common handbook values
 *   activity        Davies with the coefficient 0.2 of 1938 */
#define ANIONS_MAX 3
#define GAS_CONSTANT 8.314462618
#define AIR_CO2_LOG_ATM (-3.38)
#define SURFACE_STILL_SHARE 0.1

struct acid_facts {
    double molar_g;
    int anions;
    double pk[ANIONS_MAX];
    double heat_kj[ANIONS_MAX];
};

static const struct acid_facts ACIDS[ACID_COUNT] = {
    [ACID_NONE] = {1, 0, {0, 0, 0}, {0, 0, 0}},
    [ACID_CITRIC] = {192.12, 3, {3.127, 4.759, 6.397}, {4.1, 2.2, -3.6}},
    [ACID_ASCORBIC] = {176.12, 2, {4.10, 11.7, 0}, {0, 0, 0}},
    [ACID_ACETIC] = {60.05, 1, {4.76, 0, 0}, {-0.4, 0, 0}},
    [ACID_LACTIC] = {90.08, 1, {3.86, 0, 0}, {-0.3, 0, 0}},
    [ACID_PHOSPHORIC] = {97.99, 3, {2.15, 7.20, 12.35}, {-8.0, 3.6, 16.0}},
    [ACID_TARTARIC] = {150.09, 2, {3.04, 4.37, 0}, {3.2, 0.9, 0}},
};

/* Constants at one temperature, and activity coefficients at one ionic strength. */
struct balance {
    const struct acid_facts *acid;
    double alkali, acid_mol, carbon; /* per kg of water */
    double k1, k2, kw;
    double k_acid[ANIONS_MAX];
    double gamma[ANIONS_MAX + 1];
};

struct species {
    double charge; /* of the whole; 0 at the right acidity */
    double ionic;
    double co2;
};

double plant_acid_molar_g(enum acid acid)
{
    assert((unsigned)acid < ACID_COUNT);
    return ACIDS[acid].molar_g;
}

static double power10(double exponent)
{
    return exp(exponent * 2.302585092994046);
}

static double gas_mol_kg_atm(double kelvin)
{
    return power10(2385.73 / kelvin + 0.0152642 * kelvin - 14.0184);
}

static void balance_constants(struct balance *b, double temp_c)
{
    double kelvin = temp_c + 273.15;

    b->k1 = power10(-(3404.71 / kelvin + 0.032786 * kelvin - 14.8435));
    b->k2 = power10(-(2902.39 / kelvin + 0.02379 * kelvin - 6.4980));
    b->kw = power10(-(4470.99 / kelvin + 0.017060 * kelvin - 6.0875));
    for (int j = 0; j < b->acid->anions; j++)
        b->k_acid[j] = power10(-b->acid->pk[j]) *
                       exp(-b->acid->heat_kj[j] * 1000 / GAS_CONSTANT * (1 / kelvin - 1 / 298.15));
}

static void balance_activity(struct balance *b, double ionic, double temp_c)
{
    double root = sqrt(fmax(ionic, 0)), a = 0.4883 + 0.00088 * temp_c;
    double log_one = -a * (root / (1 + root) - 0.2 * ionic);

    b->gamma[0] = 1;
    for (int z = 1; z <= ANIONS_MAX; z++)
        b->gamma[z] = power10(log_one * z * z);
}

/* What the liquid holds at this hydrogen activity. */
static struct species balance_eval(const struct balance *b, double activity)
{
    double hydrogen = activity / b->gamma[1], hydroxide = b->kw / activity / b->gamma[1];
    double one = b->k1 / activity / b->gamma[1];
    double two = b->k1 * b->k2 / (activity * activity) / b->gamma[2];
    double co2 = b->carbon / (1 + one + two), sum = 1, charges = 0, squares = 0, term = 1;
    struct species s;

    for (int j = 0; j < b->acid->anions; j++) {
        term *= b->k_acid[j] / activity;
        sum += term / b->gamma[j + 1];
        charges += (j + 1) * term / b->gamma[j + 1];
        squares += (j + 1) * (j + 1) * term / b->gamma[j + 1];
    }
    s.charge = hydrogen + b->alkali - hydroxide - co2 * (one + 2 * two) - b->acid_mol * charges / sum;
    s.ionic = 0.5 * (hydrogen + b->alkali + hydroxide + co2 * (one + 4 * two) + b->acid_mol * squares / sum);
    s.co2 = co2;
    return s;
}

/* The charge falls as pH rises, so halving finds the one root. */
static double balance_ph(const struct balance *b, double guess)
{
    double low = guess - 0.05, high = guess + 0.05;

    while (low > 0 && balance_eval(b, power10(-low)).charge < 0)
        low -= 0.8;
    while (high < 14 && balance_eval(b, power10(-high)).charge > 0)
        high += 0.8;
    while (high - low > 1e-6) {
        double middle = 0.5 * (low + high);

        if (balance_eval(b, power10(-middle)).charge > 0)
            low = middle;
        else
            high = middle;
    }
    return 0.5 * (low + high);
}

void plant_acid_solve(enum acid acid, struct plant_liquid *liquid)
{
    double water = liquid->stuff[STUFF_WATER];
    struct balance b = {.acid = &ACIDS[acid]};
    struct species s;

    if (water < 0.01)
        return;
    b.alkali = liquid->stuff[STUFF_ALKALI] / water;
    b.acid_mol = liquid->stuff[STUFF_ACID] / water;
    b.carbon = liquid->stuff[STUFF_CARBON] / water;
    balance_constants(&b, liquid->temp_c);
    balance_activity(&b, b.alkali, liquid->temp_c);
    for (int pass = 0; pass < 2; pass++) {
        liquid->ph = balance_ph(&b, liquid->ph);
        s = balance_eval(&b, power10(-liquid->ph));
        balance_activity(&b, s.ionic, liquid->temp_c);
    }
    liquid->co2 = s.co2;
}

/* Inorganic carbon of the tap water, from its alkalinity and the pH it comes with. */
double plant_water_carbon(const struct plant_params *params)
{
    double alkali = params->alkalinity_meq_kg / 1000, activity = power10(-params->water_ph);
    struct balance b = {.acid = &ACIDS[ACID_NONE], .alkali = alkali, .carbon = 1};
    struct species one;

    balance_constants(&b, params->declared.water_c);
    balance_activity(&b, alkali, params->declared.water_c);
    one = balance_eval(&b, activity); /* charge = H + alkali - OH - carbon * share */
    b.carbon = 0;
    alkali = balance_eval(&b, activity).charge;
    return fmax(0, alkali / fmax(alkali - one.charge, 1e-9));
}

void plant_acid_renew(struct plant *plant)
{
    double kelvin = plant->zones[ZONE_TOP].temp_c + 273.15;

    for (int z = 0; z < ZONE_COUNT; z++)
        plant_acid_solve(plant->params.declared.acid, &plant->zones[z]);
    plant_acid_solve(plant->params.declared.acid, &plant->whole);
    plant->slow.gas_mol_kg = gas_mol_kg_atm(kelvin) * power10(AIR_CO2_LOG_ATM);
}

/* Carbon dioxide through the surface, towards balance with air. */
void plant_acid_step(struct plant *plant, double dt_s)
{
    struct plant_liquid *top = &plant->zones[ZONE_TOP];
    double speed = fmin(plant->stirrer_rpm / plant->params.declared.stirrer_rpm, 1.5);
    double metres_s = plant->params.gas_m_s * (SURFACE_STILL_SHARE + (1 - SURFACE_STILL_SHARE) * speed);
    /* mol/kg water times about 1000 kg/m3; thick syrup gives off less, like the film at a crystal */
    double mol = metres_s / fmax(plant->slow.viscosity_mpa_s, 1) * plant->params.floor_m2 * 1000 *
                 (top->co2 - plant->slow.gas_mol_kg) * dt_s;

    if (top->stuff[STUFF_WATER] < 1)
        return;
    mol = fmin(mol, 0.01 * top->stuff[STUFF_CARBON]);
    top->stuff[STUFF_CARBON] -= mol;
}
