/* random.h - seeded random numbers of the simulator: the same seed gives the same run.
 *
 * Generator: SplitMix64 (Steele, Lea, Flood 2014). One struct a stream, so that one part of the
 * simulator drawing more numbers does not change another.
 */
#ifndef SIMULATOR_RANDOM_H
#define SIMULATOR_RANDOM_H

#include <stdint.h>

struct random {
    uint64_t state;
};

/* stream: a number of the caller's own, so that two users of one seed stay apart. */
void random_seed(struct random *random, uint64_t seed, uint64_t stream);

uint64_t random_next(struct random *random);

/* Evenly between low and high; high itself is never returned. */
double random_between(struct random *random, double low, double high);

/* Near normal: the sum of twelve even numbers, so never beyond mean +- 6 sd. */
double random_normal(struct random *random, double mean, double sd);

/* The same, cut at mean +- most. */
double random_normal_within(struct random *random, double mean, double sd, double most);

#endif
