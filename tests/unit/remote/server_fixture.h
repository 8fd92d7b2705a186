/* server_fixture.h - a real server over a real socket, with a pretended control thread and record.
 *
 * The functions of records.h and reading.h are defined here, so that the server can be tested
 * without a database. Included by exactly one file of a test program.
 */
#ifndef TESTS_SERVER_FIXTURE_H
#define TESTS_SERVER_FIXTURE_H

#include "records/reading.h"
#include "records/records.h"
#include "remote/server.h"
#include "support/demo_tank.h"
#include "support/folder.h"
#include "support/support.h"

#include <jansson.h>
#include <math.h>
#include <poll.h>
#include <pthread.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <unistd.h>

/* ---- the pretended record ------------------------------------------------------------------- */

struct records {
    int next;
};
struct record_reader {
    int unused;
};

static struct record_reader fixture_reader;

void records_next_batch_id(struct records *records, int64_t utc_us, char id[24])
{
    (void)utc_us;
    (void)snprintf(id, 24, "2026-%04d", ++records->next % 10000);
}

void records_status_get(struct records *records, struct records_status *status)
{
    (void)records;
    memset(status, 0, sizeof *status);
}

enum status record_reader_open(const char *records_path, struct record_reader **reader, struct fault *f)
{
    *reader = NULL;
    if (records_path[0] == '\0')
        return fault_set(f, ST_SYSTEM, "", "the record cannot be opened");
    *reader = &fixture_reader;
    return ST_OK;
}

void record_reader_close(struct record_reader *reader)
{
    (void)reader;
}

json_t *record_reader_batches(struct record_reader *reader, int limit, struct fault *f)
{
    (void)reader;
    (void)f;
    return json_pack("[{s:s,s:i}]", "batch", "2026-0001", "limit", limit);
}

char *record_reader_certificate_json(struct record_reader *reader, const char *batch, struct fault *f)
{
    (void)reader;
    if (batch == NULL)
        return strdup("{ \"stored\":\"as it is\" }");
    (void)fault_set(f, ST_NOT_FOUND, "", "there is no batch %s", batch);
    return NULL;
}

char *record_reader_certificate_text(struct record_reader *reader, const char *batch, struct fault *f)
{
    (void)reader;
    (void)batch;
    (void)f;
    return strdup("Certificate\n");
}

/* Long enough that 1000 rows do not fit into one reply. */
json_t *record_reader_journal(struct record_reader *reader, const char *batch, int limit, struct fault *f)
{
    json_t *list = json_array();
    char sentence[1200];

    (void)reader;
    (void)batch;
    (void)f;
    memset(sentence, 'x', sizeof sentence - 1);
    sentence[sizeof sentence - 1] = '\0';
    for (int i = 0; i < limit; i++)
        json_array_append_new(list, json_pack("{s:i,s:s}", "seq", i, "sentence", sentence));
    return list;
}

/* ---- the pretended control thread ------------------------------------------------------------ */

enum mode {
    MODE_ANSWER, /* take commands and accept them */
    MODE_REFUSE, /* take and refuse */
    MODE_SILENT, /* take and never answer */
    MODE_STALLED /* do nothing at all */
};

struct fixture {
    char folder[TEST_FOLDER_MAX];
    struct settings *settings;
    struct records records;
    struct server *server;
    pthread_t control;
    atomic_int mode;
    atomic_bool is_stopping;
    pthread_mutex_t lock; /* snapshot, last */
    struct snapshot snapshot;
    struct command last;
    int taken;
    bool has_plan;
    struct batch_plan plan;
};

static struct fixture fixture;

static inline void control_turn(struct fixture *x)
{
    struct scan_in *in = calloc(1, sizeof *in);
    struct scan_out *out = calloc(1, sizeof *out);
    int mode = atomic_load(&x->mode);

    server_take_commands(x->server, in);
    pthread_mutex_lock(&x->lock);
    for (int i = 0; i < in->command_count; i++) {
        x->last = in->commands[i];
        x->taken++;
        if (mode == MODE_SILENT)
            continue;
        out->results[out->result_count++] = (struct command_result){
            .id = in->commands[i].id, .refusal = mode == MODE_REFUSE ? REFUSAL_STATE : REFUSAL_NONE};
    }
    if (in->has_plan) {
        x->has_plan = true;
        x->plan = in->plan;
    }
    x->snapshot.scan_us += SCAN_PERIOD_US;
    server_post_scan(x->server, out, &x->snapshot);
    pthread_mutex_unlock(&x->lock);
    free(in);
    free(out);
}

static inline void *control_run(void *argument)
{
    struct fixture *x = argument;

    while (!atomic_load(&x->is_stopping)) {
        if (atomic_load(&x->mode) != MODE_STALLED)
            control_turn(x);
        usleep(2000);
    }
    return NULL;
}

