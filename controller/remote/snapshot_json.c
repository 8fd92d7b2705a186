#include "remote/snapshot_json.h"

#include "remote/protocol.h"
#include "words/words.h"

#include <math.h>
#include <time.h>

struct answers {
    const char *first;
    const char *second;
};

static const struct answers ANSWERS[PROMPT_COUNT] = {
    [PROMPT_TANK_READY] = {"done", "cannot"},     [PROMPT_ADD_WATER] = {"done", "cannot"},
    [PROMPT_ADD_ACID] = {"done", "cannot"},       [PROMPT_TIP_BAG] = {"done", "cannot"},
    [PROMPT_ADD_SUGAR] = {"done", "cannot"},      [PROMPT_READ_STRENGTH] = {"number", "cannot"},
    [PROMPT_READ_ACIDITY] = {"number", "cannot"},
};

static json_t *utc_json(int64_t utc_us)
{
    time_t seconds = (time_t)(utc_us / 1000000);
    struct tm parts;
    char text[32];

    if (gmtime_r(&seconds, &parts) == NULL || strftime(text, sizeof text, "%Y-%m-%dT%H:%M:%SZ", &parts) == 0)
        return json_null();
    return json_string(text);
}

static json_t *prompt_json(const struct snapshot *s)
{
    const struct prompt *prompt = &s->prompt;
    char sentence[WORDS_MAX];

    if (prompt->kind <= PROMPT_NONE || prompt->kind >= PROMPT_COUNT)
        return json_null();
    words_prompt(prompt, &s->memory.plan, sentence);
    return json_pack("{s:I,s:s,s:o,s:[s,s],s:o,s:o,s:o}", "id", (json_int_t)prompt->id, "kind",
                     words_prompt_name(prompt->kind), "sentence", protocol_text(sentence), "answers",
                     ANSWERS[prompt->kind].first, ANSWERS[prompt->kind].second, "number",
                     protocol_number(prompt->number), "number2", protocol_number(prompt->number2), "asked_s",
                     protocol_number((double)(s->scan_us - prompt->asked_us) / 1e6));
}

static json_t *value_json(const struct snapshot *s, enum point point)
{
    const struct reading *reading = &s->readings[point];
    bool is_bad = reading->quality == QUALITY_BAD;
    bool never = reading->reason == REASON_NOT_BOUND || reading->reason == REASON_NO_READING;

    return json_pack("{s:o,s:s,s:s,s:s,s:o}", "value", protocol_number(is_bad ? (double)NAN : reading->value),
                     "unit", point_info(point)->unit, "quality", quality_name(reading->quality), "reason",
                     reason_name(reading->reason), "age_s",
                     protocol_number(never ? (double)NAN : (double)(s->scan_us - reading->at_us) / 1e6));
}

static json_t *values_json(const struct snapshot *s)
{
    json_t *object = json_object();
    int failed = 0;

    for (int i = 0; i < POINT_INPUT_COUNT; i++)
        failed |= json_object_set_new(object, point_info((enum point)i)->name, value_json(s, (enum point)i));
    if (failed == 0)
        return object;
    json_decref(object);
    return NULL;
}

static json_t *outputs_json(const struct snapshot *s)
{
    json_t *object = json_object();
    int failed = 0;

    for (int i = 0; i < POINT_OUTPUT_COUNT; i++)
        failed |= json_object_set_new(object, point_info((enum point)(POINT_INPUT_COUNT + i))->name,
                                      protocol_number(s->outputs[i]));
    if (failed == 0)
        return object;
    json_decref(object);
    return NULL;
}

static json_t *trip_json(const struct snapshot *s, enum trip trip, const struct limits *limits)
{
    const struct trip_state *state = &s->trips[trip];
    char sentence[WORDS_MAX];

    words_trip(trip, state->detail, limits, sentence);
    return json_pack("{s:s,s:o,s:s,s:b,s:b,s:b}", "trip", words_trip_name(trip), "sentence",
                     protocol_text(sentence), "act", words_trip_act(trip), "present", (int)state->is_present,
                     "latched", (int)state->is_latched, "first", (int)(s->first_trip == (int)trip));
}

