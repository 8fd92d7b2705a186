#include "simulator/plant_parts.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#define STREAM_PLANT 2
#define SLOW_STEPS 10 /* properties and acidity are renewed once a second */
#define SWITCH_HYSTERESIS_L 3.0
#define TAP_KG_L 0.9995 /* tap water at 5-15 degC */

/* ---- coming in ------------------------------------------------------------------------ */

static void pour(struct plant *plant, double water_kg, double sugar_kg, double temp_c, double mineral_kg)
{
    struct plant_liquid *top = &plant->zones[ZONE_TOP];
    double heat = plant_liquid_j(plant, water_kg, sugar_kg, temp_c);

    top->stuff[STUFF_WATER] += water_kg;
    top->stuff[STUFF_SUGAR] += sugar_kg;
    top->stuff[STUFF_HEAT] += heat;
    top->stuff[STUFF_ALKALI] += mineral_kg * plant->params.alkalinity_meq_kg / 1000;
    top->stuff[STUFF_CARBON] += mineral_kg * plant->params.water_carbon_mol_kg;
    plant->totals.water_in_kg += water_kg;
    plant->totals.sugar_in_kg += sugar_kg;
    plant->totals.added_j += heat;
}

static void valve_step(struct plant *plant, const struct plant_inputs *inputs, double dt_s)
{
    const struct plant_params *params = &plant->params;
    bool open = inputs->water_valve_open || plant->faults.water_stuck_open;
    double goal = open ? 1 : 0, change = dt_s / 0.5, liters;

    plant->valve_share += fmax(-change, fmin(change, goal - plant->valve_share));
    liters = params->declared.water_l_min * params->water_flow_factor / 60 * plant->valve_share * dt_s;
    if (liters <= 0)
        return;
    plant->totals.valve_l += liters;
    pour(plant, liters * TAP_KG_L, 0, params->declared.water_c, liters * TAP_KG_L);
}

static void pump_deliver(struct plant *plant, double ml)
{
    const struct plant_params *params = &plant->params;
    double kg = ml * params->acid_kg_per_ml, mol = ml * params->acid_mol_per_ml;
    double acid_kg = mol * plant_acid_molar_g(params->declared.acid) / 1000;

    plant->totals.acid_ml += ml;
    plant->totals.acid_in_kg += acid_kg;
    pour(plant, kg - acid_kg, 0, params->declared.room_c, 0);
    plant->zones[ZONE_TOP].stuff[STUFF_ACID] += mol;
}

/* Acid comes in strokes; the pump's own counter knows only how many. */
static void pump_step(struct plant *plant, const struct plant_inputs *inputs, double dt_s)
{
    const struct plant_params *params = &plant->params;
    double rate = params->declared.fixed_rate ? params->declared.dose_ml_min : inputs->dose_ml_min;

    if (!inputs->dose_pump_on)
        return;
    plant->stroke_part += fmax(0, rate) / 60 * dt_s / params->stroke_ml;
    while (plant->stroke_part >= 1) {
        plant->stroke_part -= 1;
        plant->totals.strokes_ml += params->stroke_ml;
        if (!plant->faults.pump_airlock)
            pump_deliver(plant, params->stroke_ml * (1 + params->pump_error));
    }
}

/* ---- machines ------------------------------------------------------------------------- */

static void stirrer_step(struct plant *plant, const struct plant_inputs *inputs, double dt_s)
{
    const struct plant_params *params = &plant->params;
    double set = params->declared.fixed_speed ? params->declared.stirrer_rpm : inputs->stirrer_set_rpm;
    double goal = inputs->stirrer_on ? fmax(0, fmin(set, 2 * params->declared.stirrer_rpm)) : 0;
    double change = params->stirrer_rpm_s * dt_s;

    if (plant->faults.stirrer_stopped) {
        goal = 0;
        change *= 5; /* a jam stops it at once */
    }
    plant->stirrer_rpm += fmax(-change, fmin(change, goal - plant->stirrer_rpm));
}

static void contactor_step(struct plant *plant, const struct plant_inputs *inputs)
{
    const struct plant_params *params = &plant->params;
    double power = params->declared.fixed_power ? 100 : fmax(0, fmin(inputs->heater_power_pct, 100));

    plant->contactor_closed = plant->faults.heater_stuck_on ||
                              (inputs->heater_on && plant_chain_closed(plant));
    plant->heater_now_w = plant->contactor_closed ? params->heater_w * power / 100 : 0;
}

static void level_step(struct plant *plant)
{
    double liters = plant_volume_l(plant);
    const struct plant_declared *declared = &plant->params.declared;

    plant->low_switch = liters > declared->heater_cover_l - (plant->low_switch ? SWITCH_HYSTERESIS_L : 0);
    plant->high_switch = liters > declared->capacity_l - (plant->high_switch ? SWITCH_HYSTERESIS_L : 0);
}

static void spill_step(struct plant *plant)
{
    struct plant_liquid *top = &plant->zones[ZONE_TOP];
    double over_kg = (plant_volume_l(plant) - plant->params.brim_l) * plant->slow.density_kg_m3 / 1000;
    struct plant_liquid gone = {{0}, 0, 0, 0};

    if (over_kg <= 0)
        return;
    plant_liquid_move(top, &gone, over_kg);
    plant->totals.spilled_kg += plant_liquid_kg(&gone);
    plant->totals.lost_j += gone.stuff[STUFF_HEAT];
}

/* ---- the step ------------------------------------------------------------------------- */

static void renew_slow(struct plant *plant)
{
    plant_liquid_sum(plant, &plant->whole);
    plant->whole.temp_c = plant_liquid_temp_c(plant, &plant->whole, plant->params.declared.room_c);
    plant_heat_renew(plant);
    plant->slow.mix_kg_s = plant_mixing_kg_s(plant);
    plant_acid_renew(plant);
}

