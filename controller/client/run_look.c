/* The commands that only look, through the daemon: state, watch, hello, batches, certificate, journal. */
#include "client/commands.h"
#include "remote/protocol.h"

#include <string.h>
#include <time.h>
#include <unistd.h>

#define WATCH_MS 1000
#define WATCH_SILENCE_MS 30000 /* the daemon speaks at least every 10 s */

int run_state(const struct arguments *arguments)
{
    json_t *reply;
    int status = ask(arguments, request_new("state"), &reply);
    struct show show = show_open(stdout);

    if (status == EX_OK && arguments->wants_json)
        status = json_print(reply);
    else if (status == EX_OK)
        show_state(&show, json_object_get(reply, "state"));
    json_decref(reply);
    return status;
}

int run_hello(const struct arguments *arguments)
{
    json_t *reply;
    int status = ask(arguments, request_new("hello"), &reply);
    struct show show = show_open(stdout);

    if (status == EX_OK && arguments->wants_json)
        status = json_print(reply);
    else if (status == EX_OK)
        show_hello(&show, reply);
    json_decref(reply);
    return status;
}

/* ---- the record ---------------------------------------------------------------------------------- */

static json_t *record_request(const struct arguments *arguments, const char *verb)
{
    const char *batch = arguments->operand_count > 0 ? arguments->operands[0] : arguments->batch;
    json_t *request = request_new(verb);
    int failed = request == NULL;

    if (batch != NULL)
        failed |= json_object_set_new(request, "batch", json_string(batch));
    if ((arguments->uses & USE_LIMIT) != 0)
        failed |= json_object_set_new(request, "limit", json_integer(arguments->limit));
    if (failed == 0)
        return request;
    json_decref(request);
    return NULL;
}

int run_batches(const struct arguments *arguments)
{
    json_t *reply;
    int status = ask(arguments, record_request(arguments, "batches"), &reply);
    struct show show = show_open(stdout);

    if (status == EX_OK && arguments->wants_json)
        status = json_print(reply);
    else if (status == EX_OK)
        show_batches(&show, json_object_get(reply, "batches"));
    json_decref(reply);
    return status;
}

int run_journal(const struct arguments *arguments)
{
    json_t *reply;
    int status = ask(arguments, record_request(arguments, "journal"), &reply);
    struct show show = show_open(stdout);

    if (status == EX_OK && arguments->wants_json)
        status = json_print(reply);
    else if (status == EX_OK)
        show_journal(&show, json_object_get(reply, "journal"));
    json_decref(reply);
    return status;
}

/* With --json the stored bytes and nothing else, so that the file made from them can be verified. */
int run_certificate(const struct arguments *arguments)
{
    json_t *request = record_request(arguments, "certificate");
    const char *text;
    json_t *reply;
    struct fault f;
    int status;

    if (request != NULL &&
        json_object_set_new(request, "form", json_string(arguments->wants_json ? "json" : "text")) != 0) {
        json_decref(request);
        request = NULL;
    }
    status = ask_when_ready(arguments, request, &reply);
    text = json_string_value(json_object_get(reply, "certificate"));
    if (status == EX_OK && (text == NULL || fputs(text, stdout) == EOF || fflush(stdout) != 0)) {
        (void)fault_set(&f, ST_SYSTEM, "", "the certificate cannot be written to standard output");
        (void)fault_exit(NULL, &f);
        status = EX_IOERR;
    }
    json_decref(reply);
    return status;
}

/* ---- watch ----------------------------------------------------------------------------------------- */

struct watch {
    const struct arguments *arguments;
    struct show show;
    bool is_terminal;
    char shown[SHOW_LINE_MAX]; /* state, step, prompt and trips of the last printed line */
    int64_t shown_s;
};

static int64_t now_s(void)
{
    struct timespec now;

    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return now.tv_sec;
}

