#include "records/records.h"

#include "records/inside.h"
#include "runtime/log.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#define QUEUE_BYTES ((size_t)4 * 1024 * 1024) /* some 20 000 events, or hours of a quiet tank */
#define FOLDER_MODE 0750

static int64_t utc_now_us(void)
{
    struct timespec now;

    (void)clock_gettime(CLOCK_REALTIME, &now);
    return (int64_t)now.tv_sec * 1000000 + now.tv_nsec / 1000;
}

static void path_in(const struct records *r, const char *name, char path[RECORDS_PATH_MAX])
{
    (void)snprintf(path, RECORDS_PATH_MAX, "%s%s%s", r->settings.records_path, name[0] == '\0' ? "" : "/",
                   name);
}

/* ---- opening, step by step ------------------------------------------------------------------------- */

/* The mode does not depend on the umask: the group may read. */
static enum status make_folder(const struct records *r, const char *name, struct fault *f)
{
    char path[RECORDS_PATH_MAX];

    path_in(r, name, path);
    if (mkdir(path, FOLDER_MODE) == 0)
        return chmod(path, FOLDER_MODE) == 0
                   ? ST_OK
                   : fault_set(f, ST_SYSTEM, path, "the folder's mode could not be set: %s", strerror(errno));
    if (errno == EEXIST)
        return ST_OK;
    return fault_set(f, ST_SYSTEM, path,
                     "the folder for the records could not be made: %s; make the folder above it",
                     strerror(errno));
}

/* Two daemons on one record would break its chain. The kernel lets go when the process dies. */
static enum status take_lock(struct records *r, struct fault *f)
{
    char path[RECORDS_PATH_MAX];

    path_in(r, "record.lock", path);
    r->lock_fd = open(path, O_RDWR | O_CREAT | O_CLOEXEC, 0640);
    if (r->lock_fd < 0)
        return fault_set(f, ST_SYSTEM, path, "the record could not be locked: %s", strerror(errno));
    if (flock(r->lock_fd, LOCK_EX | LOCK_NB) != 0)
        return fault_set(f, ST_BUSY, path,
                         "another daemon is writing this record; end it, or use another folder");
    return ST_OK;
}

static enum status check_all(struct records *r, struct fault *f)
{
    enum status code = schema_prepare(r->store, f);

    if (code == ST_OK)
        code = store_check(r->store, f);
    if (code == ST_OK)
        code = journal_check(r->store, &r->chain, f);
    if (code == ST_OK)
        code = run_check_all(r->store, f);
    if (code == ST_OK)
        code = issue_check_all(r->store, f);
    return code;
}

static enum status open_key(struct records *r, struct fault *f)
{
    char path[RECORDS_PATH_MAX];
    bool created = false;
    enum status code;

    path_in(r, "signing.key", path);
    code = crypto_key_open(path, &r->key, &created, f);
    if (code == ST_OK && created && r->chain.seq > 0)
        log_warnx("records", "the signing key was missing and a new one was made; earlier certificates name "
                             "another key");
    return code;
}

static enum status read_memory(struct records *r, char refusal[JOURNAL_TEXT_MAX], struct fault *f)
{
    bool found = false;
    enum status code = memory_read(r->store, &r->restored, &found, refusal, f);

    r->has_restored = code == ST_OK && found && refusal[0] == '\0' && r->restored.has_batch &&
                      r->restored.outcome == OUTCOME_OPEN;
    if (refusal[0] != '\0') {
        (void)snprintf(r->text, sizeof r->text,
                       "a batch could not be restored; look at the tank before going on: %.*s",
                       (int)sizeof r->text - 80, refusal);
        log_warnx("records", "%s", r->text);
    }
    return code;
}

static enum status append_own(struct records *r, enum journal_own kind, const char *text, struct fault *f)
{
    struct journal_row row;

    journal_row_own(kind, 0, utc_now_us(), text, &row);
    row.run = r->run;
    return journal_append(r->store, &r->chain, &row, f);
}

static enum status begin_run(struct records *r, const char *refusal, struct fault *f)
{
    char public_key[CRYPTO_PUBLIC_HEX], hash[CRYPTO_HASH_HEX];
    struct run_facts run = {
        .started_utc_us = utc_now_us(),
        .program = SYRUPWRIGHT_VERSION,
        .settings = &r->settings,
        .memory = r->has_restored ? &r->restored : NULL,
        .public_key_hex = public_key,
    };
    enum status code = store_run(r->store, "BEGIN IMMEDIATE", f);

    crypto_hex(r->key.public_key, sizeof r->key.public_key, public_key);
    if (code == ST_OK)
        code = run_insert(r->store, &run, hash, f);
    r->run = run.id;
    if (code == ST_OK)
        code = append_own(r, JOURNAL_RUN_STARTED, hash, f);
    if (code == ST_OK && refusal[0] != '\0')
        code = append_own(r, JOURNAL_MEMORY_REFUSED, refusal, f);
    return code == ST_OK ? store_run(r->store, "COMMIT", f) : code;
}

