/* Questions to the person at the tank, and why a command was refused. */
#include "words/words.h"

#include "science/acid.h"

#include <stdio.h>

static void prompt_tip_bag(const struct prompt *prompt, const struct batch_plan *plan, char out[WORDS_MAX])
{
    char size[32] = "";

    if (plan != NULL && plan->request.bag_kg > 0)
        snprintf(size, sizeof size, " (%.4g kg)", plan->request.bag_kg);
    snprintf(out, WORDS_MAX,
             "Tip in bag %.0f of %.0f%s. Open the hatch, pour slowly, lift with care; the liquid may be hot. "
             "Then press Done.",
             prompt->number, prompt->number2, size);
}

static void prompt_add_acid(const struct prompt *prompt, const struct batch_plan *plan, char out[WORDS_MAX])
{
    bool known = plan != NULL && plan->request.acid > ACID_NONE && plan->request.acid < ACID_COUNT;

    snprintf(
        out, WORDS_MAX,
        "Dissolve %.0f g of %s acid in cold water (acid into water, goggles and gloves on), pour it in, then "
        "press Done.",
        prompt->number, known ? acid_name(plan->request.acid) : "the planned");
}

void words_prompt(const struct prompt *prompt, const struct batch_plan *plan, char out[WORDS_MAX])
{
    switch (prompt->kind) {
    case PROMPT_TANK_READY:
        snprintf(out, WORDS_MAX,
                 "Is the tank empty, rinsed and the drain shut, with nobody working on it and "
                 "the lid closed? Then press Done.");
        break;
    case PROMPT_ADD_WATER:
        snprintf(out, WORDS_MAX, "Add %.1f L of water, then press Done.", prompt->number);
        break;
    case PROMPT_ADD_ACID:
        prompt_add_acid(prompt, plan, out);
        break;
    case PROMPT_TIP_BAG:
        prompt_tip_bag(prompt, plan, out);
        break;
    case PROMPT_ADD_SUGAR:
        snprintf(out, WORDS_MAX, "Weigh out %.1f kg of sugar and tip it in, then press Done.",
                 prompt->number);
        break;
    case PROMPT_READ_STRENGTH:
        snprintf(out, WORDS_MAX,
                 "Take a sample, let it cool, and type what the hand refractometer shows, in %% by "
                 "weight.");
        break;
    case PROMPT_READ_ACIDITY:
        snprintf(out, WORDS_MAX, "Take a sample, let it cool, and type what the pH meter shows.");
        break;
    case PROMPT_NONE:
    case PROMPT_COUNT:
    default:
        snprintf(out, WORDS_MAX, "Nothing is asked now.");
        break;
    }
}

static const char *const REFUSED[REFUSAL_COUNT] = {
    [REFUSAL_NONE] = "accepted",
    [REFUSAL_STATE] =
        "the batch is in a state that does not allow it; ask for the state to see what is possible",
    [REFUSAL_TRIPPED] = "something has tripped; mend it, say release, then try again",
    [REFUSAL_CAUSE_PRESENT] = "the cause is still there; mend it first, the state lists what is tripped",
    [REFUSAL_NOTHING] = "nothing is tripped, so there is nothing to release",
    [REFUSAL_NO_PROMPT] = "that question is not open; ask for the state and answer the one shown there",
    [REFUSAL_WRONG_ANSWER] = "this question wants another kind of answer; the state shows which",
    [REFUSAL_NUMBER] = "the number is outside what is possible here; check it and its unit",
    [REFUSAL_NO_PLAN] = "a start needs a plan; name litres (or kg) and the strength",
    [REFUSAL_INSTRUMENTS] = "a reading that is needed is missing or bad; look at that instrument",
};

void words_refusal(enum verb verb, const struct command_result *result, char out[WORDS_MAX])
{
    bool known = (unsigned)result->refusal < REFUSAL_COUNT;
    const char *why = known ? REFUSED[result->refusal] : "of an unknown reason; look into the log";
    bool is_about_trip = result->refusal == REFUSAL_TRIPPED || result->refusal == REFUSAL_CAUSE_PRESENT;
    char detail[96] = "";

    if (result->refusal == REFUSAL_STATE && result->detail >= 0 && result->detail < STATE_COUNT)
        snprintf(detail, sizeof detail, " (now %s)", words_state_name((enum batch_state)result->detail));
    else if (result->refusal == REFUSAL_INSTRUMENTS && result->detail >= 0 && result->detail < POINT_COUNT)
        snprintf(detail, sizeof detail, " (%s, %s)", point_info((enum point)result->detail)->name,
                 point_info((enum point)result->detail)->meaning);
    else if (is_about_trip && result->detail >= 0 && result->detail < TRIP_COUNT)
        snprintf(detail, sizeof detail, " (%s)", words_trip_name((enum trip)result->detail));
    snprintf(out, WORDS_MAX, "%s %s%s: %s.", words_verb_name(verb),
             result->refusal == REFUSAL_NONE ? "was taken" : "was refused", detail, why);
}
