#include "remote/mailbox.h"

#include <assert.h>
#include <errno.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/eventfd.h>
#include <unistd.h>

struct slot {
    uint64_t id;
    enum flight flight;
    enum verb verb;
    struct command_result result;
    char batch_id[24];
};

/* What a watcher must hear of at once. */
struct signature {
    bool has_batch;
    enum batch_state state;
    enum step step;
    enum outcome outcome;
    uint32_t prompt;
    enum scald scald;
    uint32_t trips_present;
    uint32_t trips_latched;
    int64_t opinion_us; /* when the newest hand reading came */
};

struct mailbox {
    pthread_mutex_t lock;
    int wake_fd;
    uint64_t last_id;
    int waiting_count;
    struct command waiting[SCAN_COMMANDS_MAX];
    bool has_plan;
    struct batch_plan plan;
    struct slot slots[MAILBOX_SLOTS];
    bool has_snapshot;
    struct snapshot snapshot;
    struct signature signature;
    uint64_t changes;
};

/* The control thread may run at real-time priority; without inheritance a preempted server
 * thread could keep it waiting for the lock. */
static int lock_init(pthread_mutex_t *lock)
{
    pthread_mutexattr_t attributes;
    int failed = pthread_mutexattr_init(&attributes);

    if (failed != 0)
        return failed;
    failed = pthread_mutexattr_setprotocol(&attributes, PTHREAD_PRIO_INHERIT);
    if (failed == 0)
        failed = pthread_mutex_init(lock, &attributes);
    (void)pthread_mutexattr_destroy(&attributes);
    return failed;
}

static void lock(struct mailbox *m)
{
    int failed = pthread_mutex_lock(&m->lock);

    assert(failed == 0);
    (void)failed;
}

static void unlock(struct mailbox *m)
{
    int failed = pthread_mutex_unlock(&m->lock);

    assert(failed == 0);
    (void)failed;
}

struct mailbox *mailbox_new(void)
{
    struct mailbox *m = calloc(1, sizeof *m);

    if (m == NULL)
        return NULL;
    m->wake_fd = eventfd(0, EFD_CLOEXEC | EFD_NONBLOCK);
    if (m->wake_fd >= 0 && lock_init(&m->lock) == 0)
        return m;
    if (m->wake_fd >= 0)
        (void)close(m->wake_fd);
    free(m);
    return NULL;
}

void mailbox_free(struct mailbox *m)
{
    if (m == NULL)
        return;
    (void)pthread_mutex_destroy(&m->lock);
    (void)close(m->wake_fd);
    free(m);
}

int mailbox_wake_fd(const struct mailbox *m)
{
    return m->wake_fd;
}

/* The descriptor does not block: a full or empty counter already says what is to be said. */
void mailbox_wake_clear(struct mailbox *m)
{
    eventfd_t count;

    (void)eventfd_read(m->wake_fd, &count);
}

void mailbox_wake(struct mailbox *m)
{
    (void)eventfd_write(m->wake_fd, 1);
}

/* ---- the server's side --------------------------------------------------------------------- */

enum status mailbox_post(struct mailbox *m, int slot, const struct command *command,
                         const struct batch_plan *plan, uint64_t *id, struct fault *f)
{
    enum status status = ST_OK;

    assert(slot >= 0 && slot < MAILBOX_SLOTS);
    lock(m);
    if (m->waiting_count == SCAN_COMMANDS_MAX) {
        status = fault_set(f, ST_BUSY, "",
                           "%d commands already wait for the next scan; try again in a moment",
                           SCAN_COMMANDS_MAX);
    } else if (plan != NULL && m->has_plan) {
        status = fault_set(f, ST_BUSY, "",
                           "somebody else is starting a batch at this moment; look at the state first");
    } else {
        struct command *queued = &m->waiting[m->waiting_count++];
        *queued = *command;
        queued->id = *id = ++m->last_id;
        m->slots[slot] = (struct slot){.id = queued->id, .flight = FLIGHT_WAITING, .verb = command->verb};
        if (plan != NULL) {
            m->has_plan = true;
            m->plan = *plan;
        }
    }
    unlock(m);
    return status;
}

enum flight mailbox_result(struct mailbox *m, int slot, uint64_t id, struct command_result *result,
                           char batch_id[24])
{
    struct slot *s = &m->slots[slot];
    enum flight flight = FLIGHT_NONE;

    lock(m);
    if (s->id == id)
        flight = s->flight;
    if (flight == FLIGHT_DONE) {
        *result = s->result;
        memcpy(batch_id, s->batch_id, sizeof s->batch_id);
        s->flight = FLIGHT_NONE;
    }
    unlock(m);
    return flight;
}