static inline struct settings *fixture_settings(const char *folder)
{
    struct settings *s = calloc(1, sizeof *s);

    (void)snprintf(s->tank_name, sizeof s->tank_name, "tank one");
    (void)snprintf(s->control_path, sizeof s->control_path, "%s/run/control", folder);
    (void)snprintf(s->records_path, sizeof s->records_path, "%s", folder);
    (void)snprintf(s->operator_group, sizeof s->operator_group, "syrup-makers");
    s->is_simulated = true;
    s->owner_role = ROLE_SUPERVISOR;
    s->default_acid = ACID_CITRIC;
    s->setup.tank = DEMO_TANK;
    s->setup.limits = DEMO_LIMITS;
    return s;
}

static inline void fixture_open_without_control(void)
{
    struct fault f = {0};

    memset(&fixture, 0, sizeof fixture);
    (void)test_folder_template(fixture.folder, "sw-server");
    ck_assert_ptr_nonnull(mkdtemp(fixture.folder));
    ck_assert_int_eq(chmod(fixture.folder, 0755), 0);
    fixture.settings = fixture_settings(fixture.folder);
    pthread_mutex_init(&fixture.lock, NULL);
    fixture.snapshot.first_trip = -1;
    fixture.snapshot.time_left_s = NAN;
    ck_assert_msg(server_open(fixture.settings, &fixture.records, &fixture.server, &f) == ST_OK, "%s",
                  f.text);
}

static inline void fixture_open(void)
{
    fixture_open_without_control();
    control_turn(&fixture); /* from here on there is a state */
    ck_assert_int_eq(pthread_create(&fixture.control, NULL, control_run, &fixture), 0);
}

static inline void fixture_close_without_control(void)
{
    char path[SETTINGS_PATH_MAX + 8];
    struct stat there;

    server_close(fixture.server);
    ck_assert_int_ne(lstat(fixture.settings->control_path, &there), 0);
    (void)snprintf(path, sizeof path, "%s/run", fixture.folder);
    rmdir(path);
    rmdir(fixture.folder);
    pthread_mutex_destroy(&fixture.lock);
    free(fixture.settings);
}

static inline void fixture_close(void)
{
    atomic_store(&fixture.is_stopping, true);
    pthread_join(fixture.control, NULL);
    fixture_close_without_control();
}

/* ---- a plain client ---------------------------------------------------------------------------- */

static inline int wire_connect(void)
{
    struct sockaddr_un address = {.sun_family = AF_UNIX};
    int fd = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);

    (void)snprintf(address.sun_path, sizeof address.sun_path, "%.100s", fixture.settings->control_path);
    ck_assert_int_eq(connect(fd, (const struct sockaddr *)&address, sizeof address), 0);
    return fd;
}

static inline void wire_send(int fd, const char *text)
{
    size_t length = strlen(text);

    ck_assert_int_eq(send(fd, text, length, MSG_NOSIGNAL), (ssize_t)length);
}

/* The next line, or NULL at the end of the connection or after wait_ms. */
static inline json_t *wire_read(int fd, int wait_ms)
{
    static char line[1200000];
    size_t used = 0;

    for (;;) {
        struct pollfd ready = {.fd = fd, .events = POLLIN};
        json_t *reply;
        if (poll(&ready, 1, wait_ms) != 1 || recv(fd, line + used, 1, 0) != 1)
            return NULL;
        if (line[used] != '\n') {
            ck_assert_uint_lt(++used, sizeof line);
            continue;
        }
        reply = json_loadb(line, used, 0, NULL);
        ck_assert_msg(reply != NULL, "no JSON: %.*s", (int)used, line);
        return reply;
    }
}

static inline json_t *wire_ask(int fd, const char *text)
{
    json_t *reply;

    wire_send(fd, text);
    reply = wire_read(fd, 8000);
    ck_assert_msg(reply != NULL, "no reply to %s", text);
    return reply;
}

/* Ask and expect a yes; the caller's. */
static inline json_t *wire_yes(int fd, const char *text)
{
    json_t *reply = wire_ask(fd, text);
    char *dump = json_dumps(reply, JSON_COMPACT);

    ck_assert_msg(json_is_true(json_object_get(reply, "ok")), "%s: %s", text, dump);
    free(dump);
    return reply;
}

static inline void wire_yes_only(int fd, const char *text)
{
    json_decref(wire_yes(fd, text));
}

static inline void reply_is_no(json_t *reply, const char *code, const char *part)
{
    const json_t *error = json_object_get(reply, "error");
    const char *seen = json_string_value(json_object_get(error, "code"));
    const char *sentence = json_string_value(json_object_get(error, "sentence"));

    ck_assert_msg(seen != NULL && sentence != NULL, "no error in the reply");
    ck_assert_msg(strcmp(seen, code) == 0, "code %s, expected %s: %s", seen, code, sentence);
    ck_assert_msg(strstr(sentence, part) != NULL, "\"%s\" lacks \"%s\"", sentence, part);
    json_decref(reply);
}

static inline void wire_no(int fd, const char *text, const char *code, const char *part)
{
    reply_is_no(wire_ask(fd, text), code, part);
}

#endif
