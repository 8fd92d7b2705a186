/* main.c - the daemon: modules up in a visible order, scan, modules down in reverse.
 *
 * The control thread is this one. It waits for nothing but its clock: buses, records and clients
 * have threads of their own and reach it through mailboxes. */
#include "core/scan.h"
#include "io/bus_thread.h"
#include "io/exchange.h"
#include "records/records.h"
#include "remote/server.h"
#include "runtime/clock.h"
#include "runtime/crypto.h"
#include "runtime/log.h"
#include "runtime/service.h"
#include "settings/settings.h"
#include "words/words.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sysexits.h>

#ifndef SYRUPWRIGHT_VERSION
#define SYRUPWRIGHT_VERSION "unknown"
#endif

/* A pass may wait for a dead device, but not this long. */
static const int64_t BUS_STANDSTILL_US = 3000000;

static const char USAGE[] =
    "usage: syrupwrightd TANKFILE\n"
    "       syrupwrightd --check TANKFILE   say what is wrong in the file, change nothing\n"
    "       syrupwrightd --help | --version\n"
    "Runs one syrup tank in the foreground until SIGTERM; everything is off when it ends.\n";

/* All that is alive while the daemon runs. Static: too large for a stack, and never moved. */
struct daemon {
    struct settings settings;
    struct exchange *exchange;
    struct clock *clock;
    struct records *records;
    struct server *server;
    struct bus_thread *buses[SETTINGS_BUSES_MAX];
    struct scan scan;
    struct scan_in in;
    struct scan_out out;
    struct snapshot snapshot;
    uint64_t scans_late;
    uint64_t lost_told;
    bool failing_told;
    bool simulator_lost_told;
};

static struct daemon DAEMON;
static struct settings_errors ERRORS;

static enum status settings_load(const char *path, struct settings *settings)
{
    enum status status = settings_read(path, settings, &ERRORS);
    int shown = ERRORS.count < SETTINGS_ERRORS_MAX ? ERRORS.count : SETTINGS_ERRORS_MAX;

    for (int i = 0; i < shown; i++)
        (void)fprintf(stderr, "%s: %s\n", ERRORS.errors[i].where, ERRORS.errors[i].text);
    if (ERRORS.count > shown)
        (void)fprintf(stderr, "and %d more\n", ERRORS.count - shown);
    return status;
}

static void stop_requested(void *context)
{
    struct daemon *daemon = context;

    clock_stop(daemon->clock);
}

/* ---- one scan's surroundings ------------------------------------------------------------- */

static void tell_events(const struct scan_out *out)
{
    char sentence[WORDS_MAX];

    for (int i = 0; i < out->event_count; i++) {
        if (out->events[i].kind == EVENT_QUALITY)
            continue; /* in the record; the trips that follow from it are told */
        words_event(&out->events[i], sentence);
        log_info("batch", "%s", sentence);
    }
    if (out->events_lost > 0)
        log_warnx("core", "%d events of one scan did not fit and are lost; this is a bug", out->events_lost);
}

static void tell_record(struct daemon *daemon)
{
    struct records_status status;

    records_status_get(daemon->records, &status);
    daemon->in.durable_intent = status.durable_intent;
    if (status.is_failing && !daemon->failing_told)
        log_warnx("record", "%s", status.text);
    if (!status.is_failing && daemon->failing_told)
        log_info("record", "the record is being written again");
    daemon->failing_told = status.is_failing;
    if (status.lost > daemon->lost_told)
        log_warnx("record", "%llu items did not fit in the queue and are not recorded",
                  (unsigned long long)(status.lost - daemon->lost_told));
    daemon->lost_told = status.lost;
}

static void tell_clock(struct daemon *daemon, const struct clock_time *time)
{
    if (time->is_late)
        daemon->scans_late++;
    if (clock_lost_simulator(daemon->clock) && !daemon->simulator_lost_told) {
        daemon->simulator_lost_told = true;
        log_warnx("clock", "the simulator has gone away; time runs on in real time and its devices are lost");
    }
}

/* A bus thread that hangs must not be covered up by a control thread that does not. */
static bool buses_advance(const struct daemon *daemon)
{
    for (int i = 0; i < daemon->settings.bus_count; i++)
        if (daemon->in.scan_us - bus_thread_last_pass_us(daemon->buses[i]) > BUS_STANDSTILL_US)
            return false;
    return true;
}

static void daemon_scan(struct daemon *daemon, const struct clock_time *time)
{
    struct scan_in *in = &daemon->in;

    tell_clock(daemon, time);
    tell_record(daemon);
    in->scan_us = time->tank_us;
    in->utc_us = time->utc_us;
    in->utc_synced = time->utc_synced;
    in->has_plan = false;
    exchange_take_readings(daemon->exchange, in);
    server_take_commands(daemon->server, in);
    scan_step(&daemon->scan, &daemon->settings.setup, in, &daemon->out);
    exchange_post_outputs(daemon->exchange, daemon->out.outputs, in->scan_us);
    records_post_scan(daemon->records, in, &daemon->out, &daemon->scan.memory);
    scan_snapshot_get(&daemon->scan, &daemon->settings.setup, &daemon->snapshot);
    daemon->snapshot.utc_synced = time->utc_synced;
    daemon->snapshot.scans_late = daemon->scans_late;
    server_post_scan(daemon->server, &daemon->out, &daemon->snapshot);
    tell_events(&daemon->out);
    if (!time->is_late && buses_advance(daemon))
        service_watchdog();
}

