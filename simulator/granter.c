#include "simulator/granter.h"

#include <inttypes.h>
#include <stdio.h>

/* After a stall (a suspended machine) the tank does not race to catch up more than this. */
#define CATCH_UP_US 1000000

enum status granter_open(struct granter *granter, const char *path, struct world *world, double rate,
                         int64_t now_us, struct fault *f)
{
    *granter = (struct granter){
        .server = LINE_SERVER_CLOSED, .world = world, .rate = rate, .due_us = now_us + WORLD_STEP_US};
    return path != NULL ? line_server_open(&granter->server, path, 1, f) : ST_OK;
}

void granter_close(struct granter *granter)
{
    line_server_close(&granter->server);
}

int granter_polls(const struct granter *granter, struct pollfd *polls)
{
    return line_server_polls(&granter->server, polls);
}

/* What the handlers need to know of the moment. */
struct moment {
    struct granter *granter;
    int64_t now_us;
};

static void daemon_opened(void *context, int peer)
{
    const struct moment *moment = context;

    (void)peer;
    moment->granter->has_daemon = true;
    moment->granter->is_granted = false;
    moment->granter->due_us = moment->now_us;
}

static void daemon_closed(void *context, int peer)
{
    const struct moment *moment = context;

    (void)peer;
    moment->granter->has_daemon = false;
    moment->granter->is_granted = false;
    moment->granter->due_us = moment->now_us + WORLD_STEP_US;
}

static void daemon_line(void *context, int peer, const char *line)
{
    const struct moment *moment = context;
    struct granter *granter = moment->granter;
    int64_t tank_us;
    int end = -1;

    if (sscanf(line, "done %" SCNd64 "%n", &tank_us, &end) != 1 || line[end] != '\0' ||
        !granter->is_granted || tank_us != granter->world->tank_us) {
        (void)line_server_send(&granter->server, peer, "error expected \"done\" with the granted time\n");
        return;
    }
    granter->is_granted = false;
    world_step(granter->world);
    granter->due_us = granter->rate > 0 ? granter->granted_us + (int64_t)(WORLD_STEP_US / granter->rate)
                                        : moment->now_us;
}

void granter_serve(struct granter *granter, const struct pollfd *polls, int count, int64_t now_us)
{
    struct moment moment = {granter, now_us};
    const struct line_handler handler = {&moment, daemon_opened, daemon_line, daemon_closed};

    line_server_serve(&granter->server, polls, count, &handler);
}

static void grant_send(struct granter *granter, int64_t now_us)
{
    char line[80];

    (void)snprintf(line, sizeof line, "grant %" PRId64 " %" PRId64 "\n", granter->world->tank_us,
                   world_utc_us(granter->world));
    (void)line_server_send(&granter->server, 0, line); /* a lost daemon shows in the next poll */
    granter->is_granted = true;
    /* Rate is kept on average: short delays are made up, long ones are not. */
    granter->granted_us = granter->due_us > now_us - CATCH_UP_US ? granter->due_us : now_us;
}

int64_t granter_run(struct granter *granter, int64_t now_us)
{
    if (granter->has_daemon) {
        if (!granter->is_granted && granter->due_us <= now_us)
            grant_send(granter, now_us);
        return granter->is_granted ? INT64_MAX : granter->due_us;
    }
    if (granter->due_us < now_us - CATCH_UP_US)
        granter->due_us = now_us;
    while (granter->due_us <= now_us) {
        world_step(granter->world);
        granter->due_us += WORLD_STEP_US;
    }
    return granter->due_us;
}
