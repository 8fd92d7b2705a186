#include "remote/protocol.h"

#include "remote/protocol_keys.h"
#include "words/words.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

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
    [ACTION_COMPARE] = {"compare", ROLE_HELPER, VERB_COMPARE, {KEY_POINT, KEY_NUMBER, KEY_EXPANDED_U}},
    [ACTION_BATCHES] = {"batches", ROLE_LOOKER, VERB_COUNT, {KEY_LIMIT}},
    [ACTION_CERTIFICATE] = {"certificate", ROLE_LOOKER, VERB_COUNT, {KEY_BATCH, KEY_FORM}},
    [ACTION_JOURNAL] = {"journal", ROLE_LOOKER, VERB_COUNT, {KEY_BATCH, KEY_LIMIT}},
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
        (void)protocol_refuse(refusal, "garbage", "",
                              "the request is nested too deep; four levels are allowed");
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
    return protocol_refuse(refusal, "version", "v",
                           version == NULL
                               ? "the request has no version; write \"v\":1"
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
    return protocol_refuse(refusal, "verb", "verb", text);
}

static enum key key_find(const struct verb_row *verb, const char *name)
{
    for (int i = 0; i < KEYS_MAX && verb->keys[i] != KEY_NONE; i++)
        if (strcmp(protocol_key_name(verb->keys[i]), name) == 0)
            return verb->keys[i];
    return KEY_NONE;
}

static bool key_refuse(const struct verb_row *verb, const char *name, struct protocol_refusal *refusal)
{
    char text[384];
    size_t used = (size_t)snprintf(
        text, sizeof text, "\"%s\" does not know the key \"%.40s\"; allowed are v, verb", verb->name, name);

    for (int i = 0; i < KEYS_MAX && verb->keys[i] != KEY_NONE && used < sizeof text; i++)
        used += (size_t)snprintf(text + used, sizeof text - used, ", %s", protocol_key_name(verb->keys[i]));
    return protocol_refuse(refusal, "key", "", text);
}

static bool needed_check(const json_t *root, const struct request *r, struct protocol_refusal *refusal)
{
    bool has_answer = json_object_get(root, "answer") != NULL;
    bool has_number = json_object_get(root, "number") != NULL;

    if (VERBS[r->action].keys[0] == KEY_REQUEST && json_object_get(root, "request") == NULL)
        return protocol_refuse(refusal, "key", "request",
                               "\"request\" is missing; write for example "
                               "\"request\":{\"volume_l\":600,\"strength_pct\":62.5}");
    if (r->action == ACTION_COMPARE && (json_object_get(root, "point") == NULL || !has_number ||
                                        json_object_get(root, "expanded_u") == NULL))
        return protocol_refuse(refusal, "key", "point",
                               "\"compare\" needs \"point\" (\"strength_pct\", \"acidity_ph\" or "
                               "\"tank_temp_c\"), \"number\" (what the hand instrument reads) and "
                               "\"expanded_u\" (how far it may be wrong, k = 2)");
    if (r->action != ACTION_ANSWER)
        return true;
    if (json_object_get(root, "prompt") == NULL)
        return protocol_refuse(
            refusal, "key", "prompt",
            "\"prompt\" is missing; it is the id of the open question, \"state\" shows it");
    if (has_answer == has_number)
        return protocol_refuse(refusal, "key", "answer",
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
        if (!protocol_key_read(key, value, r, refusal))
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
        return protocol_refuse(refusal, "garbage", "", "the line is longer than 64 KiB");
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
