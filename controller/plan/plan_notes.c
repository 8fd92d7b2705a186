#include "core/scan_types.h"
#include "plan/plan_parts.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#define ROUNDING_SHARE 0.01
#define THIN_PCT 55.0
#define CARBON_DIOXIDE_PH 4.8
#define SOUR_PH 4.0
#define HOT_ACID_C 60.0

/* fault_set is the one formatter the pure parts have. */
static void add(struct plan_notes *notes, const struct fault *sentence)
{
    size_t length = strlen(sentence->text);

    assert(notes->count < PLAN_NOTES_MAX && length < sizeof notes->text[0]);
    memcpy(notes->text[notes->count], sentence->text, length + 1);
    notes->count++;
}

static void note_rounding(struct job *job)
{
    const struct batch_plan *p = &job->plan;
    bool by_volume = p->request.volume_l != 0;
    double asked = by_volume ? p->request.volume_l : p->request.mass_kg;
    double made = by_volume ? p->final_l : p->final_kg;
    const char *unit = by_volume ? "L" : "kg";
    int decimals = asked < 100 ? 1 : 0;
    struct fault s;

    if (fabs(made - asked) <= ROUNDING_SHARE * asked)
        return;
    fault_set(&s, ST_OK, "",
              "The nearest whole number of bags, %d of %.4g kg, gives %.*f %s instead of %.*f %s.", p->bags,
              p->request.bag_kg, decimals, made, unit, decimals, asked, unit);
    add(&job->notes, &s);
}

static void note_keeping(struct job *job)
{
    const struct batch_plan *p = &job->plan;
    struct fault s;

    if (p->saturated_below_c > p->request.storage_min_temp_c) {
        fault_set(
            &s, ST_OK, "",
            "%.4g %% syrup can crystallise below %.1f °C, and storage may get as cold as %.1f °C. Use it "
            "before that, keep it warmer, or make it thinner: up to 64.4 %% stays clear above freezing.",
            p->request.strength_pct, p->saturated_below_c, p->request.storage_min_temp_c);
        add(&job->notes, &s);
    }
    if (p->request.strength_pct < THIN_PCT) {
        fault_set(
            &s, ST_OK, "",
            "%.4g %% syrup is thin enough for ordinary yeasts and moulds; it can ferment within days. Make "
            "only what is used soon.",
            p->request.strength_pct);
        add(&job->notes, &s);
    }
}

/* Acid after the sugar, cool and by calculated amount, would be the sound order; it is not offered. */
static void note_hot_acid(struct job *job)
{
    struct fault s;

    if (job->hot_c <= HOT_ACID_C)
        return;
    fault_set(&s, ST_OK, "",
              "The acid is in before the heat here, and the liquid gets as warm as %.1f °C; above %.0f °C "
              "acid and heat together make HMF and invert sugar. Consider a lower strength, which needs less "
              "heat, or no acid.",
              job->hot_c, HOT_ACID_C);
    add(&job->notes, &s);
}

static void note_acid(struct job *job)
{
    const struct plan_request *r = &job->plan.request;
    struct fault s;

    if (r->acid == ACID_NONE)
        return;
    fault_set(
        &s, ST_OK, "",
        "Acid is your choice: whether it helps bees is disputed. Heat and time with acid make HMF, which "
        "harms bees, so keep acid syrup cool and use it soon. Acid may also change which feed rules "
        "apply.");
    add(&job->notes, &s);
    note_hot_acid(job);
    if (r->target_ph > CARBON_DIOXIDE_PH) {
        fault_set(
            &s, ST_OK, "",
            "Near pH %.1f the water still holds carbon dioxide; as it escapes the pH drifts up for a long "
            "time. The reading soon after dosing is lower than it will stay.",
            r->target_ph);
        add(&job->notes, &s);
    }
    if (r->target_ph < SOUR_PH) {
        fault_set(
            &s, ST_OK, "",
            "pH %.1f is low: with each unit less, sugar splits about ten times faster, and what has split "
            "forms HMF.",
            r->target_ph);
        add(&job->notes, &s);
    }
}

static void note_time(struct job *job)
{
    const struct batch_plan *p = &job->plan;
    const struct limits *l = job->limits;
    struct fault s;

    if (job->is_preheat_capped) {
        fault_set(
            &s, ST_OK, "",
            "The sugar cools the water from %.1f °C, the most allowed here, to about %.1f °C. The heater "
            "then works on up to %.1f °C while it dissolves; that takes longer.",
            p->preheat_c, job->mix_c, p->dissolve_c);
        add(&job->notes, &s);
    }
    if (p->predicted_s[STEP_DISSOLVE] > l->dissolve_max_s) {
        fault_set(&s, ST_OK, "",
                  "Dissolving may take about %.0f minutes, longer than the %.0f this tank allows; expect the "
                  "batch to stop there and wait for you. Warmer water or fewer bags shorten it.",
                  p->predicted_s[STEP_DISSOLVE] / 60, l->dissolve_max_s / 60);
        add(&job->notes, &s);
    }
    if (p->predicted_s[STEP_ACIDIFY] > l->acidify_max_s) {
        fault_set(&s, ST_OK, "",
                  "Acidifying may take about %.0f minutes, longer than the %.0f this tank allows; expect the "
                  "batch to stop there and wait for you.",
                  p->predicted_s[STEP_ACIDIFY] / 60, l->acidify_max_s / 60);
        add(&job->notes, &s);
    }
}

void plan_add_notes(struct job *job)
{
    note_rounding(job);
    note_keeping(job);
    note_acid(job);
    note_time(job);
}
