/* A tank on which anything may happen in any scan: readings that fail in every way, counters that
 * stop or begin anew, time that stands still, goes back or leaps, a record that confirms late or
 * never, power cuts, and people who send any command in any order. After every scan: what may never
 * be true. The seeds are printed; SYRUPWRIGHT_SEED=N runs that one alone, SYRUPWRIGHT_SCANS=N sets
 * how long. */
#include "core/protect.h"
#include "support/rig.h"
#include "support/support.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define SEEDS 6
#define SCANS_EACH 120000
#define EPISODE_SCANS 2500 /* then a new tank, with other things missing */
#define FALLBACK_S 3.0     /* an output module that hears nothing switches off */
#define EXPIRY_S 0.5       /* after this the wire is off, whatever the outputs said */

enum fault_kind { FAULT_NONE, FAULT_SILENT, FAULT_DEVICE, FAULT_BUS, FAULT_NAN, FAULT_WILD, FAULT_STUCK };

struct campaign {
    struct rig rig;
    uint64_t random;
    enum fault_kind faults[POINT_INPUT_COUNT];
    int fault_left[POINT_INPUT_COUNT];
    double truth[POINT_INPUT_COUNT]; /* what a sound instrument would say */
    double dosed_ml;                 /* truly, into this batch */
    double slack_ml;                 /* what closing late and leaps of time may add */
    int contactor_left;              /* scans for which the contactor does not follow */
    int confirm_in;                  /* scans until the record confirms; < 0: not at all */
    struct batch_memory stored;      /* what a power cut leaves */
    /* as it was before the scan */
    struct scan before;
    bool was_latched[TRIP_COUNT];
    enum batch_state was;
    int bags_before;
    bool has_changed_heater;
    int64_t heater_off_us;
    uint64_t last_intent;
    uint32_t last_prompt;
    uint64_t scans;
};

static struct campaign C; /* large: not on the stack */
static uint64_t SEED_LIST[SEEDS] = {1, 2, 3, 4, 5};
static int SEED_COUNT = SEEDS;
static uint64_t SCANS = SCANS_EACH;

