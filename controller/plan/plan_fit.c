#include "plan/plan_parts.h"
#include "science/sucrose.h"

#include <assert.h>
#include <math.h>

#define CRYSTAL_KG_L 1.587 /* crystals; handbook figure 1.587-1.588 */

static double water_kg_l(double temp_c)
{
    double density = 0;
    enum status status = sucrose_density_eval(0, temp_c, &density);

    assert(status == ST_OK); /* temperatures of a batch lie within the formula */
    (void)status;
    return density / 1000;
}

/* Most room one bag and its water take at the hottest, before or after it has dissolved. */
static double hot_litres_per_bag(const struct job *job)
{
    double bag_kg = job->plan.request.bag_kg;
    double water_kg = plan_water_per_bag(job);
    double dissolved = 0;
    enum status status = sucrose_mix_volume_eval(bag_kg, water_kg, job->hot_c, &dissolved);

    assert(status == ST_OK);
    (void)status;
    return fmax(dissolved, bag_kg / CRYSTAL_KG_L + water_kg / water_kg_l(job->hot_c));
}

/* Cold water is the densest: what covers the heater cold covers it warm. */
static double cover_kg(const struct job *job)
{
    return job->tank->heater_cover_l * water_kg_l(job->plan.request.water_temp_c);
}

int plan_least_bags(const struct job *job)
{
    double before_trim = cover_kg(job) * (1 + job->acid_share * (1 - job->plan.acid_stock_pct / 100));
    double water_kg = fmax(before_trim / (1 - PLAN_TRIM_SHARE), before_trim + PLAN_TRIM_MIN_KG);

    return (int)ceil(water_kg / plan_water_per_bag(job));
}

static enum status refuse_every_size(const struct job *job, int least, int most)
{
    const struct plan_request *r = &job->plan.request;

    if (most < 1)
        return fault_set(
            job->f, ST_REFUSED, "bag_kg",
            "One bag of %.4g kg makes %.0f L of %.4g %% syrup, and the tank holds %g L. Use smaller "
            "bags.",
            r->bag_kg, plan_litres(job, 1), r->strength_pct, job->tank->capacity_l);
    return fault_set(
        job->f, ST_REFUSED, "strength_pct",
        "No batch of %.4g %% in bags of %.4g kg is possible in this tank: at least %d bags are needed "
        "to cover the heater with water, and at most %d fit. Choose a thinner syrup or smaller "
        "bags.",
        r->strength_pct, r->bag_kg, least, most);
}

enum status plan_check_fit(struct job *job)
{
    const struct batch_plan *p = &job->plan;
    double hot_litres = hot_litres_per_bag(job);
    int least = plan_least_bags(job);
    int most = (int)floor(job->tank->capacity_l / hot_litres);

    if (most < 1 || least > most)
        return refuse_every_size(job, least, most);
    if (p->bags > most)
        return fault_set(job->f, ST_REFUSED, plan_size_field(job),
                         "%d bags make %.0f L at %.1f °C, the warmest of the batch; the tank holds %g L. The "
                         "largest batch that fits is %d bags: %.0f L, %.0f kg.",
                         p->bags, p->bags * hot_litres, job->hot_c, job->tank->capacity_l, most,
                         plan_litres(job, most), most * (p->request.bag_kg + plan_water_per_bag(job)));
    if (p->bags < least)
        return fault_set(job->f, ST_REFUSED, plan_size_field(job),
                         "%.0f L of water before the sugar do not cover the heater, which needs %g L. The "
                         "smallest batch is %d bags: %.0f L, %.0f kg.",
                         fmax(0, p->fill_kg / water_kg_l(p->request.water_temp_c)), job->tank->heater_cover_l,
                         least, plan_litres(job, least),
                         least * (p->request.bag_kg + plan_water_per_bag(job)));
    return ST_OK;
}