void plant_init(struct plant *plant, const struct plant_params *params)
{
    memset(plant, 0, sizeof *plant);
    plant->params = *params;
    random_seed(&plant->random, params->seed, STREAM_PLANT);
    plant->lid_closed = true;
    plant->element_c = params->declared.room_c;
    plant->wall_c = params->declared.room_c;
    plant->solids.temp_c = params->declared.room_c;
    plant_temps_renew(plant);
    for (int z = 0; z < ZONE_COUNT; z++)
        plant->zones[z].ph = params->water_ph;
    plant->whole.ph = params->water_ph;
    renew_slow(plant);
}

void plant_step(struct plant *plant, const struct plant_inputs *inputs, double dt_s)
{
    assert(dt_s > 0 && dt_s <= 0.2);
    if (plant->steps++ % SLOW_STEPS == 0)
        renew_slow(plant);
    stirrer_step(plant, inputs, dt_s);
    contactor_step(plant, inputs);
    valve_step(plant, inputs, dt_s);
    pump_step(plant, inputs, dt_s);
    plant_heat_step(plant, dt_s);
    plant_sugar_step(plant, dt_s);
    plant_acid_step(plant, dt_s);
    plant_mix(plant, dt_s);
    plant_level_zones(plant);
    spill_step(plant);
    plant_temps_renew(plant);
    level_step(plant);
}

/* ---- a person's hands ----------------------------------------------------------------- */

bool plant_add_bag(struct plant *plant, double kg)
{
    double full = kg / plant->params.declared.bag_kg;

    if (plant->lid_closed)
        return false;
    kg = random_normal_within(&plant->random, kg, plant->params.bag_sd_kg * full, 0.02 * kg);
    plant_sugar_tip(plant, kg);
    plant->totals.bags++;
    return true;
}

void plant_add_solution(struct plant *plant, double water_kg, double sugar_kg, double temp_c)
{
    pour(plant, water_kg, sugar_kg, temp_c, water_kg);
    plant_level_zones(plant);
    plant_temps_renew(plant);
    renew_slow(plant);
    level_step(plant);
}

void plant_add_water(struct plant *plant, double kg)
{
    plant_add_solution(plant, kg, 0, plant->params.declared.water_c);
}

bool plant_add_acid(struct plant *plant, enum acid acid, double grams)
{
    double mol = grams / plant_acid_molar_g(acid), water_kg = grams / 1000 * 2;

    if (acid != plant->params.declared.acid)
        return false;
    plant->totals.acid_in_kg += grams / 1000;
    pour(plant, water_kg, 0, plant->params.declared.room_c, 0);
    plant->zones[ZONE_TOP].stuff[STUFF_ACID] += mol;
    plant_temps_renew(plant);
    return true;
}

void plant_set_lid(struct plant *plant, bool closed)
{
    plant->lid_closed = closed;
}

void plant_press_stop(struct plant *plant, bool pressed)
{
    plant->stop_pressed = pressed;
}

void plant_reset_limiter(struct plant *plant)
{
    if (plant->element_c < plant->params.limiter_sheath_c - 20)
        plant->limiter_tripped = false;
}

/* ---- the truth ------------------------------------------------------------------------ */

bool plant_chain_closed(const struct plant *plant)
{
    return !plant->stop_pressed && !plant->limiter_tripped;
}

double plant_volume_l(const struct plant *plant)
{
    return 1000 * (plant_kg(plant) / plant->slow.density_kg_m3 + plant->solids.kg / PLANT_CRYSTAL_KG_M3);
}

double plant_apparent_ph(const struct plant *plant, const struct plant_liquid *zone)
{
    double w = plant_liquid_strength_pct(zone) / 60;

    return zone->ph + plant->params.syrup_ph_shift * w * w;
}

void plant_truth_get(const struct plant *plant, struct plant_truth *truth)
{
    const struct plant_liquid *probe = &plant->zones[ZONE_MIDDLE];
    struct plant_liquid whole = plant->whole;
    double sugar, heat;

    plant_liquid_sum(plant, &whole);
    whole.temp_c = plant_liquid_temp_c(plant, &whole, plant->params.declared.room_c);
    plant_acid_solve(plant->params.declared.acid, &whole);
    sugar = whole.stuff[STUFF_SUGAR] + plant->solids.kg;
    heat = whole.stuff[STUFF_HEAT] + plant->solids.heat_j + plant->element_c * plant->params.element_j_k +
           plant->wall_c * plant->params.wall_j_k;
    *truth = (struct plant_truth){
        .water_kg = whole.stuff[STUFF_WATER],
        .dissolved_kg = whole.stuff[STUFF_SUGAR],
        .solid_kg = plant->solids.kg,
        .acid_mol = whole.stuff[STUFF_ACID],
        .liquid_kg = plant_liquid_kg(&whole),
        .volume_l = plant_volume_l(plant),
        .strength_pct = plant_liquid_strength_pct(&whole),
        .final_strength_pct = sugar > 0 ? 100 * sugar / (sugar + whole.stuff[STUFF_WATER]) : 0,
        .ph = whole.ph,
        .probe_ph = plant_apparent_ph(plant, probe),
        .probe_strength_pct = plant_liquid_strength_pct(probe),
        .liquid_c = whole.temp_c,
        .probe_c = probe->temp_c,
        .element_c = plant->element_c,
        .heater_kw = plant->heater_now_w / 1000,
        .stirrer_rpm = plant->stirrer_rpm,
        .heat_j = heat,
        .boiled = plant->totals.boiled_kg > 0.01,
        .dry_heated = plant->totals.dry_s > 2,
        .overflowed = plant->totals.spilled_kg > 0,
    };
}
