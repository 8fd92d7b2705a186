/* Machine names: stable, because records and clients keep them. */
#include "words/words.h"

#include <string.h>

static const char UNKNOWN[] = "unknown";

static const char *const STATES[STATE_COUNT] = {
    [STATE_IDLE] = "idle",
    [STATE_RUNNING] = "running",
    [STATE_PAUSING] = "pausing",
    [STATE_PAUSED] = "paused",
    [STATE_HOLDING] = "holding",
    [STATE_HELD] = "held",
    [STATE_RESTARTING] = "restarting",
    [STATE_STOPPING] = "stopping",
    [STATE_STOPPED] = "stopped",
    [STATE_ABORTING] = "aborting",
    [STATE_ABORTED] = "aborted",
    [STATE_COMPLETE] = "complete",
};

static const char *const VERBS[VERB_COUNT] = {
    [VERB_START] = "start",     [VERB_STOP] = "stop",       [VERB_HOLD] = "hold",
    [VERB_RESTART] = "restart", [VERB_ABORT] = "abort",     [VERB_RESET] = "reset",
    [VERB_PAUSE] = "pause",     [VERB_RESUME] = "resume",   [VERB_RELEASE] = "release",
    [VERB_ANSWER] = "answer",   [VERB_COMPARE] = "compare",
};

static const char *const STEPS[STEP_COUNT] = {
    [STEP_NONE] = "none",         [STEP_READY] = "ready",       [STEP_FILL] = "fill",
    [STEP_ACIDIFY] = "acidify",   [STEP_HEAT] = "heat",         [STEP_CHARGE] = "charge",
    [STEP_DISSOLVE] = "dissolve", [STEP_STRENGTH] = "strength", [STEP_CHECK] = "check",
};

static const char *const OUTCOMES[] = {
    [OUTCOME_OPEN] = "open",
    [OUTCOME_MET] = "met",
    [OUTCOME_NOT_MET] = "not_met",
    [OUTCOME_UNFINISHED] = "unfinished",
};

static const char *const PROMPTS[PROMPT_COUNT] = {
    [PROMPT_NONE] = "none",
    [PROMPT_TANK_READY] = "tank_ready",
    [PROMPT_ADD_WATER] = "add_water",
    [PROMPT_ADD_ACID] = "add_acid",
    [PROMPT_TIP_BAG] = "tip_bag",
    [PROMPT_ADD_SUGAR] = "add_sugar",
    [PROMPT_READ_STRENGTH] = "read_strength",
    [PROMPT_READ_ACIDITY] = "read_acidity",
};

static const char *const ANSWERS[ANSWER_COUNT] = {
    [ANSWER_DONE] = "done",
    [ANSWER_NUMBER] = "number",
    [ANSWER_CANNOT] = "cannot",
};

static const char *const TRIPS[TRIP_COUNT] = {
    [TRIP_POWER_UP] = "power_up",
    [TRIP_LIQUID_HOT] = "liquid_hot",
    [TRIP_SHEATH_HOT] = "sheath_hot",
    [TRIP_LEVEL_LOW] = "level_low",
    [TRIP_LEVEL_HIGH] = "level_high",
    [TRIP_STIRRER] = "stirrer",
    [TRIP_LID_OPEN] = "lid_open",
    [TRIP_HATCH_OPEN] = "hatch_open",
    [TRIP_CHAIN_OPEN] = "chain_open",
    [TRIP_READING_BAD] = "reading_bad",
    [TRIP_BUS_LOST] = "bus_lost",
    [TRIP_DOSE_CEILING] = "dose_ceiling",
    [TRIP_STEP_TIME] = "step_time",
    [TRIP_CONTACTOR_STUCK] = "contactor_stuck",
    [TRIP_CONTACTOR_OPEN] = "contactor_open",
    [TRIP_WATER_LEAKS] = "water_leaks",
    [TRIP_STALLED] = "stalled",
};

static const char *const EVENTS[EVENT_KIND_COUNT] = {
    [EVENT_BATCH_STARTED] = "batch_started",
    [EVENT_BATCH_ENDED] = "batch_ended",
    [EVENT_STATE] = "state",
    [EVENT_STEP] = "step",
    [EVENT_COMMAND] = "command",
    [EVENT_REFUSED] = "refused",
    [EVENT_ASKED] = "asked",
    [EVENT_ANSWERED] = "answered",
    [EVENT_TRIPPED] = "tripped",
    [EVENT_TRIP_ENDED] = "trip_ended",
    [EVENT_RELEASED] = "released",
    [EVENT_INTENT_DOSE] = "intent_dose",
    [EVENT_OUTCOME_DOSE] = "outcome_dose",
    [EVENT_INTENT_WATER] = "intent_water",
    [EVENT_OUTCOME_WATER] = "outcome_water",
    [EVENT_NOT_RECORDED] = "not_recorded",
    [EVENT_SUGAR] = "sugar",
    [EVENT_MEASURED] = "measured",
    [EVENT_LEARNED] = "learned",
    [EVENT_QUALITY] = "quality",
    [EVENT_RECOVERED] = "recovered",
    [EVENT_REMINDER] = "reminder",
    [EVENT_DISAGREES] = "disagrees",
    [EVENT_HAND_READING] = "hand_reading",
    [EVENT_COMPARED] = "compared",
};

