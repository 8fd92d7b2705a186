#include "client/numbers.h"
#include "client/show.h"

#include <math.h>
#include <string.h>

struct ruler {
    const char *label;
    const char *point;
    const char *target;
    int decimals;
    const char *unit;
};

static const struct ruler RULERS[] = {
    {"warmth", "tank_temp_c", "warmth_c", 1, " °C"},
    {"strength", "strength_pct", "strength_pct", 2, " %"},
    {"acidity", "acidity_ph", "acidity_ph", 2, " pH"},
};
#define RULER_COUNT (sizeof RULERS / sizeof RULERS[0])

/* "49.8 of 60.0 °C", "no value (stale)"; a value that is only uncertain says so. */
static void ruler_print(const json_t *state, const struct ruler *ruler, char *out, size_t size)
{
    const json_t *value = json_object_get(json_object_get(state, "values"), ruler->point);
    double seen = show_number(value, "value");
    double target = show_number(json_object_get(state, "targets"), ruler->target);
    const char *reason = show_text(value, "reason");
    char number[NUMBER_TEXT_MAX];
    char wanted[NUMBER_TEXT_MAX + 8] = "";
    char aim[NUMBER_TEXT_MAX];

    if (isfinite(target))
        (void)snprintf(wanted, sizeof wanted, " of %s", number_print(target, ruler->decimals, aim));
    if (!isfinite(seen))
        (void)snprintf(out, size, "no value (%s)", reason[0] == '\0' ? "not reported" : reason);
    else
        (void)snprintf(out, size, "%s%s%s%s", number_print(seen, ruler->decimals, number), wanted,
                       ruler->unit,
                       strcmp(show_text(value, "quality"), "uncertain") == 0 ? " (uncertain)" : "");
}

/* An ended batch is in no step any more. */
static bool has_step(const json_t *state)
{
    return show_number(state, "step_number") > 0;
}

/* ---- the page -------------------------------------------------------------------------------- */

static void happening_print(const struct show *show, const json_t *state)
{
    const char *batch = show_text(state, "batch");
    char line[SHOW_LINE_MAX];

    if (json_is_true(json_object_get(state, "simulated")))
        show_strong(show, "", "SIMULATED TANK: nothing here is real");
    if (batch[0] == '\0')
        (void)snprintf(line, sizeof line, "no batch; %s", show_text(state, "state_sentence"));
    else if (!has_step(state))
        (void)snprintf(line, sizeof line, "batch %s: %s", batch, show_text(state, "state_sentence"));
    else
        (void)snprintf(line, sizeof line, "batch %s, %s: %s", batch, show_text(state, "step_sentence"),
                       show_text(state, "state_sentence"));
    show_strong(show, "What is happening", line);
}

/* What is not latched goes away by itself, as when the hatch is closed again. */
static const char *trip_label(const json_t *trip)
{
    if (!json_is_true(json_object_get(trip, "latched")))
        return "for now";
    return json_is_true(json_object_get(trip, "first")) ? "tripped (first)" : "tripped";
}

static void trips_print(const struct show *show, const json_t *trips)
{
    bool is_any_latched = false;
    char label[32];

    for (size_t i = 0; i < json_array_size(trips); i++) {
        const json_t *trip = json_array_get(trips, i);
        (void)snprintf(label, sizeof label, "  %s", trip_label(trip));
        show_danger(show, label, show_text(trip, "sentence"));
        show_row(show, "  do this", show_text(trip, "act"));
        is_any_latched |= json_is_true(json_object_get(trip, "latched"));
    }
    if (is_any_latched)
        show_row(show, "  then", "syrupwright release");
}

static void must_do_print(const struct show *show, const json_t *state)
{
    const json_t *prompt = json_object_get(state, "prompt");
    const json_t *trips = json_object_get(state, "trips");
    const char *first = json_string_value(json_array_get(json_object_get(prompt, "answers"), 0));

    if (json_is_object(prompt)) {
        show_strong(show, "What you must do", show_text(prompt, "sentence"));
        show_row(show, "  then",
                 first != NULL && strcmp(first, "number") == 0
                     ? "syrupwright answer NUMBER   (or: answer cannot)"
                     : "syrupwright answer done   (or: answer cannot)");
    } else {
        show_row(show, "What you must do",
                 json_array_size(trips) > 0 ? "see to what has tripped" : "nothing now");
    }
    trips_print(show, trips);
}

static void touch_print(const struct show *show, const json_t *state)
{
    const json_t *touch = json_object_get(state, "touch");
    const char *level = show_text(touch, "level");

    if (strcmp(level, "none") == 0)
        show_row(show, "May I touch it", show_text(touch, "sentence"));
    else
        show_danger(show, "May I touch it", show_text(touch, "sentence"));
}

