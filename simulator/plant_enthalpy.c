#include "simulator/plant_parts.h"

#include <math.h>

/* Heat content is additive: water 4186.8 t, dissolved sugar 1676.8 t + 3.75 t^2 + h0 per kg,
 * crystals 1135.5 t + 2.156 t^2. The solution part is the formula of Bubnik et al. (1995) taken
 * apart; the crystals' is Maczelka's in Mohos (2010). h0 makes dissolving take the tank's own
 * heat of solution at 25 degC. */
#define WATER_J_KG_K 4186.8
#define SUGAR_J_KG_K 1676.8
#define SUGAR_J_KG_K2 3.75
#define CRYSTAL_J_KG_K 1135.46
#define CRYSTAL_J_KG_K2 2.1562

double plant_water_j(double kg, double temp_c)
{
    return kg * WATER_J_KG_K * temp_c;
}

double plant_crystal_j(double kg, double temp_c)
{
    return kg * (CRYSTAL_J_KG_K + CRYSTAL_J_KG_K2 * temp_c) * temp_c;
}

static double sugar_base_j_kg(const struct plant *plant)
{
    double dissolved = (SUGAR_J_KG_K + SUGAR_J_KG_K2 * 25) * 25;

    return plant->params.solution_heat_j_kg - dissolved + plant_crystal_j(1, 25);
}

double plant_liquid_j(const struct plant *plant, double water_kg, double sugar_kg, double temp_c)
{
    return plant_water_j(water_kg, temp_c) +
           sugar_kg * ((SUGAR_J_KG_K + SUGAR_J_KG_K2 * temp_c) * temp_c + sugar_base_j_kg(plant));
}

double plant_liquid_j_k(const struct plant_liquid *liquid)
{
    return liquid->stuff[STUFF_WATER] * WATER_J_KG_K +
           liquid->stuff[STUFF_SUGAR] * (SUGAR_J_KG_K + 2 * SUGAR_J_KG_K2 * liquid->temp_c);
}

/* t of a t^2 + b t = heat, in the form that is also right for a = 0. */
static double temp_of_heat(double a, double b, double heat)
{
    return 2 * heat / (b + sqrt(b * b + 4 * a * heat));
}

double plant_liquid_temp_c(const struct plant *plant, const struct plant_liquid *liquid, double empty_c)
{
    double water = liquid->stuff[STUFF_WATER], sugar = liquid->stuff[STUFF_SUGAR];

    if (water + sugar <= 1e-9)
        return empty_c;
    return temp_of_heat(sugar * SUGAR_J_KG_K2, water * WATER_J_KG_K + sugar * SUGAR_J_KG_K,
                        liquid->stuff[STUFF_HEAT] - sugar * sugar_base_j_kg(plant));
}

double plant_crystal_temp_c(double kg, double heat_j)
{
    return temp_of_heat(kg * CRYSTAL_J_KG_K2, kg * CRYSTAL_J_KG_K, heat_j);
}

/* Liquid water at temp_c plus heat of evaporation (2501 kJ/kg at 0 degC, from memory). */
double plant_vapour_j_kg(double temp_c)
{
    return plant_water_j(1, temp_c) + 2.501e6 - 2360 * temp_c;
}

void plant_temps_renew(struct plant *plant)
{
    for (int z = 0; z < ZONE_COUNT; z++)
        plant->zones[z].temp_c = plant_liquid_temp_c(plant, &plant->zones[z], plant->params.declared.room_c);
    if (plant->solids.kg > 0)
        plant->solids.temp_c = plant_crystal_temp_c(plant->solids.kg, plant->solids.heat_j);
}
