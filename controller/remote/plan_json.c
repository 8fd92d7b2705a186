#include "remote/plan_json.h"

#include "core/scan_types.h"
#include "remote/protocol.h"
#include "science/acid.h"
#include "science/ratio.h"
#include "words/words.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

/* In struct plan_request 0 says "not given". Where 0 is a possible wish (ice water, deionised
 * water) a given 0 becomes this, which no instrument here can tell from 0. */
#define GIVEN_ZERO 0.001

enum zero { ZERO_REFUSED, ZERO_POSSIBLE, ZERO_OR_BELOW };

struct number_row {
    const char *key;
    size_t offset;
    enum zero zero;
};

struct text_row {
    const char *key;
    size_t offset;
};

#define REQUEST_FIELD(name) #name, offsetof(struct plan_request, name)
#define PLAN_FIELD(name) #name, offsetof(struct batch_plan, name)

static const struct number_row NUMBERS[] = {
    {REQUEST_FIELD(volume_l), ZERO_REFUSED},
    {REQUEST_FIELD(mass_kg), ZERO_REFUSED},
    {REQUEST_FIELD(strength_pct), ZERO_REFUSED},
    {REQUEST_FIELD(target_ph), ZERO_REFUSED},
    {REQUEST_FIELD(alkalinity_meq_kg), ZERO_POSSIBLE},
    {REQUEST_FIELD(water_temp_c), ZERO_OR_BELOW},
    {REQUEST_FIELD(sugar_temp_c), ZERO_OR_BELOW},
    {REQUEST_FIELD(room_temp_c), ZERO_OR_BELOW},
    {REQUEST_FIELD(storage_min_temp_c), ZERO_OR_BELOW},
    {REQUEST_FIELD(bag_kg), ZERO_REFUSED},
};
static const struct text_row TEXTS[] = {
    {REQUEST_FIELD(sugar_lot)},
    {REQUEST_FIELD(acid_lot)},
    {REQUEST_FIELD(water_source)},
};
static const struct text_row PLAN_NUMBERS[] = {
    {PLAN_FIELD(sugar_kg)},        {PLAN_FIELD(water_kg)},     {PLAN_FIELD(final_kg)},
    {PLAN_FIELD(final_l)},         {PLAN_FIELD(fill_kg)},      {PLAN_FIELD(acid_stock_pct)},
    {PLAN_FIELD(acid_stock_kg_l)}, {PLAN_FIELD(acid_g)},       {PLAN_FIELD(acid_ml)},
    {PLAN_FIELD(acid_ceiling_ml)}, {PLAN_FIELD(preheat_c)},    {PLAN_FIELD(dissolve_c)},
    {PLAN_FIELD(tolerance_pct)},   {PLAN_FIELD(tolerance_ph)},
};
#define ROWS(table) (sizeof(table) / sizeof(table)[0])

static double number_at(const void *base, size_t offset)
{
    double value;

    memcpy(&value, (const char *)base + offset, sizeof value);
    return value;
}

static enum status number_read(const struct number_row *row, const json_t *value,
                               struct plan_request *request, struct fault *f)
{
    double number = json_number_value(value);

    if (!json_is_number(value) || !isfinite(number))
        return fault_set(f, ST_RANGE, row->key, "\"%s\" must be a number such as 62.5, without quotes",
                         row->key);
    if (number < 0 && row->zero != ZERO_OR_BELOW)
        return fault_set(f, ST_RANGE, row->key, "\"%s\" cannot be below 0", row->key);
    if (number == 0 && row->zero == ZERO_REFUSED)
        return fault_set(f, ST_RANGE, row->key, "\"%s\" must be above 0; leave it out if it is not wanted",
                         row->key);
    if (number == 0)
        number = GIVEN_ZERO;
    memcpy((char *)request + row->offset, &number, sizeof number);
    return ST_OK;
}

static enum status text_read(const struct text_row *row, const json_t *value, struct plan_request *request,
                             struct fault *f)
{
    const char *text = json_is_string(value) ? json_string_value(value) : NULL;

