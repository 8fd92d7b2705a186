#include "runtime/clock.h"

#include "runtime/grant.h"
#include "runtime/log.h"
#include "runtime/realtime.h"

#include <errno.h>
#include <pthread.h>
#include <stdlib.h>
#include <sys/time.h>
#include <sys/timex.h>
#include <time.h>

#define BEAT_US 100000
/* In real time the scan begins half a beat after the bus threads, so that it works on what they
 * have just read and they find its outputs at their next pass. */
#define SCAN_PHASE_US (BEAT_US / 2)
#define LATE_US (BEAT_US / 2)

struct party {
    bool passes;          /* takes part in passes: a scan waits until it has finished */
    bool is_busy;         /* has work in flight */
    uint64_t taken;       /* simulated: number of the last grant it got for a pass */
    uint64_t finished;    /* ... and of the last one whose pass it has finished */
    int64_t next_pass_us; /* real: machine time of its next pass */
};

struct clock {
    pthread_mutex_t lock;
    pthread_cond_t changed;
    bool is_stopped;
    bool is_simulated; /* the simulator owns time now */
    bool lost_simulator;
    struct grant grant;
    uint64_t granted; /* number of the grant in force; 0: none yet */
    int64_t tank_us;  /* of the grant in force */
    int64_t utc_us;
    bool owes_answer;
    int64_t real_to_tank_us; /* tank time = machine time + this, in real time */
    int64_t real_to_utc_us;  /* after the simulator was lost */
    int64_t next_scan_us;    /* real: machine time of the next scan */
    int party_count;
    struct party parties[];
};

/* ---- open and close ------------------------------------------------------------------ */

enum status clock_open(const char *sim_socket, int parties, struct clock **clock, struct fault *f)
{
    struct clock *c = NULL;
    enum status code;

    *clock = NULL;
    if (parties < 0)
        return fault_set(f, ST_RANGE, "clock", "a clock cannot have %d parties", parties);
    c = calloc(1, sizeof *c + (size_t)parties * sizeof c->parties[0]);
    if (c == NULL)
        return fault_set(f, ST_SYSTEM, "clock", "out of memory");
    c->party_count = parties;
    c->grant = (struct grant){.fd = -1, .wake_fd = -1};
    c->is_simulated = sim_socket != NULL;
    if (sim_socket != NULL) {
        code = grant_open(sim_socket, &c->grant, f);
        if (code != ST_OK) {
            free(c);
            return code;
        }
    }
    (void)pthread_mutex_init(&c->lock, NULL);
    (void)pthread_cond_init(&c->changed, NULL);
    *clock = c;
    return ST_OK;
}

void clock_close(struct clock *clock)
{
    if (clock == NULL)
        return;
    grant_close(&clock->grant);
    (void)pthread_cond_destroy(&clock->changed);
    (void)pthread_mutex_destroy(&clock->lock);
    free(clock);
}

/* ---- real time ------------------------------------------------------------------------ */

static int64_t utc_now_us(void)
{
    struct timespec now;

    (void)clock_gettime(CLOCK_REALTIME, &now);
    return (int64_t)now.tv_sec * 1000000 + now.tv_nsec / 1000;
}

static bool utc_is_synced(void)
{
    struct timex state = {.modes = 0};

    return adjtimex(&state) >= 0 && (state.status & STA_UNSYNC) == 0;
}

/* The first beat after now on the grid of whole beats. */
static int64_t beat_after(int64_t now_us, int64_t phase_us)
{
    return (now_us - phase_us) / BEAT_US * BEAT_US + phase_us + BEAT_US;
}

static bool stopped(struct clock *clock)
{
    bool is_stopped;

    (void)pthread_mutex_lock(&clock->lock);
    is_stopped = clock->is_stopped;
    (void)pthread_mutex_unlock(&clock->lock);
    return is_stopped;
}

/* Wait for *next_us and move it on; beats that were missed are left out, not made up for. */
static bool beat_wait(int64_t *next_us, int64_t phase_us)
{
    int64_t now_us = realtime_now_us();
    int64_t due_us = *next_us == 0 ? beat_after(now_us, phase_us) : *next_us;
    bool is_late;

    realtime_sleep_until(due_us);
    now_us = realtime_now_us();
    is_late = now_us - due_us > LATE_US;
    *next_us = now_us - due_us < BEAT_US ? due_us + BEAT_US : beat_after(now_us, phase_us);
    return is_late;
}

static bool wait_scan_real(struct clock *clock, struct clock_time *time)
{
    int64_t now_us;

    time->is_late = beat_wait(&clock->next_scan_us, SCAN_PHASE_US);
    now_us = realtime_now_us();
    time->tank_us = now_us + clock->real_to_tank_us;
    if (clock->lost_simulator) {
        time->utc_us = now_us + clock->real_to_utc_us;
        time->utc_synced = false;
    } else {
        time->utc_us = utc_now_us();
        time->utc_synced = utc_is_synced();
    }
    return !stopped(clock);
}

static bool wait_pass_real(struct clock *clock, int party, int64_t *tank_us)
{
    (void)beat_wait(&clock->parties[party].next_pass_us, 0);
    *tank_us = realtime_now_us() + clock->real_to_tank_us;
    return !stopped(clock);
}

/* ---- simulated time -------------------------------------------------------------------- */

