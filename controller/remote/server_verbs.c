#include "plan/plan.h"
#include "records/reading.h"
#include "remote/peer.h"
#include "remote/plan_json.h"
#include "remote/server_parts.h"
#include "remote/snapshot_json.h"
#include "words/words.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int slot_of(const struct server *server, const struct client *client)
{
    return (int)(client - server->clients);
}

static void fault_send(struct client *client, const struct fault *f)
{
    client_send(client, protocol_error(status_name(f->code), f->text));
}

/* A reply with one more thing in it; NULL (memory) drops the client in client_send. */
static json_t *ok_with(const char *key, json_t *value)
{
    json_t *reply = protocol_ok();

    if (reply != NULL && json_object_set_new(reply, key, value) == 0)
        return reply;
    json_decref(reply);
    return NULL;
}

/* ---- looking ------------------------------------------------------------------------------------ */

static void answer_hello(struct server *server, struct client *client, const struct request *request)
{
    const struct who *who = &client->who;

    (void)request;
    client_send(client, json_pack("{s:i,s:b,s:[i],s:s,s:s,s:{s:I,s:o,s:s},s:o,s:b}", "v", PROTOCOL_VERSION,
                                  "ok", 1, "versions", PROTOCOL_VERSION, "program", "syrupwrightd", "version",
                                  SYRUPWRIGHT_VERSION, "you", "uid", (json_int_t)who->uid, "name",
                                  protocol_text(who->name), "role", words_role_name(who->role), "tank",
                                  protocol_text(server->settings->tank_name), "simulated",
                                  (int)server->settings->is_simulated));
}

static bool state_send(struct server *server, struct client *client)
{
    struct snapshot snapshot;
    struct records_status record = {0};

    if (!mailbox_snapshot(server->mailbox, &snapshot, &client->watch_seen)) {
        client_send(client,
                    protocol_error("busy", "the controller has not finished its first scan; try again "
                                           "in a moment"));
        return false;
    }
    records_status_get(server->records, &record);
    client_send(client,
                ok_with("state", snapshot_to_json(&snapshot, &server->settings->setup.limits,
                                                  &(struct record_health){.is_failing = record.is_failing,
                                                                          .lost = record.lost,
                                                                          .sentence = record.text})));
    return true;
}

static void answer_state(struct server *server, struct client *client, const struct request *request)
{
    (void)request;
    (void)state_send(server, client);
}

static void answer_watch(struct server *server, struct client *client, const struct request *request)
{
    if (!state_send(server, client))
        return;
    client->watch_us = (int64_t)request->every_ms * 1000;
    client->watch_next_us = server_now_us() + client->watch_us;
}

void server_answer_watch(struct server *server, struct client *client, int64_t now_us)
{
    if (client->watch_us == 0 || client->is_dead)
        return;
    if (now_us < client->watch_next_us && client->watch_seen == mailbox_changes(server->mailbox))
        return;
    client->watch_next_us = now_us + client->watch_us;
    (void)state_send(server, client);
}

/* ---- records -------------------------------------------------------------------------------------- */

static json_t *certificate_reply(struct record_reader *reader, const struct request *request,
                                 const char *batch, struct fault *f)
{
    char *text = request->as_text ? record_reader_certificate_text(reader, batch, f)
                                  : record_reader_certificate_json(reader, batch, f);
    json_t *reply;

    if (text == NULL)
        return NULL;
    reply = json_pack("{s:i,s:b,s:s,s:s}", "v", PROTOCOL_VERSION, "ok", 1, "form",
                      request->as_text ? "text" : "json", "certificate", text);
    free(text);
    if (reply == NULL)
        (void)fault_set(f, ST_SYSTEM, "",
                        "the certificate cannot be sent: it is not UTF-8 or memory is short");
    return reply;
}