    if (text == NULL || json_string_length(value) >= PLAN_NAME_MAX)
        return fault_set(f, ST_RANGE, row->key, "\"%s\" must be a text of at most %d bytes", row->key,
                         PLAN_NAME_MAX - 1);
    for (const char *c = text; *c != '\0'; c++)
        if ((unsigned char)*c < 0x20 || *c == 0x7f)
            return fault_set(f, ST_RANGE, row->key, "\"%s\" must not contain control characters", row->key);
    (void)snprintf((char *)request + row->offset, PLAN_NAME_MAX, "%s", text);
    return ST_OK;
}

static enum status ratio_read(const json_t *value, struct plan_request *request, struct fault *f)
{
    struct ratio ratio;

    if (!json_is_string(value))
        return fault_set(f, ST_RANGE, "ratio", "\"ratio\" must be a text such as \"5:3 by weight\"");
    if (ratio_parse(json_string_value(value), &ratio, f) != ST_OK)
        return ST_RANGE;
    if (ratio_strength_eval(&ratio, &request->strength_pct) != ST_OK)
        return fault_set(f, ST_RANGE, "ratio", "both sides of the ratio must be above 0");
    return ST_OK;
}

static enum status acid_read(const json_t *value, struct plan_request *request, struct fault *f)
{
    char names[160] = "";
    size_t used = 0;

    request->acid = json_is_string(value) ? acid_find(json_string_value(value)) : ACID_COUNT;
    if (request->acid != ACID_COUNT)
        return ST_OK;
    for (int i = 0; i < ACID_COUNT && used < sizeof names; i++)
        used += (size_t)snprintf(names + used, sizeof names - used, "%s%s", i == 0 ? "" : ", ",
                                 acid_name((enum acid)i));
    return fault_set(f, ST_RANGE, "acid", "\"acid\" must be one of %s", names);
}

static enum status unknown_refuse(const char *key, struct fault *f)
{
    char names[320];
    size_t used = (size_t)snprintf(names, sizeof names, "ratio, acid");

    for (size_t i = 0; i < ROWS(NUMBERS) && used < sizeof names; i++)
        used += (size_t)snprintf(names + used, sizeof names - used, ", %s", NUMBERS[i].key);
    for (size_t i = 0; i < ROWS(TEXTS) && used < sizeof names; i++)
        used += (size_t)snprintf(names + used, sizeof names - used, ", %s", TEXTS[i].key);
    return fault_set(f, ST_REFUSED, "", "the request has an unknown key \"%.40s\"; allowed are %s", key,
                     names);
}

static enum status key_read(const char *key, const json_t *value, struct plan_request *request,
                            struct fault *f)
{
    if (strcmp(key, "ratio") == 0)
        return ratio_read(value, request, f);
    if (strcmp(key, "acid") == 0)
        return acid_read(value, request, f);
    for (size_t i = 0; i < ROWS(NUMBERS); i++)
        if (strcmp(key, NUMBERS[i].key) == 0)
            return number_read(&NUMBERS[i], value, request, f);
    for (size_t i = 0; i < ROWS(TEXTS); i++)
        if (strcmp(key, TEXTS[i].key) == 0)
            return text_read(&TEXTS[i], value, request, f);
    return unknown_refuse(key, f);
}

static enum status whole_check(const json_t *object, const struct plan_request *request, struct fault *f)
{
    bool has_strength = json_object_get(object, "strength_pct") != NULL;
    bool has_ratio = json_object_get(object, "ratio") != NULL;
    bool has_volume = json_object_get(object, "volume_l") != NULL;
    bool has_mass = json_object_get(object, "mass_kg") != NULL;
    bool has_acid = json_object_get(object, "acid") != NULL;

