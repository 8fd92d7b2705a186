#include "records/certificate_parts.h"

#include "records/canonical.h"
#include "records/decision.h"
#include "science/acid.h"

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
    return certificate_is_finished(facts) ? decision_words(decision)
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
                     "decision", decision_name(decision), "statement", statement(facts, result, decision));
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

static json_t *ingredient(const char *what, json_t *amount, const char *unit, const char *detail,
                          const char *lot)
{
    return json_pack("{s:s, s:o, s:s, s:o, s:o}", "what", what, "amount", amount, "unit", unit, "detail",
                     certificate_clean(detail, "none"), "lot", certificate_clean(lot, "not stated"));
}

static json_t *sugar(const struct batch_memory *memory)
{
    char detail[160], bag[DECIMAL_MAX];

    canonical_decimal(memory->plan.request.bag_kg, 1, bag);
    (void)snprintf(detail, sizeof detail, "%d bags tipped in, %d planned, of %s kg each as marked on the bag",
                   memory->bags_in, memory->plan.bags, bag);
    return ingredient("sugar", certificate_decimal(memory->sugar_in_kg, 1), "kg", detail,
                      memory->plan.request.sugar_lot);
}

static json_t *water(const struct certificate_facts *facts)
{
    bool metered = facts->settings->setup.points[POINT_WATER_L].is_bound;

    return ingredient("water", certificate_decimal(facts->memory->water_in_l, 1), "L",
                      metered ? "by the water meter; where an act was cut short, the amount intended"
                              : "by time through the valve, or as confirmed by a person; not metered",
                      facts->memory->plan.request.water_source);
}

static json_t *acid(const struct certificate_facts *facts)
{
    const struct batch_memory *memory = facts->memory;
    const struct batch_plan *plan = &memory->plan;
    char detail[256], pct[DECIMAL_MAX], grams[DECIMAL_MAX];

    canonical_decimal(plan->acid_stock_pct, 1, pct);
    canonical_decimal(memory->acid_in_ml * plan->acid_stock_kg_l * plan->acid_stock_pct / 100, 1, grams);
    (void)snprintf(detail, sizeof detail,
                   "%s acid, solution of %s %% by weight, holding %s g of pure acid; %s",
                   acid_name(plan->request.acid), pct, grams,
                   facts->settings->setup.points[POINT_DOSED_ML].is_bound
                       ? "by the pump's counter; where an act was cut short, the amount intended"
                       : "by the pump's running time, or as confirmed by a person; not metered");
    return ingredient("acid", certificate_decimal(memory->acid_in_ml, 1), "mL of solution", detail,
                      plan->request.acid_lot);
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