static json_t *records_reply(struct record_reader *reader, const struct request *request, struct fault *f)
{
    const char *batch = request->batch[0] == '\0' ? NULL : request->batch;
    json_t *list;

    list = request->action == ACTION_BATCHES ? record_reader_batches(reader, request->limit, f)
                                             : record_reader_journal(reader, batch, request->limit, f);
    return list == NULL ? NULL : ok_with(protocol_name(request->action), list);
}

/* The batch of the controller's memory, when it has ended; "" otherwise. Its certificate is made a
 * moment after its end. */
static void ended_batch(struct server *server, char batch[24])
{
    struct snapshot snapshot;
    uint64_t changes;

    batch[0] = '\0';
    if (mailbox_snapshot(server->mailbox, &snapshot, &changes) && snapshot.memory.has_batch &&
        snapshot.memory.outcome != OUTCOME_OPEN)
        memcpy(batch, snapshot.memory.plan.batch_id, sizeof snapshot.memory.plan.batch_id);
}

/* "The newest" is the batch that has just ended, not the one before it; and while its certificate is
 * not there yet, that is no reason to say it never will be. */
static json_t *certificate_when_made(struct server *server, struct record_reader *reader,
                                     const struct request *request, struct fault *f)
{
    char ended[24];
    const char *batch = request->batch;
    json_t *reply;

    ended_batch(server, ended);
    if (batch[0] == '\0')
        batch = ended;
    reply = certificate_reply(reader, request, batch[0] == '\0' ? NULL : batch, f);
    if (reply == NULL && f->code == ST_NOT_FOUND && ended[0] != '\0' && strcmp(batch, ended) == 0)
        (void)fault_set(
            f, ST_BUSY, ended,
            "the certificate of batch %s is being made; ask again in a moment, and if it does not "
            "come, look whether the record fails (syrupwright state)",
            ended);
    return reply;
}

static void answer_records(struct server *server, struct client *client, const struct request *request)
{
    struct record_reader *reader = NULL;
    struct fault f = {.code = ST_SYSTEM, .text = "the record cannot be read: memory is short"};
    json_t *reply = NULL;

    if (record_reader_open(server->settings->records_path, &reader, &f) == ST_OK)
        reply = request->action == ACTION_CERTIFICATE ? certificate_when_made(server, reader, request, &f)
                                                      : records_reply(reader, request, &f);
    record_reader_close(reader);
    if (reply == NULL)
        fault_send(client, &f);
    else
        client_send(client, reply);
}

/* ---- planning and acting ---------------------------------------------------------------------------- */

static json_t *plan_reply(const struct batch_plan *plan, const struct plan_notes *notes)
{
    return json_pack("{s:i,s:b,s:o,s:o}", "v", PROTOCOL_VERSION, "ok", 1, "plan", plan_to_json(plan), "notes",
                     plan_notes_to_json(notes));
}

static bool plan_prepare(struct server *server, struct client *client, const struct request *request)
{
    const struct scan_setup *setup = &server->settings->setup;
    struct plan_request wish = request->plan;
    struct fault f = {0};

    memset(&client->plan, 0, sizeof client->plan);
    memset(&client->notes, 0, sizeof client->notes);
    if (plan_request_acid_default(&wish, server->settings->default_acid, &f) == ST_OK &&
        plan_make(&wish, &setup->tank, &setup->limits, &client->plan, &client->notes, &f) == ST_OK)
        return true;
    fault_send(client, &f);
    return false;
}

static void answer_plan(struct server *server, struct client *client, const struct request *request)
{
    if (plan_prepare(server, client, request))
        client_send(client, plan_reply(&client->plan, &client->notes));
}

static void answer_command(struct server *server, struct client *client, const struct request *request)
{
    bool is_start = request->action == ACTION_START;
    struct command command = {.verb = protocol_command(request->action),
                              .who = client->who,
                              .prompt_id = request->prompt,
                              .answer = request->answer,
                              .number = request->number,
                              .point = request->point,
                              .expanded_u = request->expanded_u};
    struct fault f = {0};

    if (is_start && !plan_prepare(server, client, request))
        return;
    if (mailbox_post(server->mailbox, slot_of(server, client), &command, is_start ? &client->plan : NULL,
                     &client->command_id, &f) != ST_OK) {
        client->command_id = 0;
        fault_send(client, &f);
        return;
    }
    client->action = request->action;
    client->give_up_us = server_now_us() + SERVER_ANSWER_US;
}

