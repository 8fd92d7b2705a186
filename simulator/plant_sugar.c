#include "simulator/plant_parts.h"

#include "science/sucrose.h"

#include <math.h>

/* Speed of a crystal's surface in still water of 1 mPa s, per unit of driving force, m/s. The
 * film's diffusion falls with viscosity to the power 2/3; the order of size is a laboratory
 * estimate (x/: 3), which is why each tank draws its own factor. */
#define DISSOLVE_M_S 0.8e-5
#define GROWTH_SHARE 0.2     /* crystals grow more slowly than they dissolve */
#define BED_SURFACE_SHARE 60 /* the bed's rough top against the bare floor */
#define SOLIDS_HEAT_S 8.0    /* time constant of crystals warming through */
#define CRYSTAL_J_KG_K 1222  /* at room temperature, for that time constant only */

static double cohort_kg(const struct plant_cohort *cohort)
{
    return cohort->full_kg * cohort->radius * cohort->radius * cohort->radius;
}

/* The two oldest become one, of the same count and mass. */
static void merge_oldest(struct plant_solids *solids)
{
    struct plant_cohort *first = &solids->cohorts[0];
    double kg = cohort_kg(first) + cohort_kg(&solids->cohorts[1]);

    first->full_kg += solids->cohorts[1].full_kg;
    first->radius = cbrt(kg / first->full_kg);
    for (int i = 2; i < solids->count; i++)
        solids->cohorts[i - 1] = solids->cohorts[i];
    solids->count--;
}

void plant_sugar_tip(struct plant *plant, double kg)
{
    struct plant_solids *solids = &plant->solids;
    double heat = plant_crystal_j(kg, plant->params.declared.sugar_c);

    if (solids->count == PLANT_COHORTS)
        merge_oldest(solids);
    solids->cohorts[solids->count++] = (struct plant_cohort){.full_kg = kg, .radius = 1.0};
    /* Fresh sugar goes to the floor first; the stirrer then lifts it. */
    solids->suspended *= solids->kg / (solids->kg + kg);
    solids->kg += kg;
    solids->heat_j += heat;
    plant->totals.sugar_in_kg += kg;
    plant->totals.added_j += heat;
    plant_temps_renew(plant);
}

static void suspend_step(struct plant *plant, double dt_s)
{
    struct plant_solids *solids = &plant->solids;
    double lift = plant->stirrer_rpm / plant->params.suspend_rpm;
    double goal = fmax(0, fmin(1, 2 * lift - 1));
    double time_s = goal > solids->suspended ? 40 : 20;

    solids->suspended += (goal - solids->suspended) * dt_s / time_s;
}

/* Driving force ln((1 - w)/(1 - ws)); negative when supersaturated. */
static double driving_force(const struct plant_liquid *zone)
{
    double saturated = 0, w = plant_liquid_strength_pct(zone) / 100;

    if (plant_liquid_kg(zone) < 0.1 ||
        sucrose_solubility_eval(fmax(0, fmin(zone->temp_c, 100)), &saturated) != ST_OK)
        return 0;
    return log((1 - fmin(w, 0.95)) / (1 - saturated / 100));
}

/* Share of radius lost per second at full radius, in each zone; the sum moves the crystals. */
static double radius_rates(const struct plant *plant, double rates[ZONE_COUNT])
{
    const struct plant_params *params = &plant->params;
    const struct plant_solids *solids = &plant->solids;
    double viscosity = fmax(plant->slow.viscosity_mpa_s, 0.3), total = plant_kg(plant), sum = 0;
    double speed = plant->stirrer_rpm / params->declared.stirrer_rpm;
    double metres_s = DISSOLVE_M_S * params->dissolve_factor * (0.5 + 0.5 * fmin(speed, 1.5)) *
                      plant->slow.density_kg_m3 / PLANT_CRYSTAL_KG_M3 / cbrt(viscosity * viscosity);
    double surface_m2 = 6 * solids->kg / (PLANT_CRYSTAL_KG_M3 * params->crystal_m);
    double bed = fmin(1, BED_SURFACE_SHARE * params->floor_m2 / fmax(surface_m2, 1e-6));

    for (int z = 0; z < ZONE_COUNT; z++) {
        double reach = total > 0 ? solids->suspended * plant_liquid_kg(&plant->zones[z]) / total : 0;
        double force = driving_force(&plant->zones[z]);

        if (z == ZONE_BOTTOM)
            reach += (1 - solids->suspended) * bed;
        rates[z] = metres_s * reach * (force < 0 ? GROWTH_SHARE * force : force) / (params->crystal_m / 2);
        sum += rates[z];
    }
    return sum;
}

