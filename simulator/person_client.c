#include "simulator/person_client.h"

#include "simulator/line_client.h"
#include "simulator/person.h"

#include <jansson.h>
#include <stdio.h>
#include <string.h>

#define RUNNING_ON (-1)
#define ACT_WAIT_MS 10000

struct helper {
    struct line_client control;
    struct line_client acts;
    struct person person;
    uint32_t shown_id; /* the question whose sentence was printed */
};

/* ---- acts socket ---------------------------------------------------------------------- */

static bool act_do(struct helper *helper, double now_s, const char *act)
{
    char line[PERSON_ACT_MAX + 2];
    const char *reply;

    (void)snprintf(line, sizeof line, "%s\n", act);
    reply = line_client_send(&helper->acts, line) ? line_client_next(&helper->acts, ACT_WAIT_MS) : NULL;
    if (reply == NULL) {
        (void)fprintf(stderr, "person: the simulator does not answer on the acts socket\n");
        return false;
    }
    (void)printf("%10.1f s   %s -> %s\n", now_s, act, reply);
    person_told(&helper->person, now_s, reply);
    return true;
}

/* ---- control socket -------------------------------------------------------------------- */

static bool answer_send(struct helper *helper, double now_s, const struct person_answer *answer)
{
    char line[160];

    if (answer->is_number)
        (void)snprintf(line, sizeof line, "{\"v\":1,\"verb\":\"answer\",\"prompt\":%u,\"number\":%.6g}\n",
                       answer->prompt_id, answer->number);
    else
        (void)snprintf(line, sizeof line, "{\"v\":1,\"verb\":\"answer\",\"prompt\":%u,\"answer\":\"%s\"}\n",
                       answer->prompt_id, answer->is_cannot ? "cannot" : "done");
    if (answer->is_number)
        (void)printf("%10.1f s   answered %g\n", now_s, answer->number);
    else
        (void)printf("%10.1f s   answered %s\n", now_s, answer->is_cannot ? "cannot" : "done");
    return line_client_send(&helper->control, line);
}

static void question_see(struct helper *helper, double now_s, const json_t *prompt)
{
    uint32_t id = (uint32_t)json_integer_value(json_object_get(prompt, "id"));
    const char *kind = json_string_value(json_object_get(prompt, "kind"));
    const char *sentence = json_string_value(json_object_get(prompt, "sentence"));

    person_see(&helper->person, now_s, id, kind != NULL ? kind : "",
               json_number_value(json_object_get(prompt, "number")));
    if (id != 0 && id != helper->shown_id)
        (void)printf("%10.1f s %s\n", now_s, sentence != NULL ? sentence : "(a question without a sentence)");
    helper->shown_id = id;
}

static int ending(const json_t *state)
{
    const char *name = json_string_value(json_object_get(state, "state"));

    if (name == NULL)
        return RUNNING_ON;
    if (strcmp(name, "complete") == 0)
        return PERSON_COMPLETE;
    return strcmp(name, "stopped") == 0 || strcmp(name, "aborted") == 0 ? PERSON_NOT_COMPLETE : RUNNING_ON;
}

static int state_seen(struct helper *helper, const json_t *state)
{
    double now_s = json_number_value(json_object_get(state, "scan_s"));
    struct person_answer answer;
    char act[PERSON_ACT_MAX];

    question_see(helper, now_s, json_object_get(state, "prompt"));
    if (person_move_due(&helper->person, now_s, act) && !act_do(helper, now_s, act))
        return PERSON_LOST;
    if (person_answer_due(&helper->person, now_s, &answer) && !answer_send(helper, now_s, &answer))
        return PERSON_LOST;
    (void)fflush(stdout);
    return ending(state);
}

static int line_seen(struct helper *helper, const char *line)
{
    json_error_t error;
    json_t *reply = json_loads(line, 0, &error);
    const json_t *state = json_object_get(reply, "state");
    const json_t *fault = json_object_get(reply, "error");
    const char *sentence = json_string_value(json_object_get(fault, "sentence"));
    int status = RUNNING_ON;

    if (reply == NULL) {
        (void)fprintf(stderr, "person: the daemon sent something that is no JSON: %s\n", error.text);
        return PERSON_LOST;
    }
    if (json_is_object(state))
        status = state_seen(helper, state);
    else if (fault != NULL)
        (void)fprintf(stderr, "person: refused: %s\n", sentence != NULL ? sentence : "(no sentence)");
    json_decref(reply);
    return status;
}

static int helper_run(struct helper *helper)
{
    int status = RUNNING_ON;

    if (!line_client_send(&helper->control, "{\"v\":1,\"verb\":\"watch\",\"every_ms\":50}\n"))
        status = PERSON_LOST;
    while (status == RUNNING_ON) {
        const char *line = line_client_next(&helper->control, -1);

        status = line != NULL ? line_seen(helper, line) : PERSON_LOST;
    }
    if (status == PERSON_LOST)
        (void)fprintf(stderr, "person: the connection is lost\n");
    return status;
}

int person_client_run(const struct person_options *options)
{
    static struct helper helper;
    struct fault f = {0};
    int status = PERSON_LOST;

    helper.control.fd = helper.acts.fd = -1;
    person_init(&helper.person, options->seed, options->delay_s);
    if (line_client_open(&helper.control, options->control_path, &f) == ST_OK &&
        line_client_open(&helper.acts, options->acts_path, &f) == ST_OK)
        status = helper_run(&helper);
    else
        (void)fprintf(stderr, "person: %s: %s\n", f.where, f.text);
    line_client_close(&helper.acts);
    line_client_close(&helper.control);
    return status;
}
