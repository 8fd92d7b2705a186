#include "remote/server.h"

#include "remote/server_parts.h"

#include <assert.h>
#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#define IDLE_WAIT_US 60000000

int64_t server_now_us(void)
{
    struct timespec now;

    (void)clock_gettime(CLOCK_MONOTONIC, &now);
    return (int64_t)now.tv_sec * 1000000 + now.tv_nsec / 1000;
}

/* ---- the loop --------------------------------------------------------------------------------- */

static short client_events(const struct client *client)
{
    bool may_read = !client->is_at_end && client->command_id == 0 && client->in_used < sizeof client->in;
    bool must_write = client->out_sent < client->out_used;

    return (short)((may_read ? POLLIN : 0) | (must_write ? POLLOUT : 0));
}

static bool is_servable(const struct client *client)
{
    return client->command_id == 0 && !client->is_closing && !client->is_dead && client_has_line(client);
}

/* Real microseconds until something is due even if no descriptor stirs. */
static int64_t wait_eval(const struct server *server, int64_t now_us)
{
    int64_t until_us = now_us + IDLE_WAIT_US;

    if (server->accept_after_us != 0 && server->accept_after_us < until_us)
        until_us = server->accept_after_us;
    for (int i = 0; i < SERVER_CLIENTS_MAX; i++) {
        const struct client *client = &server->clients[i];
        if (client->fd < 0)
            continue;
        if (is_servable(client))
            return 0;
        if (client->command_id != 0 && client->give_up_us < until_us)
            until_us = client->give_up_us;
        if (client->is_closing && client->close_by_us < until_us)
            until_us = client->close_by_us;
        if (client->watch_us != 0 && client->watch_next_us < until_us)
            until_us = client->watch_next_us;
    }
    return until_us > now_us ? until_us - now_us : 0;
}

static void client_turn(struct server *server, struct client *client, short happened)
{
    int64_t now_us = server_now_us();

    if (happened & POLLIN)
        client_receive(client);
    else if (happened & (POLLHUP | POLLERR | POLLNVAL))
        client->is_dead = true; /* gone altogether, and nothing more to read */
    if (happened & POLLOUT)
        client_flush(client);
    if (!client->is_dead)
        server_answer_command(server, client, now_us);
    /* One line a turn, so that nobody's long queue keeps the others waiting. */
    if (is_servable(client))
        client_serve(server, client);
    if (!client->is_closing)
        server_answer_watch(server, client, now_us);
    if (client_is_finished(client, now_us))
        client_close(client);
}

static void loop_turn(struct server *server)
{
    struct pollfd fds[2 + SERVER_CLIENTS_MAX];
    int64_t now_us = server_now_us();
    int64_t wait_us;

    if (now_us >= server->accept_after_us)
        server->accept_after_us = 0;
    fds[0] = (struct pollfd){.fd = mailbox_wake_fd(server->mailbox), .events = POLLIN};
    fds[1] = (struct pollfd){.fd = server->accept_after_us == 0 ? server->listen_fd : -1, .events = POLLIN};
    for (int i = 0; i < SERVER_CLIENTS_MAX; i++)
        fds[2 + i] = (struct pollfd){.fd = server->clients[i].fd,
                                     .events = client_events(&server->clients[i])};
    wait_us = wait_eval(server, now_us);
    if (poll(fds, 2 + SERVER_CLIENTS_MAX, (int)((wait_us + 999) / 1000)) < 0) {
        assert(errno == EINTR || errno == ENOMEM);
        return;
    }
    if (fds[0].revents != 0)
        mailbox_wake_clear(server->mailbox);
    for (int i = 0; i < SERVER_CLIENTS_MAX; i++)
        if (server->clients[i].fd >= 0)
            client_turn(server, &server->clients[i], fds[2 + i].revents);
    if (fds[1].revents != 0)
        server_accept(server);
}

static void *server_run(void *argument)
{
    struct server *server = argument;

    while (!atomic_load(&server->is_stopping))
        loop_turn(server);
    return NULL;
}

