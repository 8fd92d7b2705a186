#include "bench/bench.h"

#include <stdlib.h>
#include <time.h>

static volatile double kept;

static double now_ns(void)
{
    struct timespec t;

    (void)clock_gettime(CLOCK_MONOTONIC, &t);
    return 1e9 * (double)t.tv_sec + (double)t.tv_nsec;
}

static int compare(const void *a, const void *b)
{
    double x = *(const double *)a;
    double y = *(const double *)b;

    return (x > y) - (x < y);
}

double bench_call_ns(bench_fn *call)
{
    double ns[BENCH_ROUNDS];

    for (int round = 0; round < BENCH_ROUNDS; round++) {
        double sum = 0;
        double begun = now_ns();

        for (int repeat = 0; repeat < 20; repeat++)
            for (int n = 0; n < BENCH_INPUTS; n++)
                sum += call(n);
        ns[round] = (now_ns() - begun) / (20.0 * BENCH_INPUTS);
        kept = sum;
    }
    qsort(ns, BENCH_ROUNDS, sizeof ns[0], compare);
    return ns[BENCH_ROUNDS / 2];
}
