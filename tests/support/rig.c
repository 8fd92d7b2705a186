#include "support/rig.h"

#include "support/demo_tank.h"

#include <string.h>

static const double SOUND[POINT_INPUT_COUNT] = {
    [POINT_TANK_TEMP_C] = 20,        [POINT_SHEATH_TEMP_C] = 25,
    [POINT_ROOM_TEMP_C] = 16,        [POINT_STRENGTH_PCT] = 0,
    [POINT_ACIDITY_PH] = 7.4,        [POINT_PROBE_TEMP_C] = 20,
    [POINT_LEVEL_COVERS_HEATER] = 1, [POINT_LEVEL_BELOW_BRIM] = 1,
    [POINT_LID_CLOSED] = 1,          [POINT_CHAIN_OK] = 1,
};

struct batch_plan rig_plan(void)
{
    return (struct batch_plan){
        .batch_id = "2026-0001",
        .request = {.volume_l = 614,
                    .strength_pct = 62.5,
                    .acid = ACID_CITRIC,
                    .target_ph = 4.3,
                    .alkalinity_meq_kg = 2.5,
                    .bag_kg = 25},
        .bags = 20,
        .sugar_kg = 500,
        .water_kg = 300,
        .final_kg = 800,
        .final_l = 614.7,
        .fill_kg = 290,
        .acid_stock_pct = 30,
        .acid_stock_kg_l = 1.1346,
        .acid_g = 115,
        .acid_ml = 338,
        .acid_ceiling_ml = 440,
        .preheat_c = 60,
        .dissolve_c = 40,
        .tolerance_pct = 0.3,
        .tolerance_ph = 0.1,
        .predicted_s = {[STEP_FILL] = 600,
                        [STEP_ACIDIFY] = 600,
                        [STEP_HEAT] = 4000,
                        [STEP_CHARGE] = 900,
                        [STEP_DISSOLVE] = 1800,
                        [STEP_STRENGTH] = 300,
                        [STEP_CHECK] = 60},
    };
}

void rig_init(struct rig *rig, const struct batch_memory *restored)
{
    memset(rig, 0, sizeof *rig);
    rig->setup.tank = DEMO_TANK;
    rig->setup.limits = DEMO_LIMITS;
    for (int p = 0; p < POINT_COUNT; p++) {
        const struct point_info *info = point_info((enum point)p);
        rig->setup.points[p] = (struct point_setup){
            .is_bound = true, .max_age_s = 3, .min = info->min, .max = info->max, .uncertainty = 0.05};
    }
    memcpy(rig->values, SOUND, sizeof SOUND);
    for (int p = 0; p < POINT_INPUT_COUNT; p++)
        rig->qualities[p] = QUALITY_GOOD;
    rig->acknowledge = true;
    rig->in.utc_us = 1789365600000000;
    rig->in.utc_synced = true;
    scan_init(&rig->scan, &rig->setup, restored);
}

static void rig_set(struct rig *rig, enum point point, double value)
{
    if (!rig->kept[point])
        rig->values[point] = value;
}

static void rig_follow(struct rig *rig)
{
    double dose_ml_min = rig_output(rig, POINT_DOSE_PUMP_ON) * rig_output(rig, POINT_DOSE_ML_MIN);

    rig_set(rig, POINT_STIRRER_RPM, rig_output(rig, POINT_STIRRER_SET_RPM));
    rig_set(rig, POINT_HEATER_IS_ON, rig_output(rig, POINT_HEATER_ON));
    rig_set(rig, POINT_WATER_L,
            rig->values[POINT_WATER_L] +
                rig_output(rig, POINT_WATER_VALVE_OPEN) * DEMO_TANK.water_l_min / 600);
    rig_set(rig, POINT_DOSED_ML, rig->values[POINT_DOSED_ML] + dose_ml_min / 600);
}

