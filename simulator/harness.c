#include "simulator/harness.h"

#include "simulator/acts.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* How each point is read in the demo tank: its unit, poll rate and resolution. */
static const struct {
    int unit;
    int64_t poll_us;
    double resolution;
} POLLED[POINT_INPUT_COUNT] = {
    [POINT_TANK_TEMP_C] = {1, 500000, 0.1},    [POINT_SHEATH_TEMP_C] = {1, 500000, 0.1},
    [POINT_ROOM_TEMP_C] = {1, 500000, 0.1},    [POINT_STRENGTH_PCT] = {2, 1000000, 0.01},
    [POINT_ACIDITY_PH] = {3, 1000000, 0.01},   [POINT_PROBE_TEMP_C] = {3, 1000000, 0.1},
    [POINT_PROBE_MV] = {3, 1000000, 0.1},      [POINT_WATER_L] = {6, 200000, 0.01},
    [POINT_WATER_L_MIN] = {6, 200000, 0.01},   [POINT_DOSED_ML] = {7, 500000, 0.01},
    [POINT_STIRRER_RPM] = {5, 500000, 1},      [POINT_LEVEL_COVERS_HEATER] = {4, 100000, 1},
    [POINT_LEVEL_BELOW_BRIM] = {4, 100000, 1}, [POINT_LID_CLOSED] = {4, 100000, 1},
    [POINT_CHAIN_OK] = {4, 100000, 1},         [POINT_HEATER_IS_ON] = {4, 100000, 1},
};

static const char *const PROMPT_NAMES[PROMPT_COUNT] = {
    [PROMPT_NONE] = "",
    [PROMPT_TANK_READY] = "tank_ready",
    [PROMPT_ADD_WATER] = "add_water",
    [PROMPT_ADD_ACID] = "add_acid",
    [PROMPT_TIP_BAG] = "tip_bag",
    [PROMPT_ADD_SUGAR] = "add_sugar",
    [PROMPT_READ_STRENGTH] = "read_strength",
    [PROMPT_READ_ACIDITY] = "read_acidity",
};

void harness_init(struct harness *harness, uint64_t seed, const struct plant_declared *declared)
{
    memset(harness, 0, sizeof *harness);
    world_init(&harness->world, seed, declared);
    for (int i = 0; i < POINT_INPUT_COUNT; i++)
        harness->polled_us[i] = -1;
}

static struct reading reading_take(const struct world *world, int point, int64_t scan_us)
{
    enum unit_fault_kind fault = world->unit_faults[POLLED[point].unit].kind;
    struct reading reading = {.at_us = scan_us, .quality = QUALITY_GOOD, .reason = REASON_NONE};
    double value = world->instruments.values.value[point];

    reading.value = round(value / POLLED[point].resolution) * POLLED[point].resolution;
    if (fault == UNIT_SILENT || fault == UNIT_SHORT)
        reading.reason = REASON_BUS_LOST;
    else if (fault == UNIT_EXCEPTION)
        reading.reason = REASON_DEVICE;
    else if (!isfinite(value))
        reading.reason = REASON_NOT_FINITE;
    if (reading.reason != REASON_NONE) {
        reading.quality = QUALITY_BAD;
        reading.value = (double)NAN;
    }
    return reading;
}

void harness_readings(struct harness *harness, const bool bound[], int64_t scan_us, struct scan_in *in)
{
    for (int i = 0; i < POINT_INPUT_COUNT; i++) {
        if (!bound[i] || (harness->polled_us[i] >= 0 && scan_us - harness->polled_us[i] < POLLED[i].poll_us))
            continue;
        assert(in->reading_count < POINT_INPUT_COUNT);
        in->readings[in->reading_count++] = (struct scan_reading){
            .point = (enum point)i, .reading = reading_take(&harness->world, i, scan_us)};
        harness->polled_us[i] = scan_us;
    }
}

static double output(const double outputs[], enum point point)
{
    return outputs[point - POINT_INPUT_COUNT];
}

void harness_outputs(struct harness *harness, const double outputs[])
{
    harness->inputs = (struct plant_inputs){
        .heater_on = output(outputs, POINT_HEATER_ON) != 0,
        .heater_power_pct = round(output(outputs, POINT_HEATER_POWER_PCT) * 10) / 10,
        .stirrer_on = output(outputs, POINT_STIRRER_ON) != 0,
        .stirrer_set_rpm = round(output(outputs, POINT_STIRRER_SET_RPM)),
        .water_valve_open = output(outputs, POINT_WATER_VALVE_OPEN) != 0,
        .dose_pump_on = output(outputs, POINT_DOSE_PUMP_ON) != 0,
        .dose_ml_min = round(output(outputs, POINT_DOSE_ML_MIN) * 10) / 10,
    };
}

void harness_advance(struct harness *harness)
{
    world_step_with(&harness->world, &harness->inputs);
}

void harness_person_init(struct harness_person *person, uint64_t seed, double delay_s)
{
    person_init(&person->person, seed, delay_s);
    person->next_id = 1000000;
}

static void command_fill(struct harness_person *person, const struct person_answer *answer,
                         struct command *command)
{
    *command = (struct command){
        .id = person->next_id++,
        .verb = VERB_ANSWER,
        .who = {.role = ROLE_HELPER, .door = DOOR_SHELL, .name = "helper"},
        .prompt_id = answer->prompt_id,
        .answer = answer->is_number   ? ANSWER_NUMBER
                  : answer->is_cannot ? ANSWER_CANNOT
                                      : ANSWER_DONE,
        .number = answer->number,
    };
}

bool harness_person_step(struct harness_person *person, struct harness *harness,
                         const struct snapshot *snapshot, struct command *command)
{
    const struct prompt *prompt = &snapshot->prompt;
    double now_s = (double)harness->world.tank_us * 1e-6;
    bool is_asked = prompt->kind != PROMPT_NONE;
    struct person_answer answer;
    char act[PERSON_ACT_MAX], reply[ACTS_REPLY_MAX];

    person_see(&person->person, now_s, is_asked ? prompt->id : 0, PROMPT_NAMES[prompt->kind], prompt->number);
    if (person_move_due(&person->person, now_s, act)) {
        acts_do(&harness->world, act, reply, sizeof reply);
        person_told(&person->person, now_s, reply);
    }
    if (!person_answer_due(&person->person, now_s, &answer))
        return false;
    command_fill(person, &answer, command);
    return true;
}
