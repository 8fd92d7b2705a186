/* acidity.c - feed-forward by alkalinity, in undershooting pulses.
 *
 * The dose is set by the water's alkalinity, hardly by its pH, so the declared alkalinity gives the
 * first half-dose and each later answer corrects it. Above about pH 5.2 escaping carbon dioxide, not
 * the dose, decides the reading: nothing is learned there. An overshoot cannot be undone and an
 * undershoot does no harm, so every pulse aims short and the loop stops on the high side. */
#include "core/acidity.h"

#include "core/ask.h"
#include "core/estimate.h"
#include "core/pulse.h"
#include "science/acid.h"

#include <math.h>

static const double LEARN_BELOW_PH = 5.2;
static const double AIM_ABOVE_PH = 0.02; /* aim this much above the target */
static const double FIRST_SHARE = 0.5;   /* of what is still missing, while the water is only declared */
static const double LATER_SHARE = 0.8;   /* once it has been learned */
static const double MEASURE_S = 20;
static const double PULSE_SHARE = 0.2; /* of the whole dose expected: bounds what a crash leaves unknown */
static const double HAND_SCALE_G = 1;  /* smallest portion a person weighs */

static void acidity_go(struct turn *turn, enum acidity_phase phase)
{
    turn->scan->acidity.phase = phase;
    turn->scan->acidity.phase_us = turn->scan->image.now_us;
    mean_clear(&turn->scan->acidity.ph);
}

void acidity_enter(struct turn *turn)
{
    turn->scan->acidity.measured_ph = NAN;
    acidity_go(turn, ACIDITY_MIX);
}

/* Acid in the water so far, mol per kg of water. */
static double acid_mol_kg(const struct turn *turn, double grams)
{
    double g_mol;
    double water_kg = turn->scan->estimate.water_kg;

    if (acid_molar_mass_eval(turn->scan->memory.plan.request.acid, &g_mol) != ST_OK || water_kg <= 0)
        return NAN;
    return grams / g_mol / water_kg;
}

static double grams_of_mol_kg(const struct turn *turn, double mol_kg)
{
    double g_mol;

    if (acid_molar_mass_eval(turn->scan->memory.plan.request.acid, &g_mol) != ST_OK)
        return NAN;
    return mol_kg * g_mol * turn->scan->estimate.water_kg;
}

static double water_temp_c(const struct turn *turn)
{
    double temp_c = turn_value(turn, POINT_TANK_TEMP_C);

    return isfinite(temp_c) ? fmin(fmax(temp_c, 0), 60) : 25;
}

static void acidity_learn(struct turn *turn)
{
    struct batch_memory *memory = &turn->scan->memory;
    double ph = turn->scan->acidity.measured_ph;
    double mol_kg = acid_mol_kg(turn, turn->scan->estimate.acid_g);
    double learned;
    struct event *event;

    if (ph >= LEARN_BELOW_PH || !(mol_kg > 0) ||
        acid_alkalinity_eval(memory->plan.request.acid, mol_kg, ph, water_temp_c(turn), &learned) != ST_OK)
        return;
    learned = fmin(fmax(learned, 0), 20);
    event = turn_emit(turn, EVENT_LEARNED, LEARNED_ALKALINITY_MEQ_KG, 0);
    event->value = learned;
    event->value2 = memory->alkalinity_meq_kg;
    memory->alkalinity_meq_kg = learned;
}

/* Grams still missing to the aim, by what is known of the water. */
static double grams_missing(const struct turn *turn, double aim_ph)
{
    const struct batch_memory *memory = &turn->scan->memory;
    double needed_mol_kg;

    if (acid_for_ph_eval(memory->alkalinity_meq_kg, memory->plan.request.acid, aim_ph, water_temp_c(turn),
                         &needed_mol_kg) != ST_OK)
        return 0;
    return grams_of_mol_kg(turn, needed_mol_kg) - turn->scan->estimate.acid_g;
}

static bool acidity_finish(struct turn *turn)
{
    struct batch_memory *memory = &turn->scan->memory;
    double probe_u = turn->setup->points[POINT_ACIDITY_PH].uncertainty;
    struct event *event = turn_emit(turn, EVENT_MEASURED, MEASURED_WATER_PH, 0);

    memory->has_water_ph = true;
    memory->water_ph = turn->scan->acidity.measured_ph;
    memory->water_ph_u = hypot(probe_u > 0 ? probe_u : 0.1, 0.01); /* 0.01: scatter of the mean */
    event->value = memory->water_ph;
    event->value2 = memory->water_ph_u;
    acidity_go(turn, ACIDITY_DONE);
    return true;
}