static void waiting_remove(struct mailbox *m, uint64_t id)
{
    for (int i = 0; i < m->waiting_count; i++) {
        if (m->waiting[i].id != id)
            continue;
        if (m->waiting[i].verb == VERB_START)
            m->has_plan = false;
        m->waiting_count--;
        memmove(&m->waiting[i], &m->waiting[i + 1], (size_t)(m->waiting_count - i) * sizeof m->waiting[0]);
        return;
    }
}

bool mailbox_withdraw(struct mailbox *m, int slot, uint64_t id)
{
    struct slot *s = &m->slots[slot];
    bool never_acts = false;

    lock(m);
    if (s->id == id) {
        never_acts = s->flight == FLIGHT_WAITING;
        if (never_acts)
            waiting_remove(m, id);
        s->flight = FLIGHT_NONE;
    }
    unlock(m);
    return never_acts;
}

bool mailbox_snapshot(struct mailbox *m, struct snapshot *snapshot, uint64_t *changes)
{
    bool has_snapshot;

    lock(m);
    has_snapshot = m->has_snapshot;
    *snapshot = m->snapshot;
    *changes = m->changes;
    unlock(m);
    return has_snapshot;
}

uint64_t mailbox_changes(struct mailbox *m)
{
    uint64_t changes;

    lock(m);
    changes = m->changes;
    unlock(m);
    return changes;
}

/* ---- the control thread's side ------------------------------------------------------------- */

static struct slot *slot_find(struct mailbox *m, uint64_t id)
{
    for (int i = 0; i < MAILBOX_SLOTS; i++)
        if (m->slots[i].id == id && m->slots[i].flight != FLIGHT_NONE)
            return &m->slots[i];
    return NULL;
}

void mailbox_take(struct mailbox *m, struct scan_in *in)
{
    lock(m);
    in->command_count = m->waiting_count;
    in->has_plan = m->has_plan;
    for (int i = 0; i < m->waiting_count; i++) {
        struct slot *slot = slot_find(m, m->waiting[i].id);
        in->commands[i] = m->waiting[i];
        if (slot != NULL)
            slot->flight = FLIGHT_TAKEN;
    }
    if (m->has_plan)
        in->plan = m->plan;
    m->waiting_count = 0;
    m->has_plan = false;
    unlock(m);
}

void mailbox_name_batch(struct mailbox *m, const char *batch_id)
{
    lock(m);
    for (int i = 0; i < MAILBOX_SLOTS; i++)
        if (m->slots[i].flight == FLIGHT_TAKEN && m->slots[i].verb == VERB_START)
            (void)snprintf(m->slots[i].batch_id, sizeof m->slots[i].batch_id, "%s", batch_id);
    unlock(m);
}

static void signature_take(const struct snapshot *s, struct signature *signature)
{
    memset(signature, 0, sizeof *signature);
    signature->has_batch = s->memory.has_batch;
    signature->state = s->memory.state;
    signature->step = s->memory.step;
    signature->outcome = s->memory.outcome;
    signature->prompt = s->prompt.kind == PROMPT_NONE ? 0 : s->prompt.id + 1;
    signature->scald = s->scald;
    for (int i = 0; i < TRIP_COUNT; i++) {
        signature->trips_present |= (s->trips[i].is_present ? 1u : 0u) << i;
        signature->trips_latched |= (s->trips[i].is_latched ? 1u : 0u) << i;
    }
    for (int i = 0; i < POINT_INPUT_COUNT; i++)
        if (s->opinions[i].has && s->opinions[i].at_us > signature->opinion_us)
            signature->opinion_us = s->opinions[i].at_us;
}

static bool signature_is_same(const struct signature *a, const struct signature *b)
{
    return a->has_batch == b->has_batch && a->state == b->state && a->step == b->step &&
           a->outcome == b->outcome && a->prompt == b->prompt && a->scald == b->scald &&
           a->trips_present == b->trips_present && a->trips_latched == b->trips_latched &&
           a->opinion_us == b->opinion_us;
}

void mailbox_put(struct mailbox *m, const struct scan_out *out, const struct snapshot *snapshot)
{
    struct signature signature;
    bool must_wake = out->result_count > 0;

    signature_take(snapshot, &signature);
    lock(m);
    for (int i = 0; i < out->result_count && i < SCAN_COMMANDS_MAX; i++) {
        struct slot *slot = slot_find(m, out->results[i].id);
        if (slot == NULL)
            continue;
        slot->result = out->results[i];
        slot->flight = FLIGHT_DONE;
    }
    if (!m->has_snapshot || !signature_is_same(&signature, &m->signature)) {
        m->changes++;
        must_wake = true;
    }
    m->signature = signature;
    m->snapshot = *snapshot;
    m->has_snapshot = true;
    unlock(m);
    if (must_wake)
        mailbox_wake(m);
}
