#include "plan/plan_parts.h"
#include "science/acid.h"
#include "science/sucrose.h"

#include <assert.h>
#include <math.h>

#define CEILING_FACTOR 1.3 /* common practice, no source */
#define PULSE_PH 0.03      /* the smallest pulse may move the pH by this much */
#define SOLUTION_SHARE_MAX 0.1

const char *plan_size_field(const struct job *job)
{
    return job->plan.request.volume_l != 0 ? "volume_l" : "mass_kg";
}

double plan_water_per_bag(const struct job *job)
{
    const struct plan_request *r = &job->plan.request;

    return r->bag_kg * (100 - r->strength_pct) / r->strength_pct;
}

double plan_litres(const struct job *job, int bags)
{
    double litres = 0;
    enum status status = sucrose_mix_volume_eval(bags * job->plan.request.bag_kg,
                                                 bags * plan_water_per_bag(job), 20, &litres);

    assert(status == ST_OK); /* the ranges of plan_check.c lie inside those of the formula */
    (void)status;
    return litres;
}

static void find_bags(struct job *job)
{
    struct batch_plan *p = &job->plan;
    const struct plan_request *r = &p->request;
    double bag_share = r->volume_l != 0 ? r->volume_l / plan_litres(job, 1)
                                        : r->mass_kg / (r->bag_kg + plan_water_per_bag(job));

    p->bags = (int)fmax(1, floor(bag_share + 0.5));
    p->sugar_kg = p->bags * r->bag_kg;
    p->water_kg = p->sugar_kg * (100 - r->strength_pct) / r->strength_pct;
    p->final_kg = p->sugar_kg + p->water_kg;
    p->final_l = plan_litres(job, p->bags);
    job->trim_kg = fmax(PLAN_TRIM_MIN_KG, PLAN_TRIM_SHARE * p->water_kg);
}

/* ---- acid ---------------------------------------------------------------------------- */

static enum status refuse_stock(const struct job *job)
{
    enum acid acid = job->plan.request.acid;

    if (job->tank->acid_stock_pct == 0)
        return fault_set(job->f, ST_REFUSED, "acid_stock_pct",
                         "The tank file names no acid solution. Give acid_stock_pct, or plan without acid.");
    return fault_set(
        job->f, ST_REFUSED, "acid_stock_pct",
        "The acid solution is %.4g %%, but solutions of %s acid are known here only up to %g %%. "
        "Dilute it with water and write the new strength into the tank file.",
        job->tank->acid_stock_pct, acid_name(acid), acid_stock_limit_pct(acid));
}

static enum status find_acid_share(struct job *job)
{
    const struct plan_request *r = &job->plan.request;
    double stock = job->tank->acid_stock_pct / 100;
    double g_mol = 0;

    if (stock == 0 ||
        acid_stock_density_eval(r->acid, job->tank->acid_stock_pct, &job->plan.acid_stock_kg_l) != ST_OK)
        return refuse_stock(job);
    if (r->water_temp_c >= job->limits->dose_max_c)
        return fault_set(job->f, ST_REFUSED, "water_temp_c",
                         "The water comes at %.1f °C, but acid goes in only below %.1f °C. Use cooler water, "
                         "or plan without acid.",
                         r->water_temp_c, job->limits->dose_max_c);
    if (acid_molar_mass_eval(r->acid, &g_mol) != ST_OK ||
        acid_for_ph_eval(r->alkalinity_meq_kg, r->acid, r->target_ph, r->water_temp_c, &job->acid_mol_kg) !=
            ST_OK)
        return fault_set(job->f, ST_REFUSED, "target_ph",
                         "pH %.2f in water of %.1f meq/kg alkalinity would take more than 0.1 mol of %s acid "
                         "per kg of water, which is beyond what is known here. Choose a higher pH or another "
                         "acid.",
                         r->target_ph, r->alkalinity_meq_kg, acid_name(r->acid));
    job->acid_share = job->acid_mol_kg * g_mol / 1000 / stock;
    if (job->acid_share > SOLUTION_SHARE_MAX)
        return fault_set(
            job->f, ST_REFUSED, "acid_stock_pct",
            "The acid solution of %.4g %% is too weak: it would be more than a tenth of the water. "
            "Use one of at least %.1f %%.",
            job->tank->acid_stock_pct,
            ceil(job->tank->acid_stock_pct * job->acid_share / SOLUTION_SHARE_MAX * 10) / 10);
    job->plan.acid_stock_pct = job->tank->acid_stock_pct;
    return ST_OK;
}

enum status plan_find_amounts(struct job *job)
{
    struct batch_plan *p = &job->plan;
    enum status status = ST_OK;

    find_bags(job);
    if (p->request.acid != ACID_NONE)
        status = find_acid_share(job);
    if (status != ST_OK)
        return status;
    /* fill, its acid's water and the trim are all the water there is */
    p->fill_kg = (p->water_kg - job->trim_kg) / (1 + job->acid_share * (1 - p->acid_stock_pct / 100));
    if (p->request.acid == ACID_NONE || p->fill_kg <= 0) /* plan_check_fit refuses the latter */
        return ST_OK;
    p->acid_g = 1000 * p->fill_kg * job->acid_share * p->acid_stock_pct / 100;
    p->acid_ml = 1000 * p->fill_kg * job->acid_share / p->acid_stock_kg_l;
    p->acid_ceiling_ml = CEILING_FACTOR * p->acid_ml + job->tank->dose_min_pulse_ml;
    return ST_OK;
}

/* A pulse must be fine enough to stop at the target; what is in cannot be taken out. */
enum status plan_check_pulse(struct job *job)
{
    const struct plan_request *r = &job->plan.request;
    const struct batch_plan *p = &job->plan;
    double pulse_g = job->tank->dose_min_pulse_ml * p->acid_stock_kg_l * p->acid_stock_pct / 100;
    double before = 0;
    double g_mol = 0;
    double allowed_g;
    double fitting_pct;

    if (r->acid == ACID_NONE)
        return ST_OK;
    if (acid_for_ph_eval(r->alkalinity_meq_kg, r->acid, r->target_ph + PULSE_PH, r->water_temp_c, &before) !=
            ST_OK ||
        acid_molar_mass_eval(r->acid, &g_mol) != ST_OK)
        return fault_set(job->f, ST_RANGE, "target_ph", "pH %.2f is out of range.", r->target_ph);
    allowed_g = (job->acid_mol_kg - before) * g_mol * p->fill_kg;
    if (pulse_g <= allowed_g)
        return ST_OK;
    fitting_pct = floor(p->acid_stock_pct * allowed_g / pulse_g * 10) / 10;
    if (fitting_pct < 0.1)
        return fault_set(job->f, ST_REFUSED, "dose_min_pulse_ml",
                         "The smallest acid pulse of %g mL is too coarse for %.0f kg of this water, whatever "
                         "the solution. Make a larger batch, use a finer pump, or plan without acid.",
                         job->tank->dose_min_pulse_ml, p->fill_kg);
    return fault_set(
        job->f, ST_REFUSED, "acid_stock_pct",
        "The acid solution of %.4g %% is too strong here: the smallest pulse of %g mL would move "
        "the pH by more than %g near pH %.2f. Dilute it to %g %% or weaker and write that into "
        "the tank file.",
        p->acid_stock_pct, job->tank->dose_min_pulse_ml, PULSE_PH, r->target_ph, fitting_pct);
}
