#include "simulator/instruments.h"

#include "simulator/plant_parts.h"

#include <math.h>
#include <string.h>

#define STREAM_INSTRUMENTS 3
#define SHOW_STEPS 5    /* transmitters renew their value twice a second */
#define PROBES_WET_L 30 /* probe and refractometer window are under the liquid from here */
#define TANK_LAG_S 8.0  /* thermometer in a pocket */
#define SHEATH_LAG_S 1.5
#define REFRACTOMETER_LAG_S 3.0

static void errors_draw(struct random *random, struct instrument_errors *errors)
{
    *errors = (struct instrument_errors){
        .tank_c = random_normal(random, 0, 0.2),
        .sheath_c = random_normal(random, 0, 0.5),
        .room_c = random_normal(random, 0, 0.2),
        .probe_c = random_normal(random, 0, 0.2),
        .ph = random_normal(random, 0, 0.015),
        .ph_drift_h = random_normal(random, 0, 0.001),
        .probe_lag_s = random_between(random, 5, 15),
        .slope = random_between(random, 0.96, 1.0),
        .strength_pct = random_normal(random, 0, 0.05),
        .strength_pct_k = random_normal(random, 0, 0.001),
        .meter_gain = 1 + random_normal(random, 0, 0.003),
        .hand_strength_pct = random_normal(random, 0, 0.08),
        .hand_ph = random_normal(random, 0, 0.03),
    };
}

static void follow(double *shown, double truth, double lag_s, double dt_s)
{
    *shown += (truth - *shown) * fmin(1, dt_s / lag_s);
}

static bool probes_wet(const struct plant *plant)
{
    return plant_volume_l(plant) > PROBES_WET_L;
}

static double probe_ph(const struct plant *plant)
{
    /* A dry probe floats near its zero point. */
    return probes_wet(plant) ? plant_apparent_ph(plant, &plant->zones[ZONE_MIDDLE]) : 7.0;
}

static void follow_plant(struct instruments *in, const struct plant *plant, double dt_s)
{
    const struct plant_liquid *zone = &plant->zones[ZONE_MIDDLE];
    double ph = probe_ph(plant), flow = (plant->totals.valve_l - in->valve_l) / dt_s * 60;
    /* Glass follows a falling pH more slowly than a rising one. */
    double lag_s = in->errors.probe_lag_s * (ph < in->ph ? 1.4 : 1.0);

    follow(&in->tank_c, zone->temp_c, TANK_LAG_S, dt_s);
    follow(&in->sheath_c, plant->element_c, SHEATH_LAG_S, dt_s);
    follow(&in->probe_c, zone->temp_c, TANK_LAG_S, dt_s);
    follow(&in->ph, ph, lag_s, dt_s);
    follow(&in->strength_pct, plant_liquid_strength_pct(zone), REFRACTOMETER_LAG_S, dt_s);
    follow(&in->bubbles, plant->stirrer_rpm > 1.25 * plant->params.declared.stirrer_rpm ? 1 : 0, 20, dt_s);
    follow(&in->flow_l_min, flow, 0.5, dt_s);
    in->valve_l = plant->totals.valve_l;
    in->hours += dt_s / 3600;
}

static void show_switches(struct instruments *in, const struct plant *plant)
{
    double *value = in->values.value;

    value[POINT_LEVEL_COVERS_HEATER] = plant->low_switch || in->faults.level_stuck;
    value[POINT_LEVEL_BELOW_BRIM] = !plant->high_switch;
    value[POINT_LID_CLOSED] = plant->lid_closed;
    value[POINT_CHAIN_OK] = plant_chain_closed(plant);
    value[POINT_HEATER_IS_ON] = plant->contactor_closed;
}

static void show_temperatures(struct instruments *in, const struct plant *plant)
{
    const struct instrument_errors *errors = &in->errors;
    double *value = in->values.value;

    value[POINT_TANK_TEMP_C] = in->faults.tank_open
                                   ? INSTRUMENT_OPEN_WIRE_C
                                   : in->tank_c + errors->tank_c + random_normal(&in->random, 0, 0.03);
    value[POINT_SHEATH_TEMP_C] = in->faults.sheath_open
                                     ? INSTRUMENT_OPEN_WIRE_C
                                     : in->sheath_c + errors->sheath_c + random_normal(&in->random, 0, 0.2);
    value[POINT_ROOM_TEMP_C] = plant->params.declared.room_c + errors->room_c +
                               random_normal(&in->random, 0, 0.05);
}