static void acidity_give(struct turn *turn, double grams, double smallest_ml)
{
    struct batch_memory *memory = &turn->scan->memory;
    double g_per_ml = estimate_acid_g(&memory->plan, 1);
    double ml = fmax(grams / g_per_ml, smallest_ml);

    if (memory->acid_in_ml + ml > memory->plan.acid_ceiling_ml) {
        turn->scan->acidity.is_over_ceiling = true;
        return;
    }
    acidity_go(turn, ACIDITY_DOSE);
    turn->scan->acidity.left_ml = ml;
    if (!turn_is_bound(turn, POINT_DOSE_PUMP_ON))
        ask(turn, PROMPT_ADD_ACID, floor(ml * g_per_ml / HAND_SCALE_G + 1e-6) * HAND_SCALE_G, 0);
}

static bool acidity_decide(struct turn *turn)
{
    const struct batch_memory *memory = &turn->scan->memory;
    double target_ph = memory->plan.request.target_ph;
    double g_per_ml = estimate_acid_g(&memory->plan, 1);
    double smallest_ml = turn_is_bound(turn, POINT_DOSE_PUMP_ON) ? turn->setup->tank.dose_min_pulse_ml
                                                                 : HAND_SCALE_G / g_per_ml;
    double before_meq_kg = memory->alkalinity_meq_kg;
    double missing_g, share;
    bool is_learned;

    if (turn->scan->acidity.measured_ph <= target_ph + AIM_ABOVE_PH)
        return acidity_finish(turn);
    acidity_learn(turn);
    is_learned = memory->alkalinity_meq_kg != before_meq_kg;
    missing_g = grams_missing(turn, target_ph + AIM_ABOVE_PH);
    /* The smallest pulse is planned to move the pH by at most 0.03, so less than half of one missing
     * is as near as this equipment comes. */
    if (missing_g < 0.5 * smallest_ml * g_per_ml) {
        if (is_learned || turn->scan->acidity.measured_ph < LEARN_BELOW_PH)
            return acidity_finish(turn);
        missing_g = 4 * smallest_ml * g_per_ml; /* the water is harder than declared: feel the way */
    }
    share = is_learned ? LATER_SHARE : FIRST_SHARE;
    acidity_give(turn, share * missing_g, smallest_ml);
    return false;
}

static void acidity_measure(struct turn *turn)
{
    struct acidity *acidity = &turn->scan->acidity;
    double typed;

    if (turn_is_bound(turn, POINT_ACIDITY_PH)) {
        mean_take(&acidity->ph, turn, POINT_ACIDITY_PH);
        if (acidity->ph.count >= 3 && mean_span_s(&acidity->ph) >= MEASURE_S)
            acidity->measured_ph = mean_value(&acidity->ph);
    } else if (ask_number(turn, PROMPT_READ_ACIDITY, 0, 14, &typed)) {
        acidity->measured_ph = typed;
    }
}

/* Equal pulses, one after the other; true when all are in. */
static bool acidity_pump_acid_is_in(struct turn *turn)
{
    struct acidity *acidity = &turn->scan->acidity;
    double most_ml = fmax(PULSE_SHARE * turn->scan->memory.plan.acid_ml, turn->setup->tank.dose_min_pulse_ml);
    double pulse_ml;

    if (turn->scan->dose.phase != PULSE_IDLE)
        return false;
    if (acidity->left_ml <= 0)
        return true;
    pulse_ml = acidity->left_ml / ceil(acidity->left_ml / most_ml);
    acidity->left_ml = acidity->left_ml - pulse_ml > 1e-6 ? acidity->left_ml - pulse_ml : 0;
    pulse_ask(turn, &turn->scan->dose, &PULSE_DOSE, pulse_ml);
    return false;
}

static bool acidity_hand_acid_is_in(struct turn *turn)
{
    struct batch_memory *memory = &turn->scan->memory;
    double grams = turn->scan->prompt.number;

    if (!ask_done(turn, PROMPT_ADD_ACID, grams, 0))
        return false;
    memory->acid_in_ml += grams / estimate_acid_g(&memory->plan, 1);
    return true;
}

bool acidity_step(struct turn *turn)
{
    struct acidity *acidity = &turn->scan->acidity;

    switch (acidity->phase) {
    case ACIDITY_MIX:
        if (turn_since_s(turn, acidity->phase_us) >= turn->setup->tank.mixing_s) {
            acidity->measured_ph = NAN;
            acidity_go(turn, ACIDITY_MEASURE);
        }
        return false;
    case ACIDITY_MEASURE:
        acidity_measure(turn);
        return isfinite(acidity->measured_ph) && !acidity->is_over_ceiling ? acidity_decide(turn) : false;
    case ACIDITY_DOSE:
        if (turn_is_bound(turn, POINT_DOSE_PUMP_ON) ? acidity_pump_acid_is_in(turn)
                                                    : acidity_hand_acid_is_in(turn))
            acidity_go(turn, ACIDITY_MIX);
        return false;
    case ACIDITY_DONE:
        return true;
    }
    return false;
}