static void how_far_print(const struct show *show, const json_t *state)
{
    const json_t *tally = json_object_get(state, "tally");
    char line[SHOW_LINE_MAX];
    char n[4][NUMBER_TEXT_MAX];
    char step[2 * NUMBER_TEXT_MAX + 16] = "";

    if (show_text(state, "batch")[0] == '\0') {
        show_row(show, "How far", "nothing is under way");
    } else {
        if (has_step(state))
            (void)snprintf(step, sizeof step, "step %s of %s; ",
                           number_print(show_number(state, "step_number"), 0, n[0]),
                           number_print(show_number(state, "steps_total"), 0, n[1]));
        (void)snprintf(line, sizeof line, "%sin the tank %s L of water, bag %s of %s, %s mL of acid", step,
                       number_print(show_number(tally, "water_in_l"), 1, n[0]),
                       number_print(show_number(tally, "bags_in"), 0, n[1]),
                       number_print(show_number(tally, "bags"), 0, n[2]),
                       number_print(show_number(tally, "acid_in_ml"), 0, n[3]));
        show_row(show, "How far", line);
    }
    for (size_t i = 0; i < RULER_COUNT; i++) {
        char label[32];
        (void)snprintf(label, sizeof label, "  %s", RULERS[i].label);
        ruler_print(state, &RULERS[i], line, sizeof line);
        show_row(show, label, line);
    }
}

static void opinions_print(const struct show *show, const json_t *state)
{
    const json_t *list = json_object_get(state, "opinions");

    for (size_t i = 0; i < json_array_size(list); i++) {
        const json_t *opinion = json_array_get(list, i);
        char line[SHOW_LINE_MAX];
        char age[NUMBER_TEXT_MAX];

        (void)snprintf(line, sizeof line, "%s (%s ago)", show_text(opinion, "sentence"),
                       duration_print(show_number(opinion, "age_s"), age));
        if (strcmp(show_text(opinion, "agreement"), "disagrees") == 0)
            show_danger(show, "Second opinion", line);
        else
            show_row(show, "Second opinion", line);
    }
}

static const char *outcome_sentence(const json_t *state)
{
    const char *outcome = show_text(state, "outcome");

    if (strcmp(outcome, "met") == 0)
        return "finished: every target met";
    if (strcmp(outcome, "not_met") == 0)
        return "finished: a target was missed, see syrupwright certificate";
    if (strcmp(outcome, "unfinished") == 0)
        return "ended unfinished";
    return NULL;
}

static void ready_print(const struct show *show, const json_t *state)
{
    double left_s = show_number(state, "time_left_s");
    char duration[NUMBER_TEXT_MAX];
    char line[SHOW_LINE_MAX];

    if (outcome_sentence(state) != NULL)
        (void)snprintf(line, sizeof line, "%s", outcome_sentence(state));
    else if (isfinite(left_s))
        (void)snprintf(line, sizeof line, "in about %s, your own time not counted",
                       duration_print(left_s, duration));
    else
        (void)snprintf(line, sizeof line, "not known");
    show_row(show, "When ready", line);
}

static void record_print(const struct show *show, const json_t *record)
{
    char number[NUMBER_TEXT_MAX];
    char line[SHOW_LINE_MAX];

    if (json_is_true(json_object_get(record, "failing")))
        show_danger(show, "The record fails", show_text(record, "sentence"));
    if (!(show_number(record, "lost") > 0))
        return;
    (void)snprintf(line, sizeof line, "%s entries could not be written and are lost",
                   number_print(show_number(record, "lost"), 0, number));
    show_danger(show, "The record", line);
}

void show_state(const struct show *show, const json_t *state)
{
    happening_print(show, state);
    must_do_print(show, state);
    touch_print(show, state);
    how_far_print(show, state);
    opinions_print(show, state);
    ready_print(show, state);
    record_print(show, json_object_get(state, "record"));
}

/* ---- one line ---------------------------------------------------------------------------------- */

void show_state_line(const json_t *state, char out[SHOW_LINE_MAX])
{
    const char *prompt = show_text(json_object_get(state, "prompt"), "sentence");
    const json_t *trip = json_array_get(json_object_get(state, "trips"), 0);
    char line[SHOW_LINE_MAX];
    char text[128];
    size_t used;

    used = (size_t)snprintf(line, sizeof line, "%s %s %s, %s left", show_text(state, "utc"),
                            show_text(state, "state"), show_text(state, "step"),
                            duration_print(show_number(state, "time_left_s"), text));
    for (size_t i = 0; i < RULER_COUNT && used < sizeof line; i++) {
        ruler_print(state, &RULERS[i], text, sizeof text);
        used += (size_t)snprintf(line + used, sizeof line - used, ", %s %s", RULERS[i].label, text);
    }
    if (trip != NULL && used < sizeof line)
        used += (size_t)snprintf(line + used, sizeof line - used, "; %s: %s", trip_label(trip),
                                 show_text(trip, "sentence"));
    if (prompt[0] != '\0' && used < sizeof line)
        (void)snprintf(line + used, sizeof line - used, "; do: %s", prompt);
    show_clean(line, out);
}
