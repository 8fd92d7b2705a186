/* acid_draw.h - repeatable random solutions, over all sizes and at the ends of the range. */
#ifndef TESTS_ACID_DRAW_H
#define TESTS_ACID_DRAW_H

#include "random_input.h"
#include "science/acid_solution.h"
#include "support/support.h"

/* From nothing to the limit of the range, over all sizes. */
static inline double amount_draw(uint64_t *seed, double max)
{
    switch (random_next(seed) % 8) {
    case 0:
        return 0;
    case 1:
        return max;
    case 2:
    case 3:
        return max * pow(10, random_between(seed, -9, 0));
    default:
        return random_between(seed, 0, max);
    }
}

static inline struct acid_solution solution_draw(uint64_t *seed)
{
    struct acid_solution s = {.is_open = random_next(seed) % 2 == 0};
    double room = 0.1;
    int first = (int)(random_next(seed) % ACID_COUNT);

    s.alkalinity_meq_kg = amount_draw(seed, 100) * (random_next(seed) % 4 == 0 ? -1 : 1);
    s.carbon_mmol_kg = amount_draw(seed, 200);
    s.co2_kpa = random_next(seed) % 2 == 0 ? ACID_AIR_CO2_KPA : amount_draw(seed, 101.325);
    s.temp_c = random_next(seed) % 8 == 0 ? 60.0 * (double)(random_next(seed) % 2)
                                          : random_between(seed, 0, 60);
    for (int i = 0; i < ACID_COUNT; i++) {
        int acid = (first + i) % ACID_COUNT;

        if (acid == ACID_NONE || random_next(seed) % 3 != 0)
            continue;
        s.acid_mol_kg[acid] = amount_draw(seed, room);
        room -= s.acid_mol_kg[acid];
    }
    return s;
}

static inline double ph_of(const struct acid_solution *s)
{
    double ph = NAN;

    ck_assert_int_eq(acid_solution_ph_eval(s, &ph), ST_OK);
    return ph;
}

#endif