/* Signals are for the main thread; the new thread inherits a full mask. */
static int thread_start(struct server *server)
{
    sigset_t all;
    sigset_t before;
    int failed;

    (void)sigfillset(&all);
    failed = pthread_sigmask(SIG_SETMASK, &all, &before);
    if (failed != 0)
        return failed;
    failed = pthread_create(&server->thread, NULL, server_run, server);
    (void)pthread_sigmask(SIG_SETMASK, &before, NULL);
    return failed;
}

/* ---- open, close ------------------------------------------------------------------------------ */

enum status server_open(const struct settings *settings, struct records *records, struct server **server,
                        struct fault *f)
{
    struct server *s = calloc(1, sizeof *s);
    enum status status = ST_SYSTEM;
    int failed;

    *server = NULL;
    if (s == NULL)
        return fault_set(f, ST_SYSTEM, "", "memory is short; the control socket cannot be opened");
    s->settings = settings;
    s->records = records;
    atomic_init(&s->is_stopping, false);
    for (int i = 0; i < SERVER_CLIENTS_MAX; i++)
        s->clients[i].fd = -1;
    s->mailbox = mailbox_new();
    if (s->mailbox == NULL) {
        (void)fault_set(f, ST_SYSTEM, "",
                        "no event descriptor for the control socket: memory or files are short");
        goto no_mailbox;
    }
    status = server_listen(settings->control_path, s, f);
    if (status != ST_OK)
        goto no_socket;
    failed = thread_start(s);
    if (failed != 0) {
        status = fault_set(f, ST_SYSTEM, "", "the thread of the control socket cannot be started: %s",
                           strerror(failed));
        goto no_thread;
    }
    *server = s;
    return ST_OK;
no_thread:
    server_unlisten(settings->control_path, s);
no_socket:
    mailbox_free(s->mailbox);
no_mailbox:
    free(s);
    return status;
}

void server_close(struct server *server)
{
    if (server == NULL)
        return;
    atomic_store(&server->is_stopping, true);
    mailbox_wake(server->mailbox);
    (void)pthread_join(server->thread, NULL);
    for (int i = 0; i < SERVER_CLIENTS_MAX; i++)
        if (server->clients[i].fd >= 0)
            client_close(&server->clients[i]);
    server_unlisten(server->settings->control_path, server);
    mailbox_free(server->mailbox);
    free(server);
}

/* ---- the control thread's side ---------------------------------------------------------------- */

static int year_of(int64_t utc_us)
{
    time_t seconds = (time_t)(utc_us / 1000000);
    struct tm parts;

    return gmtime_r(&seconds, &parts) == NULL ? 0 : parts.tm_year + 1900;
}

/* The number of a refused start goes to the next one: a gap would look like a removed batch. */
static void batch_number(struct server *server, int64_t utc_us, char id[24])
{
    int year = year_of(utc_us);

    if (!server->has_spare_id || server->spare_year != year) {
        records_next_batch_id(server->records, utc_us, server->spare_id);
        server->spare_year = year;
    }
    server->has_spare_id = false;
    memcpy(id, server->spare_id, sizeof server->spare_id);
}

void server_take_commands(struct server *server, struct scan_in *in)
{
    mailbox_take(server->mailbox, in);
    server->start_id = 0;
    if (!in->has_plan)
        return;
    for (int i = 0; i < in->command_count; i++)
        if (in->commands[i].verb == VERB_START)
            server->start_id = in->commands[i].id;
    batch_number(server, in->utc_us, in->plan.batch_id);
    mailbox_name_batch(server->mailbox, in->plan.batch_id);
}

void server_post_scan(struct server *server, const struct scan_out *out, const struct snapshot *snapshot)
{
    for (int i = 0; i < out->result_count; i++)
        if (server->start_id != 0 && out->results[i].id == server->start_id)
            server->has_spare_id = out->results[i].refusal != REFUSAL_NONE;
    mailbox_put(server->mailbox, out, snapshot);
}
