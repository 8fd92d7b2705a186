#include "records/certificate_parts.h"

#include "records/canonical.h"
#include "records/decision_words.h"
#include "science/acid.h"
#include "science/uncertainty.h"

#include <math.h>
#include <stdio.h>

/* ---- results ------------------------------------------------------------------------------- */

struct result {
    const char *quantity;
    const char *label;
    const char *unit;
    const char *method;
    const char *statement; /* NULL: what the decision says */
    bool has_target;
    double target;
    double tolerance;
    double measured; /* NAN: not measured */
    double standard_u;
    int decimals;
};

static double rounded(double value, int decimals)
{
    double scale = pow(10, decimals);

    return round(value * scale) / scale;
}

/* k = 2, rounded up: never claim to know better than we do. */
static double expanded(double standard_u, int decimals)
{
    double scale = pow(10, decimals);

    return standard_u > 0 ? ceil(2 * standard_u * scale - 1e-6) / scale : (double)NAN;
}

static json_t *number_or(double value, int decimals, const char *otherwise)
{
    return isfinite(value) ? certificate_decimal(value, decimals) : json_string(otherwise);
}

static enum decision decide(const struct certificate_facts *facts, const struct result *result)
{
    int d = result->decimals;

    if (!result->has_target || !certificate_is_finished(facts))
        return DECISION_NOT_JUDGED;
    return decision_make(rounded(result->measured, d), rounded(result->target, d),
                         rounded(result->tolerance, d), expanded(result->standard_u, d));
}

static const char *statement(const struct certificate_facts *facts, const struct result *result,
                             enum decision decision)
{
    if (result->statement != NULL)
        return result->statement;
    if (!isfinite(result->measured))
        return certificate_is_finished(facts) ? "Cannot say: it was not measured."
                                              : "Not judged: the batch was not finished.";
    return certificate_is_finished(facts) ? decision_words_sentence(decision)
                                          : "Not judged: the batch was not finished.";
}

static json_t *result_json(const struct certificate_facts *facts, const struct result *result)
{
    enum decision decision = decide(facts, result);
    double target = result->has_target ? result->target : (double)NAN;
    double tolerance = result->has_target ? result->tolerance : (double)NAN;

    return json_pack("{s:s, s:s, s:s, s:s, s:o, s:o, s:o, s:o, s:s, s:s}", "quantity", result->quantity,
                     "label", result->label, "unit", result->unit, "method", result->method, "target",
                     number_or(target, result->decimals, "none"), "tolerance",
                     number_or(tolerance, result->decimals, "none"), "measured",
                     number_or(result->measured, result->decimals, "not measured"), "expanded_u",
                     number_or(expanded(result->standard_u, result->decimals), result->decimals, "unknown"),
                     "decision", decision_words_name(decision), "statement",
                     statement(facts, result, decision));
}

static json_t *strength(const struct certificate_facts *facts)
{
    const struct batch_memory *memory = facts->memory;
    char method[128], temperature[DECIMAL_MAX];

    canonical_decimal(memory->strength_temp_c, 1, temperature);
    (void)snprintf(method, sizeof method, "%s; liquid at %s °C",
                   memory->strength_typed ? "hand refractometer, read and typed in by a person"
                                          : "refractometer in the tank",
                   temperature);
    return result_json(facts, &(struct result){
                                  .quantity = "strength",
                                  .label = "Strength of the finished syrup (dissolved sugar)",
                                  .unit = "% by weight",
                                  .method = memory->has_strength ? method : "none",
                                  .has_target = true,
                                  .target = memory->plan.request.strength_pct,
                                  .tolerance = memory->plan.tolerance_pct,
                                  .measured = memory->has_strength ? memory->strength_pct : (double)NAN,
                                  .standard_u = memory->has_strength ? memory->strength_u_pct : (double)NAN,
                                  .decimals = 2,
                              });
}