static void late_send(struct server *server, struct client *client)
{
    bool never_acts = mailbox_withdraw(server->mailbox, slot_of(server, client), client->command_id);

    client_send(client, protocol_error("timeout",
                                       never_acts ? "the controller did not answer in time; the command was "
                                                    "taken back and will not act"
                                                  : "the controller did not answer in time; the command may "
                                                    "still act, look at the state before trying again"));
}

static void result_send(struct client *client, const struct command_result *result, const char *batch_id)
{
    char sentence[WORDS_MAX];
    json_t *reply;

    if (result->refusal != REFUSAL_NONE) {
        words_refusal(protocol_command(client->action), result, sentence);
        client_send(client,
                    protocol_error(result->refusal == REFUSAL_NUMBER ? "range" : "refused", sentence));
        return;
    }
    if (client->action != ACTION_START) {
        client_send(client, protocol_ok());
        return;
    }
    (void)snprintf(client->plan.batch_id, sizeof client->plan.batch_id, "%s", batch_id);
    reply = plan_reply(&client->plan, &client->notes);
    if (reply != NULL && json_object_set_new(reply, "batch", json_string(batch_id)) != 0) {
        json_decref(reply);
        reply = NULL;
    }
    client_send(client, reply);
}

void server_answer_command(struct server *server, struct client *client, int64_t now_us)
{
    struct command_result result;
    char batch_id[24] = "";

    if (client->command_id == 0)
        return;
    if (mailbox_result(server->mailbox, slot_of(server, client), client->command_id, &result, batch_id) ==
        FLIGHT_DONE)
        result_send(client, &result, batch_id);
    else if (now_us >= client->give_up_us)
        late_send(server, client);
    else
        return;
    client->command_id = 0;
}

/* ---- one line --------------------------------------------------------------------------------------- */

typedef void answer_fn(struct server *server, struct client *client, const struct request *request);

/* Verbs that are commands of the core are all handed to it in the same way. */
static answer_fn *answer_find(enum action action)
{
    static answer_fn *const LOOKS[ACTION_COUNT] = {
        [ACTION_HELLO] = answer_hello,     [ACTION_STATE] = answer_state,
        [ACTION_WATCH] = answer_watch,     [ACTION_PLAN] = answer_plan,
        [ACTION_BATCHES] = answer_records, [ACTION_CERTIFICATE] = answer_records,
        [ACTION_JOURNAL] = answer_records,
    };

    return protocol_command(action) != VERB_COUNT ? answer_command : LOOKS[action];
}

static void role_refuse(struct server *server, struct client *client, enum action action)
{
    enum role least = protocol_least_role(action);
    const char *group = peer_role_group(least, server->settings);
    char sentence[384];

    (void)snprintf(
        sentence, sizeof sentence, "\"%s\" needs the role %s and %s has the role %s; %s%s%s",
        protocol_name(action), words_role_name(least), client->who.name, words_role_name(client->who.role),
        group[0] == '\0' ? "the tank file names no group for that role" : "it comes with the group \"", group,
        group[0] == '\0' ? "" : "\"");
    client_send(client, protocol_error("role", sentence));
}

void server_answer_line(struct server *server, struct client *client, const char *line, size_t length)
{
    struct request request;
    struct protocol_refusal refusal;

    if (!protocol_parse(line, length, &request, &refusal))
        client_send(client, protocol_error(refusal.code, refusal.fault.text));
    else if (!protocol_is_allowed(client->who.role, request.action))
        role_refuse(server, client, request.action);
    else
        answer_find(request.action)(server, client, &request);
}