static const char *const REFUSALS[REFUSAL_COUNT] = {
    [REFUSAL_NONE] = "none",
    [REFUSAL_STATE] = "state",
    [REFUSAL_TRIPPED] = "tripped",
    [REFUSAL_CAUSE_PRESENT] = "cause_present",
    [REFUSAL_NOTHING] = "nothing_tripped",
    [REFUSAL_NO_PROMPT] = "no_prompt",
    [REFUSAL_WRONG_ANSWER] = "wrong_answer",
    [REFUSAL_NUMBER] = "number",
    [REFUSAL_NO_PLAN] = "no_plan",
    [REFUSAL_INSTRUMENTS] = "instruments",
};

static const char *const ROLES[ROLE_COUNT] = {
    [ROLE_LOOKER] = "looker",
    [ROLE_HELPER] = "helper",
    [ROLE_OPERATOR] = "operator",
    [ROLE_SUPERVISOR] = "supervisor",
};

static const char *const DOORS[DOOR_COUNT] = {
    [DOOR_SHELL] = "shell",
    [DOOR_DESK] = "desk",
    [DOOR_SELF] = "self",
};

static const char *const MEASUREDS[MEASURED_COUNT] = {
    [MEASURED_WATER_PH] = "water_ph",
    [MEASURED_STRENGTH_PCT] = "strength_pct",
    [MEASURED_SYRUP_PH] = "syrup_ph",
    [MEASURED_SYRUP_TEMP_C] = "syrup_temp_c",
};

static const char *const AGREEMENTS[AGREEMENT_COUNT] = {
    [AGREEMENT_CANNOT_SAY] = "cannot_say",
    [AGREEMENT_AGREES] = "agrees",
    [AGREEMENT_DISAGREES] = "disagrees",
};

static const char *const SCALDS[SCALD_COUNT] = {
    [SCALD_NONE] = "none", [SCALD_CAUTION] = "caution", [SCALD_WARNING] = "warning",
    [SCALD_HIGH] = "high", [SCALD_DANGER] = "danger",   [SCALD_EXTREME] = "extreme",
};

#define COUNT_OF(table) ((int)(sizeof(table) / sizeof((table)[0])))

static const char *name_of(const char *const table[], int count, int code)
{
    return code >= 0 && code < count ? table[code] : UNKNOWN;
}

static int find_in(const char *const table[], int count, const char *name)
{
    int i = 0;

    while (name != NULL && i < count && strcmp(table[i], name) != 0)
        i++;
    return name != NULL ? i : count;
}

const char *words_state_name(enum batch_state state)
{
    return name_of(STATES, STATE_COUNT, (int)state);
}

const char *words_verb_name(enum verb verb)
{
    return name_of(VERBS, VERB_COUNT, (int)verb);
}

const char *words_step_name(enum step step)
{
    return name_of(STEPS, STEP_COUNT, (int)step);
}

const char *words_outcome_name(enum outcome outcome)
{
    return name_of(OUTCOMES, COUNT_OF(OUTCOMES), (int)outcome);
}

const char *words_prompt_name(enum prompt_kind kind)
{
    return name_of(PROMPTS, PROMPT_COUNT, (int)kind);
}

const char *words_answer_name(enum answer answer)
{
    return name_of(ANSWERS, ANSWER_COUNT, (int)answer);
}

const char *words_trip_name(enum trip trip)
{
    return name_of(TRIPS, TRIP_COUNT, (int)trip);
}

const char *words_event_name(enum event_kind kind)
{
    return name_of(EVENTS, EVENT_KIND_COUNT, (int)kind);
}

const char *words_refusal_name(enum refusal refusal)
{
    return name_of(REFUSALS, REFUSAL_COUNT, (int)refusal);
}

const char *words_role_name(enum role role)
{
    return name_of(ROLES, ROLE_COUNT, (int)role);
}

const char *words_door_name(enum door door)
{
    return name_of(DOORS, DOOR_COUNT, (int)door);
}

const char *words_measured_name(enum measured measured)
{
    return name_of(MEASUREDS, MEASURED_COUNT, (int)measured);
}

const char *words_agreement_name(enum agreement agreement)
{
    return name_of(AGREEMENTS, AGREEMENT_COUNT, (int)agreement);
}

const char *words_scald_name(enum scald level)
{
    return name_of(SCALDS, SCALD_COUNT, (int)level);
}

enum verb words_verb_find(const char *name)
{
    return (enum verb)find_in(VERBS, VERB_COUNT, name);
}

enum answer words_answer_find(const char *name)
{
    return (enum answer)find_in(ANSWERS, ANSWER_COUNT, name);
}

enum role words_role_find(const char *name)
{
    return (enum role)find_in(ROLES, ROLE_COUNT, name);
}
