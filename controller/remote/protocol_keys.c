#include "remote/protocol_keys.h"

#include "remote/plan_json.h"
#include "words/words.h"

#include <assert.h>
#include <math.h>
#include <string.h>

bool protocol_refuse(struct protocol_refusal *refusal, const char *code, const char *where, const char *text)
{
    refusal->code = code;
    (void)fault_set(&refusal->fault, ST_REFUSED, where, "%s", text);
    return false;
}

static bool whole_read(const json_t *value, const char *name, int min, int max, int *out,
                       struct protocol_refusal *refusal)
{
    json_int_t number = json_integer_value(value);

    if (json_is_integer(value) && number >= min && number <= max) {
        *out = (int)number;
        return true;
    }
    refusal->code = "range";
    (void)fault_set(&refusal->fault, ST_RANGE, name, "\"%s\" must be a whole number from %d to %d", name, min,
                    max);
    return false;
}

static bool request_read(json_t *value, struct request *r, struct protocol_refusal *refusal)
{
    enum status status = plan_request_from_json(value, &r->plan, &refusal->fault);

    refusal->code = status == ST_RANGE ? "range" : "key";
    return status == ST_OK;
}

static bool every_ms_read(json_t *value, struct request *r, struct protocol_refusal *refusal)
{
    return whole_read(value, "every_ms", 50, 10000, &r->every_ms, refusal);
}

static bool limit_read(json_t *value, struct request *r, struct protocol_refusal *refusal)
{
    return whole_read(value, "limit", 1, 1000, &r->limit, refusal);
}

static bool batch_read(json_t *value, struct request *r, struct protocol_refusal *refusal)
{
    size_t length = json_string_length(value);

    if (!json_is_string(value) || length == 0 || length >= sizeof r->batch)
        return protocol_refuse(
            refusal, "range", "batch",
            "\"batch\" must be a batch number such as \"2026-0001\"; \"batches\" lists them");
    memcpy(r->batch, json_string_value(value), length + 1);
    return true;
}

static bool form_read(json_t *value, struct request *r, struct protocol_refusal *refusal)
{
    const char *form = json_is_string(value) ? json_string_value(value) : "";

    r->as_text = strcmp(form, "text") == 0;
    if (r->as_text || strcmp(form, "json") == 0)
        return true;
    return protocol_refuse(refusal, "range", "form", "\"form\" must be \"json\" or \"text\"");
}

static bool prompt_read(json_t *value, struct request *r, struct protocol_refusal *refusal)
{
    json_int_t id = json_integer_value(value);

    if (!json_is_integer(value) || id < 0 || id > UINT32_MAX)
        return protocol_refuse(refusal, "range", "prompt",
                               "\"prompt\" must be the id of the open question; \"state\" shows it");
    r->prompt = (uint32_t)id;
    return true;
}

static bool answer_read(json_t *value, struct request *r, struct protocol_refusal *refusal)
{
    const char *text = json_is_string(value) ? json_string_value(value) : "";

    r->answer = words_answer_find(text);
    if (r->answer == ANSWER_DONE || r->answer == ANSWER_CANNOT)
        return true;
    return protocol_refuse(refusal, "range", "answer",
                           "\"answer\" must be \"done\" or \"cannot\"; a number goes into \"number\"");
}

static bool number_read(json_t *value, struct request *r, struct protocol_refusal *refusal)
{
    if (!json_is_number(value) || !isfinite(json_number_value(value)))
        return protocol_refuse(refusal, "range", "number",
                               "\"number\" must be a number such as 61.9, without quotes");
    r->answer = ANSWER_NUMBER;
    r->number = json_number_value(value);
    return true;
}

static bool point_read(json_t *value, struct request *r, struct protocol_refusal *refusal)
{
    r->point = json_is_string(value) ? point_find(json_string_value(value)) : POINT_COUNT;
    if (r->point == POINT_STRENGTH_PCT || r->point == POINT_ACIDITY_PH || r->point == POINT_TANK_TEMP_C)
        return true;
    return protocol_refuse(refusal, "range", "point",
                           "\"point\" must be \"strength_pct\", \"acidity_ph\" or \"tank_temp_c\"");
}

static bool expanded_u_read(json_t *value, struct request *r, struct protocol_refusal *refusal)
{
    if (!json_is_number(value) || !(json_number_value(value) > 0) || !isfinite(json_number_value(value)))
        return protocol_refuse(refusal, "range", "expanded_u",
                               "\"expanded_u\" must be a number above 0: how far the hand instrument may be "
                               "wrong (k = 2), such as 0.2");
    r->expanded_u = json_number_value(value);
    return true;
}

static const struct key_row {
    const char *name;
    bool (*read)(json_t *value, struct request *r, struct protocol_refusal *refusal);
} KEYS[KEY_COUNT] = {
    [KEY_REQUEST] = {"request", request_read}, [KEY_EVERY_MS] = {"every_ms", every_ms_read},
    [KEY_LIMIT] = {"limit", limit_read},       [KEY_BATCH] = {"batch", batch_read},
    [KEY_FORM] = {"form", form_read},          [KEY_PROMPT] = {"prompt", prompt_read},
    [KEY_ANSWER] = {"answer", answer_read},    [KEY_NUMBER] = {"number", number_read},
    [KEY_POINT] = {"point", point_read},       [KEY_EXPANDED_U] = {"expanded_u", expanded_u_read},
};

const char *protocol_key_name(enum key key)
{
    assert(key > KEY_NONE && key < KEY_COUNT);
    return KEYS[key].name;
}

bool protocol_key_read(enum key key, json_t *value, struct request *request, struct protocol_refusal *refusal)
{
    assert(key > KEY_NONE && key < KEY_COUNT);
    return KEYS[key].read(value, request, refusal);
}
