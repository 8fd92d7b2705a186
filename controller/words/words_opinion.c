/* The second opinion in words: for the journal as two events, for the state as one sentence. */
#include "words/words_parts.h"

#include <math.h>
#include <stdio.h>

#define NOT_AGREED                                                                                           \
    "they do NOT agree: take another sample of the same liquid, clean and check both, and rely on neither "  \
    "until you know which one errs"

static const char *const VERDICTS[AGREEMENT_COUNT] = {
    [AGREEMENT_CANNOT_SAY] = "nothing can be said",
    [AGREEMENT_AGREES] = "they agree within both uncertainties",
    [AGREEMENT_DISAGREES] = NOT_AGREED,
};

static const char *verdict_of(int agreement)
{
    return agreement >= 0 && agreement < AGREEMENT_COUNT ? VERDICTS[agreement]
                                                         : VERDICTS[AGREEMENT_CANNOT_SAY];
}

/* "62.30 \u00b1 0.20 % by weight"; what is not known is said. */
static void value_print(enum point point, double value, double expanded_u, char out[80])
{
    const struct point_info *info = point_info(point);

    if (!isfinite(value))
        snprintf(out, 80, "no reading");
    else if (!isfinite(expanded_u))
        snprintf(out, 80, "%.2f %s, its uncertainty not stated", value, info->unit);
    else
        snprintf(out, 80, "%.2f \u00b1 %.2f %s", value, expanded_u, info->unit);
}

static bool is_input(int point)
{
    return point >= 0 && point < POINT_INPUT_COUNT;
}

void words_hand_reading(const struct event *event, const char *by, char out[WORDS_MAX])
{
    char value[80] = "unknown quantity";

    if (is_input(event->a))
        value_print((enum point)event->a, event->value, event->value2, value);
    snprintf(out, WORDS_MAX, "Read with a hand instrument%s: %s (k = 2).", by, value);
}

void words_compared(const struct event *event, char out[WORDS_MAX])
{
    char value[80] = "unknown quantity";

    if (is_input(event->a))
        value_print((enum point)event->a, event->value, event->value2, value);
    snprintf(out, WORDS_MAX, "The tank's own instrument beside it: %s; %s.", value, verdict_of(event->b));
}

void words_opinion(enum point point, const struct opinion *opinion, char out[WORDS_MAX])
{
    char hand[80], own[80];

    value_print(point, opinion->value, opinion->expanded_u, hand);
    value_print(point, opinion->instrument, opinion->instrument_expanded_u, own);
    snprintf(out, WORDS_MAX, "by hand %s, the tank's own %s: %s", hand, own,
             verdict_of((int)opinion->agreement));
}
