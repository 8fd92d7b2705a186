/* One sentence a line of the journal. Each kind has its own small printer, found by table. */
#include "words/words_parts.h"

#include <stdio.h>

typedef void print_event(const struct event *event, char out[WORDS_MAX]);

/* Who did it, as " by NAME"; nothing when the controller did it itself. */
static const char *by_whom(const struct event *event, char text[WHO_NAME_MAX + 8])
{
    text[0] = '\0';
    if (event->who.door != DOOR_SELF && event->who.name[0] != '\0')
        snprintf(text, WHO_NAME_MAX + 8, " by %.*s", WHO_NAME_MAX - 1, event->who.name);
    return text;
}

static const char *point_meaning(int point)
{
    return point >= 0 && point < POINT_COUNT ? point_info((enum point)point)->meaning : "unknown point";
}

static void print_batch_started(const struct event *event, char out[WORDS_MAX])
{
    char by[WHO_NAME_MAX + 8];

    snprintf(out, WORDS_MAX, "Batch %.*s started%s.", TEXT_MAX - 1, event->text, by_whom(event, by));
}

static void print_batch_ended(const struct event *event, char out[WORDS_MAX])
{
    static const char *const ENDS[] = {
        [OUTCOME_OPEN] = "and is still open",
        [OUTCOME_MET] = "with every target met",
        [OUTCOME_NOT_MET] = "with a target missed",
        [OUTCOME_UNFINISHED] = "unfinished",
    };
    bool known = event->a >= 0 && event->a <= OUTCOME_UNFINISHED;

    snprintf(out, WORDS_MAX, "The batch ended %s.", known ? ENDS[event->a] : "in an unknown way");
}

static void print_state(const struct event *event, char out[WORDS_MAX])
{
    snprintf(out, WORDS_MAX, "State %s, before %s.", words_state_name((enum batch_state)event->b),
             words_state_name((enum batch_state)event->a));
}

static void print_step(const struct event *event, char out[WORDS_MAX])
{
    snprintf(out, WORDS_MAX, "Step %s: %s.", words_step_name((enum step)event->b),
             words_step((enum step)event->b));
}

static void print_command(const struct event *event, char out[WORDS_MAX])
{
    char by[WHO_NAME_MAX + 8];

    snprintf(out, WORDS_MAX, "Command %s%s.", words_verb_name((enum verb)event->a), by_whom(event, by));
}

static void print_refused(const struct event *event, char out[WORDS_MAX])
{
    char by[WHO_NAME_MAX + 8];
    struct command_result result = {.refusal = (enum refusal)event->b, .detail = -1};
    char why[WORDS_MAX];

    words_refusal((enum verb)event->a, &result, why);
    snprintf(out, WORDS_MAX, "Asked%s: %.*s", by_whom(event, by), WORDS_MAX - 64, why);
}

static void print_asked(const struct event *event, char out[WORDS_MAX])
{
    struct prompt prompt = {.kind = (enum prompt_kind)event->a,
                            .id = event->prompt,
                            .number = event->value,
                            .number2 = event->value2};
    char question[WORDS_MAX];

    words_prompt(&prompt, NULL, question);
    snprintf(out, WORDS_MAX, "Question %u: %.*s", event->prompt, WORDS_MAX - 32, question);
}

static void print_answered(const struct event *event, char out[WORDS_MAX])
{
    char by[WHO_NAME_MAX + 8];
    char number[32] = "";

    if (event->b == ANSWER_NUMBER)
        snprintf(number, sizeof number, " %.6g", event->value);
    snprintf(out, WORDS_MAX, "Question %u (%s) was answered%s: %s%s.", event->prompt,
             words_prompt_name((enum prompt_kind)event->a), by_whom(event, by),
             words_answer_name((enum answer)event->b), number);
}

static void print_tripped(const struct event *event, char out[WORDS_MAX])
{
    char sentence[WORDS_MAX];

    /* An open hatch belongs to the work while sugar is tipped in; nobody has to be alarmed. */
    words_trip((enum trip)event->a, event->b, NULL, sentence);
    snprintf(out, WORDS_MAX, "%s%.*s", event->a == TRIP_HATCH_OPEN ? "" : "Tripped. ", WORDS_MAX - 16,
             sentence);
}

static void print_trip_ended(const struct event *event, char out[WORDS_MAX])
{
    if (event->a == TRIP_HATCH_OPEN)
        snprintf(out, WORDS_MAX, "The hatch is closed again.");
    else
        snprintf(out, WORDS_MAX, "The cause of %s is gone.", words_trip_name((enum trip)event->a));
}

static void print_released(const struct event *event, char out[WORDS_MAX])
{
    char by[WHO_NAME_MAX + 8];

    snprintf(out, WORDS_MAX, "The trip %s was released%s.", words_trip_name((enum trip)event->a),
             by_whom(event, by));
}

static void print_intent_dose(const struct event *event, char out[WORDS_MAX])
{
    snprintf(out, WORDS_MAX, "About to dose %.1f mL of acid solution (act %llu).", event->value,
             (unsigned long long)event->intent);
}

static void print_outcome_dose(const struct event *event, char out[WORDS_MAX])
{
    snprintf(out, WORDS_MAX, "Dosed %.1f mL of acid solution of %.1f mL intended (act %llu).", event->value,
             event->value2, (unsigned long long)event->intent);
}

