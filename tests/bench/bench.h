/* bench.h - nanoseconds of one call, beside those of one exp(), in one run.
 *
 * A figure is the median of several rounds over many different inputs, so that neither the compiler
 * nor the branch predictor learns them. Compare ratios: nanoseconds are this machine's.
 */
#ifndef TESTS_BENCH_H
#define TESTS_BENCH_H

#define BENCH_INPUTS 1024
#define BENCH_ROUNDS 21

/* One call with input number n (0 to BENCH_INPUTS - 1); what it returns is added up and kept. */
typedef double bench_fn(int n);

/* Median nanoseconds a call. */
double bench_call_ns(bench_fn *call);

#endif