static json_t *trips_json(const struct snapshot *s, const struct limits *limits)
{
    json_t *list = json_array();
    int failed = 0;

    for (int i = 0; i < TRIP_COUNT; i++)
        if (s->trips[i].is_present || s->trips[i].is_latched)
            failed |= json_array_append_new(list, trip_json(s, (enum trip)i, limits));
    if (failed == 0)
        return list;
    json_decref(list);
    return NULL;
}

static json_t *opinion_json(const struct snapshot *s, enum point point)
{
    const struct opinion *opinion = &s->opinions[point];
    char sentence[WORDS_MAX];

    words_opinion(point, opinion, sentence);
    return json_pack("{s:s,s:o,s:o,s:o,s:o,s:s,s:o,s:o}", "point", point_info(point)->name, "value",
                     protocol_number(opinion->value), "expanded_u", protocol_number(opinion->expanded_u),
                     "instrument", protocol_number(opinion->instrument), "instrument_expanded_u",
                     protocol_number(opinion->instrument_expanded_u), "agreement",
                     words_agreement_name(opinion->agreement), "sentence", protocol_text(sentence), "age_s",
                     protocol_number((double)(s->scan_us - opinion->at_us) / 1e6));
}

static json_t *opinions_json(const struct snapshot *s)
{
    json_t *list = json_array();
    int failed = 0;

    for (int i = 0; i < POINT_INPUT_COUNT; i++)
        if (s->opinions[i].has)
            failed |= json_array_append_new(list, opinion_json(s, (enum point)i));
    if (failed == 0)
        return list;
    json_decref(list);
    return NULL;
}

static json_t *tally_json(const struct batch_memory *m)
{
    return json_pack("{s:o,s:o,s:o,s:i,s:i,s:o,s:o}", "water_in_l", protocol_number(m->water_in_l),
                     "acid_in_ml", protocol_number(m->acid_in_ml), "sugar_in_kg",
                     protocol_number(m->sugar_in_kg), "bags_in", m->bags_in, "bags", m->plan.bags,
                     "peak_temp_c", protocol_number(m->peak_temp_c), "heater_kwh",
                     protocol_number(m->heater_kwh));
}

static json_t *batch_json(const struct snapshot *s)
{
    const struct batch_memory *m = &s->memory;

    return json_pack("{s:o,s:s,s:s,s:s,s:s,s:i,s:i,s:o}", "batch",
                     m->has_batch ? json_string(m->plan.batch_id) : json_null(), "state",
                     words_state_name(m->state), "state_sentence", words_state(m->state), "step",
                     words_step_name(m->step), "step_sentence", words_step(m->step), "step_number",
                     (int)m->step, "steps_total", STEP_COUNT - 1, "outcome",
                     m->has_batch ? json_string(words_outcome_name(m->outcome)) : json_null());
}

static json_t *clock_json(const struct snapshot *s)
{
    return json_pack("{s:o,s:o,s:b,s:b,s:I,s:I}", "scan_s", protocol_number((double)s->scan_us / 1e6), "utc",
                     utc_json(s->utc_us), "utc_synced", (int)s->utc_synced, "simulated", (int)s->is_simulated,
                     "scans", (json_int_t)s->scans, "scans_late", (json_int_t)s->scans_late);
}

json_t *snapshot_to_json(const struct snapshot *s, const struct limits *limits,
                         const struct record_health *record)
{
    json_t *state = clock_json(s);
    json_t *batch = batch_json(s);
    json_t *rest = json_pack(
        "{s:o,s:o,s:o,s:o,s:{s:o,s:o,s:o},s:o,s:o,s:{s:s,s:s},s:o,s:{s:b,s:I,s:o}}", "time_left_s",
        protocol_number(s->time_left_s), "prompt", prompt_json(s), "values", values_json(s), "opinions",
        opinions_json(s), "targets", "warmth_c", protocol_number(s->warmth_target_c), "strength_pct",
        protocol_number(s->strength_target_pct), "acidity_ph", protocol_number(s->acidity_target_ph),
        "outputs", outputs_json(s), "trips", trips_json(s, limits), "touch", "level",
        words_scald_name(s->scald), "sentence", words_scald(s->scald), "tally", tally_json(&s->memory),
        "record", "failing", (int)record->is_failing, "lost", (json_int_t)record->lost, "sentence",
        protocol_text(record->sentence));

    if (json_object_update(state, batch) != 0 || json_object_update(state, rest) != 0) {
        json_decref(state);
        state = NULL;
    }
    json_decref(batch);
    json_decref(rest);
    return state;
}
