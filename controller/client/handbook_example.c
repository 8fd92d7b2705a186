#include "client/handbook_show.h"
#include "client/handbook_usual.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define TRIES 4000
#define WIDE 1e3 /* a range over so many times is tried by its sizes, not evenly */

/* The fraction that an input takes in a try: the middle first, then spread evenly over all inputs
 * together (steps of the roots of primes). */
static double fraction_eval(size_t input, int try_number)
{
    static const double STEPS[HANDBOOK_INPUTS_MAX] = {0.41421356, 0.73205081, 0.23606798,
                                                      0.64575131, 0.31662479, 0.60555128};
    double whole;

    return modf(0.5 + try_number * STEPS[input], &whole);
}

/* A number of few digits at about this place of the range. */
static double number_eval(const struct handbook_quantity *q, double fraction)
{
    bool is_wide = q->min > 0 && q->max / q->min > WIDE;
    double exact = is_wide ? exp(log(q->min) + fraction * (log(q->max) - log(q->min)))
                           : q->min + fraction * (q->max - q->min);

    for (int digits = 2; digits < 7; digits++) {
        char text[HANDBOOK_NUMBER_MAX];
        double rounded;

        (void)snprintf(text, sizeof text, "%.*g", digits, exact);
        rounded = strtod(text, NULL);
        if (rounded >= q->min && rounded <= q->max)
            return rounded;
    }
    return exact;
}

/* Usual values where they are known, as long as that gives a result. */
static void inputs_pick(const struct handbook_entry *entry, int try_number, double in[])
{
    for (size_t i = 0; entry->inputs[i].name != NULL; i++) {
        const struct handbook_quantity *q = &entry->inputs[i];
        double fraction = fraction_eval(i, try_number);

        if (try_number < TRIES / 2 && handbook_usual(entry, q, &in[i]))
            continue;
        if (q->choice == NULL)
            in[i] = number_eval(q, fraction);
        else
            in[i] = try_number == 0 ? q->min : q->min + floor(fraction * (q->max - q->min + 1));
    }
}

static void example_print(const struct handbook_entry *entry, const double in[],
                          char out[HANDBOOK_EXAMPLE_MAX])
{
    size_t used = (size_t)snprintf(out, HANDBOOK_EXAMPLE_MAX, "syrupwright handbook %s", entry->name);

    for (size_t i = 0; entry->inputs[i].name != NULL && used < HANDBOOK_EXAMPLE_MAX; i++) {
        const struct handbook_quantity *q = &entry->inputs[i];
        char value[HANDBOOK_WORD_NAME_MAX];

        if (q->choice != NULL)
            handbook_choice_print(q->choice((int)in[i]), value);
        else
            (void)handbook_number_print(in[i], value);
        used += (size_t)snprintf(out + used, HANDBOOK_EXAMPLE_MAX - used, " %s=%s", q->name, value);
    }
}

bool handbook_example(const struct handbook_entry *entry, char out[HANDBOOK_EXAMPLE_MAX])
{
    double in[HANDBOOK_INPUTS_MAX] = {0};
    double results[HANDBOOK_OUTPUTS_MAX];

    for (int i = 0; i < TRIES; i++) {
        inputs_pick(entry, i, in);
        if (handbook_eval(entry, in, results) != ST_OK)
            continue;
        example_print(entry, in, out);
        return true;
    }
    return false;
}

/* ---- hints for refusals ----------------------------------------------------------------------- */

/* The next larger of 1, 2 and 5 times a power of ten. */
static double round_step(double step)
{
    double power = pow(10, floor(log10(step)));

    return step <= power ? power
                         : (step <= 2 * power ? 2 * power : (step <= 5 * power ? 5 * power : 10 * power));
}

/* Half of the usual value to its double, by about ten steps; the whole range where none is known. */
static void hint_range_print(const struct handbook_quantity *q, double usual, char out[HANDBOOK_HINT_MAX])
{
    double low = usual > 0 ? fmax(q->min, usual / 2) : q->min;
    double high = usual > 0 ? fmin(q->max, usual * 2) : q->max;
    double step = round_step((high - low) / 10);
    char from[HANDBOOK_NUMBER_MAX];
    char to[HANDBOOK_NUMBER_MAX];
    char by[HANDBOOK_NUMBER_MAX];

    (void)snprintf(out, HANDBOOK_HINT_MAX, "%s=%s..%s/%s", q->name,
                   handbook_number_print(ceil(low / step) * step, from),
                   handbook_number_print(floor(high / step) * step, to), handbook_number_print(step, by));
}

void handbook_hint_make(const struct handbook_entry *entry, const struct handbook_quantity *quantity,
                        struct handbook_hint *hint)
{
    char text[HANDBOOK_WORD_NAME_MAX];
    double usual = quantity->min;
    bool is_known = handbook_usual(entry, quantity, &usual);

    if (quantity->choice != NULL)
        handbook_choice_print(quantity->choice((int)usual), text);
    else
        (void)handbook_number_print(usual, text);
    (void)snprintf(hint->value, sizeof hint->value, "%s=%s", quantity->name, text);
    (void)snprintf(hint->range, sizeof hint->range, "%s", hint->value);
    if (quantity->choice == NULL)
        hint_range_print(quantity, is_known ? usual : 0, hint->range);
}
