#include "support/batch_run.h"

#include "plan/plan.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#ifndef SOURCE_DIR
#error "SOURCE_DIR must name the source tree"
#endif

static void settings_load(struct settings *settings)
{
    static struct settings_errors errors;

    if (settings_read(SOURCE_DIR "/config/tanks/demo.yaml", settings, &errors) != ST_OK) {
        (void)fprintf(stderr, "%s: %s\n", errors.errors[0].where, errors.errors[0].text);
        abort();
    }
}

static struct plant_declared declared_of(const struct tank_facts *tank, const struct plan_request *request)
{
    return (struct plant_declared){
        .capacity_l = tank->capacity_l,
        .heater_cover_l = tank->heater_cover_l,
        .heater_kw = tank->heater_kw,
        .stirrer_rpm = tank->stirrer_rpm,
        .water_l_min = tank->water_l_min,
        .dose_ml_min = tank->dose_ml_min,
        .heat_loss_w_k = tank->heat_loss_w_k,
        .altitude_m = tank->altitude_m,
        .water_c = request->water_temp_c,
        .sugar_c = request->sugar_temp_c,
        .room_c = request->room_temp_c,
        .alkalinity_meq_kg = request->alkalinity_meq_kg,
        .acid = request->acid,
        .acid_stock_pct = tank->acid_stock_pct,
        .bag_kg = request->bag_kg,
    };
}

static void plan_or_abort(struct batch_run *run, const struct plan_request *request)
{
    static const struct plan_request demo = {
        .volume_l = 600, .strength_pct = 62.5, .acid = ACID_CITRIC, .target_ph = 4.3};
    struct plan_notes notes;
    struct fault fault = {0};

    if (plan_make(request != NULL ? request : &demo, &run->settings.setup.tank, &run->settings.setup.limits,
                  &run->plan, &notes, &fault) != ST_OK) {
        (void)fprintf(stderr, "plan: %s: %s\n", fault.where, fault.text);
        abort();
    }
    (void)snprintf(run->plan.batch_id, sizeof run->plan.batch_id, "2026-0001");
}

void batch_run_init(struct batch_run *run, uint64_t seed, const struct plan_request *request)
{
    batch_run_init_watched(run, seed, request, NULL, NULL);
}

static void batch_run_begin(struct batch_run *run, uint64_t seed, const struct plan_request *request)
{
    struct plant_declared declared;
    const struct point_setup *points = run->settings.setup.points;

    plan_or_abort(run, request);
    declared = declared_of(&run->settings.setup.tank, &run->plan.request);
    declared.fixed_power = !points[POINT_HEATER_POWER_PCT].is_bound;
    declared.fixed_speed = !points[POINT_STIRRER_SET_RPM].is_bound;
    harness_init(&run->harness, seed, &declared);
    harness_person_init(&run->person, seed, 20);
    scan_init(&run->scan, &run->settings.setup, NULL);
    run->water_ph_true = (double)NAN;
    run->in.utc_synced = true;
    for (int i = 0; i < 20; i++) /* every instrument has spoken */
        batch_run_scan(run);
    if (batch_run_command(run, VERB_RELEASE) != REFUSAL_NONE ||
        batch_run_command(run, VERB_START) != REFUSAL_NONE)
        run->broken = "the batch does not start";
}

void batch_run_init_watched(struct batch_run *run, uint64_t seed, const struct plan_request *request,
                            batch_watcher *watcher, void *context)
{
    memset(run, 0, sizeof *run);
    run->watcher = watcher;
    run->watcher_context = context;
    settings_load(&run->settings);
    batch_run_begin(run, seed, request);
}

void batch_run_init_smallest(struct batch_run *run, uint64_t seed, const struct plan_request *request)
{
    static const enum point fitted[] = {POINT_TANK_TEMP_C, POINT_HEATER_ON, POINT_STIRRER_ON};
    struct scan_setup *setup = &run->settings.setup;
    bool is_fitted[POINT_COUNT] = {false};

    memset(run, 0, sizeof *run);
    settings_load(&run->settings);
    for (size_t i = 0; i < sizeof fitted / sizeof fitted[0]; i++)
        is_fitted[fitted[i]] = true;
    for (int p = 0; p < POINT_COUNT; p++)
        setup->points[p].is_bound = is_fitted[p];
    setup->tank.water_l_min = 0; /* by hand */
    setup->tank.dose_ml_min = 0;
    setup->tank.dose_min_pulse_ml = 0;
    batch_run_begin(run, seed, request);
}

/* ---- what must be true after every scan --------------------------------------------------- */

static double output(const struct batch_run *run, enum point point)
{
    return run->out.outputs[point - POINT_INPUT_COUNT];
}