/* Shrink every cohort by this much radius; returns the kg that went into solution. */
static double cohorts_shrink(struct plant_solids *solids, double radius)
{
    double kg = 0, left = 0;
    int kept = 0;

    for (int i = 0; i < solids->count; i++) {
        struct plant_cohort cohort = solids->cohorts[i];
        double before = cohort_kg(&cohort);

        cohort.radius -= radius;
        if (cohort.radius <= 0.02) {
            kg += before;
            continue;
        }
        kg += before - cohort_kg(&cohort);
        left += cohort_kg(&cohort);
        solids->cohorts[kept++] = cohort;
    }
    solids->count = kept;
    solids->kg = left;
    return kg;
}

static void dissolve_into(struct plant *plant, struct plant_liquid *zone, double kg, double heat)
{
    zone->stuff[STUFF_SUGAR] += kg;
    zone->stuff[STUFF_HEAT] += heat;
    zone->stuff[STUFF_ALKALI] += kg * plant->params.ash_meq_kg / 1000;
}

static void dissolve_step(struct plant *plant, double dt_s)
{
    struct plant_solids *solids = &plant->solids;
    double rates[ZONE_COUNT], sum = radius_rates(plant, rates), before = solids->kg, kg, heat, weight = 0;

    if (sum == 0)
        return;
    kg = cohorts_shrink(solids, sum * dt_s);
    /* The part that dissolves takes its own heat along; growing crystals bring theirs. */
    heat = kg > 0 ? solids->heat_j * kg / before : plant_crystal_j(kg, plant->zones[ZONE_BOTTOM].temp_c);
    solids->heat_j = solids->count == 0 ? 0 : solids->heat_j - heat;
    for (int z = 0; z < ZONE_COUNT; z++)
        weight += sum > 0 ? fmax(rates[z], 0) : fmin(rates[z], 0);
    for (int z = 0; z < ZONE_COUNT; z++) {
        double share = (sum > 0 ? fmax(rates[z], 0) : fmin(rates[z], 0)) / weight;

        dissolve_into(plant, &plant->zones[z], kg * share, heat * share);
    }
}

static void warm_step(struct plant *plant, double dt_s)
{
    struct plant_solids *solids = &plant->solids;
    double total = plant_kg(plant);

    for (int z = 0; z < ZONE_COUNT && total > 1; z++) {
        struct plant_liquid *zone = &plant->zones[z];
        double reach = solids->suspended * plant_liquid_kg(zone) / total;
        double j_k, heat;

        if (z == ZONE_BOTTOM)
            reach += 1 - solids->suspended;
        /* Little liquid under much sugar may not swing past the sugar's temperature. */
        j_k = fmin(reach * solids->kg * CRYSTAL_J_KG_K * dt_s / SOLIDS_HEAT_S, 0.3 * plant_liquid_j_k(zone));
        heat = j_k * (zone->temp_c - solids->temp_c);
        zone->stuff[STUFF_HEAT] -= heat;
        solids->heat_j += heat;
    }
}

void plant_sugar_step(struct plant *plant, double dt_s)
{
    if (plant->solids.kg <= 0)
        return;
    suspend_step(plant, dt_s);
    warm_step(plant, dt_s);
    dissolve_step(plant, dt_s);
}
