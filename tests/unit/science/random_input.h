/* random_input.h - repeatable random arguments, some of them absurd. */
#ifndef TESTS_RANDOM_INPUT_H
#define TESTS_RANDOM_INPUT_H

#include <math.h>
#include <stdint.h>

/* xorshift64*; seed must not be 0. */
static inline uint64_t random_next(uint64_t *state)
{
    *state ^= *state >> 12;
    *state ^= *state << 25;
    *state ^= *state >> 27;
    return *state * 2685821657736338717u;
}

static inline double random_between(uint64_t *state, double min, double max)
{
    return min + (max - min) * ((double)(random_next(state) >> 11) / 9007199254740992.0);
}

/* Mostly within the range, often a little outside or at its ends, now and then enormous. */
static inline double random_finite(uint64_t *state, double min, double max)
{
    switch (random_next(state) % 16) {
    case 0:
        return min;
    case 1:
        return max;
    case 2:
        return random_between(state, min - (max - min), max + (max - min));
    case 3:
        return random_between(state, -1, 1) * pow(10, random_between(state, -300, 300));
    default:
        return random_between(state, min, max);
    }
}

#endif
