#include "remote/protocol.h"

#include "remote/plan_json.h"
#include "words/words.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum key {
    KEY_NONE,
    KEY_REQUEST,
    KEY_EVERY_MS,
    KEY_LIMIT,
    KEY_BATCH,
    KEY_FORM,
    KEY_PROMPT,
    KEY_ANSWER,
    KEY_NUMBER
};

#define KEYS_MAX 3

struct verb_row {
    const char *name;
    enum role least;
    enum verb command;
    enum key keys[KEYS_MAX];
};

/* The whole table of verbs: who may, what it becomes in the core, which keys it takes. */
static const struct verb_row VERBS[ACTION_COUNT] = {
    [ACTION_HELLO] = {"hello", ROLE_LOOKER, VERB_COUNT, {0}},
    [ACTION_STATE] = {"state", ROLE_LOOKER, VERB_COUNT, {0}},
    [ACTION_WATCH] = {"watch", ROLE_LOOKER, VERB_COUNT, {KEY_EVERY_MS}},
    [ACTION_PLAN] = {"plan", ROLE_LOOKER, VERB_COUNT, {KEY_REQUEST}},
    [ACTION_START] = {"start", ROLE_OPERATOR, VERB_START, {KEY_REQUEST}},
    [ACTION_PAUSE] = {"pause", ROLE_HELPER, VERB_PAUSE, {0}},
    [ACTION_RESUME] = {"resume", ROLE_OPERATOR, VERB_RESUME, {0}},
    [ACTION_HOLD] = {"hold", ROLE_HELPER, VERB_HOLD, {0}},
    [ACTION_RESTART] = {"restart", ROLE_OPERATOR, VERB_RESTART, {0}},
    [ACTION_STOP] = {"stop", ROLE_HELPER, VERB_STOP, {0}},
    [ACTION_ABORT] = {"abort", ROLE_HELPER, VERB_ABORT, {0}},
    [ACTION_RESET] = {"reset", ROLE_OPERATOR, VERB_RESET, {0}},
    [ACTION_RELEASE] = {"release", ROLE_OPERATOR, VERB_RELEASE, {0}},
    [ACTION_ANSWER] = {"answer", ROLE_HELPER, VERB_ANSWER, {KEY_PROMPT, KEY_ANSWER, KEY_NUMBER}},
    [ACTION_BATCHES] = {"batches", ROLE_LOOKER, VERB_COUNT, {KEY_LIMIT}},
    [ACTION_CERTIFICATE] = {"certificate", ROLE_LOOKER, VERB_COUNT, {KEY_BATCH, KEY_FORM}},
    [ACTION_JOURNAL] = {"journal", ROLE_LOOKER, VERB_COUNT, {KEY_BATCH, KEY_LIMIT}},
};

static bool refuse(struct protocol_refusal *refusal, const char *code, const char *where, const char *text)
{
    refusal->code = code;
    (void)fault_set(&refusal->fault, ST_REFUSED, where, "%s", text);
    return false;
}

/* ---- one reader a key -------------------------------------------------------------------- */

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
        return refuse(refusal, "range", "batch",
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
    return refuse(refusal, "range", "form", "\"form\" must be \"json\" or \"text\"");
}

