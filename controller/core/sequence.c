#include "core/sequence.h"

#include "core/ask.h"
#include "core/opinion.h"
#include "core/protect.h"
#include "core/pulse.h"
#include "core/state_table.h"
#include "core/steps.h"

#include <math.h>
#include <string.h>

/* ---- steps ---------------------------------------------------------------------------- */

double sequence_step_limit_s(const struct scan_setup *setup, enum step step)
{
    size_t offset = STEP_ROWS[step].limit;

    return offset == 0 ? HUGE_VAL : *(const double *)((const char *)&setup->limits + offset);
}

bool sequence_uses_step(const struct scan_setup *setup, const struct batch_plan *plan, enum step step)
{
    const struct step_row *row = &STEP_ROWS[step];

    return row->work != NULL && (row->is_used == NULL || row->is_used(setup, plan));
}

static void step_go(struct turn *turn, enum step step)
{
    struct batch_memory *memory = &turn->scan->memory;

    (void)turn_emit(turn, EVENT_STEP, (int)memory->step, (int)step);
    memory->step = step;
    memory->step_s = 0;
    turn->scan->step_entered = false;
    ask_withdraw(turn);
}

static void state_go(struct turn *turn, enum batch_state state)
{
    (void)turn_emit(turn, EVENT_STATE, (int)turn->scan->memory.state, (int)state);
    turn->scan->memory.state = state;
}

/* ---- the end ------------------------------------------------------------------------------ */

static enum outcome outcome_judge(const struct batch_memory *memory)
{
    const struct batch_plan *plan = &memory->plan;
    bool has_strength = memory->has_strength &&
                        fabs(memory->strength_pct - plan->request.strength_pct) <= plan->tolerance_pct;
    bool has_acidity = plan->request.acid == ACID_NONE ||
                       (memory->has_water_ph &&
                        fabs(memory->water_ph - plan->request.target_ph) <= plan->tolerance_ph);

    return has_strength && has_acidity ? OUTCOME_MET : OUTCOME_NOT_MET;
}

static void batch_end(struct turn *turn, enum batch_state state, enum outcome outcome)
{
    struct batch_memory *memory = &turn->scan->memory;

    memory->outcome = outcome;
    memory->ended_utc_us = turn->scan->image.utc_us;
    state_go(turn, state);
    (void)turn_emit(turn, EVENT_BATCH_ENDED, (int)outcome, 0);
}

static void step_follow(struct turn *turn)
{
    struct batch_memory *memory = &turn->scan->memory;
    int next = (int)memory->step + 1;

    while (next < STEP_COUNT && !sequence_uses_step(turn->setup, &memory->plan, (enum step)next))
        next++;
    if (next < STEP_COUNT) {
        step_go(turn, (enum step)next);
        return;
    }
    step_go(turn, STEP_NONE);
    batch_end(turn, STATE_COMPLETE, outcome_judge(memory));
}

static void step_work(struct turn *turn)
{
    struct scan *scan = turn->scan;
    const struct step_row *row = &STEP_ROWS[scan->memory.step];
    enum step_result result;

    if (!scan->step_entered && row->enter != NULL)
        row->enter(turn);
    scan->step_entered = true;
    if (scan->prompt.kind == PROMPT_NONE)
        scan->memory.step_s += scan->image.dt_s;
    result = row->work(turn);
    if (result == STEP_FINISHED)
        step_follow(turn);
    else if (result == STEP_BACK_TO_DISSOLVE)
        step_go(turn, STEP_DISSOLVE);
}

/* ---- commands ----------------------------------------------------------------------------------- */

/* Readings without which a batch of this kind cannot be trusted to begin. */
static enum refusal start_check_instruments(struct turn *turn, const struct batch_plan *plan, int *detail)
{
    static const enum point ALWAYS[] = {POINT_TANK_TEMP_C,         POINT_CHAIN_OK,     POINT_LID_CLOSED,
                                        POINT_LEVEL_COVERS_HEATER, POINT_STRENGTH_PCT, POINT_WATER_L};

    for (unsigned i = 0; i < sizeof ALWAYS / sizeof ALWAYS[0]; i++)
        if (turn_is_bound(turn, ALWAYS[i]) && !turn_is_good(turn, ALWAYS[i])) {
            *detail = (int)ALWAYS[i];
            return REFUSAL_INSTRUMENTS;
        }
    if (plan->request.acid != ACID_NONE && turn_is_bound(turn, POINT_ACIDITY_PH) &&
        !turn_is_good(turn, POINT_ACIDITY_PH)) {
        *detail = POINT_ACIDITY_PH;
        return REFUSAL_INSTRUMENTS;
    }
    return REFUSAL_NONE;
}