static const char *ph_method(const struct certificate_facts *facts, bool measured, const char *by_probe,
                             const char *by_hand)
{
    if (!measured)
        return "none";
    return facts->settings->setup.points[POINT_ACIDITY_PH].is_bound ? by_probe : by_hand;
}

static json_t *water_ph(const struct certificate_facts *facts)
{
    const struct batch_memory *memory = facts->memory;

    return result_json(
        facts, &(struct result){
                   .quantity = "water_ph",
                   .label = "Acidity of the acidified water, before the sugar",
                   .unit = "pH",
                   .method = ph_method(facts, memory->has_water_ph, "probe in the water, before the sugar",
                                       "hand meter in the water before the sugar, typed in by a person"),
                   .has_target = true,
                   .target = memory->plan.request.target_ph,
                   .tolerance = memory->plan.tolerance_ph,
                   .measured = memory->has_water_ph ? memory->water_ph : (double)NAN,
                   .standard_u = memory->has_water_ph ? memory->water_ph_u : (double)NAN,
                   .decimals = 2,
               });
}

static json_t *syrup_ph(const struct certificate_facts *facts)
{
    const struct batch_memory *memory = facts->memory;

    return result_json(
        facts,
        &(struct result){
            .quantity = "syrup_ph_apparent",
            .label = "Apparent acidity of the finished syrup",
            .unit = "pH, apparent, read in syrup",
            .method = ph_method(facts, memory->has_syrup_ph, "probe in the undiluted syrup",
                                "hand meter in the undiluted syrup, typed in by a person"),
            .statement = "Not judged: apparent, read in syrup, repeatable but not a true pH. The uncertainty "
                         "is that of the reading, not of a true pH.",
            .measured = memory->has_syrup_ph ? memory->syrup_ph : (double)NAN,
            .standard_u = memory->has_syrup_ph ? facts->syrup_ph_u : (double)NAN,
            .decimals = 2,
        });
}

json_t *certificate_results(const struct certificate_facts *facts)
{
    json_t *list = json_pack("[o]", strength(facts));

    if (facts->memory->plan.request.acid == ACID_NONE || list == NULL)
        return list;
    if (json_array_append_new(list, water_ph(facts)) == 0 &&
        json_array_append_new(list, syrup_ph(facts)) == 0)
        return list;
    json_decref(list);
    return NULL;
}

/* ---- ingredients --------------------------------------------------------------------------- */

/* Of the amount, at k = 2, for the scale of a counter. Common practice, no source. */
#define WATER_SCALE_PCT 0.6
#define ACID_SCALE_PCT 2.0

struct ingredient {
    const char *what;
    const char *unit;
    const char *lot;
    double amount;
    double expanded_u; /* NAN: unknown */
    char basis[160];   /* of expanded_u */
    char detail[256];
};

static json_t *ingredient_json(const struct ingredient *item)
{
    return json_pack("{s:s, s:o, s:s, s:o, s:s, s:o, s:o}", "what", item->what, "amount",
                     certificate_decimal(item->amount, 1), "unit", item->unit, "expanded_u",
                     number_or(expanded(item->expanded_u / 2, 1), 1, "unknown"), "expanded_u_basis",
                     item->basis, "detail", certificate_clean(item->detail, "none"), "lot",
                     certificate_clean(item->lot, "not stated"));
}

/* U (k = 2) from the standard uncertainty of a counter and what is assumed, as a U, of its scale. */
static double counter_expanded_u(double standard_u, double scale_u)
{
    const struct uncertainty_component parts[] = {
        {.shape = UNCERTAINTY_NORMAL, .value = standard_u, .k = 1, .sensitivity = 1},
        {.shape = UNCERTAINTY_NORMAL, .value = scale_u, .k = 2, .sensitivity = 1},
    };
    struct uncertainty_result sum;

    return uncertainty_combine_eval(parts, 2, NULL, 0, &sum) == ST_OK ? 2 * sum.standard_u : (double)NAN;
}

