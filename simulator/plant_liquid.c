#include "simulator/plant_parts.h"

#include <math.h>
#include <string.h>

static const double ZONE_SHARE[ZONE_COUNT] = {[ZONE_TOP] = 0.3, [ZONE_MIDDLE] = 0.45, [ZONE_BOTTOM] = 0.25};

double plant_liquid_kg(const struct plant_liquid *liquid)
{
    return liquid->stuff[STUFF_WATER] + liquid->stuff[STUFF_SUGAR];
}

double plant_liquid_strength_pct(const struct plant_liquid *liquid)
{
    double kg = plant_liquid_kg(liquid);

    return kg > 0 ? 100 * liquid->stuff[STUFF_SUGAR] / kg : 0;
}

void plant_liquid_move(struct plant_liquid *from, struct plant_liquid *to, double kg)
{
    double total = plant_liquid_kg(from);
    double share = total > 0 ? fmin(1.0, kg / total) : 0;

    for (int i = 0; i < STUFF_COUNT; i++) {
        double amount = from->stuff[i] * share;

        from->stuff[i] -= amount;
        to->stuff[i] += amount;
    }
}

void plant_liquid_exchange(struct plant_liquid *a, struct plant_liquid *b, double kg)
{
    double a_kg = plant_liquid_kg(a), b_kg = plant_liquid_kg(b);

    if (a_kg <= 0 || b_kg <= 0)
        return;
    kg = fmin(kg, 0.25 * fmin(a_kg, b_kg));
    for (int i = 0; i < STUFF_COUNT; i++) {
        double amount = a->stuff[i] * kg / a_kg - b->stuff[i] * kg / b_kg;

        a->stuff[i] -= amount;
        b->stuff[i] += amount;
    }
}

void plant_liquid_sum(const struct plant *plant, struct plant_liquid *sum)
{
    memset(sum->stuff, 0, sizeof sum->stuff);
    for (int z = 0; z < ZONE_COUNT; z++)
        for (int i = 0; i < STUFF_COUNT; i++)
            sum->stuff[i] += plant->zones[z].stuff[i];
}

double plant_kg(const struct plant *plant)
{
    double kg = 0;

    for (int z = 0; z < ZONE_COUNT; z++)
        kg += plant_liquid_kg(&plant->zones[z]);
    return kg;
}

/* What came in or left in one zone pushes its neighbours until the shares are right again. */
void plant_level_zones(struct plant *plant)
{
    double total = plant_kg(plant);

    for (int z = 0; z + 1 < ZONE_COUNT; z++) {
        double excess = plant_liquid_kg(&plant->zones[z]) - ZONE_SHARE[z] * total;

        if (excess > 0)
            plant_liquid_move(&plant->zones[z], &plant->zones[z + 1], excess);
        else
            plant_liquid_move(&plant->zones[z + 1], &plant->zones[z], -excess);
    }
}

/* Exchange by the stirrer at this speed and viscosity. The slowest of the three zones' modes
 * falls by exp(-4 q/M), and to 5 % within the 95 % blend time. */
double plant_mixing_kg_s(const struct plant *plant)
{
    const struct plant_params *params = &plant->params;
    double speed = plant->stirrer_rpm / params->declared.stirrer_rpm;
    double reynolds = 180000 * speed / fmax(plant->slow.viscosity_mpa_s, 0.2);
    double turbulent = reynolds / (reynolds + 2000);

    return 0.75 / params->mixing_s * speed * turbulent * plant_kg(plant);
}

/* Without the stirrer: warm liquid below cold rises, a heavy layer stays where it is. */
static double free_exchange_s(const struct plant_liquid *upper, const struct plant_liquid *lower)
{
    double heavier = 3.9 * (plant_liquid_strength_pct(lower) - plant_liquid_strength_pct(upper)) -
                     0.4 * (lower->temp_c - upper->temp_c);

    return heavier < 0 ? 1 / 60.0 : 1 / 7200.0;
}

void plant_mix(struct plant *plant, double dt_s)
{
    double total = plant_kg(plant);

    for (int z = 0; z + 1 < ZONE_COUNT; z++) {
        struct plant_liquid *upper = &plant->zones[z], *lower = &plant->zones[z + 1];
        double kg_s = plant->slow.mix_kg_s + 0.25 * total * free_exchange_s(upper, lower);

        plant_liquid_exchange(upper, lower, kg_s * dt_s);
    }
}