static void rig_keep_events(struct rig *rig)
{
    for (int i = 0; i < rig->out.event_count; i++) {
        if (rig->event_count < RIG_EVENTS_MAX)
            rig->events[rig->event_count++] = rig->out.events[i];
        if (rig->acknowledge && rig->out.events[i].intent > rig->in.durable_intent)
            rig->in.durable_intent = rig->out.events[i].intent;
    }
}

void rig_scan(struct rig *rig)
{
    struct scan_in *in = &rig->in;

    in->scan_us += SCAN_PERIOD_US;
    in->utc_us += SCAN_PERIOD_US;
    in->reading_count = 0;
    rig_follow(rig);
    for (int p = 0; p < POINT_INPUT_COUNT; p++)
        if (!rig->silent[p])
            in->readings[in->reading_count++] = (struct scan_reading){
                (enum point)p, {rig->values[p], in->scan_us, rig->qualities[p], rig->reasons[p]}};
    scan_step(&rig->scan, &rig->setup, in, &rig->out);
    in->command_count = 0;
    in->has_plan = false;
    rig_keep_events(rig);
}

void rig_run(struct rig *rig, double seconds)
{
    for (int i = 0; i < (int)(seconds * 10 + 0.5); i++)
        rig_scan(rig);
}

bool rig_run_until_state(struct rig *rig, enum batch_state state, double seconds)
{
    for (int i = 0; i < (int)(seconds * 10 + 0.5) && rig->scan.memory.state != state; i++)
        rig_scan(rig);
    return rig->scan.memory.state == state;
}

bool rig_run_until_step(struct rig *rig, enum step step, double seconds)
{
    for (int i = 0; i < (int)(seconds * 10 + 0.5) && rig->scan.memory.step != step; i++)
        rig_scan(rig);
    return rig->scan.memory.step == step;
}

static enum refusal rig_send(struct rig *rig, struct command command)
{
    command.id = 7;
    command.who = (struct who){.uid = 1000, .role = ROLE_OPERATOR, .door = DOOR_SHELL, .name = "wren"};
    rig->in.commands[0] = command;
    rig->in.command_count = 1;
    if (command.verb == VERB_START) {
        rig->in.plan = rig_plan();
        rig->in.has_plan = true;
    }
    rig_scan(rig);
    rig->result = rig->out.results[0];
    return rig->result.refusal;
}

enum refusal rig_command(struct rig *rig, enum verb verb)
{
    return rig_send(rig, (struct command){.verb = verb});
}

enum refusal rig_answer(struct rig *rig, enum answer answer, double number)
{
    return rig_send(
        rig, (struct command){
                 .verb = VERB_ANSWER, .prompt_id = rig->scan.prompt.id, .answer = answer, .number = number});
}

void rig_start(struct rig *rig)
{
    rig_run(rig, 1);
    (void)rig_command(rig, VERB_RELEASE);
    (void)rig_command(rig, VERB_START);
}

void rig_go_to_step(struct rig *rig, enum step step)
{
    struct batch_memory *memory = &rig->scan.memory;

    rig_start(rig);
    memory->step = step;
    memory->step_s = 0;
    if (step > STEP_FILL)
        memory->water_in_l = 290 / 0.9982;
    if (step > STEP_CHARGE) {
        memory->bags_in = 20;
        memory->sugar_in_kg = 500;
    }
    rig->scan.step_entered = false;
    memset(&rig->scan.prompt, 0, sizeof rig->scan.prompt);
}

double rig_output(const struct rig *rig, enum point point)
{
    return rig->out.outputs[point - POINT_INPUT_COUNT];
}

int rig_count(const struct rig *rig, enum event_kind kind)
{
    int count = 0;

    for (int i = 0; i < rig->event_count; i++)
        count += rig->events[i].kind == kind;
    return count;
}

const struct event *rig_last(const struct rig *rig, enum event_kind kind)
{
    for (int i = rig->event_count - 1; i >= 0; i--)
        if (rig->events[i].kind == kind)
            return &rig->events[i];
    return NULL;
}
