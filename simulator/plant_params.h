/* plant_params.h - what this particular tank is like: declared values, perturbed by a seed.
 *
 * The declared values are what a tank file would say; the drawn ones are what is true. The
 * controller is never told the difference, so agreement is not built in. Constants of dissolving,
 * mixing, heat transfer and the probe are the simulator's own.
 */
#ifndef SIMULATOR_PLANT_PARAMS_H
#define SIMULATOR_PLANT_PARAMS_H

#include "science/acid_types.h"

#include <stdbool.h>
#include <stdint.h>

/* What the tank file and the person believe. */
struct plant_declared {
    double capacity_l;     /* liquid at which the high switch acts */
    double heater_cover_l; /* liquid at which the low switch acts */
    double heater_kw;
    double stirrer_rpm;
    double water_l_min;
    double dose_ml_min;
    double heat_loss_w_k;
    double altitude_m;
    double water_c;
    double sugar_c;
    double room_c;
    double alkalinity_meq_kg;
    enum acid acid; /* in the bottle; ACID_NONE: the bottle holds water */
    double acid_stock_pct;
    double bag_kg;
    /* A tank without that setting: the contactor alone gives full power, usual speed, usual rate. */
    bool fixed_power;
    bool fixed_speed;
    bool fixed_rate;
};

/* What is true. */
struct plant_params {
    struct plant_declared declared;
    uint64_t seed;

    double brim_l;           /* above this the tank runs over */
    double element_top_l;    /* liquid that just covers the element */
    double element_bottom_l; /* liquid that just touches it */
    double floor_m2;         /* tank floor, and the free surface */
    double heater_w;
    double element_j_k;
    double element_film_w_k; /* element to water at the usual stirring */
    double element_dry_w_k;  /* element to air, radiation apart */
    double limiter_sheath_c; /* manual-reset limiter in the safety chain; 0 for none */
    double wall_j_k;
    double wall_film_w_k;
    double loss_w_k;
    double pressure_kpa;

    double alkalinity_meq_kg;
    double water_ph;            /* of the water as it comes */
    double water_carbon_mol_kg; /* its inorganic carbon, from the two */
    double water_flow_factor;   /* of the declared flow */

    double bag_sd_kg; /* of one full bag */
    double crystal_m; /* diameter */
    double dissolve_factor;
    double suspend_rpm; /* speed that lifts the sugar off the floor */
    double solution_heat_j_kg;
    double ash_meq_kg; /* alkalinity the sugar itself brings */

    double mixing_s; /* 95 % blend time of water at the usual stirring */
    double stirrer_rpm_s;

    double stroke_ml;
    double pump_error;      /* true delivery is the counted strokes times 1 + this */
    double gas_m_s;         /* carbon dioxide through the surface, stirred */
    double syrup_ph_shift;  /* what a probe in 60 % syrup reads above the water model */
    double acid_mol_per_ml; /* of the bottle */
    double acid_kg_per_ml;  /* density of the bottle's solution */
};

/* The demo tank: 800 L, 12 kW, citric acid 30 %. */
void plant_declared_demo(struct plant_declared *declared);

/* Draw the true tank. Same seed and declared values, same result. */
void plant_params_draw(uint64_t seed, const struct plant_declared *declared, struct plant_params *params);

#endif