static void show_acidity(struct instruments *in)
{
    const struct instrument_errors *errors = &in->errors;
    double *value = in->values.value;
    double noisy = in->ph + random_normal(&in->random, 0, 0.004);
    double mv_per_ph = 0.1984 * (in->probe_c + 273.15); /* R T ln10 / F */

    if (in->faults.probe_frozen)
        return;
    value[POINT_ACIDITY_PH] = noisy + errors->ph + errors->ph_drift_h * in->hours;
    value[POINT_PROBE_MV] = -mv_per_ph * errors->slope * (noisy - 7.0) + 4.0;
    value[POINT_PROBE_TEMP_C] = in->probe_c + errors->probe_c;
}

/* The scale begins at 0 %; air before the window is below it. */
static void show_strength(struct instruments *in, const struct plant *plant)
{
    const struct instrument_errors *errors = &in->errors;
    double sd = 0.02 + 0.3 * in->bubbles;
    double shown = in->strength_pct + random_normal(&in->random, 0, sd) + errors->strength_pct +
                   errors->strength_pct_k * (in->tank_c - 20);

    if (!in->faults.refractometer_frozen)
        in->values.value[POINT_STRENGTH_PCT] = probes_wet(plant) ? fmax(0, shown) : 0;
}

static void show_flow(struct instruments *in, const struct plant *plant)
{
    double *value = in->values.value;

    value[POINT_WATER_L] = plant->totals.valve_l * in->errors.meter_gain;
    value[POINT_WATER_L_MIN] = fmax(0, in->flow_l_min * in->errors.meter_gain);
    value[POINT_DOSED_ML] = plant->totals.strokes_ml;
    value[POINT_STIRRER_RPM] = fmax(0, plant->stirrer_rpm + random_normal(&in->random, 0, 0.3));
}

static void show_all(struct instruments *in, const struct plant *plant)
{
    show_temperatures(in, plant);
    show_acidity(in);
    show_strength(in, plant);
    show_flow(in, plant);
}

void instruments_init(struct instruments *instruments, uint64_t seed, const struct plant *plant)
{
    memset(instruments, 0, sizeof *instruments);
    random_seed(&instruments->random, seed, STREAM_INSTRUMENTS);
    errors_draw(&instruments->random, &instruments->errors);
    instruments->tank_c = instruments->probe_c = plant->zones[ZONE_MIDDLE].temp_c;
    instruments->sheath_c = plant->element_c;
    instruments->ph = probe_ph(plant);
    instruments->valve_l = plant->totals.valve_l;
    show_switches(instruments, plant);
    show_all(instruments, plant);
}

void instruments_step(struct instruments *instruments, const struct plant *plant, double dt_s)
{
    follow_plant(instruments, plant, dt_s);
    show_switches(instruments, plant);
    if (++instruments->steps % SHOW_STEPS == 0)
        show_all(instruments, plant);
    /* Counters do not wait for the next display. */
    instruments->values.value[POINT_WATER_L] = plant->totals.valve_l * instruments->errors.meter_gain;
    instruments->values.value[POINT_DOSED_ML] = plant->totals.strokes_ml;
}

double instruments_hand_strength_pct(struct instruments *instruments, const struct plant *plant)
{
    double shown = plant_liquid_strength_pct(&plant->zones[ZONE_TOP]) +
                   instruments->errors.hand_strength_pct + random_normal(&instruments->random, 0, 0.05);

    return round(fmax(0, shown) * 10) / 10;
}

double instruments_hand_ph(struct instruments *instruments, const struct plant *plant)
{
    double shown = plant_apparent_ph(plant, &plant->zones[ZONE_TOP]) + instruments->errors.hand_ph +
                   random_normal(&instruments->random, 0, 0.02);

    return round(shown * 100) / 100;
}
