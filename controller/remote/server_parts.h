/* server_parts.h - what the files of the server share; nobody else includes it.
 *
 * Thread: everything here belongs to the server's thread, apart from the mailbox.
 */
#ifndef REMOTE_SERVER_PARTS_H
#define REMOTE_SERVER_PARTS_H

#include "remote/mailbox.h"
#include "remote/protocol.h"
#include "remote/server.h"

#include <pthread.h>
#include <stdatomic.h>
#include <sys/types.h>

#define SERVER_CLIENTS_MAX MAILBOX_SLOTS
#define SERVER_LOOKERS_MAX (SERVER_CLIENTS_MAX / 2)
#define SERVER_BACKLOG_MAX 262144 /* unread bytes after which a client gets nothing more */
#define SERVER_ANSWER_US 5000000  /* real time a command may take */
#define SERVER_CLOSING_US 1000000 /* real time a client that is sent away may go on writing */

struct client {
    int fd; /* -1: this place is free */
    struct who who;

    size_t in_used;
    char in[PROTOCOL_LINE_MAX];
    char *out; /* out_sent..out_used is still to be sent */
    size_t out_sent;
    size_t out_used;
    size_t out_size;
    bool is_at_end;  /* the peer sends nothing more; it may still read */
    bool is_closing; /* send what is there, throw away what comes, then close */
    int64_t close_by_us;
    bool is_dead; /* close at once */

    uint64_t command_id; /* waiting for this command; 0: for none */
    enum action action;
    struct batch_plan plan; /* of a start, for its reply */
    struct plan_notes notes;
    int64_t give_up_us;

    int64_t watch_us; /* period; 0: not watching */
    int64_t watch_next_us;
    uint64_t watch_seen; /* changes told so far */
};

struct server {
    const struct settings *settings;
    struct records *records;
    struct mailbox *mailbox;
    int listen_fd;
    dev_t socket_device; /* of the socket file, so that only our own is removed */
    ino_t socket_inode;
    int64_t accept_after_us; /* accepting rests until then; 0: it does not */
    atomic_bool is_stopping;
    pthread_t thread;
    struct client clients[SERVER_CLIENTS_MAX];

    /* the control thread's, between taking commands and posting the scan */
    uint64_t start_id; /* the start in this scan; 0: none */
    bool has_spare_id; /* of a refused start, for the next one */
    char spare_id[24];
    int spare_year;
};

/* server_socket.c: listen at path. A socket left by a dead daemon is replaced, a live one is
 * refused, anything else at that path is left alone and refused. */
enum status server_listen(const char *path, struct server *server, struct fault *f) MUST_USE;
void server_unlisten(const char *path, const struct server *server);

/* server_client.c: one connection. */
void server_accept(struct server *server);
void client_close(struct client *client);
void client_receive(struct client *client);
void client_flush(struct client *client);
bool client_has_line(const struct client *client);
bool client_is_finished(const struct client *client, int64_t now_us);
/* Take the next line out of the buffer and answer it. */
void client_serve(struct server *server, struct client *client);
/* Queue one reply (takes the reference); a client that has not read the ones before is dropped. */
void client_send(struct client *client, json_t *reply);

/* server_verbs.c: what a line means. */
void server_answer_line(struct server *server, struct client *client, const char *line, size_t length);
void server_answer_command(struct server *server, struct client *client, int64_t now_us);
void server_answer_watch(struct server *server, struct client *client, int64_t now_us);

int64_t server_now_us(void); /* real monotonic time */

#endif
