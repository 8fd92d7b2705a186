/* The commands that move a batch: plan, start, answer, and the bare ones. */
#include "client/commands.h"
#include "client/numbers.h"
#include "plan/plan.h"
#include "remote/plan_json.h"
#include "remote/protocol.h"
#include "settings/settings.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

static int plan_print(const struct arguments *arguments, const json_t *reply)
{
    struct show show = show_open(stdout);

    if (arguments->wants_json)
        return json_print(reply);
    show_plan(&show, json_object_get(reply, "plan"), json_object_get(reply, "notes"));
    return EX_OK;
}

/* A number that is wrong is bad data; a wish this tank cannot fulfil is refused. */
static enum status plan_locally(const struct arguments *arguments, const struct settings *settings,
                                struct batch_plan *plan, struct plan_notes *notes, struct fault *f)
{
    const struct scan_setup *setup = &settings->setup;
    struct plan_request request;
    enum status status = plan_request_from_json(arguments->request, &request, f);

    memset(plan, 0, sizeof *plan);
    memset(notes, 0, sizeof *notes);
    if (status == ST_OK)
        status = plan_request_acid_default(&request, settings->default_acid, f);
    if (status == ST_OK)
        status = plan_make(&request, &setup->tank, &setup->limits, plan, notes, f);
    return status;
}

static int plan_from_file(const struct arguments *arguments)
{
    struct settings *settings = calloc(1, sizeof *settings);
    struct settings_errors *errors = calloc(1, sizeof *errors);
    struct batch_plan plan;
    struct plan_notes notes;
    struct fault f = {.code = ST_SYSTEM, .text = "memory is short"};
    json_t *reply = NULL;
    int status;

    if (settings == NULL || errors == NULL)
        goto done;
    if (tank_file_find(arguments->tank_file, &f) != ST_OK)
        goto done;
    if (settings_read(arguments->tank_file, settings, errors) != ST_OK) {
        (void)fault_set(&f, ST_SETTINGS, arguments->tank_file,
                        "%s has errors; \"syrupwright check %s\" lists them", arguments->tank_file,
                        arguments->tank_file);
    } else if (plan_locally(arguments, settings, &plan, &notes, &f) == ST_OK) {
        reply = json_pack("{s:i,s:b,s:o,s:o}", "v", PROTOCOL_VERSION, "ok", 1, "plan", plan_to_json(&plan),
                          "notes", plan_notes_to_json(&notes));
        if (reply == NULL)
            (void)fault_set(&f, ST_SYSTEM, "", "memory is short");
    }
done:
    status = reply == NULL ? fault_exit(arguments, &f) : plan_print(arguments, reply);
    json_decref(reply);
    free(errors);
    free(settings);
    return status;
}

static int ask_with_request(const struct arguments *arguments, const char *verb, json_t **reply)
{
    json_t *request = request_new(verb);
    struct fault f = {0};

    *reply = NULL;
    if (arguments_check_request(arguments, &f) != ST_OK) {
        json_decref(request);
        return usage_exit(arguments, &f);
    }
    if (request != NULL && json_object_set(request, "request", arguments->request) != 0) {
        json_decref(request);
        request = NULL;
    }
    return ask(arguments, request, reply);
}

int run_plan(const struct arguments *arguments)
{
    struct fault f = {0};
    json_t *reply;
    int status;

    if (arguments_check_request(arguments, &f) != ST_OK) {
        return usage_exit(arguments, &f);
    }
    if (arguments->tank_file != NULL)
        return plan_from_file(arguments);
    status = ask_with_request(arguments, "plan", &reply);
    if (status == EX_OK)
        status = plan_print(arguments, reply);
    json_decref(reply);
    return status;
}

int run_start(const struct arguments *arguments)
{
    json_t *reply;
    int status = ask_with_request(arguments, "start", &reply);

    if (status == EX_OK)
        status = plan_print(arguments, reply);
    if (status == EX_OK && !arguments->wants_json)
        (void)printf("\nBatch %s has started. \"syrupwright watch\" shows it and says what you must do.\n",
                     show_text(reply, "batch"));
    json_decref(reply);
    return status;
}

/* ---- answer ------------------------------------------------------------------------------------ */

/* Which question is open? EX_OK: *prompt has its id. */
static int prompt_find(const struct arguments *arguments, json_int_t *prompt)
{
    json_t *reply;
    int status = ask(arguments, request_new("state"), &reply);
    const json_t *id = json_object_get(json_object_get(json_object_get(reply, "state"), "prompt"), "id");
    struct fault f;

    *prompt = json_integer_value(id);
    if (status == EX_OK && !json_is_integer(id)) {
        (void)fault_set(&f, ST_REFUSED, "", "nothing is asked now; \"syrupwright state\" shows what happens");
        status = fault_exit(arguments, &f);
    }
    json_decref(reply);
    return status;
}

static enum status answer_put(const char *text, json_t *request, struct fault *f)
{
    double number;

    if (strcasecmp(text, "done") == 0 || strcasecmp(text, "cannot") == 0)
        return json_object_set_new(request, "answer",
                                   json_string(strcasecmp(text, "done") ? "cannot" : "done"))
                   ? fault_set(f, ST_SYSTEM, "", "memory is short")
                   : ST_OK;
    if (strpbrk(text, "0123456789") == NULL)
        return fault_set(f, ST_RANGE, "", "\"%.40s\" is no answer; say done, cannot, or the number you read",
                         text);
    if (number_parse("answer", text, &number, f) != ST_OK)
        return ST_RANGE;
    return json_object_set_new(request, "number", json_real(number)) == 0
               ? ST_OK
               : fault_set(f, ST_SYSTEM, "", "memory is short");
}

int run_answer(const struct arguments *arguments)
{
    json_t *request = request_new("answer");
    json_t *reply = NULL;
    json_int_t prompt = arguments->prompt;
    struct fault f = {0};
    int status = EX_OK;

    if (answer_put(arguments->operands[0], request, &f) != ST_OK)
        status = fault_exit(arguments, &f);
    else if (arguments->prompt < 0)
        status = prompt_find(arguments, &prompt);
    if (status != EX_OK) {
        json_decref(request);
        return status;
    }
    if (json_object_set_new(request, "prompt", json_integer(prompt)) != 0) {
        json_decref(request);
        request = NULL;
    }
    status = ask(arguments, request, &reply);
    if (status == EX_OK && arguments->wants_json)
        status = json_print(reply);
    else if (status == EX_OK)
        (void)printf("The answer is taken.\n");
    json_decref(reply);
    return status;
}

/* ---- the bare verbs --------------------------------------------------------------------------------- */

int run_simple(const struct arguments *arguments)
{
    json_t *reply;
    int status = ask(arguments, request_new(arguments->command), &reply);

    if (status == EX_OK && arguments->wants_json)
        status = json_print(reply);
    else if (status == EX_OK)
        (void)printf("%s: accepted. \"syrupwright state\" shows what follows.\n", arguments->command);
    json_decref(reply);
    return status;
}
