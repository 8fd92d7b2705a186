/* What the functions of controller/science cost. Prints nanoseconds a call, the ratio to one exp(),
 * and the bar where there is one. Build Release. */
#include "bench/bench.h"
#include "science/handbook.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

static double inputs[BENCH_INPUTS][HANDBOOK_INPUTS_MAX];
static const struct handbook_entry *entry;

static uint64_t state = 20261125;

static double random_unit(void)
{
    state ^= state >> 12;
    state ^= state << 25;
    state ^= state >> 27;
    return (double)((state * 2685821657736338717u) >> 11) / 9007199254740992.0;
}

/* Valid inputs only: what is refused costs nothing. */
static int inputs_fill(void)
{
    double out[HANDBOOK_OUTPUTS_MAX];
    int filled = 0;

    for (int tries = 0; filled < BENCH_INPUTS && tries < 200 * BENCH_INPUTS; tries++) {
        double *in = inputs[filled];

        for (size_t i = 0; entry->inputs[i].name != NULL; i++) {
            const struct handbook_quantity *q = &entry->inputs[i];

            in[i] = q->min + (q->max - q->min) * random_unit();
            if (q->choice != NULL)
                in[i] = floor(in[i] + 0.5);
        }
        filled += entry->eval(in, out) == ST_OK;
    }
    return filled;
}

static double exp_call(int n)
{
    return exp(inputs[n][0] * 1e-2);
}

static double empty_call(int n)
{
    return inputs[n][0];
}

static double entry_call(int n)
{
    double out[HANDBOOK_OUTPUTS_MAX] = {0};

    return entry->eval(inputs[n], out) == ST_OK ? out[0] : 0;
}

static const struct {
    const char *name;
    double ns;
} BARS[] = {
    {"sucrose_density", 20},
    {"sucrose_strength_from_index", 200},
    {"acid_water_ph", 2000},
};

int main(int argc, char *argv[])
{
    double exp_ns, loop_ns;

    for (int n = 0; n < BENCH_INPUTS; n++)
        inputs[n][0] = 100 * random_unit();
    loop_ns = bench_call_ns(empty_call);
    exp_ns = bench_call_ns(exp_call) - loop_ns;
    printf("%-40s %9.1f ns\n%-40s %9.1f ns\n", "the loop alone (taken off below)", loop_ns, "exp", exp_ns);
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        for (entry = s->entries; entry->name != NULL; entry++) {
            double ns;

            if (argc > 1 && strstr(entry->name, argv[1]) == NULL)
                continue;
            if (inputs_fill() < BENCH_INPUTS) {
                printf("%-40s too few valid inputs were drawn\n", entry->name);
                continue;
            }
            ns = bench_call_ns(entry_call) - loop_ns;
            printf("%-40s %9.1f ns  %7.1f exp", entry->name, ns, ns / exp_ns);
            for (size_t b = 0; b < sizeof BARS / sizeof BARS[0]; b++)
                if (strcmp(BARS[b].name, entry->name) == 0)
                    printf("   bar %.0f ns: %s", BARS[b].ns, ns <= BARS[b].ns ? "met" : "NOT MET");
            printf("\n");
        }
    return 0;
}
