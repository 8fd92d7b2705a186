#include "simulator/run.h"

#include "runtime/realtime.h"
#include "simulator/acts.h"
#include "simulator/granter.h"
#include "simulator/wire.h"

#include <errno.h>
#include <poll.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

#define POLLS_MAX (1 + WIRE_PEERS_MAX + 2 * (1 + LINE_PEERS_MAX))

struct machine {
    struct world world;
    struct wire wire;
    struct granter granter;
    struct line_server acts;
    const struct scenario *scenario;
    int events_done;
};

static volatile sig_atomic_t stop_asked;

static void on_signal(int number)
{
    (void)number;
    stop_asked = 1;
}

/* The signals arrive only inside ppoll, so none can slip in between a check and the wait. */
static void signals_prepare(sigset_t *while_waiting)
{
    struct sigaction action = {.sa_handler = on_signal};
    sigset_t blocked;

    sigemptyset(&action.sa_mask);
    sigemptyset(&blocked);
    sigaddset(&blocked, SIGTERM);
    sigaddset(&blocked, SIGINT);
    (void)sigprocmask(SIG_BLOCK, &blocked, while_waiting);
    sigdelset(while_waiting, SIGTERM);
    sigdelset(while_waiting, SIGINT);
    (void)sigaction(SIGTERM, &action, NULL);
    (void)sigaction(SIGINT, &action, NULL);
    action.sa_handler = SIG_IGN;
    (void)sigaction(SIGPIPE, &action, NULL);
}

static void acts_line(void *context, int peer, const char *line)
{
    struct machine *machine = context;
    char reply[ACTS_REPLY_MAX];

    acts_do(&machine->world, line, reply, sizeof reply - 1);
    reply[strlen(reply) + 1] = '\0';
    reply[strlen(reply)] = '\n';
    (void)line_server_send(&machine->acts, peer, reply);
}

/* What the scenario lets happen by itself, and what came of it. */
static void events_run(struct machine *machine)
{
    const struct scenario *scenario = machine->scenario;

    while (machine->events_done < scenario->event_count &&
           machine->world.tank_us >= scenario->events[machine->events_done].at_us) {
        const struct scenario_event *event = &scenario->events[machine->events_done++];
        char reply[ACTS_REPLY_MAX];

        acts_do(&machine->world, event->act, reply, sizeof reply);
        (void)fprintf(stderr, "%.1f s: %s: %s\n", (double)machine->world.tank_us * 1e-6, event->act, reply);
    }
}

static enum status machine_open(struct machine *machine, const struct scenario *scenario, struct fault *f)
{
    enum status status;

    *machine = (struct machine){.wire = {.fd = -1}, .acts = LINE_SERVER_CLOSED, .scenario = scenario};
    world_init(&machine->world, scenario->seed, &scenario->declared);
    status = granter_open(&machine->granter, scenario->clock_path[0] != '\0' ? scenario->clock_path : NULL,
                          &machine->world, scenario->rate, realtime_now_us(), f);
    if (status == ST_OK && scenario->acts_path[0] != '\0')
        status = line_server_open(&machine->acts, scenario->acts_path, LINE_PEERS_MAX, f);
    if (status == ST_OK)
        status = wire_open(&machine->wire, scenario->port, f);
    return status;
}

static void machine_close(struct machine *machine)
{
    wire_close(&machine->wire);
    line_server_close(&machine->acts);
    granter_close(&machine->granter);
}

static struct timespec wait_until(int64_t due_us, int64_t now_us)
{
    int64_t wait_us = due_us > now_us ? due_us - now_us : 0;

    if (wait_us > 10000000)
        wait_us = 10000000; /* nothing is due: look again now and then */
    return (struct timespec){.tv_sec = wait_us / 1000000, .tv_nsec = wait_us % 1000000 * 1000};
}

/* One turn: what is due, wait, what came in. false: the wait failed. */
static bool machine_turn(struct machine *machine, const sigset_t *while_waiting)
{
    const struct line_handler acts = {machine, NULL, acts_line, NULL};
    struct pollfd polls[POLLS_MAX];
    int64_t now_us = realtime_now_us();
    int64_t due_us = granter_run(&machine->granter, now_us);
    int64_t late_us = wire_serve_late(&machine->wire, &machine->world, now_us);
    struct timespec wait = wait_until(due_us < late_us ? due_us : late_us, now_us);
    int wires = wire_polls(&machine->wire, polls);
    int grants = granter_polls(&machine->granter, polls + wires);
    int people = line_server_polls(&machine->acts, polls + wires + grants);

    if (ppoll(polls, (nfds_t)wires + (nfds_t)grants + (nfds_t)people, &wait, while_waiting) < 0)
        return errno == EINTR;
    now_us = realtime_now_us();
    wire_serve(&machine->wire, &machine->world, polls, wires, now_us);
    granter_serve(&machine->granter, polls + wires, grants, now_us);
    line_server_serve(&machine->acts, polls + wires + grants, people, &acts);
    events_run(machine);
    return true;
}

enum status run_simulator(const struct scenario *scenario, struct fault *f)
{
    static struct machine machine;
    sigset_t while_waiting;
    enum status status;

    signals_prepare(&while_waiting);
    status = machine_open(&machine, scenario, f);
    if (status == ST_OK) {
        (void)printf("ready port=%d\n", machine.wire.port);
        (void)fflush(stdout);
        while (!stop_asked && status == ST_OK)
            if (!machine_turn(&machine, &while_waiting))
                status = fault_set(f, ST_SYSTEM, "poll", "waiting for the sockets failed: %s",
                                   strerror(errno));
    }
    machine_close(&machine);
    return status;
}
