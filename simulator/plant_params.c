#include "simulator/plant_params.h"

#include "science/acid.h"
#include "science/sucrose.h"
#include "simulator/plant_parts.h"
#include "simulator/random.h"

#include <assert.h>
#include <math.h>

#define STREAM_PARAMS 1

void plant_declared_demo(struct plant_declared *declared)
{
    *declared = (struct plant_declared){
        .capacity_l = 800,
        .heater_cover_l = 120,
        .heater_kw = 12,
        .stirrer_rpm = 120,
        .water_l_min = 30,
        .dose_ml_min = 100,
        .heat_loss_w_k = 25,
        .altitude_m = 200,
        .water_c = 12,
        .sugar_c = 18,
        .room_c = 16,
        .alkalinity_meq_kg = 2.5,
        .acid = ACID_CITRIC,
        .acid_stock_pct = 30,
        .bag_kg = 25,
    };
}

static void params_heat(struct random *random, struct plant_params *params)
{
    const struct plant_declared *declared = &params->declared;
    double liters = declared->capacity_l / 800;
    enum status status;

    params->brim_l = declared->capacity_l * 1.06;
    params->element_top_l = declared->heater_cover_l * 0.85;
    params->element_bottom_l = declared->heater_cover_l * 0.5;
    params->floor_m2 = 0.72 * cbrt(liters * liters);
    params->heater_w = declared->heater_kw * 1000 * random_normal_within(random, 1.0, 0.01, 0.03);
    /* About 6 K/s when it runs dry, and some 14 K above stirred water. */
    params->element_j_k = declared->heater_kw * 1000 / 6.0 * random_normal_within(random, 1.0, 0.05, 0.1);
    params->element_film_w_k = declared->heater_kw * 1000 / 14.0 *
                               random_normal_within(random, 1.0, 0.1, 0.2);
    params->element_dry_w_k = declared->heater_kw * 0.5;
    params->limiter_sheath_c = 150;
    params->wall_j_k = 30000 * liters * random_normal_within(random, 1.0, 0.1, 0.2);
    params->wall_film_w_k = 1500 * liters;
    params->loss_w_k = declared->heat_loss_w_k * random_between(random, 0.8, 1.2);
    status = air_pressure_eval(declared->altitude_m, &params->pressure_kpa);
    assert(status == ST_OK);
    (void)status;
}

static void params_sugar(struct random *random, struct plant_params *params)
{
    params->bag_sd_kg = 0.1;
    params->crystal_m = random_between(random, 0.5e-3, 0.8e-3);
    params->dissolve_factor = random_between(random, 0.6, 1.6);
    params->suspend_rpm = params->declared.stirrer_rpm * random_between(random, 0.45, 0.65);
    params->solution_heat_j_kg = random_normal_within(random, 17000, 1500, 3000);
    params->ash_meq_kg = random_between(random, 0.0, 0.05);
    params->mixing_s = random_between(random, 20, 60);
    params->stirrer_rpm_s = params->declared.stirrer_rpm / random_between(random, 1.5, 3.0);
}

static void params_acid(struct random *random, struct plant_params *params)
{
    const struct plant_declared *declared = &params->declared;
    double density_kg_l = 1.0;

    params->alkalinity_meq_kg = declared->alkalinity_meq_kg * random_normal_within(random, 1.0, 0.08, 0.15);
    params->water_ph = random_between(random, 7.1, 7.8);
    params->water_carbon_mol_kg = plant_water_carbon(params);
    params->water_flow_factor = random_between(random, 0.85, 1.05);
    params->stroke_ml = 0.25;
    params->pump_error = random_normal_within(random, 0, 0.02, 0.05);
    params->gas_m_s = random_between(random, 0.4e-4, 1.5e-4);
    params->syrup_ph_shift = random_normal_within(random, -0.12, 0.08, 0.2);
    params->acid_mol_per_ml = 0;
    if (declared->acid != ACID_NONE) {
        if (acid_stock_density_eval(declared->acid, declared->acid_stock_pct, &density_kg_l) != ST_OK)
            density_kg_l = 1.0 + 0.0045 * declared->acid_stock_pct;
        params->acid_mol_per_ml = density_kg_l * declared->acid_stock_pct / 100 /
                                  plant_acid_molar_g(declared->acid);
    }
    params->acid_kg_per_ml = density_kg_l / 1000;
}

void plant_params_draw(uint64_t seed, const struct plant_declared *declared, struct plant_params *params)
{
    struct random random;

    assert(declared->capacity_l > 0 && declared->heater_kw > 0 && declared->stirrer_rpm > 0);
    random_seed(&random, seed, STREAM_PARAMS);
    *params = (struct plant_params){.declared = *declared, .seed = seed};
    params_heat(&random, params);
    params_sugar(&random, params);
    params_acid(&random, params);
}