/* splitmix64 (Steele, Lea and Flood 2014) */
static uint64_t draw(void)
{
    uint64_t z = C.random += 0x9e3779b97f4a7c15u;

    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

static int below(int n)
{
    return (int)(draw() % (uint64_t)n);
}

static bool one_in(int n)
{
    return below(n) == 0;
}

static double between(double a, double b)
{
    return a + (b - a) * (double)(draw() >> 11) * 0x1p-53;
}

static double output(enum point point)
{
    return C.rig.out.outputs[point - POINT_INPUT_COUNT];
}

/* ---- the tank -------------------------------------------------------------------------------- */

/* What the small tanks may lack. */
static const enum point OPTIONAL[] = {
    POINT_SHEATH_TEMP_C, POINT_STRENGTH_PCT,    POINT_ACIDITY_PH,       POINT_WATER_L,
    POINT_DOSED_ML,      POINT_STIRRER_RPM,     POINT_LEVEL_BELOW_BRIM, POINT_LEVEL_COVERS_HEATER,
    POINT_LID_CLOSED,    POINT_HEATER_IS_ON,    POINT_HEATER_POWER_PCT, POINT_WATER_VALVE_OPEN,
    POINT_DOSE_PUMP_ON,  POINT_STIRRER_SET_RPM,
};

/* Small fills and few bags, so that batches get on; sometimes far too little acid. */
static struct batch_plan plan_any(void)
{
    struct batch_plan plan = rig_plan();

    plan.fill_kg = one_in(4) ? 290 : between(5, 60);
    plan.bags = 1 + below(20);
    plan.sugar_kg = plan.bags * 25.0;
    plan.preheat_c = between(30, 74);
    plan.dissolve_c = between(25, 60);
    plan.acid_ceiling_ml = one_in(3) ? between(20, 200) : 440;
    return plan;
}

static struct batch_memory memory_at(enum step step)
{
    struct batch_memory memory = {.layout = MEMORY_LAYOUT,
                                  .has_batch = true,
                                  .state = (enum batch_state)(STATE_RUNNING + below(6)),
                                  .step = step,
                                  .plan = plan_any(),
                                  .next_intent = 1 + (uint64_t)below(100),
                                  .alkalinity_meq_kg = 2.5,
                                  .peak_temp_c = 20};

    memory.water_in_l = memory.plan.fill_kg / 0.9982 * (step > STEP_FILL ? 1 : between(0, 1));
    memory.bags_in = step > STEP_CHARGE ? memory.plan.bags : 0;
    memory.sugar_in_kg = memory.bags_in * 25.0;
    return memory;
}

static void truth_begin(void)
{
    memset(C.truth, 0, sizeof C.truth);
    C.truth[POINT_TANK_TEMP_C] = between(10, 70);
    C.truth[POINT_SHEATH_TEMP_C] = C.truth[POINT_TANK_TEMP_C];
    C.truth[POINT_ROOM_TEMP_C] = 16;
    C.truth[POINT_STRENGTH_PCT] = between(60, 65);
    C.truth[POINT_ACIDITY_PH] = 7.4;
    C.truth[POINT_LEVEL_COVERS_HEATER] = C.truth[POINT_LEVEL_BELOW_BRIM] = 1;
    C.truth[POINT_LID_CLOSED] = C.truth[POINT_CHAIN_OK] = 1;
}

static void episode_begin(void)
{
    struct rig *rig = &C.rig;
    static const enum step begin_at[] = {STEP_READY,  STEP_FILL,     STEP_ACIDIFY,  STEP_ACIDIFY,
                                         STEP_HEAT,   STEP_HEAT,     STEP_HEAT,     STEP_CHARGE,
                                         STEP_CHARGE, STEP_DISSOLVE, STEP_STRENGTH, STEP_CHECK};
    struct batch_memory memory = memory_at(begin_at[below(sizeof begin_at / sizeof begin_at[0])]);

    rig_init(rig, one_in(3) ? NULL : &memory);
    for (size_t i = 0; i < sizeof OPTIONAL / sizeof OPTIONAL[0]; i++)
        rig->setup.points[OPTIONAL[i]].is_bound = !one_in(8);
    rig->setup.tank.charging_grid = one_in(2);
    rig->setup.tank.mixing_s = 3;
    if (one_in(4))
        rig->setup.limits.fill_max_s = rig->setup.limits.heat_max_s = rig->setup.limits.check_max_s = 20;
    memset(rig->kept, 1, sizeof rig->kept);
    rig->acknowledge = false;
    memset(C.faults, 0, sizeof C.faults);
    truth_begin();
    C.stored = rig->scan.memory;
    C.dosed_ml = C.slack_ml = 0;
    C.confirm_in = -1;
    C.has_changed_heater = false;
    C.last_intent = C.last_prompt = 0;
}

static void physics(double s)
{
    double *t = C.truth;
    bool heats = output(POINT_HEATER_ON) > 0.5;
    double flow_l = output(POINT_WATER_VALVE_OPEN) * C.rig.setup.tank.water_l_min / 60 * s;
    double dose_ml = output(POINT_DOSE_PUMP_ON) * C.rig.setup.tank.dose_ml_min / 60 * s;

    t[POINT_TANK_TEMP_C] += heats ? 0.05 : (20 - t[POINT_TANK_TEMP_C]) * 1e-4;
    t[POINT_SHEATH_TEMP_C] += 0.05 * (t[POINT_TANK_TEMP_C] + (heats ? 60 : 0) - t[POINT_SHEATH_TEMP_C]);
    t[POINT_STIRRER_RPM] = output(POINT_STIRRER_ON) * C.rig.setup.tank.stirrer_rpm;
    if (C.contactor_left == 0)
        t[POINT_HEATER_IS_ON] = output(POINT_HEATER_ON);
    t[POINT_WATER_L] += flow_l;
    t[POINT_DOSED_ML] += dose_ml;
    t[POINT_ACIDITY_PH] = fmax(3, t[POINT_ACIDITY_PH] - dose_ml * 0.009);
    C.dosed_ml += dose_ml;
    if (one_in(5000)) { /* somebody switched a device off and on */
        t[POINT_WATER_L] = 0;
        if (C.rig.scan.dose.phase == PULSE_IDLE)
            t[POINT_DOSED_ML] = 0;
    }
}

/* ---- what goes wrong --------------------------------------------------------------------------- */

static void flip(enum point point, int lost_one_in, int back_one_in)
{
    if (C.truth[point] > 0.5 ? one_in(lost_one_in) : one_in(back_one_in))
        C.truth[point] = C.truth[point] > 0.5 ? 0 : 1;
}

static void events_of_the_world(void)
{
    bool is_asked = C.rig.scan.prompt.kind != PROMPT_NONE;
    bool is_hot = output(POINT_HEATER_ON) > 0; /* what goes wrong then matters most */

    flip(POINT_LEVEL_COVERS_HEATER, is_hot ? 400 : 3000, 20);
    flip(POINT_LEVEL_BELOW_BRIM, 2500, 20);
    flip(POINT_CHAIN_OK, 2500, 20);
    if (one_in(4000)) /* the contactor has welded, or its coil has gone */
        C.contactor_left = below(100);
    else if (C.contactor_left > 0)
        C.contactor_left--;
    flip(POINT_LID_CLOSED, is_asked ? 30 : 1500, 20);
    if (one_in(3000))
        C.truth[POINT_TANK_TEMP_C] = one_in(3) ? between(70, 80) : between(20, 60);
    if (one_in(is_hot ? 500 : 5000))
        C.truth[POINT_SHEATH_TEMP_C] = between(120, 150);
    if (one_in(100))
        C.truth[POINT_STRENGTH_PCT] = between(60, 65);
    for (int p = 0; p < POINT_INPUT_COUNT; p++) {
        if (C.fault_left[p] > 0 && --C.fault_left[p] == 0)
            C.faults[p] = FAULT_NONE;
        if (!one_in(is_hot ? 2000 : 20000) || (p == POINT_DOSED_ML && C.rig.scan.dose.phase != PULSE_IDLE))
            continue;
        C.faults[p] = (enum fault_kind)(1 + below(FAULT_STUCK));
        C.fault_left[p] = 1 + below(200);
    }
    if (C.rig.scan.dose.phase == PULSE_IDLE && one_in(3000)) { /* the pump's counter has died */
        C.faults[POINT_DOSED_ML] = FAULT_STUCK;
        C.fault_left[POINT_DOSED_ML] = EPISODE_SCANS;
    }
}

static void show(int p)
{
    struct rig *rig = &C.rig;

    rig->silent[p] = C.faults[p] == FAULT_SILENT;
    rig->qualities[p] = C.faults[p] == FAULT_DEVICE || C.faults[p] == FAULT_BUS ? QUALITY_BAD : QUALITY_GOOD;
    rig->reasons[p] = C.faults[p] == FAULT_DEVICE ? REASON_DEVICE
                      : C.faults[p] == FAULT_BUS  ? REASON_BUS_LOST
                                                  : REASON_NONE;
    if (C.faults[p] == FAULT_NAN)
        rig->values[p] = one_in(2) ? (double)NAN : (double)INFINITY;
    else if (C.faults[p] == FAULT_WILD)
        rig->values[p] = between(-1e4, 1e4);
    else if (C.faults[p] != FAULT_STUCK)
        rig->values[p] = C.truth[p];
}

/* µs more than one period that have gone by. */
static int64_t time_leap(void)
{
    static const int64_t leaps_us[] = {-100000, -2000000, 300000, 800000, 1500000, 20000000};

    return one_in(1500) ? leaps_us[below(sizeof leaps_us / sizeof leaps_us[0])] : 0;
}

static void record_confirms(void)
{
    const struct scan *scan = &C.rig.scan;
    uint64_t newest = scan->memory.next_intent - 1;

    if (newest <= C.rig.in.durable_intent)
        return;
    if (C.confirm_in < 0 && one_in(2))
        C.confirm_in = one_in(10) ? 15 + below(15) : below(5);
    if (C.confirm_in-- == 0)
        C.rig.in.durable_intent = newest;
}

/* ---- people -------------------------------------------------------------------------------------- */

static void send(enum verb verb)
{
    struct scan_in *in = &C.rig.in;
    const struct prompt *prompt = &C.rig.scan.prompt;
    bool wants_number = prompt->kind == PROMPT_READ_STRENGTH || prompt->kind == PROMPT_READ_ACIDITY;
    struct command *command;

    if (in->command_count == SCAN_COMMANDS_MAX)
        return;
    command = &in->commands[in->command_count];
    *command = (struct command){.id = (uint64_t)in->command_count + 1,
                                .verb = verb,
                                .prompt_id = prompt->id - (one_in(50) ? 1 : 0),
                                .answer = wants_number ? ANSWER_NUMBER : ANSWER_DONE,
                                .number = prompt->kind == PROMPT_READ_ACIDITY ? C.truth[POINT_ACIDITY_PH]
                                                                              : C.truth[POINT_STRENGTH_PCT],
                                .who = {.role = ROLE_OPERATOR, .name = "wren"}};
    if (one_in(20)) {
        command->answer = (enum answer)below(ANSWER_COUNT);
        command->number = one_in(3) ? (double)NAN : between(-10, 100);
    }
    in->command_count++;
    if (verb == VERB_START && !one_in(10)) {
        in->plan = plan_any();
        in->has_plan = true;
    }
}

static void person_who_wants_syrup(void)
{
    static const enum verb next[STATE_COUNT] = {
        [STATE_IDLE] = VERB_START,         [STATE_RUNNING] = VERB_ANSWER,   [STATE_PAUSED] = VERB_RESUME,
        [STATE_HELD] = VERB_RESTART,       [STATE_STOPPED] = VERB_RESET,    [STATE_ABORTED] = VERB_RESET,
        [STATE_COMPLETE] = VERB_RESET,     [STATE_PAUSING] = VERB_RELEASE,  [STATE_HOLDING] = VERB_RELEASE,
        [STATE_RESTARTING] = VERB_RELEASE, [STATE_STOPPING] = VERB_RELEASE, [STATE_ABORTING] = VERB_RELEASE,
    };

    if (!one_in(10))
        return;
    if (protect_is_tripped(&C.rig.scan))
        send(VERB_RELEASE);
    if (one_in(2))
        send(next[C.rig.scan.memory.state]);
}

/* Two clients at once: an answer and something that ends the work, either way round. */
static void two_people(void)
{
    static const enum verb verbs[] = {VERB_HOLD, VERB_HOLD, VERB_PAUSE, VERB_PAUSE, VERB_STOP, VERB_ANSWER};
    enum verb verb = verbs[below(sizeof verbs / sizeof verbs[0])];
    bool answer_first = one_in(2);

    if (answer_first)
        send(VERB_ANSWER);
    send(verb);
    if (!answer_first)
        send(VERB_ANSWER);
}

/* Commands without sense; most spare the batch, or none would get anywhere. */
static void fool(void)
{
    for (int i = 1 + below(SCAN_COMMANDS_MAX); i > 0; i--) {
        enum verb verb = (enum verb)below(VERB_COUNT + 1);
        if ((verb != VERB_STOP && verb != VERB_ABORT) || one_in(10))
            send(verb);
    }
}

static void people(void)
{
    person_who_wants_syrup();
    if (C.rig.scan.prompt.kind != PROMPT_NONE && one_in(100))
        two_people();
    if (one_in(250))
        fool();
}

/* ---- what may never be ------------------------------------------------------------------------------ */

/* Asks Check only when something is wrong: it notes every question, and there are millions here. */
#define NEVER(condition)                                                                                     \
    do {                                                                                                     \
        if (condition)                                                                                       \
            ck_abort_msg("scan %llu: %s", (unsigned long long)C.scans, #condition);                          \
    } while (0)

static bool is_good(enum point point)
{
    return C.rig.scan.image.readings[point].quality == QUALITY_GOOD;
}

static double value(enum point point)
{
    return C.rig.scan.image.readings[point].value;
}

static bool is_bound(enum point point)
{
    return C.rig.setup.points[point].is_bound;
}

/* Bound and not a sound yes. */
static bool is_denied(enum point point)
{
    return is_bound(point) && !(is_good(point) && value(point) > 0.5);
}

static bool was_accepted(enum verb verb)
{
    for (int i = 0; i < C.rig.out.result_count; i++)
        if (C.rig.in.commands[i].verb == verb && C.rig.out.results[i].refusal == REFUSAL_NONE)
            return true;
    return false;
}

static void check_heat(void)
{
    const struct rig *rig = &C.rig;
    const struct limits *limits = &rig->setup.limits;
    bool was_on = C.before.gate.outputs[POINT_HEATER_ON - POINT_INPUT_COUNT] > 0;
    bool is_on = output(POINT_HEATER_ON) > 0;

    NEVER(output(POINT_HEATER_POWER_PCT) > 0 && !is_on);
    if (was_on && !is_on) {
        C.has_changed_heater = true;
        C.heater_off_us = rig->in.scan_us;
    }
    if (!was_on && is_on && C.has_changed_heater)
        NEVER((double)(rig->in.scan_us - C.heater_off_us) * 1e-6 < limits->heater_min_off_s);
    if (!is_on)
        return;
    NEVER(rig->scan.memory.state != STATE_RUNNING);
    NEVER(!rig->scan.gate.is_time_sound);
    NEVER(is_denied(POINT_LEVEL_COVERS_HEATER));
    NEVER(!is_bound(POINT_LEVEL_COVERS_HEATER) &&
          rig->scan.estimate.liquid_l < rig->setup.tank.heater_cover_l);
    NEVER(is_denied(POINT_LID_CLOSED));
    NEVER(is_denied(POINT_CHAIN_OK));
    NEVER(!is_good(POINT_TANK_TEMP_C) || value(POINT_TANK_TEMP_C) > limits->liquid_max_c);
    NEVER(is_bound(POINT_SHEATH_TEMP_C) &&
          (!is_good(POINT_SHEATH_TEMP_C) || value(POINT_SHEATH_TEMP_C) > limits->sheath_max_c));
    NEVER(is_bound(POINT_STIRRER_RPM) &&
          (!is_good(POINT_STIRRER_RPM) || value(POINT_STIRRER_RPM) < limits->stirrer_min_rpm));
    NEVER(output(POINT_STIRRER_ON) == 0);
    NEVER(is_bound(POINT_HEATER_IS_ON) && !is_good(POINT_HEATER_IS_ON));
}

static void check_pulses(void)
{
    const struct scan *scan = &C.rig.scan;
    bool doses = output(POINT_DOSE_PUMP_ON) > 0, fills = output(POINT_WATER_VALVE_OPEN) > 0;

    NEVER(output(POINT_DOSE_ML_MIN) > 0 && scan->dose.phase != PULSE_OPEN);
    NEVER((doses || fills) && (scan->memory.state != STATE_RUNNING || !scan->gate.is_time_sound));
    NEVER((doses || fills) && is_denied(POINT_CHAIN_OK));
    NEVER(doses && (scan->dose.phase != PULSE_OPEN || scan->dose.intent > C.rig.in.durable_intent));
    NEVER(fills && (scan->water.phase != PULSE_OPEN || scan->water.intent > C.rig.in.durable_intent));
    NEVER(doses &&
          !(is_good(POINT_TANK_TEMP_C) && value(POINT_TANK_TEMP_C) <= C.rig.setup.limits.dose_max_c));
    NEVER(doses && (output(POINT_STIRRER_ON) == 0 || is_denied(POINT_LID_CLOSED)));
    NEVER(fills && is_denied(POINT_LEVEL_BELOW_BRIM));
    NEVER(scan->memory.acid_in_ml < -1e-9 || scan->memory.water_in_l < -1e-9);
    NEVER(scan->memory.has_batch && C.dosed_ml > scan->memory.plan.acid_ceiling_ml + C.slack_ml + 1);
}

static void check_stirrer(void)
{
    const struct scan *scan = &C.rig.scan;
    bool turns = output(POINT_STIRRER_ON) > 0 || output(POINT_STIRRER_SET_RPM) > 0;
    bool is_asked_in = scan->memory.step == STEP_CHARGE || C.before.memory.step == STEP_CHARGE ||
                       scan->lid_expected || C.before.lid_expected;

    NEVER(turns && is_denied(POINT_CHAIN_OK));
    NEVER(turns && is_denied(POINT_LID_CLOSED) && !(is_asked_in && C.rig.setup.tank.charging_grid));
    NEVER(turns && scan->memory.state != STATE_RUNNING && scan->memory.state != STATE_PAUSED &&
          scan->memory.state != STATE_PAUSING);
}

static void check_latches(void)
{
    const struct scan *scan = &C.rig.scan;
    bool any = false;

    for (int t = 0; t < TRIP_COUNT; t++) {
        NEVER(C.was_latched[t] && !scan->trips[t].is_latched && !was_accepted(VERB_RELEASE));
        any |= scan->trips[t].is_latched;
    }
    NEVER(any && scan->memory.state == STATE_RUNNING);
    for (int o = 0; o < POINT_OUTPUT_COUNT; o++) {
        NEVER(any && C.rig.out.outputs[o] != 0);
        NEVER(!isfinite(C.rig.out.outputs[o]));
        NEVER(C.rig.out.outputs[o] != 0 && !is_bound((enum point)(POINT_INPUT_COUNT + o)));
    }
}

static void check_states(void)
{
    enum batch_state is = C.rig.scan.memory.state;

    if (is == STATE_RUNNING && C.was != STATE_RUNNING)
        NEVER(!(C.was == STATE_RESTARTING || was_accepted(VERB_RESTART)) && !was_accepted(VERB_START) &&
              !was_accepted(VERB_RESUME));
    if (is == STATE_RESTARTING && C.was != STATE_RESTARTING)
        NEVER(!was_accepted(VERB_RESTART));
    NEVER(was_accepted(VERB_START) && C.was != STATE_IDLE && !was_accepted(VERB_RESET));
}

/* Numbers are given once, and a bag that was said to be in is counted. */
static void check_events(void)
{
    const struct scan_out *out = &C.rig.out;
    int bags = C.bags_before;

    NEVER(out->events_lost > 0);
    for (int i = 0; i < out->event_count; i++) {
        const struct event *event = &out->events[i];
        if (event->kind == EVENT_INTENT_DOSE || event->kind == EVENT_INTENT_WATER) {
            NEVER(event->intent <= C.last_intent);
            C.last_intent = event->intent;
        }
        if (event->kind == EVENT_ASKED) {
            NEVER(event->prompt <= C.last_prompt);
            C.last_prompt = event->prompt;
        }
        if (event->kind == EVENT_BATCH_STARTED)
            bags = 0;
        if (event->kind == EVENT_ANSWERED && event->a == PROMPT_TIP_BAG && event->b == ANSWER_DONE)
            bags++;
        if (event->kind == EVENT_STATE && event->b == STATE_IDLE)
            bags = 0;
    }
    NEVER(C.rig.scan.memory.bags_in != bags);
}

/* ---- one scan ------------------------------------------------------------------------------------------ */

static void note_before(void)
{
    C.before = C.rig.scan;
    C.was = C.rig.scan.memory.state;
    C.bags_before = C.rig.scan.memory.bags_in;
    for (int t = 0; t < TRIP_COUNT; t++)
        C.was_latched[t] = C.rig.scan.trips[t].is_latched;
}

static void campaign_scan(void)
{
    struct rig *rig = &C.rig;
    int64_t leap_us = time_leap();
    double step_s = (double)(leap_us + SCAN_PERIOD_US) * 1e-6;
    static struct command sent[SCAN_COMMANDS_MAX];
    bool doses = output(POINT_DOSE_PUMP_ON) > 0;

    physics(fmin(fmax(step_s, 0), EXPIRY_S));
    if (doses && leap_us != 0)
        C.slack_ml += EXPIRY_S * rig->setup.tank.dose_ml_min / 60;
    events_of_the_world();
    for (int p = 0; p < POINT_INPUT_COUNT; p++)
        show(p);
    people();
    record_confirms();
    note_before();
    memcpy(sent, rig->in.commands, sizeof sent);
    rig->in.scan_us += leap_us;
    rig->event_count = 0;
    rig_scan(rig);
    memcpy(rig->in.commands, sent, sizeof sent);
    C.scans++;
    for (int i = 0; i < rig->out.event_count; i++) {
        if (rig->out.events[i].kind == EVENT_BATCH_STARTED)
            C.dosed_ml = C.slack_ml = 0;
        if (rig->out.events[i].kind == EVENT_OUTCOME_DOSE)
            C.slack_ml += 0.2;
    }
    check_heat();
    check_pulses();
    check_stirrer();
    check_latches();
    check_states();
    check_events();
    if (rig->out.event_count > 0 || one_in(10))
        C.stored = rig->scan.memory;
}

/* The tank stays as it is, and what was on stays on until the output module notices; the program
 * begins anew from what it had stored. */
static void power_cut(void)
{
    struct rig *rig = &C.rig;
    struct scan_setup setup = rig->setup;
    double run_on_s = between(0, FALLBACK_S);
    int64_t scan_us = rig->in.scan_us;
    bool has_batch = C.stored.has_batch && C.stored.outcome == OUTCOME_OPEN;

    C.slack_ml += output(POINT_DOSE_PUMP_ON) * run_on_s * setup.tank.dose_ml_min / 60;
    physics(run_on_s);
    rig_init(rig, has_batch ? &C.stored : NULL);
    rig->setup = setup;
    rig->acknowledge = false;
    memset(rig->kept, 1, sizeof rig->kept);
    rig->in.scan_us = scan_us + 5000000;
    C.confirm_in = -1;
    C.has_changed_heater = false;
    if (!has_batch)
        C.last_intent = C.last_prompt = 0;
}

START_TEST(whatever_happens_the_tank_is_never_let_on_without_every_permit)
{
    uint64_t running = 0;

    C.random = SEED_LIST[_i];
    C.scans = 0;
    printf("seed %llu\n", (unsigned long long)SEED_LIST[_i]);
    (void)fflush(stdout);
    while (C.scans < SCANS) {
        if (C.scans % EPISODE_SCANS == 0)
            episode_begin();
        campaign_scan();
        running += C.rig.scan.memory.state == STATE_RUNNING;
        if (one_in(1500))
            power_cut();
    }
    ck_assert_uint_gt(running, SCANS / 10); /* else the campaign proves nothing */
}
END_TEST

static void seeds_draw(void)
{
    const char *one = getenv("SYRUPWRIGHT_SEED"), *scans = getenv("SYRUPWRIGHT_SCANS");
    struct timespec now;

    (void)clock_gettime(CLOCK_REALTIME, &now);
    SEED_LIST[SEEDS - 1] = 1000 + (uint64_t)(now.tv_nsec / 1000);
    if (one != NULL) {
        SEED_LIST[0] = strtoull(one, NULL, 10);
        SEED_COUNT = 1;
    }
    if (scans != NULL)
        SCANS = strtoull(scans, NULL, 10);
}

Suite *test_suite(void)
{
    Suite *suite = suite_create("core random campaign");
    TCase *tc = tcase_create("campaign");

    seeds_draw();
    tcase_set_timeout(tc, 600);
    tcase_add_loop_test(tc, whatever_happens_the_tank_is_never_let_on_without_every_permit, 0, SEED_COUNT);
    suite_add_tcase(suite, tc);
    return suite;
}
