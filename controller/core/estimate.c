#include "core/estimate.h"

#include "core/leak.h"
#include "science/sucrose.h"

#include <math.h>

/* Water meters of this kind are good to about half a percent of reading, a sealed bag to about
 * half a percent of its mass (common practice, no source). As standard uncertainties: */
static const double METER_U = 0.003;
static const double BAG_U = 0.003;

double estimate_acid_g(const struct batch_plan *plan, double solution_ml)
{
    return solution_ml * plan->acid_stock_kg_l * plan->acid_stock_pct / 100;
}

static double acid_water_kg(const struct batch_plan *plan, double solution_ml)
{
    return solution_ml * 1e-3 * plan->acid_stock_kg_l * (1 - plan->acid_stock_pct / 100);
}

static void estimate_masses(struct turn *turn)
{
    const struct batch_memory *memory = &turn->scan->memory;
    struct estimate *e = &turn->scan->estimate;
    double total_kg;

    e->water_kg = memory->water_in_l * WATER_KG_L + acid_water_kg(&memory->plan, memory->acid_in_ml);
    e->water_u_kg = METER_U * e->water_kg;
    e->sugar_kg = memory->sugar_in_kg;
    /* Bags err independently of each other. */
    e->sugar_u_kg = memory->bags_in > 0 ? BAG_U * e->sugar_kg / sqrt(memory->bags_in) : 0;
    e->acid_g = estimate_acid_g(&memory->plan, memory->acid_in_ml);
    total_kg = e->water_kg + e->sugar_kg;
    e->final_strength_pct = total_kg > 0 ? 100 * e->sugar_kg / total_kg : 0;
    e->final_strength_u_pct = total_kg > 0
                                  ? 100 / (total_kg * total_kg) *
                                        hypot(e->water_kg * e->sugar_u_kg, e->sugar_kg * e->water_u_kg)
                                  : 0;
}

static void estimate_solids(struct turn *turn)
{
    struct estimate *e = &turn->scan->estimate;
    double reading_pct = turn_value(turn, POINT_STRENGTH_PCT);
    double dissolved_kg;
    double temp_c = turn_value(turn, POINT_TANK_TEMP_C);

    e->solid_kg = 0;
    if (isfinite(reading_pct) && reading_pct >= 0 && reading_pct < 90) {
        dissolved_kg = e->water_kg * reading_pct / (100 - reading_pct);
        e->solid_kg = fmax(0, e->sugar_kg - dissolved_kg);
    }
    if (!isfinite(temp_c) || sucrose_mix_volume_eval(e->sugar_kg, e->water_kg, temp_c, &e->liquid_l) != ST_OK)
        e->liquid_l = e->water_kg + 0.63 * e->sugar_kg; /* a sugar's share at any temperature, within 2 % */
}

static bool batch_is_under_way(enum batch_state state)
{
    return state != STATE_IDLE && state != STATE_STOPPED && state != STATE_ABORTED && state != STATE_COMPLETE;
}

static void estimate_tallies(struct turn *turn)
{
    struct batch_memory *memory = &turn->scan->memory;
    double dt_s = turn->scan->image.dt_s;
    double temp_c = turn_value(turn, POINT_TANK_TEMP_C);

    if (!batch_is_under_way(memory->state))
        return;
    if (memory->state == STATE_RUNNING) {
        memory->running_s += dt_s;
        memory->waiting_s += turn->scan->prompt.kind != PROMPT_NONE ? dt_s : 0;
    }
    if (turn_output_is_on(turn, POINT_HEATER_ON)) {
        double share = turn_is_bound(turn, POINT_HEATER_POWER_PCT)
                           ? turn_output(turn, POINT_HEATER_POWER_PCT) / 100
                           : 1;
        memory->heater_kwh += turn->setup->tank.heater_kw * share * dt_s / 3600;
    }
    if (!isfinite(temp_c))
        return;
    memory->peak_temp_c = fmax(memory->peak_temp_c, temp_c);
    memory->above_40_s += temp_c > 40 ? dt_s : 0;
    memory->above_50_s += temp_c > 50 ? dt_s : 0;
    memory->above_60_s += temp_c > 60 ? dt_s : 0;
}

void estimate_step(struct turn *turn)
{
    leak_step(turn);
    estimate_masses(turn);
    estimate_solids(turn);
    estimate_tallies(turn);
    turn->scan->scald = skin_scald_level(turn_value(turn, POINT_TANK_TEMP_C), turn->scan->scald);
}
