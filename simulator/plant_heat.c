#include "simulator/plant_parts.h"

#include "science/sucrose.h"

#include <assert.h>
#include <math.h>

#define STEFAN_BOLTZMANN 5.67e-8
#define AIR_HUMIDITY 0.6

static double clamp(double value, double low, double high)
{
    return fmax(low, fmin(high, value));
}

double plant_element_covered(const struct plant *plant)
{
    const struct plant_params *params = &plant->params;

    return clamp((plant_volume_l(plant) - params->element_bottom_l) /
                     (params->element_top_l - params->element_bottom_l),
                 0, 1);
}

/* Vapour pressure of water, kPa; Magnus form, from memory, within 0.5 % up to 80 degC. */
static double vapour_kpa(double temp_c)
{
    return 0.61094 * exp(17.625 * temp_c / (temp_c + 243.04));
}

static double humidity_ratio(double vapour, double pressure)
{
    return 0.622 * vapour / fmax(pressure - vapour, 5.0);
}

/* kg/s from an open surface: (25 + 19 v) A (xs - x) kg/h, a rule made for pools. */
static double vapour_flow(const struct plant *plant, double strength_pct)
{
    const struct plant_params *params = &plant->params;
    double activity = 1.0, pressure = params->pressure_kpa;
    double surface_c = plant->zones[ZONE_TOP].temp_c;
    double air = humidity_ratio(AIR_HUMIDITY * vapour_kpa(params->declared.room_c), pressure);

    if (sucrose_water_activity_eval(clamp(strength_pct, 0, 80), &activity) != ST_OK)
        activity = 1.0;
    return fmax(0, (25 + 19 * 0.1) * params->floor_m2 *
                       (humidity_ratio(activity * vapour_kpa(surface_c), pressure) - air) / 3600);
}

/* How well the liquid takes heat from the element, against stirred water. */
static double film_factor(const struct plant *plant)
{
    double speed = fmin(plant->stirrer_rpm / plant->params.declared.stirrer_rpm, 1.5);
    double bed_kg = plant->solids.kg * (1 - plant->solids.suspended);
    double buried = clamp((bed_kg - 40) / 100, 0, 1);

    return (0.35 + 0.65 * cbrt(speed * speed)) * (1 - 0.8 * buried) /
           sqrt(sqrt(fmax(plant->slow.viscosity_mpa_s, 0.3)));
}

void plant_heat_renew(struct plant *plant)
{
    struct plant_slow *slow = &plant->slow;
    double strength = clamp(plant_liquid_strength_pct(&plant->whole), 0, 85);
    double temp = clamp(plant->whole.temp_c, 0, 100);
    enum status density = sucrose_density_eval(strength, temp, &slow->density_kg_m3);
    enum status viscosity = sucrose_viscosity_eval(strength, temp, &slow->viscosity_mpa_s);
    enum status boiling = sucrose_boiling_point_eval(strength, plant->params.pressure_kpa, &slow->boiling_c);

    assert(density == ST_OK && viscosity == ST_OK && boiling == ST_OK);
    (void)density, (void)viscosity, (void)boiling;
    slow->vapour_kg_s = vapour_flow(plant, strength);
    slow->film_factor = film_factor(plant);
}

/* Heat between element and liquid or air. */
static void element_step(struct plant *plant, double dt_s)
{
    const struct plant_params *params = &plant->params;
    struct plant_liquid *bottom = &plant->zones[ZONE_BOTTOM];
    double covered = plant_element_covered(plant), room_c = params->declared.room_c;
    double kelvin = plant->element_c + 273.15, room_k = room_c + 273.15;
    double area_m2 = params->heater_w / 10000; /* 1 W/cm2 */
    double to_liquid = params->element_film_w_k * plant->slow.film_factor * covered *
                       (plant->element_c - bottom->temp_c);
    double to_air = (1 - covered) *
                    (params->element_dry_w_k * (plant->element_c - room_c) +
                     0.7 * STEFAN_BOLTZMANN * area_m2 *
                         (kelvin * kelvin * kelvin * kelvin - room_k * room_k * room_k * room_k));

    plant->element_c += (plant->heater_now_w - to_liquid - to_air) * dt_s / params->element_j_k;
    bottom->stuff[STUFF_HEAT] += to_liquid * dt_s;
    plant->totals.heater_j += plant->heater_now_w * dt_s;
    plant->totals.lost_j += to_air * dt_s;
    if (plant->heater_now_w > 0 && covered < 0.999)
        plant->totals.dry_s += dt_s;
    if (params->limiter_sheath_c > 0 && plant->element_c > params->limiter_sheath_c)
        plant->limiter_tripped = true;
}

static void wall_step(struct plant *plant, double dt_s)
{
    const struct plant_params *params = &plant->params;
    double total = plant_kg(plant);
    double wet = clamp(plant_volume_l(plant) / params->declared.capacity_l, 0, 1);
    double to_room = params->loss_w_k * (0.4 + 0.6 * wet) * (plant->wall_c - params->declared.room_c);
    double gained = -to_room;

    for (int z = 0; z < ZONE_COUNT && total > 1; z++) {
        struct plant_liquid *zone = &plant->zones[z];
        double flow = params->wall_film_w_k * wet * plant_liquid_kg(zone) / total *
                      (zone->temp_c - plant->wall_c);

        zone->stuff[STUFF_HEAT] -= flow * dt_s;
        gained += flow;
    }
    plant->wall_c += gained * dt_s / params->wall_j_k;
    plant->totals.lost_j += to_room * dt_s;
}

static void zone_evaporate(struct plant *plant, struct plant_liquid *zone, double kg)
{
    double heat = kg * plant_vapour_j_kg(zone->temp_c);

    zone->stuff[STUFF_WATER] -= kg;
    zone->stuff[STUFF_HEAT] -= heat;
    plant->totals.evaporated_kg += kg;
    plant->totals.lost_j += heat;
}

static void vapour_step(struct plant *plant, double dt_s)
{
    double open = plant->lid_closed ? 0.04 : 1.0;
    double kg = plant->slow.vapour_kg_s * open * dt_s;

    if (kg < 0.01 * plant->zones[ZONE_TOP].stuff[STUFF_WATER])
        zone_evaporate(plant, &plant->zones[ZONE_TOP], kg);
    for (int z = 0; z < ZONE_COUNT; z++) {
        struct plant_liquid *zone = &plant->zones[z];
        double above = zone->temp_c - plant->slow.boiling_c;

        if (above <= 0 || zone->stuff[STUFF_WATER] < 0.1)
            continue;
        kg = above * plant_liquid_j_k(zone) /
             (plant_vapour_j_kg(zone->temp_c) - plant_water_j(1, zone->temp_c));
        kg = fmin(kg, 0.05 * zone->stuff[STUFF_WATER]);
        zone_evaporate(plant, zone, kg);
        plant->totals.boiled_kg += kg;
    }
}

void plant_heat_step(struct plant *plant, double dt_s)
{
    element_step(plant, dt_s);
    wall_step(plant, dt_s);
    vapour_step(plant, dt_s);
}