    if (has_strength == has_ratio)
        return fault_set(f, ST_REFUSED, "strength_pct",
                         "say how strong in one way: \"strength_pct\":62.5 or \"ratio\":\"5:3 by weight\"");
    if (has_volume == has_mass)
        return fault_set(f, ST_REFUSED, "volume_l",
                         "say how much in one way: \"volume_l\" in litres or \"mass_kg\" in kg");
    if (has_acid && request->acid == ACID_NONE && request->target_ph > 0)
        return fault_set(f, ST_REFUSED, "acid",
                         "\"target_ph\" needs an acid; name one, or leave \"target_ph\" out");
    if (request->acid != ACID_NONE && !(request->target_ph > 0))
        return fault_set(f, ST_REFUSED, "target_ph",
                         "\"acid\":\"%s\" needs the pH wanted: \"target_ph\", for example 4.3",
                         acid_name(request->acid));
    return ST_OK;
}

enum status plan_request_from_json(json_t *object, struct plan_request *request, struct fault *f)
{
    memset(request, 0, sizeof *request);
    if (!json_is_object(object))
        return fault_set(f, ST_RANGE, "request", "\"request\" must be an object of keys and values");
    for (void *at = json_object_iter(object); at != NULL; at = json_object_iter_next(object, at)) {
        enum status status = key_read(json_object_iter_key(at), json_object_iter_value(at), request, f);
        if (status != ST_OK)
            return status;
    }
    return whole_check(object, request, f);
}

enum status plan_request_acid_default(struct plan_request *request, enum acid usual, struct fault *f)
{
    if (request->acid != ACID_NONE || !(request->target_ph > 0))
        return ST_OK;
    if (usual == ACID_NONE)
        return fault_set(
            f, ST_REFUSED, "acid",
            "a pH is wanted but no acid is named, and this tank has no usual one; name the acid");
    request->acid = usual;
    return ST_OK;
}

/* ---- and back ------------------------------------------------------------------------------------ */

json_t *plan_request_to_json(const struct plan_request *request)
{
    json_t *object = json_object();
    int failed = 0;

    for (size_t i = 0; i < ROWS(NUMBERS); i++) {
        double value = number_at(request, NUMBERS[i].offset);
        if (value != 0)
            failed |= json_object_set_new(object, NUMBERS[i].key, protocol_number(value));
    }
    for (size_t i = 0; i < ROWS(TEXTS); i++) {
        const char *text = (const char *)request + TEXTS[i].offset;
        if (text[0] != '\0')
            failed |= json_object_set_new(object, TEXTS[i].key, json_string(text));
    }
    failed |= json_object_set_new(object, "acid", json_string(acid_name(request->acid)));
    if (failed == 0)
        return object;
    json_decref(object);
    return NULL;
}

static json_t *predicted_to_json(const struct batch_plan *plan)
{
    json_t *object = json_object();
    int failed = 0;

    for (int step = STEP_READY; step < STEP_COUNT; step++)
        failed |= json_object_set_new(object, words_step_name((enum step)step),
                                      protocol_number(plan->predicted_s[step]));
    if (failed == 0)
        return object;
    json_decref(object);
    return NULL;
}

json_t *plan_to_json(const struct batch_plan *plan)
{
    double saturated_below_c = plan->saturated_below_c > PLAN_NEVER_C ? plan->saturated_below_c : (double)NAN;
    json_t *object = json_pack("{s:s,s:i,s:o,s:o,s:o}", "batch_id", plan->batch_id, "bags", plan->bags,
                               "request", plan_request_to_json(&plan->request), "predicted_s",
                               predicted_to_json(plan), "saturated_below_c",
                               protocol_number(saturated_below_c));
    int failed = object == NULL;

    for (size_t i = 0; i < ROWS(PLAN_NUMBERS); i++)
        failed |= json_object_set_new(object, PLAN_NUMBERS[i].key,
                                      protocol_number(number_at(plan, PLAN_NUMBERS[i].offset)));
    if (failed == 0)
        return object;
    json_decref(object);
    return NULL;
}

json_t *plan_notes_to_json(const struct plan_notes *notes)
{
    json_t *list = json_array();
    int failed = 0;

    for (int i = 0; i < notes->count && i < PLAN_NOTES_MAX; i++)
        failed |= json_array_append_new(list, protocol_text(notes->text[i]));
    if (failed == 0)
        return list;
    json_decref(list);
    return NULL;
}