static void print_intent_water(const struct event *event, char out[WORDS_MAX])
{
    snprintf(out, WORDS_MAX, "About to let in %.1f L of water (act %llu).", event->value,
             (unsigned long long)event->intent);
}

static void print_outcome_water(const struct event *event, char out[WORDS_MAX])
{
    snprintf(out, WORDS_MAX, "Let in %.1f L of water of %.1f L intended (act %llu).", event->value,
             event->value2, (unsigned long long)event->intent);
}

static void print_not_recorded(const struct event *event, char out[WORDS_MAX])
{
    snprintf(
        out, WORDS_MAX,
        "Act %llu was given up: it could not be written down in time. Check the disk; nothing was let in.",
        (unsigned long long)event->intent);
}

static void print_sugar(const struct event *event, char out[WORDS_MAX])
{
    snprintf(out, WORDS_MAX, "Sugar so far: %d bags, %.1f kg.", event->a, event->value);
}

static void print_measured(const struct event *event, char out[WORDS_MAX])
{
    static const char *const WHAT[MEASURED_COUNT][2] = {
        [MEASURED_WATER_PH] = {"acidity of the water", " pH"},
        [MEASURED_STRENGTH_PCT] = {"strength", " % by weight"},
        [MEASURED_SYRUP_PH] = {"acidity of the syrup, apparent", " pH"},
        [MEASURED_SYRUP_TEMP_C] = {"temperature of the syrup", " °C"},
    };
    bool known = event->a >= 0 && event->a < MEASURED_COUNT;

    snprintf(out, WORDS_MAX, "Measured: %s %.2f%s, standard uncertainty %.3f.",
             known ? WHAT[event->a][0] : "unknown quantity", event->value, known ? WHAT[event->a][1] : "",
             event->value2);
}

static void print_learned(const struct event *event, char out[WORDS_MAX])
{
    bool known = event->a == LEARNED_ALKALINITY_MEQ_KG;

    snprintf(out, WORDS_MAX, "Learned: %s %.2f%s, before %.2f.",
             known ? "alkalinity of the water" : "unknown quantity", event->value, known ? " meq/kg" : "",
             event->value2);
}

static void print_quality(const struct event *event, char out[WORDS_MAX])
{
    enum reason reason = event->value2 >= 0 && event->value2 < REASON_COUNT ? (enum reason)event->value2
                                                                            : REASON_COUNT;

    snprintf(out, WORDS_MAX, "The reading \"%s\" is now %s: %s.", point_meaning(event->a),
             quality_name((enum quality)event->b), words_reason(reason));
}

static void print_recovered(const struct event *event, char out[WORDS_MAX])
{
    snprintf(out, WORDS_MAX,
             "The controller started again and found an open batch: it was %s in step %s; an act without a "
             "recorded end counts as done in full unless its counter can tell.",
             words_state_name((enum batch_state)event->a), words_step_name((enum step)event->b));
}

static void print_reminder(const struct event *event, char out[WORDS_MAX])
{
    snprintf(out, WORDS_MAX, "A question waits for an answer (%s); the batch does not go on without it.",
             words_prompt_name((enum prompt_kind)event->a));
}

static void print_disagrees(const struct event *event, char out[WORDS_MAX])
{
    snprintf(out, WORDS_MAX,
             "The strength reads %.2f %%, but the bags and the water counted give %.2f %%: count the empty "
             "bags and look what is printed on them, and check the refractometer.",
             event->value, event->value2);
}

static void print_hand_reading(const struct event *event, char out[WORDS_MAX])
{
    char by[WHO_NAME_MAX + 8];

    words_hand_reading(event, by_whom(event, by), out);
}

static print_event *const PRINTERS[EVENT_KIND_COUNT] = {
    [EVENT_BATCH_STARTED] = print_batch_started,
    [EVENT_BATCH_ENDED] = print_batch_ended,
    [EVENT_STATE] = print_state,
    [EVENT_STEP] = print_step,
    [EVENT_COMMAND] = print_command,
    [EVENT_REFUSED] = print_refused,
    [EVENT_ASKED] = print_asked,
    [EVENT_ANSWERED] = print_answered,
    [EVENT_TRIPPED] = print_tripped,
    [EVENT_TRIP_ENDED] = print_trip_ended,
    [EVENT_RELEASED] = print_released,
    [EVENT_INTENT_DOSE] = print_intent_dose,
    [EVENT_OUTCOME_DOSE] = print_outcome_dose,
    [EVENT_INTENT_WATER] = print_intent_water,
    [EVENT_OUTCOME_WATER] = print_outcome_water,
    [EVENT_NOT_RECORDED] = print_not_recorded,
    [EVENT_SUGAR] = print_sugar,
    [EVENT_MEASURED] = print_measured,
    [EVENT_LEARNED] = print_learned,
    [EVENT_QUALITY] = print_quality,
    [EVENT_RECOVERED] = print_recovered,
    [EVENT_REMINDER] = print_reminder,
    [EVENT_DISAGREES] = print_disagrees,
    [EVENT_HAND_READING] = print_hand_reading,
    [EVENT_COMPARED] = words_compared,
};

void words_event(const struct event *event, char out[WORDS_MAX])
{
    if ((unsigned)event->kind < EVENT_KIND_COUNT)
        PRINTERS[event->kind](event, out);
    else
        snprintf(out, WORDS_MAX, "An unknown event; the program and its record do not match.");
}