static void batch_begin(struct turn *turn, const struct command *command)
{
    struct batch_memory *memory = &turn->scan->memory;
    uint64_t next_intent = memory->next_intent;
    uint32_t next_prompt = memory->next_prompt;
    struct event *event;

    memset(memory, 0, sizeof *memory);
    memory->layout = MEMORY_LAYOUT;
    memory->has_batch = true;
    memory->next_intent = next_intent;
    memory->next_prompt = next_prompt;
    memory->plan = turn->in->plan;
    memory->alkalinity_meq_kg = memory->plan.request.alkalinity_meq_kg;
    memory->started_utc_us = turn->scan->image.utc_us;
    memory->started_by = command->who;
    memory->peak_temp_c = -273;
    turn->scan->strength.rounds = 0;
    opinion_forget(turn);
    event = turn_emit(turn, EVENT_BATCH_STARTED, 0, 0);
    event->who = command->who;
    memcpy(event->text, memory->plan.batch_id, sizeof memory->plan.batch_id);
    step_go(turn, STEP_READY);
}

static void batch_forget(struct turn *turn)
{
    struct batch_memory *memory = &turn->scan->memory;
    uint64_t next_intent = memory->next_intent;
    uint32_t next_prompt = memory->next_prompt;

    memset(memory, 0, sizeof *memory);
    memory->layout = MEMORY_LAYOUT;
    memory->next_intent = next_intent;
    memory->next_prompt = next_prompt;
    opinion_forget(turn);
}

static enum refusal batch_command_check(struct turn *turn, const struct command *command, int *detail)
{
    enum batch_state from = turn->scan->memory.state;
    bool goes_on = command->verb == VERB_START || command->verb == VERB_RESTART ||
                   command->verb == VERB_RESUME;

    if (state_table_next(from, command->verb) == STATE_COUNT) {
        *detail = (int)from;
        return REFUSAL_STATE;
    }
    if (goes_on && protect_is_tripped(turn->scan)) {
        *detail = turn->scan->first_trip;
        return REFUSAL_TRIPPED;
    }
    if (command->verb != VERB_START)
        return REFUSAL_NONE;
    if (!turn->in->has_plan)
        return REFUSAL_NO_PLAN;
    return start_check_instruments(turn, &turn->in->plan, detail);
}

/* What was answered earlier in this scan counts before the batch leaves its work. */
static void answer_use(struct turn *turn, enum verb verb)
{
    struct scan *scan = turn->scan;

    if (scan->memory.state == STATE_RUNNING && scan->answered.is_given &&
        state_table_next(STATE_RUNNING, verb) != STATE_COUNT)
        step_work(turn);
}

static enum refusal batch_command(struct turn *turn, const struct command *command, int *detail)
{
    enum batch_state to;
    enum refusal refusal;

    answer_use(turn, command->verb);
    to = state_table_next(turn->scan->memory.state, command->verb);
    refusal = batch_command_check(turn, command, detail);
    if (refusal != REFUSAL_NONE)
        return refusal;
    turn_emit(turn, EVENT_COMMAND, (int)command->verb, 0)->who = command->who;
    if (command->verb == VERB_START)
        batch_begin(turn, command);
    state_go(turn, to);
    if (command->verb == VERB_RESET)
        batch_forget(turn);
    return REFUSAL_NONE;
}

static enum refusal answer_command(struct turn *turn, const struct command *command)
{
    enum refusal refusal = REFUSAL_NO_PROMPT; /* unless the batch works, nobody would take the answer */

    if (turn->scan->memory.state == STATE_RUNNING)
        refusal = ask_take_answer(turn, command);
    if (refusal == REFUSAL_NONE && command->answer == ANSWER_CANNOT)
        state_go(turn, STATE_HOLDING);
    return refusal;
}

static enum refusal command_run(struct turn *turn, const struct command *command, int *detail)
{
    enum refusal refusal;

    if (command->verb < VERB_BATCH_COUNT)
        return batch_command(turn, command, detail);
    if (command->verb == VERB_ANSWER)
        return answer_command(turn, command);
    if (command->verb == VERB_COMPARE)
        return opinion_take(turn, command);
    if (command->verb != VERB_RELEASE) {
        *detail = (int)turn->scan->memory.state;
        return REFUSAL_STATE;
    }
    refusal = protect_release(turn, &command->who, detail);
    if (refusal == REFUSAL_NONE)
        turn_emit(turn, EVENT_COMMAND, (int)command->verb, 0)->who = command->who;
    return refusal;
}

static void commands_take(struct turn *turn)
{
    for (int i = 0; i < turn->in->command_count && i < SCAN_COMMANDS_MAX; i++) {
        const struct command *command = &turn->in->commands[i];
        struct command_result *result = &turn->out->results[turn->out->result_count++];

        *result = (struct command_result){.id = command->id};
        result->refusal = command_run(turn, command, &result->detail);
        if (result->refusal != REFUSAL_NONE)
            turn_emit(turn, EVENT_REFUSED, (int)command->verb, (int)result->refusal)->who = command->who;
    }
}

/* ---- states ---------------------------------------------------------------------------------------- */

static void hold_when_tripped(struct turn *turn)
{
    enum batch_state state = turn->scan->memory.state;

    if (protect_is_tripped(turn->scan) && state_table_next(state, VERB_HOLD) == STATE_HOLDING)
        state_go(turn, STATE_HOLDING);
}