/* What the counter's readings and its scale leave open; nothing is known without a counter. */
static void counter_judge(struct ingredient *item, const struct point_setup *counter, const char *unit,
                          double scale_pct)
{
    item->expanded_u = (double)NAN;
    if (!counter->is_bound) {
        (void)snprintf(item->basis, sizeof item->basis, "not metered");
        return;
    }
    if (!(counter->uncertainty > 0)) {
        (void)snprintf(item->basis, sizeof item->basis, "the tank file states none for the counter");
        return;
    }
    item->expanded_u = counter_expanded_u(counter->uncertainty, scale_pct / 100 * item->amount);
    (void)snprintf(item->basis, sizeof item->basis,
                   "twice the %g %s of the tank file for the counter, and %g %% of the amount, assumed for "
                   "its scale; acts cut short are left out of it",
                   counter->uncertainty, unit, scale_pct);
}

static json_t *sugar(const struct batch_memory *memory)
{
    struct ingredient item = {.what = "sugar",
                              .unit = "kg",
                              .lot = memory->plan.request.sugar_lot,
                              .amount = memory->sugar_in_kg,
                              .expanded_u = (double)NAN,
                              .basis = "as marked on the bags, not weighed"};
    char bag[DECIMAL_MAX];

    canonical_decimal(memory->plan.request.bag_kg, 2, bag);
    (void)snprintf(item.detail, sizeof item.detail, "%d bags tipped in, %d planned, of %s kg each",
                   memory->bags_in, memory->plan.bags, bag);
    return ingredient_json(&item);
}

static json_t *water(const struct certificate_facts *facts)
{
    const struct point_setup *counter = &facts->settings->setup.points[POINT_WATER_L];
    struct ingredient item = {.what = "water",
                              .unit = "L",
                              .lot = facts->memory->plan.request.water_source,
                              .amount = facts->memory->water_in_l};

    counter_judge(&item, counter, "L", WATER_SCALE_PCT);
    (void)snprintf(item.detail, sizeof item.detail, "%s",
                   counter->is_bound ? "by the water meter; where an act was cut short, the amount intended"
                                     : "by time through the valve, or as confirmed by a person; not metered");
    return ingredient_json(&item);
}

static json_t *acid(const struct certificate_facts *facts)
{
    const struct point_setup *counter = &facts->settings->setup.points[POINT_DOSED_ML];
    const struct batch_memory *memory = facts->memory;
    const struct batch_plan *plan = &memory->plan;
    struct ingredient item = {.what = "acid",
                              .unit = "mL of solution",
                              .lot = plan->request.acid_lot,
                              .amount = memory->acid_in_ml};
    char pct[DECIMAL_MAX], grams[DECIMAL_MAX];

    counter_judge(&item, counter, "mL", ACID_SCALE_PCT);
    canonical_decimal(plan->acid_stock_pct, 1, pct);
    canonical_decimal(memory->acid_in_ml * plan->acid_stock_kg_l * plan->acid_stock_pct / 100, 1, grams);
    (void)snprintf(item.detail, sizeof item.detail,
                   "%s acid, solution of %s %% by weight, holding %s g of pure acid; %s",
                   acid_name(plan->request.acid), pct, grams,
                   counter->is_bound
                       ? "by the pump's counter; where an act was cut short, the amount intended"
                       : "by the pump's running time, or as confirmed by a person; not metered");
    return ingredient_json(&item);
}

json_t *certificate_ingredients(const struct certificate_facts *facts)
{
    json_t *list = json_pack("[o, o]", sugar(facts->memory), water(facts));

    if (list == NULL)
        return NULL;
    if (facts->memory->plan.request.acid == ACID_NONE)
        return list;
    if (json_array_append_new(list, acid(facts)) == 0)
        return list;
    json_decref(list);
    return NULL;
}
