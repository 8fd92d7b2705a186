/* plant.h - the tank, its liquid and its machines as they truly are.
 *
 * Does:      heat, dissolving, mixing, acidity, flow and level, from what the outputs switch and
 *            what a person does by hand.
 * Does not:  measure (instruments.h), know registers, read a clock or a file, or allocate.
 * Thread:    any, one plant one thread. Memory: the caller's. Same seed and inputs, same run.
 *
 * The liquid is three zones, one above the other. Acid and water enter at the top, probe and
 * thermometer sit in the middle, the element and settled sugar at the bottom; the stirrer mixes
 * the zones. Amounts per kg of water; temperatures degC.
 */
#ifndef SIMULATOR_PLANT_H
#define SIMULATOR_PLANT_H

#include "simulator/plant_params.h"
#include "simulator/random.h"

#include <stdbool.h>
#include <stdint.h>

enum plant_zone { ZONE_TOP, ZONE_MIDDLE, ZONE_BOTTOM, ZONE_COUNT };
enum plant_stuff {
    STUFF_WATER,
    STUFF_SUGAR,
    STUFF_ACID,
    STUFF_ALKALI,
    STUFF_CARBON,
    STUFF_HEAT,
    STUFF_COUNT
};

/* kg water, kg dissolved sugar, mol acid, eq alkalinity, mol inorganic carbon, J */
struct plant_liquid {
    double stuff[STUFF_COUNT];
    double temp_c; /* from STUFF_HEAT */
    double ph;     /* water model, once a second */
    double co2;    /* dissolved carbon dioxide, mol/kg water, once a second */
};

/* Crystals that went in together: they shrink together. */
struct plant_cohort {
    double full_kg; /* mass at radius 1 */
    double radius;  /* of the radius they came with */
};
#define PLANT_COHORTS 8

struct plant_solids {
    struct plant_cohort cohorts[PLANT_COHORTS];
    int count;
    double kg;
    double suspended; /* share that is off the floor */
    double heat_j;
    double temp_c;
};

/* What switches and sets the machines. */
struct plant_inputs {
    bool heater_on;
    double heater_power_pct;
    bool stirrer_on;
    double stirrer_set_rpm;
    bool water_valve_open;
    bool dose_pump_on;
    double dose_ml_min;
};

struct plant_faults {
    bool heater_stuck_on; /* contactor welded: ignores coil and chain */
    bool stirrer_stopped; /* jammed */
    bool pump_airlock;    /* strokes are counted, nothing is delivered */
    bool water_stuck_open;
};

/* Totals since the start; what came in and what went out. */
struct plant_totals {
    double valve_l;    /* water through the valve, what a perfect meter counts */
    double strokes_ml; /* what the pump counts */
    double acid_ml;    /* what it delivers */
    double water_in_kg;
    double sugar_in_kg;
    double acid_in_kg;
    double evaporated_kg;
    double boiled_kg;
    double spilled_kg;
    double heater_j;
    double lost_j;  /* to room and air, in vapour, over the brim */
    double added_j; /* heat content of what came in */
    double dry_s;   /* time the element was powered while not covered */
    int bags;
};

/* Properties that change slowly, renewed once a second. */
struct plant_slow {
    double density_kg_m3;
    double viscosity_mpa_s;
    double boiling_c;
    double vapour_kg_s; /* from an open surface, still air */
    double gas_mol_kg;  /* carbon dioxide of water in balance with air */
    double mix_kg_s;    /* exchange between neighbouring zones, stirred */
    double film_factor;
};

struct plant {
    struct plant_params params;
    struct plant_faults faults;
    struct random random;
    struct plant_liquid zones[ZONE_COUNT];
    struct plant_liquid whole; /* all zones as if mixed, once a second */
    struct plant_solids solids;
    struct plant_totals totals;
    struct plant_slow slow;
    int64_t steps;
    double element_c;
    double wall_c;
    double stirrer_rpm;
    double valve_share;  /* 0 shut .. 1 open */
    double stroke_part;  /* of the stroke under way */
    double stroke_age_s; /* time since the last stroke */
    double heater_now_w; /* electrical */
    double evaporated_kg_s;
    bool contactor_closed;
    bool limiter_tripped;
    bool lid_closed;
    bool stop_pressed;
    bool low_switch; /* level covers the element, with the switch's hysteresis */
    bool high_switch;
};

/* An empty tank at room temperature, lid closed, everything off. */
void plant_init(struct plant *plant, const struct plant_params *params);

/* One step; dt_s is 0.1 in use, at most 0.2. */
void plant_step(struct plant *plant, const struct plant_inputs *inputs, double dt_s);

/* ---- what a person does by hand ------------------------------------------------------- */

/* Tip sugar in; kg is what the label or scale says, the true mass differs a little.
 * false and nothing done: the lid is closed. */
bool plant_add_bag(struct plant *plant, double kg);
/* Pour in tap water, kg; or solution of the same water, at temp_c. */
void plant_add_water(struct plant *plant, double kg);
void plant_add_solution(struct plant *plant, double water_kg, double sugar_kg, double temp_c);
/* Pour in acid dissolved in a little water. false: another acid is in the tank. */
bool plant_add_acid(struct plant *plant, enum acid acid, double grams);
void plant_set_lid(struct plant *plant, bool closed);
void plant_press_stop(struct plant *plant, bool pressed);
/* The limiter's reset button; it does not hold while the element is still hot. */
void plant_reset_limiter(struct plant *plant);

/* ---- the truth ------------------------------------------------------------------------ */

struct plant_truth {
    double water_kg;
    double dissolved_kg;
    double solid_kg;
    double acid_mol;
    double liquid_kg;
    double volume_l;           /* liquid and crystals */
    double strength_pct;       /* of the liquid as a whole; only what is dissolved */
    double final_strength_pct; /* if all sugar in the tank were dissolved */
    double ph;                 /* of the mixed liquid, water model */
    double probe_ph;           /* what a perfect probe would show where it sits */
    double probe_strength_pct;
    double liquid_c; /* mean */
    double probe_c;
    double element_c;
    double heater_kw;
    double stirrer_rpm;
    double heat_j; /* content of liquid, crystals, element and wall above 0 degC */
    bool boiled;
    bool dry_heated; /* powered for more than 2 s while not covered */
    bool overflowed;
};

void plant_truth_get(const struct plant *plant, struct plant_truth *truth);

/* The hard-wired safety chain: emergency stop and limiter. */
bool plant_chain_closed(const struct plant *plant);

/* Share of the element that is under the liquid, 0-1. */
double plant_element_covered(const struct plant *plant);

double plant_volume_l(const struct plant *plant);

#endif
