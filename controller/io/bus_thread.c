#include "io/bus_thread.h"

#include "runtime/log.h"

#include <pthread.h>
#include <stdatomic.h>
#include <stdlib.h>
#include <string.h>

struct bus_thread {
    pthread_t thread;
    const struct driver *driver;
    void *handle;
    struct exchange *exchange;
    struct clock *clock;
    int party;
    char name[CHANNEL_NAME_MAX];
    int64_t now_us; /* of the pass under way */
    _Atomic int64_t last_pass_us;
};

static void thread_post(void *context, enum point point, double value, int64_t at_us, enum quality quality,
                        enum reason reason)
{
    struct bus_thread *thread = context;
    struct reading reading = {.value = value, .at_us = at_us, .quality = quality, .reason = reason};

    exchange_post_reading(thread->exchange, point, &reading);
}

static bool thread_wanted(void *context, enum point point, double *value)
{
    struct bus_thread *thread = context;

    return exchange_get_output(thread->exchange, point, thread->now_us, value);
}

static void thread_say(void *context, const char *sentence)
{
    struct bus_thread *thread = context;

    log_warnx(thread->name, "%s", sentence);
}

static void *thread_run(void *argument)
{
    struct bus_thread *thread = argument;
    const struct driver_io io = {thread, thread_post, thread_wanted, thread_say};

    while (clock_wait_pass(thread->clock, thread->party, &thread->now_us)) {
        thread->driver->pass(thread->handle, thread->now_us, &io);
        atomic_store(&thread->last_pass_us, thread->now_us);
    }
    return NULL;
}

enum status bus_thread_start_driver(const struct driver *driver, const struct bus_settings *settings,
                                    struct exchange *exchange, struct clock *clock, int party,
                                    struct bus_thread **thread, struct fault *f)
{
    struct bus_thread *t = calloc(1, sizeof *t);
    enum status code;
    int rc;

    *thread = NULL;
    if (t == NULL)
        return fault_set(f, ST_SYSTEM, settings->name, "out of memory");
    *t = (struct bus_thread){.driver = driver, .exchange = exchange, .clock = clock, .party = party};
    memcpy(t->name, settings->name, sizeof t->name);
    atomic_init(&t->last_pass_us, -1);
    code = driver->open(settings, &t->handle, f);
    if (code != ST_OK)
        goto err_free;
    rc = pthread_create(&t->thread, NULL, thread_run, t);
    if (rc != 0) {
        code = fault_set(f, ST_SYSTEM, settings->name, "the bus thread could not be started: %s",
                         strerror(rc));
        goto err_close;
    }
    clock_join(clock, party);
    *thread = t;
    return ST_OK;

err_close:
    driver->close(t->handle);
err_free:
    free(t);
    return code;
}

enum status bus_thread_start(const struct bus_settings *settings, struct exchange *exchange,
                             struct clock *clock, int party, struct bus_thread **thread, struct fault *f)
{
    const struct driver *driver = driver_find(settings->kind);
    struct bus_settings patient = *settings;

    *thread = NULL;
    if (driver == NULL)
        return fault_set(f, ST_SETTINGS, settings->name, "there is no driver for this kind of bus");
    for (int d = 0; d < patient.device_count; d++)
        patient.devices[d].reply_ms *= clock_patience(clock);
    return bus_thread_start_driver(driver, &patient, exchange, clock, party, thread, f);
}

void bus_thread_stop(struct bus_thread *thread)
{
    if (thread == NULL)
        return;
    (void)pthread_join(thread->thread, NULL);
    thread->driver->close(thread->handle);
    free(thread);
}

int64_t bus_thread_last_pass_us(const struct bus_thread *thread)
{
    return atomic_load(&thread->last_pass_us);
}