static bool is_bound(const struct batch_run *run, enum point point)
{
    return run->settings.setup.points[point].is_bound;
}

static const char *invariant_broken(const struct batch_run *run)
{
    const struct plant *plant = &run->harness.world.plant;
    const struct batch_memory *memory = &run->scan.memory;
    bool heats = output(run, POINT_HEATER_ON) > 0;

    if (heats && is_bound(run, POINT_LEVEL_COVERS_HEATER) &&
        run->scan.image.readings[POINT_LEVEL_COVERS_HEATER].value < 0.5)
        return "heat without the level";
    if (heats && (memory->state != STATE_RUNNING || (run->scan.forbidden & FORBID_HEAT) != 0))
        return "heat while forbidden";
    if (heats && is_bound(run, POINT_STIRRER_RPM) &&
        run->scan.image.readings[POINT_STIRRER_RPM].value < run->settings.setup.limits.stirrer_min_rpm)
        return "heat without the stirrer";
    if (output(run, POINT_DOSE_PUMP_ON) > 0 && run->scan.dose.intent > run->in.durable_intent)
        return "a dose before its intention was durable";
    if (output(run, POINT_WATER_VALVE_OPEN) > 0 && run->scan.water.intent > run->in.durable_intent)
        return "water before its intention was durable";
    if (memory->acid_in_ml > memory->plan.acid_ceiling_ml)
        return "acid over the ceiling";
    if (run->out.events_lost > 0)
        return "events lost";
    if (plant->zones[ZONE_MIDDLE].temp_c > run->settings.setup.limits.liquid_max_c)
        return "liquid over its limit";
    if (plant->element_c > run->settings.setup.limits.sheath_max_c)
        return "element over its limit";
    if (plant->totals.dry_s > 0)
        return "the element was heated dry";
    return NULL;
}

void batch_run_scan(struct batch_run *run)
{
    static bool bound[POINT_INPUT_COUNT];
    struct scan_in *in = &run->in;
    enum step step = run->scan.memory.step;

    for (int p = 0; p < POINT_INPUT_COUNT; p++)
        bound[p] = run->settings.setup.points[p].is_bound;
    harness_advance(&run->harness);
    in->scan_us = run->harness.world.tank_us;
    in->utc_us = world_utc_us(&run->harness.world);
    in->reading_count = 0;
    harness_readings(&run->harness, bound, in->scan_us, in);
    scan_step(&run->scan, &run->settings.setup, in, &run->out);
    harness_outputs(&run->harness, run->out.outputs);
    if (run->watcher != NULL)
        run->watcher(run->watcher_context, in, &run->out);
    if (run->broken == NULL)
        run->broken = invariant_broken(run);
    in->command_count = 0;
    in->has_plan = false;
    for (int i = 0; i < run->out.event_count; i++) /* a record that is always quick enough */
        if (run->out.events[i].intent > in->durable_intent)
            in->durable_intent = run->out.events[i].intent;
    scan_snapshot_get(&run->scan, &run->settings.setup, &run->snapshot);
    if (harness_person_step(&run->person, &run->harness, &run->snapshot, &in->commands[0]))
        in->command_count = 1;
    if (step == STEP_ACIDIFY && run->scan.memory.step == STEP_HEAT)
        run->water_ph_true = batch_run_truth(run).ph; /* whoever measured it */
    run->seconds += 0.1;
    run->scans++;
}

enum batch_state batch_run_to_end(struct batch_run *run, double hours)
{
    double until_s = run->seconds + hours * 3600;

    while (run->seconds < until_s && run->broken == NULL) {
        enum batch_state state = run->scan.memory.state;
        if (state == STATE_COMPLETE || state == STATE_STOPPED || state == STATE_ABORTED ||
            state == STATE_HELD)
            break;
        batch_run_scan(run);
    }
    return run->scan.memory.state;
}

enum refusal batch_run_command(struct batch_run *run, enum verb verb)
{
    run->in.commands[0] = (struct command){
        .id = 1,
        .verb = verb,
        .who = {.uid = 1000, .role = ROLE_SUPERVISOR, .door = DOOR_SHELL, .name = "wren"}};
    run->in.command_count = 1;
    if (verb == VERB_START) {
        run->in.plan = run->plan;
        run->in.has_plan = true;
    }
    batch_run_scan(run);
    return run->out.result_count > 0 ? run->out.results[0].refusal : REFUSAL_NO_PROMPT;
}

struct plant_truth batch_run_truth(struct batch_run *run)
{
    struct plant_truth truth;

    plant_truth_get(&run->harness.world.plant, &truth);
    return truth;
}