static void signature_print(const json_t *state, char out[SHOW_LINE_MAX])
{
    const json_t *trips = json_object_get(state, "trips");
    size_t used = (size_t)snprintf(
        out, SHOW_LINE_MAX, "%s|%s|%s|%" JSON_INTEGER_FORMAT, show_text(state, "state"),
        show_text(state, "step"), show_text(state, "outcome"),
        json_integer_value(json_object_get(json_object_get(state, "prompt"), "id")));

    /* What is not latched, as a hatch that opens and shuts for each bag, is no news by itself. */
    for (size_t i = 0; i < json_array_size(trips) && used < SHOW_LINE_MAX; i++) {
        const json_t *trip = json_array_get(trips, i);
        if (json_is_true(json_object_get(trip, "latched")))
            used += (size_t)snprintf(out + used, SHOW_LINE_MAX - used, "|%s", show_text(trip, "trip"));
    }
}

static int state_print(struct watch *watch, const json_t *reply)
{
    const json_t *state = json_object_get(reply, "state");
    char signature[SHOW_LINE_MAX];
    char line[SHOW_LINE_MAX];

    if (watch->arguments->wants_json)
        return json_print(reply);
    if (watch->is_terminal) {
        (void)fprintf(stdout, "\033[H\033[J");
        show_state(&watch->show, state);
        return fflush(stdout) == 0 ? EX_OK : EX_IOERR;
    }
    signature_print(state, signature);
    if (strcmp(signature, watch->shown) == 0 && now_s() - watch->shown_s < watch->arguments->every_s)
        return EX_OK;
    memcpy(watch->shown, signature, sizeof signature);
    watch->shown_s = now_s();
    show_state_line(state, line);
    (void)fprintf(stdout, "%s\n", line);
    return fflush(stdout) == 0 ? EX_OK : EX_IOERR;
}

/* Has the batch ended, and how? -1 while it goes on. */
static int ending_eval(const struct arguments *arguments, const json_t *state)
{
    const char *outcome = show_text(state, "outcome");
    struct fault f;

    if (show_text(state, "batch")[0] == '\0') {
        (void)fault_set(&f, ST_REFUSED, "", "no batch is under way; \"syrupwright start\" begins one");
        return fault_exit(arguments, &f);
    }
    if (strcmp(outcome, "open") == 0)
        return -1;
    return strcmp(outcome, "met") == 0 ? EX_OK : EXIT_NOT_MET;
}

static int watch_follow(struct watch *watch, struct link *link, json_t *reply)
{
    struct fault f;
    int status = -1;

    while (status < 0) {
        if (!json_is_true(json_object_get(reply, "ok"))) {
            status = refusal_exit(watch->arguments, reply);
            break;
        }
        status = state_print(watch, reply);
        if (status == EX_OK)
            status = ending_eval(watch->arguments, json_object_get(reply, "state"));
        if (status < 0) {
            json_decref(reply);
            if (link_next(link, WATCH_SILENCE_MS, &reply, &f) != ST_OK)
                return fault_exit(watch->arguments, &f);
        }
    }
    json_decref(reply);
    return status;
}

int run_watch(const struct arguments *arguments)
{
    struct watch watch = {
        .arguments = arguments, .show = show_open(stdout), .is_terminal = isatty(STDOUT_FILENO) == 1};
    json_t *request = json_pack("{s:i,s:s,s:i}", "v", PROTOCOL_VERSION, "verb", "watch", "every_ms",
                                WATCH_MS);
    struct fault f = {0};
    struct link *link = NULL;
    json_t *reply = NULL;
    int status;

    if (link_open(arguments->control_path, &link, &f) != ST_OK) {
        json_decref(request);
        status = fault_exit(arguments, &f);
        return f.code == ST_REFUSED ? EX_NOPERM : status;
    }
    if (link_ask(link, request, &reply, &f) != ST_OK)
        status = fault_exit(arguments, &f);
    else
        status = watch_follow(&watch, link, reply);
    link_close(link);
    return status;
}