static bool outputs_rest(const struct turn *turn)
{
    return !turn_output_is_on(turn, POINT_HEATER_ON) && !turn_output_is_on(turn, POINT_WATER_VALVE_OPEN) &&
           !turn_output_is_on(turn, POINT_DOSE_PUMP_ON) && turn->scan->water.phase == PULSE_IDLE &&
           turn->scan->dose.phase == PULSE_IDLE;
}

static void transient_work(struct turn *turn)
{
    enum batch_state to = state_table_done(turn->scan->memory.state);

    pulse_abandon(turn, &turn->scan->water, &PULSE_WATER);
    pulse_abandon(turn, &turn->scan->dose, &PULSE_DOSE);
    if (!outputs_rest(turn))
        return;
    if ((to == STATE_STOPPED || to == STATE_ABORTED) && turn->scan->memory.outcome == OUTCOME_OPEN)
        batch_end(turn, to, OUTCOME_UNFINISHED);
    else
        state_go(turn, to); /* also aborted after it was stopped: a batch ends once */
    /* Everything stood still: sugar may have settled, or have been tipped in unsaid. Stir before looking. */
    if (to == STATE_RUNNING && turn->scan->memory.step > STEP_DISSOLVE)
        step_go(turn, STEP_DISSOLVE);
    /* What was asked before the interruption is asked anew, from what is in the tank then. */
    ask_withdraw(turn);
    turn->scan->step_entered = false;
}

void sequence_init(struct scan *scan, const struct batch_memory *restored)
{
    memset(&scan->memory, 0, sizeof scan->memory);
    scan->memory.layout = MEMORY_LAYOUT;
    scan->memory.next_intent = 1;
    if (restored == NULL || restored->layout != MEMORY_LAYOUT || (unsigned)restored->state >= STATE_COUNT ||
        (unsigned)restored->step >= STEP_COUNT)
        return;
    scan->memory = *restored;
    if (scan->memory.next_intent == 0)
        scan->memory.next_intent = 1;
    if (restored->has_batch)
        scan->is_recovered = true;
}

static void recover(struct turn *turn)
{
    struct batch_memory *memory = &turn->scan->memory;
    enum batch_state before = memory->state;
    enum batch_state after = state_table_recovered(before);

    turn->scan->is_recovered = false;
    (void)turn_emit(turn, EVENT_RECOVERED, (int)before, (int)memory->step);
    if (after == before)
        return;
    if (after == STATE_STOPPED || after == STATE_ABORTED)
        batch_end(turn, after, OUTCOME_UNFINISHED);
    else
        state_go(turn, after);
}

void sequence_step(struct turn *turn)
{
    struct scan *scan = turn->scan;

    scan->want = (struct want){.warmth_c = NAN, .power_max_pct = 100};
    if (scan->is_recovered)
        recover(turn);
    pulse_settle_open(turn, &scan->water, &PULSE_WATER, scan->memory.state == STATE_RUNNING);
    pulse_settle_open(turn, &scan->dose, &PULSE_DOSE, scan->memory.state == STATE_RUNNING);
    hold_when_tripped(turn); /* before any command: a release in this very scan does not spare the hold */
    commands_take(turn);
    if (scan->memory.state == STATE_RUNNING)
        step_work(turn);
    else if (state_table_done(scan->memory.state) != STATE_COUNT)
        transient_work(turn);
    ask_remind(turn);
    scan->lid_expected = ask_needs_lid_open(turn) || (scan->lid_expected && !turn_lid_is_shut(turn));
}

/* ---- how long still ------------------------------------------------------------------------------------ */

static double step_left_s(const struct scan *scan, const struct scan_setup *setup)
{
    const struct batch_memory *memory = &scan->memory;
    const struct reading *temp = &scan->image.readings[POINT_TANK_TEMP_C];
    double expected_s = memory->plan.predicted_s[memory->step];

    if (memory->step == STEP_HEAT && temp->quality != QUALITY_BAD && setup->tank.heater_kw > 0) {
        double missing_k = memory->plan.preheat_c - temp->value;
        return fmax(0, missing_k * scan->estimate.water_kg * 4.186 / setup->tank.heater_kw);
    }
    if (memory->step == STEP_CHARGE && memory->plan.bags > 0)
        return expected_s * (memory->plan.bags - memory->bags_in) / memory->plan.bags;
    return fmax(0, expected_s - memory->step_s);
}

double sequence_time_left_s(const struct scan *scan, const struct scan_setup *setup)
{
    const struct batch_memory *memory = &scan->memory;
    double left_s;

    if (!memory->has_batch || memory->step == STEP_NONE)
        return NAN;
    left_s = step_left_s(scan, setup);
    for (int step = (int)memory->step + 1; step < STEP_COUNT; step++)
        if (sequence_uses_step(setup, &memory->plan, (enum step)step))
            left_s += memory->plan.predicted_s[step];
    return left_s;
}