/* Caller holds the lock. From the next beat on, time runs by itself from where it was. */
static void simulator_lost(struct clock *clock)
{
    int64_t now_us = realtime_now_us();

    clock->real_to_tank_us = clock->tank_us - now_us;
    clock->real_to_utc_us = clock->utc_us - now_us;
    clock->is_simulated = false;
    clock->lost_simulator = true;
    (void)pthread_cond_broadcast(&clock->changed);
    log_warnx("clock", "the simulator is gone or sent no valid grant; time runs on in real time");
}

static bool is_settled(const struct clock *clock)
{
    for (int i = 0; i < clock->party_count; i++) {
        const struct party *party = &clock->parties[i];

        if (party->is_busy || (party->passes && party->finished < clock->granted))
            return false;
    }
    return true;
}

static enum grant_result take_grant(struct clock *clock, int64_t *tank_us, int64_t *utc_us)
{
    if (clock->owes_answer && !grant_answer(&clock->grant, clock->tank_us))
        return GRANT_LOST;
    clock->owes_answer = false;
    return grant_wait(&clock->grant, tank_us, utc_us);
}

/* The answer to a grant tells that everything the scan set off is finished too. */
static bool wait_settled(struct clock *clock)
{
    while (!clock->is_stopped && !is_settled(clock))
        (void)pthread_cond_wait(&clock->changed, &clock->lock);
    return !clock->is_stopped;
}

/* false: no scan in simulated time (stopped, or the simulator is gone). */
static bool wait_scan_simulated(struct clock *clock, struct clock_time *time)
{
    int64_t tank_us = 0, utc_us = 0;
    enum grant_result result;
    bool is_ready;

    (void)pthread_mutex_lock(&clock->lock);
    is_ready = wait_settled(clock);
    (void)pthread_mutex_unlock(&clock->lock);
    if (!is_ready)
        return false;
    result = take_grant(clock, &tank_us, &utc_us);
    (void)pthread_mutex_lock(&clock->lock);
    if (result == GRANT_LOST || (result == GRANT_GIVEN && clock->granted > 0 && tank_us <= clock->tank_us)) {
        simulator_lost(clock);
        is_ready = false;
    } else if (result == GRANT_WOKEN) {
        is_ready = false;
    } else {
        clock->tank_us = tank_us;
        clock->utc_us = utc_us;
        clock->granted++;
        clock->owes_answer = true;
        (void)pthread_cond_broadcast(&clock->changed);
        is_ready = wait_settled(clock);
        *time = (struct clock_time){.tank_us = tank_us, .utc_us = utc_us, .utc_synced = true};
    }
    (void)pthread_mutex_unlock(&clock->lock);
    return is_ready;
}

/* 1: a pass; 0: stopped; -1: the simulator is gone. */
static int wait_pass_simulated(struct clock *clock, int party, int64_t *tank_us)
{
    struct party *self = &clock->parties[party];
    int result;

    (void)pthread_mutex_lock(&clock->lock);
    self->passes = true;
    self->finished = self->taken;
    (void)pthread_cond_broadcast(&clock->changed);
    while (!clock->is_stopped && clock->is_simulated && clock->granted == self->taken)
        (void)pthread_cond_wait(&clock->changed, &clock->lock);
    result = clock->is_stopped ? 0 : clock->is_simulated ? 1 : -1;
    self->taken = clock->granted;
    *tank_us = clock->tank_us;
    (void)pthread_mutex_unlock(&clock->lock);
    return result;
}

/* ---- the interface ------------------------------------------------------------------- */

static bool is_simulated(struct clock *clock)
{
    bool simulated;

    (void)pthread_mutex_lock(&clock->lock);
    simulated = clock->is_simulated;
    (void)pthread_mutex_unlock(&clock->lock);
    return simulated;
}

bool clock_wait_scan(struct clock *clock, struct clock_time *time)
{
    if (is_simulated(clock)) {
        if (wait_scan_simulated(clock, time))
            return true;
        if (stopped(clock))
            return false;
    }
    return wait_scan_real(clock, time);
}

bool clock_wait_pass(struct clock *clock, int party, int64_t *tank_us)
{
    if (is_simulated(clock)) {
        int result = wait_pass_simulated(clock, party, tank_us);

        if (result >= 0)
            return result == 1;
    }
    return wait_pass_real(clock, party, tank_us);
}

void clock_join(struct clock *clock, int party)
{
    (void)pthread_mutex_lock(&clock->lock);
    clock->parties[party].passes = true;
    (void)pthread_mutex_unlock(&clock->lock);
}

void clock_set_busy(struct clock *clock, int party, bool busy)
{
    (void)pthread_mutex_lock(&clock->lock);
    clock->parties[party].is_busy = busy;
    (void)pthread_cond_broadcast(&clock->changed);
    (void)pthread_mutex_unlock(&clock->lock);
}

void clock_stop(struct clock *clock)
{
    (void)pthread_mutex_lock(&clock->lock);
    clock->is_stopped = true;
    (void)pthread_cond_broadcast(&clock->changed);
    (void)pthread_mutex_unlock(&clock->lock);
    grant_wake(&clock->grant);
}

bool clock_lost_simulator(const struct clock *clock)
{
    return clock->lost_simulator;
}

int clock_patience(const struct clock *clock)
{
    return clock->is_simulated ? 10 : 1;
}
