/* plan_parts.h - the parts of plan_make, in the order in which they run. Only for this folder. */
#ifndef PLAN_PARTS_H
#define PLAN_PARTS_H

#include "plan/plan.h"

#define PLAN_TRIM_SHARE 0.03 /* of the water, kept for the last correction */
#define PLAN_TRIM_MIN_KG 2.0

/* One planning: what is given, what has been found so far. */
struct job {
    const struct tank_facts *tank;
    const struct limits *limits;
    struct fault *f; /* may be NULL */
    struct batch_plan plan;
    struct plan_notes notes;
    double trim_kg;         /* water kept back */
    double acid_mol_kg;     /* per kg of fill water */
    double acid_share;      /* kg of acid solution per kg of fill water */
    double hot_c;           /* highest temperature planned for the liquid */
    double mix_c;           /* once all sugar is in, before the heater has worked again */
    bool is_preheat_capped; /* the water may not get as warm as the sugar would need */
};

/* Every number finite and in its range, texts ended; fills in the defaults. */
enum status plan_check_inputs(struct job *job) MUST_USE;

/* Bags, water, acid; refuses a dose that is unknown here or a solution too weak. */
enum status plan_find_amounts(struct job *job) MUST_USE;

/* Temperatures; refuses a strength that does not dissolve within the limits. */
enum status plan_find_warmth(struct job *job) MUST_USE;

/* Refuses what does not cover the heater or does not fit below the brim. */
enum status plan_check_fit(struct job *job) MUST_USE;

/* Refuses an acid solution too strong for the smallest pulse. */
enum status plan_check_pulse(struct job *job) MUST_USE;

/* Expected seconds of each step; refuses where the heater or a step's limit cannot do it. */
enum status plan_find_times(struct job *job) MUST_USE;

/* Warnings. */
void plan_add_notes(struct job *job);

/* Litres of finished syrup at 20 degC that this many bags make. */
double plan_litres(const struct job *job, int bags);

/* kg of water that a bag needs. */
double plan_water_per_bag(const struct job *job);

/* Fewest bags whose fill water covers the heater. */
int plan_least_bags(const struct job *job);

/* "volume_l" or "mass_kg", whichever was asked. */
const char *plan_size_field(const struct job *job);

#endif