static enum status open_record(struct records *r, struct fault *f)
{
    char path[RECORDS_PATH_MAX], refusal[JOURNAL_TEXT_MAX] = "";
    enum status code;

    path_in(r, SCHEMA_FILE, path);
    code = store_open_writer(path, &r->store, f);
    if (code == ST_OK)
        code = check_all(r, f);
    if (code == ST_OK)
        code = open_key(r, f);
    if (code == ST_OK)
        code = read_memory(r, refusal, f);
    if (code == ST_OK)
        code = batch_numbers_read(r->store, &r->numbers, f);
    if (code == ST_OK)
        code = begin_run(r, refusal, f);
    return code;
}

/* The wait is on the monotonic clock; the mutex lends the control thread's priority to its holder. */
static bool init_locks(struct records *r)
{
    pthread_mutexattr_t mutex;
    pthread_condattr_t wake;
    bool is_good;

    if (pthread_mutexattr_init(&mutex) != 0)
        return false;
    if (pthread_condattr_init(&wake) != 0) {
        (void)pthread_mutexattr_destroy(&mutex);
        return false;
    }
    is_good = pthread_mutexattr_setprotocol(&mutex, PTHREAD_PRIO_INHERIT) == 0 &&
              pthread_condattr_setclock(&wake, CLOCK_MONOTONIC) == 0 &&
              pthread_mutex_init(&r->mutex, &mutex) == 0 && pthread_cond_init(&r->wake, &wake) == 0;
    (void)pthread_condattr_destroy(&wake);
    (void)pthread_mutexattr_destroy(&mutex);
    return is_good;
}

static enum status start_writer(struct records *r, struct fault *f)
{
    struct fault why = {0};

    r->queue = queue_new(QUEUE_BYTES);
    if (r->queue == NULL)
        return fault_set(f, ST_SYSTEM, "records", "memory is short");
    r->export_due = export_missing(r, &why) != ST_OK;
    if (r->export_due)
        log_fault("records", &why);
    flight_start(&r->posting.flight);
    r->posting.sampled_us = -1;
    r->posting.queued_us = -1;
    if (!init_locks(r) || pthread_create(&r->thread, NULL, writer_main, r) != 0)
        return fault_set(f, ST_SYSTEM, "records", "the thread that writes the record could not be started");
    r->has_thread = true;
    return ST_OK;
}

/* ---- the contract ---------------------------------------------------------------------------------- */

enum status records_open(const struct settings *settings, struct clock *clock, int party,
                         struct records **records, struct fault *f)
{
    struct records *r = calloc(1, sizeof *r);
    enum status code;

    *records = NULL;
    if (r == NULL)
        return fault_set(f, ST_SYSTEM, "records", "memory is short");
    r->settings = *settings;
    r->clock = clock;
    r->party = party;
    r->lock_fd = -1;
    code = crypto_init(f);
    if (code == ST_OK)
        code = make_folder(r, "", f);
    if (code == ST_OK)
        code = make_folder(r, "certificates", f);
    if (code == ST_OK)
        code = take_lock(r, f);
    if (code == ST_OK)
        code = open_record(r, f);
    if (code == ST_OK)
        code = start_writer(r, f);
    if (code != ST_OK) {
        records_close(r);
        return code;
    }
    *records = r;
    return ST_OK;
}

void records_close(struct records *records)
{
    struct records *r = records;

    if (r == NULL)
        return;
    if (r->has_thread) {
        pthread_mutex_lock(&r->mutex);
        r->is_closing = true;
        pthread_cond_signal(&r->wake);
        pthread_mutex_unlock(&r->mutex);
        (void)pthread_join(r->thread, NULL);
        (void)pthread_cond_destroy(&r->wake);
        (void)pthread_mutex_destroy(&r->mutex);
    }
    store_close(r->store);
    queue_free(r->queue);
    crypto_key_wipe(&r->key);
    if (r->lock_fd >= 0)
        (void)close(r->lock_fd);
    free(r);
}

bool records_restore(struct records *records, struct batch_memory *memory)
{
    if (records->has_restored)
        *memory = records->restored;
    return records->has_restored;
}

void records_next_batch_id(struct records *records, int64_t utc_us, char id[24])
{
    struct batch_number number = {.given_utc_us = utc_us};

    pthread_mutex_lock(&records->mutex);
    batch_numbers_next(&records->numbers, utc_us, &number.year, &number.count);
    (void)snprintf(number.batch, sizeof number.batch, "%04d-%04d", number.year, number.count);
    post_number(records, &number);
    pthread_mutex_unlock(&records->mutex);
    (void)snprintf(id, sizeof number.batch, "%s", number.batch);
}

void records_status_get(struct records *records, struct records_status *status)
{
    pthread_mutex_lock(&records->mutex);
    status->durable_intent = records->intents.durable;
    status->lost = records->lost;
    status->is_failing = records->is_failing || records->export_text[0] != '\0';
    (void)snprintf(status->text, sizeof status->text, "%s",
                   records->text[0] != '\0' ? records->text : records->export_text);
    pthread_mutex_unlock(&records->mutex);
}
