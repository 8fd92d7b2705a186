/* A line from a client: as a request, as the refusal it gets, and as the plan it asks for. */
#include "fuzz/fuzz.h"

#include "plan/plan.h"
#include "remote/plan_json.h"
#include "remote/protocol.h"
#include "support/demo_tank.h"

/* A reply is one line of JSON, whatever is quoted in it. */
static void reply_check(json_t *reply)
{
    size_t length = 0;
    char *line = protocol_line(reply, &length);
    json_t *read;

    fuzz_claim(line != NULL && length > 1 && length <= PROTOCOL_REPLY_MAX);
    fuzz_claim(strchr(line, '\n') == line + length - 1);
    read = json_loadb(line, length, JSON_REJECT_DUPLICATES, NULL);
    fuzz_claim(json_is_object(read));
    json_decref(read);
    free(line);
}

static void refusal_check(const char *code, const struct fault *f)
{
    fuzz_claim(code != NULL && f->text[0] != '\0');
    reply_check(protocol_error(code, f->text));
}

/* As the server goes on with it: the usual acid first. */
static void plan_check(struct plan_request *request)
{
    struct plan_request again;
    struct batch_plan plan = {0};
    struct plan_notes notes = {0};
    struct fault f = {0};
    json_t *json, *reply = protocol_ok();

    fuzz_claim(plan_request_acid_default(request, ACID_CITRIC, &f) == ST_OK);
    json = plan_request_to_json(request);
    fuzz_claim(json != NULL && plan_request_from_json(json, &again, &f) == ST_OK);
    json_decref(json);
    fuzz_claim(memcmp(request, &again, sizeof again) == 0);
    if (plan_make(request, &DEMO_TANK, &DEMO_LIMITS, &plan, &notes, &f) != ST_OK)
        refusal_check("refused", &f);
    fuzz_claim(json_object_set_new(reply, "plan", plan_to_json(&plan)) == 0);
    fuzz_claim(json_object_set_new(reply, "notes", plan_notes_to_json(&notes)) == 0);
    reply_check(reply);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    struct request request;
    struct protocol_refusal refusal;
    char *line = malloc(size > 0 ? size : 1);

    fuzz_claim(line != NULL);
    memcpy(line, data, size);
    if (!protocol_parse(line, size, &request, &refusal)) {
        refusal_check(refusal.code, &refusal.fault);
    } else {
        fuzz_claim(protocol_find(protocol_name(request.action)) == request.action);
        fuzz_claim(request.every_ms >= 50 && request.every_ms <= 10000);
        fuzz_claim(request.limit >= 1 && request.limit <= 1000);
        fuzz_claim(memchr(request.batch, '\0', sizeof request.batch) != NULL);
        if (request.action == ACTION_PLAN || request.action == ACTION_START)
            plan_check(&request.plan);
    }
    free(line);
    return 0;
}