static bool prompt_read(json_t *value, struct request *r, struct protocol_refusal *refusal)
{
    json_int_t id = json_integer_value(value);

    if (!json_is_integer(value) || id < 0 || id > UINT32_MAX)
        return refuse(refusal, "range", "prompt",
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
    return refuse(refusal, "range", "answer",
                  "\"answer\" must be \"done\" or \"cannot\"; a number goes into \"number\"");
}

static bool number_read(json_t *value, struct request *r, struct protocol_refusal *refusal)
{
    if (!json_is_number(value) || !isfinite(json_number_value(value)))
        return refuse(refusal, "range", "number", "\"number\" must be a number such as 61.9, without quotes");
    r->answer = ANSWER_NUMBER;
    r->number = json_number_value(value);
    return true;
}

static const struct key_row {
    const char *name;
    bool (*read)(json_t *value, struct request *r, struct protocol_refusal *refusal);
} KEYS[] = {
    [KEY_REQUEST] = {"request", request_read}, [KEY_EVERY_MS] = {"every_ms", every_ms_read},
    [KEY_LIMIT] = {"limit", limit_read},       [KEY_BATCH] = {"batch", batch_read},
    [KEY_FORM] = {"form", form_read},          [KEY_PROMPT] = {"prompt", prompt_read},
    [KEY_ANSWER] = {"answer", answer_read},    [KEY_NUMBER] = {"number", number_read},
};

/* ---- the line -------------------------------------------------------------------------------- */

/* jansson parses recursively; the depth is bounded before it sees the line. */
static bool depth_is_bounded(const char *line, size_t length)
{
    int depth = 0;
    bool in_string = false;

    for (size_t i = 0; i < length; i++) {
        char c = line[i];
        if (in_string) {
            if (c == '\\')
                i++;
            else if (c == '"')
                in_string = false;
        } else if (c == '"') {
            in_string = true;
        } else if (c == '{' || c == '[') {
            if (++depth > PROTOCOL_DEPTH_MAX)
                return false;
        } else if (c == '}' || c == ']') {
            depth--;
        }
    }
    return true;
}

static json_t *object_load(const char *line, size_t length, struct protocol_refusal *refusal)
{
    json_error_t error;
    json_t *root;

    if (!depth_is_bounded(line, length)) {
        (void)refuse(refusal, "garbage", "", "the request is nested too deep; four levels are allowed");
        return NULL;
    }
    root = json_loadb(line, length, JSON_REJECT_DUPLICATES, &error);
    if (json_is_object(root))
        return root;
    json_decref(root);
    refusal->code = "garbage";
    if (root == NULL && json_error_code(&error) == json_error_duplicate_key)
        (void)fault_set(&refusal->fault, ST_REFUSED, "",
                        "a key is given twice (near column %d); write it once", error.column);
    else
        (void)fault_set(&refusal->fault, ST_REFUSED, "",
                        "this line is not one JSON object%s; write for example {\"v\":1,\"verb\":\"state\"}",
                        root == NULL ? " that can be read" : "");
    return NULL;
}

static bool version_check(const json_t *root, struct protocol_refusal *refusal)
{
    const json_t *version = json_object_get(root, "v");

    if (json_is_integer(version) && json_integer_value(version) == PROTOCOL_VERSION)
        return true;
    return refuse(refusal, "version", "v",
                  version == NULL ? "the request has no version; write \"v\":1"
                                  : "this version of the protocol is not spoken here; write \"v\":1");
}

static bool verb_read(const json_t *root, struct request *r, struct protocol_refusal *refusal)
{
    const char *name = json_string_value(json_object_get(root, "verb"));
    char text[384];
    size_t used;

    if (name != NULL && (r->action = protocol_find(name)) != ACTION_COUNT)
        return true;
    used = (size_t)snprintf(text, sizeof text, "there is no verb \"%.24s\"; allowed are", name ? name : "");
    for (int i = 0; i < ACTION_COUNT && used < sizeof text; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, "%s %s", i == 0 ? "" : ",", VERBS[i].name);
    return refuse(refusal, "verb", "verb", text);
}

static enum key key_find(const struct verb_row *verb, const char *name)
{
    for (int i = 0; i < KEYS_MAX && verb->keys[i] != KEY_NONE; i++)
        if (strcmp(KEYS[verb->keys[i]].name, name) == 0)
            return verb->keys[i];
    return KEY_NONE;
}

static bool key_refuse(const struct verb_row *verb, const char *name, struct protocol_refusal *refusal)
{
    char text[384];
    size_t used = (size_t)snprintf(
        text, sizeof text, "\"%s\" does not know the key \"%.40s\"; allowed are v, verb", verb->name, name);

    for (int i = 0; i < KEYS_MAX && verb->keys[i] != KEY_NONE && used < sizeof text; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, ", %s", KEYS[verb->keys[i]].name);
    return refuse(refusal, "key", "", text);
}

static bool needed_check(const json_t *root, const struct request *r, struct protocol_refusal *refusal)
{
    bool has_answer = json_object_get(root, "answer") != NULL;
    bool has_number = json_object_get(root, "number") != NULL;

    if (VERBS[r->action].keys[0] == KEY_REQUEST && json_object_get(root, "request") == NULL)
        return refuse(refusal, "key", "request",
                      "\"request\" is missing; write for example "
                      "\"request\":{\"volume_l\":600,\"strength_pct\":62.5}");
    if (r->action != ACTION_ANSWER)
        return true;
    if (json_object_get(root, "prompt") == NULL)
        return refuse(refusal, "key", "prompt",
                      "\"prompt\" is missing; it is the id of the open question, \"state\" shows it");
    if (has_answer == has_number)
        return refuse(refusal, "key", "answer",
                      "give either \"answer\" (\"done\" or \"cannot\") or \"number\", not both");
    return true;
}

static bool keys_read(json_t *root, struct request *r, struct protocol_refusal *refusal)
{
    const struct verb_row *verb = &VERBS[r->action];
    const char *name;
    json_t *value;

    json_object_foreach(root, name, value)
    {
        enum key key;
        if (strcmp(name, "v") == 0 || strcmp(name, "verb") == 0)
            continue;
        key = key_find(verb, name);
        if (key == KEY_NONE)
            return key_refuse(verb, name, refusal);
        if (!KEYS[key].read(value, r, refusal))
            return false;
    }
    return needed_check(root, r, refusal);
}

bool protocol_parse(const char *line, size_t length, struct request *request,
                    struct protocol_refusal *refusal)
{
    json_t *root;
    bool ok;

    memset(request, 0, sizeof *request);
    memset(refusal, 0, sizeof *refusal);
    request->every_ms = 1000;
    request->limit = 20;
    if (length >= PROTOCOL_LINE_MAX)
        return refuse(refusal, "garbage", "", "the line is longer than 64 KiB");
    root = object_load(line, length, refusal);
    if (root == NULL)
        return false;
    ok = version_check(root, refusal) && verb_read(root, request, refusal) &&
         keys_read(root, request, refusal);
    json_decref(root);
    return ok;
}

/* ---- the table, for others --------------------------------------------------------------------- */

const char *protocol_name(enum action action)
{
    assert((unsigned)action < ACTION_COUNT);
    return VERBS[action].name;
}

enum action protocol_find(const char *name)
{
    for (int i = 0; i < ACTION_COUNT; i++)
        if (strcmp(VERBS[i].name, name) == 0)
            return (enum action)i;
    return ACTION_COUNT;
}

enum role protocol_least_role(enum action action)
{
    assert((unsigned)action < ACTION_COUNT);
    return VERBS[action].least;
}

bool protocol_is_allowed(enum role role, enum action action)
{
    return role < ROLE_COUNT && role >= protocol_least_role(action);
}

enum verb protocol_command(enum action action)
{
    assert((unsigned)action < ACTION_COUNT);
    return VERBS[action].command;
}