static void daemon_run(struct daemon *daemon)
{
    struct clock_time time;

    while (clock_wait_scan(daemon->clock, &time))
        daemon_scan(daemon, &time);
}

/* ---- up and down ----------------------------------------------------------------------------- */

static void scan_begin(struct daemon *daemon)
{
    struct batch_memory memory;
    bool has_memory = records_restore(daemon->records, &memory);

    scan_init(&daemon->scan, &daemon->settings.setup, has_memory ? &memory : NULL);
    if (has_memory && memory.has_batch)
        log_info("batch", "batch %s was under way in step \"%s\"; it is held, and everything is off",
                 memory.plan.batch_id, words_step(memory.step));
}

static void buses_stop(struct daemon *daemon)
{
    for (int i = SETTINGS_BUSES_MAX - 1; i >= 0; i--) {
        bus_thread_stop(daemon->buses[i]);
        daemon->buses[i] = NULL;
    }
}

static enum status buses_start(struct daemon *daemon, struct fault *f)
{
    for (int i = 0; i < daemon->settings.bus_count; i++) {
        enum status status = bus_thread_start(&daemon->settings.buses[i], daemon->exchange, daemon->clock, i,
                                              &daemon->buses[i], f);
        if (status != ST_OK)
            return status;
    }
    return ST_OK;
}

static enum status daemon_up_and_run(struct daemon *daemon, struct fault *f)
{
    struct settings *settings = &daemon->settings;
    int record_party = settings->bus_count;
    enum status status;

    daemon->exchange = exchange_new((int64_t)(settings->setup.limits.output_expiry_s * 1e6));
    if (daemon->exchange == NULL)
        return fault_set(f, ST_SYSTEM, "", "no memory");
    status = clock_open(settings->is_simulated ? settings->sim_clock_path : NULL, settings->bus_count + 1,
                        &daemon->clock, f);
    if (status != ST_OK)
        goto free_exchange;
    status = service_signals_start(stop_requested, daemon, f);
    if (status != ST_OK)
        goto close_clock;
    status = records_open(settings, daemon->clock, record_party, &daemon->records, f);
    if (status != ST_OK)
        goto stop_signals;
    status = server_open(settings, daemon->records, &daemon->server, f);
    if (status != ST_OK)
        goto close_records;
    scan_begin(daemon);
    status = buses_start(daemon, f);
    if (status == ST_OK) {
        service_ready();
        log_info("daemon", "tank \"%s\"%s is looked after; commands at %s", settings->tank_name,
                 settings->is_simulated ? " (SIMULATED)" : "", settings->control_path);
        daemon_run(daemon);
        service_stopping();
    }
    clock_stop(daemon->clock);
    buses_stop(daemon); /* each switches its outputs off before it closes */
    server_close(daemon->server);
close_records:
    records_close(daemon->records);
stop_signals:
    service_signals_stop();
close_clock:
    clock_close(daemon->clock);
free_exchange:
    exchange_free(daemon->exchange);
    return status;
}

static int daemon_main(const char *path)
{
    struct fault fault = {0};

    if (crypto_init(&fault) != ST_OK) {
        log_fatalx("daemon", "%s", fault.text);
        return EX_OSERR;
    }
    if (settings_load(path, &DAEMON.settings) != ST_OK)
        return EX_CONFIG;
    if (daemon_up_and_run(&DAEMON, &fault) != ST_OK) {
        log_fatalx("daemon", "%s%s%s", fault.where, fault.where[0] != '\0' ? ": " : "", fault.text);
        return fault.code == ST_BUSY ? EX_TEMPFAIL : EX_UNAVAILABLE;
    }
    log_info("daemon", "stopped; everything is off and the record is closed");
    return EXIT_SUCCESS;
}

static int check_main(const char *path)
{
    struct fault fault = {0};

    if (crypto_init(&fault) != ST_OK) {
        log_fatalx("daemon", "%s", fault.text);
        return EX_OSERR;
    }
    if (settings_load(path, &DAEMON.settings) != ST_OK)
        return EX_CONFIG;
    (void)printf("%s: no errors\n", path);
    return EXIT_SUCCESS;
}

int main(int argc, char **argv)
{
    if (argc == 2 && strcmp(argv[1], "--help") == 0) {
        (void)fputs(USAGE, stdout);
        return EXIT_SUCCESS;
    }
    if (argc == 2 && strcmp(argv[1], "--version") == 0) {
        (void)printf("syrupwrightd %s\n", SYRUPWRIGHT_VERSION);
        return EXIT_SUCCESS;
    }
    if (argc == 3 && strcmp(argv[1], "--check") == 0)
        return check_main(argv[2]);
    if (argc == 2 && argv[1][0] != '-')
        return daemon_main(argv[1]);
    (void)fputs(USAGE, stderr);
    return EX_USAGE;
}
