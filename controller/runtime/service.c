#include "runtime/service.h"

#include <pthread.h>
#include <signal.h>
#include <stdarg.h>
#include <stdatomic.h>
#include <stdio.h>
#include <string.h>
#include <systemd/sd-daemon.h>

/* Signals belong to the process, so this module's state does too. */
static struct {
    bool is_started;
    pthread_t thread;
    void (*on_stop)(void *context);
    void *context;
    atomic_bool is_ending;
    atomic_bool stop_requested;
} signals;

void service_ready(void)
{
    (void)sd_notify(0, "READY=1");
}

void service_stopping(void)
{
    (void)sd_notify(0, "STOPPING=1");
}

void service_watchdog(void)
{
    (void)sd_notify(0, "WATCHDOG=1");
}

void service_status(const char *format, ...)
{
    char text[256];
    va_list args;

    va_start(args, format);
    (void)vsnprintf(text, sizeof text, format, args);
    va_end(args);
    for (char *c = text; *c != '\0'; c++)
        if (*c == '\n')
            *c = ' ';
    (void)sd_notifyf(0, "STATUS=%s", text);
}

int64_t service_watchdog_us(void)
{
    uint64_t us = 0;

    return sd_watchdog_enabled(0, &us) > 0 ? (int64_t)us : 0;
}

static void signals_fill(sigset_t *set)
{
    (void)sigemptyset(set);
    (void)sigaddset(set, SIGTERM);
    (void)sigaddset(set, SIGINT);
    (void)sigaddset(set, SIGHUP);
    (void)sigaddset(set, SIGUSR1); /* wakes the thread at the end; otherwise ignored */
}

static void *signals_run(void *unused)
{
    sigset_t set;
    int number = 0;

    (void)unused;
    signals_fill(&set);
    while (sigwait(&set, &number) == 0 && !atomic_load(&signals.is_ending)) {
        if (number == SIGUSR1)
            continue;
        atomic_store(&signals.stop_requested, true);
        signals.on_stop(signals.context);
    }
    return NULL;
}

enum status service_signals_start(void (*on_stop)(void *context), void *context, struct fault *f)
{
    sigset_t set;
    int rc;

    signals_fill(&set);
    if (signal(SIGPIPE, SIG_IGN) == SIG_ERR || pthread_sigmask(SIG_BLOCK, &set, NULL) != 0)
        return fault_set(f, ST_SYSTEM, "signals", "the handling of signals could not be set up");
    signals.on_stop = on_stop;
    signals.context = context;
    atomic_store(&signals.is_ending, false);
    atomic_store(&signals.stop_requested, false);
    rc = pthread_create(&signals.thread, NULL, signals_run, NULL);
    if (rc != 0)
        return fault_set(f, ST_SYSTEM, "signals", "could not start the thread for signals: %s", strerror(rc));
    signals.is_started = true;
    return ST_OK;
}

void service_signals_stop(void)
{
    if (!signals.is_started)
        return;
    atomic_store(&signals.is_ending, true);
    (void)pthread_kill(signals.thread, SIGUSR1);
    (void)pthread_join(signals.thread, NULL);
    signals.is_started = false;
}

bool service_stop_requested(void)
{
    return atomic_load(&signals.stop_requested);
}
