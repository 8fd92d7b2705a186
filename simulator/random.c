#include "simulator/random.h"

#include <math.h>

void random_seed(struct random *random, uint64_t seed, uint64_t stream)
{
    random->state = seed * 0x9e3779b97f4a7c15u + stream * 0xd1b54a32d192ed03u;
    random_next(random);
}

uint64_t random_next(struct random *random)
{
    uint64_t z = (random->state += 0x9e3779b97f4a7c15u);

    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

double random_between(struct random *random, double low, double high)
{
    return low + (high - low) * ((double)(random_next(random) >> 11) * 0x1.0p-53);
}

double random_normal(struct random *random, double mean, double sd)
{
    double sum = 0;

    /* Three draws give twelve 16-bit numbers: quick, and the same on every machine. */
    for (int i = 0; i < 3; i++) {
        uint64_t bits = random_next(random);

        for (int k = 0; k < 4; k++, bits >>= 16)
            sum += ((double)(bits & 0xffff) + 0.5) * 0x1.0p-16;
    }
    return mean + (sum - 6.0) * sd;
}

double random_normal_within(struct random *random, double mean, double sd, double most)
{
    return mean + fmax(-most, fmin(most, random_normal(random, 0, sd)));
}
