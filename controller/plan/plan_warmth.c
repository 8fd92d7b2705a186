#include "plan/plan_parts.h"
#include "science/sucrose.h"

#include <assert.h>
#include <math.h>

/* As cool as it dissolves: so warm that the water could hold this much more sugar. At a surplus of
 * 6 points the dissolving times of any strength come out within an hour (estimate). */
#define SURPLUS_PCT 6.0
#define DISSOLVE_MIN_C 35.0
#define MIX_MARGIN_K 2.0    /* for what cools while the sugar goes in */
#define LIQUID_MARGIN_K 5.0 /* so that regulation does not touch the limit */
#define SUGAR_MARGIN_K 2.0

static double dissolve_temp(double strength_pct)
{
    double temp_c;

    if (sucrose_saturation_temp_eval(strength_pct + SURPLUS_PCT, &temp_c) != ST_OK)
        return DISSOLVE_MIN_C; /* it would not even be saturated at 0 °C */
    return fmax(temp_c, DISSOLVE_MIN_C);
}

static enum status refuse_strength(const struct job *job)
{
    double highest_c = job->limits->liquid_max_c - LIQUID_MARGIN_K;
    double strongest = 0;
    enum status status = sucrose_solubility_eval(highest_c, &strongest);

    assert(status == ST_OK); /* 35-90 °C after plan_check_inputs */
    (void)status;
    return fault_set(
        job->f, ST_REFUSED, "strength_pct",
        "%.4g %% dissolves in reasonable time only at %.1f °C or more, and this tank may heat the "
        "liquid to %.1f °C at most. The strongest possible here is %.1f %%.",
        job->plan.request.strength_pct, job->plan.dissolve_c, highest_c,
        floor((strongest - SURPLUS_PCT) * 10) / 10);
}

/* Where the formula says it would freeze, take freezing. */
static double mix_temp(const struct job *job)
{
    const struct batch_plan *p = &job->plan;
    double mix_c = 0;

    if (sucrose_mix_temp_eval(p->sugar_kg, p->request.sugar_temp_c, p->water_kg - job->trim_kg, p->preheat_c,
                              &mix_c) != ST_OK)
        return 0;
    return mix_c;
}

/* Warm enough that the sugar, cold and cooling as it dissolves, leaves the mix warm enough; where
 * that is too hot for adding sugar, the heater does the rest afterwards. */
static enum status find_preheat(struct job *job)
{
    struct batch_plan *p = &job->plan;
    const struct plan_request *r = &p->request;
    double cap = fmin(job->limits->sugar_max_c - SUGAR_MARGIN_K, job->limits->liquid_max_c - LIQUID_MARGIN_K);
    double wanted = 0;

    if (r->water_temp_c > cap)
        return fault_set(
            job->f, ST_REFUSED, "water_temp_c",
            "The water comes at %.1f °C, but sugar goes in only below %.1f °C. Use cooler water.",
            r->water_temp_c, cap);
    if (sucrose_water_temp_for_mix(p->sugar_kg, r->sugar_temp_c, p->water_kg - job->trim_kg,
                                   p->dissolve_c + MIX_MARGIN_K, &wanted) != ST_OK)
        wanted = 100; /* only hotter water than that is out of range here */
    job->is_preheat_capped = wanted > cap;
    p->preheat_c = fmax(fmin(wanted, cap), r->water_temp_c);
    job->mix_c = mix_temp(job);
    job->hot_c = fmax(fmax(p->preheat_c, job->mix_c), p->dissolve_c);
    return ST_OK;
}

enum status plan_find_warmth(struct job *job)
{
    struct batch_plan *p = &job->plan;

    p->dissolve_c = dissolve_temp(p->request.strength_pct);
    if (sucrose_saturation_temp_eval(p->request.strength_pct, &p->saturated_below_c) != ST_OK)
        p->saturated_below_c = PLAN_NEVER_C;
    if (p->dissolve_c + LIQUID_MARGIN_K > job->limits->liquid_max_c)
        return refuse_strength(job);
    return find_preheat(job);
}
