#include "remote/peer.h"
#include "remote/server_parts.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

#define ACCEPT_REST_US 1000000

/* ---- coming and going ------------------------------------------------------------------------ */

static struct client *place_find(struct server *server, enum role role, struct fault *f)
{
    struct client *free_place = NULL;
    int lookers = 0;

    for (int i = 0; i < SERVER_CLIENTS_MAX; i++) {
        struct client *client = &server->clients[i];
        if (client->fd < 0)
            free_place = free_place == NULL ? client : free_place;
        else if (client->who.role == ROLE_LOOKER)
            lookers++;
    }
    /* Onlookers must not be able to keep out the person who wants to stop the tank. */
    if (role == ROLE_LOOKER && lookers >= SERVER_LOOKERS_MAX) {
        (void)fault_set(f, ST_BUSY, "", "%d people without a role are connected already; try again later",
                        SERVER_LOOKERS_MAX);
        return NULL;
    }
    if (free_place == NULL)
        (void)fault_set(f, ST_BUSY, "", "%d clients are connected already; close one and try again",
                        SERVER_CLIENTS_MAX);
    return free_place;
}

/* One try: a refused client has an empty buffer in the kernel, the line fits or nobody reads it. */
static void turn_away(int fd, const struct fault *f)
{
    size_t length = 0;
    char *line = protocol_line(protocol_error(status_name(f->code), f->text), &length);

    if (line != NULL)
        (void)send(fd, line, length, MSG_NOSIGNAL | MSG_DONTWAIT);
    free(line);
    (void)close(fd);
}

void server_accept(struct server *server)
{
    struct fault f = {0};
    struct who who;
    struct client *client;
    int fd = accept4(server->listen_fd, NULL, NULL, SOCK_CLOEXEC | SOCK_NONBLOCK);

    if (fd < 0) {
        /* Out of descriptors: the listening socket stays readable, so rest instead of spinning. */
        if (errno != EAGAIN && errno != EINTR && errno != ECONNABORTED)
            server->accept_after_us = server_now_us() + ACCEPT_REST_US;
        return;
    }
    if (peer_identify(fd, server->settings, &who, &f) != ST_OK) {
        turn_away(fd, &f);
        return;
    }
    client = place_find(server, who.role, &f);
    if (client == NULL) {
        turn_away(fd, &f);
        return;
    }
    client->fd = fd;
    client->who = who;
}

/* A command of somebody who left still counts; its result has nobody to go to. */
void client_close(struct client *client)
{
    (void)close(client->fd);
    free(client->out);
    memset(client, 0, sizeof *client);
    client->fd = -1;
}

/* Who is sent away while still writing would only see a broken pipe: the rest of what he writes is
 * read, bounded in time, so that he gets to the sentence. */
bool client_is_finished(const struct client *client, int64_t now_us)
{
    bool is_sent_away = client->is_closing && (client->is_at_end || now_us >= client->close_by_us);
    bool all_sent = client->out_sent == client->out_used;
    bool is_busy = client->command_id != 0 || client->watch_us != 0 || client_has_line(client);

    return client->is_dead || (is_sent_away && all_sent) || (client->is_at_end && all_sent && !is_busy);
}

/* ---- lines in ---------------------------------------------------------------------------------- */

void client_receive(struct client *client)
{
    size_t room = sizeof client->in - client->in_used;
    ssize_t got;

    if (room == 0)
        return;
    got = recv(client->fd, client->in + client->in_used, room, 0);
    if (got > 0)
        client->in_used += client->is_closing ? 0 : (size_t)got;
    else if (got == 0)
        client->is_at_end = true;
    else if (errno != EAGAIN && errno != EINTR)
        client->is_dead = true;
}

bool client_has_line(const struct client *client)
{
    return client->in_used == sizeof client->in || memchr(client->in, '\n', client->in_used) != NULL;
}

void client_serve(struct server *server, struct client *client)
{
    char *end = memchr(client->in, '\n', client->in_used);
    size_t length;

    if (end == NULL) {
        client_send(client, protocol_error("garbage", "the line is longer than 64 KiB; the connection ends"));
        client->is_closing = true;
        client->close_by_us = server_now_us() + SERVER_CLOSING_US;
        client->in_used = 0;
        return;
    }
    length = (size_t)(end - client->in);
    server_answer_line(server, client, client->in,
                       length > 0 && client->in[length - 1] == '\r' ? length - 1 : length);
    client->in_used -= length + 1;
    memmove(client->in, end + 1, client->in_used);
}

/* ---- lines out --------------------------------------------------------------------------------- */

void client_flush(struct client *client)
{
    while (client->out_sent < client->out_used) {
        ssize_t sent = send(client->fd, client->out + client->out_sent, client->out_used - client->out_sent,
                            MSG_NOSIGNAL);
        if (sent < 0) {
            if (errno != EAGAIN && errno != EINTR)
                client->is_dead = true;
            return;
        }
        client->out_sent += (size_t)sent;
    }
    client->out_sent = client->out_used = 0;
}

static bool room_make(struct client *client, size_t length)
{
    size_t backlog = client->out_used - client->out_sent;
    char *larger;

    if (backlog > 0)
        memmove(client->out, client->out + client->out_sent, backlog);
    client->out_sent = 0;
    client->out_used = backlog;
    if (backlog + length <= client->out_size)
        return true;
    larger = realloc(client->out, backlog + length);
    if (larger == NULL)
        return false;
    client->out = larger;
    client->out_size = backlog + length;
    return true;
}

void client_send(struct client *client, json_t *reply)
{
    size_t length = 0;
    char *line = protocol_line(reply, &length);

    if (line != NULL && length > PROTOCOL_REPLY_MAX) {
        free(line);
        line = protocol_line(protocol_error("range",
                                            "the reply would be longer than 1 MiB; ask with a smaller "
                                            "\"limit\""),
                             &length);
    }
    if (line == NULL || client->out_used - client->out_sent > SERVER_BACKLOG_MAX ||
        !room_make(client, length)) {
        client->is_dead = true;
        free(line);
        return;
    }
    memcpy(client->out + client->out_used, line, length);
    client->out_used += length;
    free(line);
    client_flush(client);
}
