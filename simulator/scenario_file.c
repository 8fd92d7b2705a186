#include "simulator/scenario.h"

#include "settings/bind.h"
#include "settings/settings_errors.h"

#include <stdio.h>
#include <string.h>

static const struct bind_choice ACID_CHOICES[] = {
    {"none", ACID_NONE},         {"citric", ACID_CITRIC},
    {"ascorbic", ACID_ASCORBIC}, {"acetic", ACID_ACETIC},
    {"lactic", ACID_LACTIC},     {"phosphoric", ACID_PHOSPHORIC},
    {"tartaric", ACID_TARTARIC}, {NULL, 0},
};

#define AT(member) BIND_AT(struct plant_declared, member)
#define NUMBER(key, low, high, phrase)                                                                       \
    {                                                                                                        \
#key, BIND_DECIMAL, AT(key), low, high, BIND_KEEP, phrase, NULL, NULL, false                         \
    }
#define YES_NO(key, phrase)                                                                                  \
    {                                                                                                        \
#key, BIND_YES_NO, AT(key), 0, 0, BIND_KEEP, phrase, NULL, NULL, false                               \
    }

static const struct bind_row TANK_ROWS[] = {
    NUMBER(capacity_l, 50, 20000, "litres at the high switch"),
    NUMBER(heater_cover_l, 5, 5000, "litres at the low switch"),
    NUMBER(heater_kw, 0.5, 200, "power of the heater"),
    NUMBER(stirrer_rpm, 10, 1500, "usual speed of the stirrer"),
    NUMBER(water_l_min, 1, 500, "flow through the open valve"),
    NUMBER(dose_ml_min, 1, 5000, "rate of the acid pump"),
    NUMBER(heat_loss_w_k, 1, 500, "heat loss to the room"),
    NUMBER(altitude_m, -400, 4000, "height above the sea"),
    NUMBER(water_c, 1, 40, "water as it comes"),
    NUMBER(sugar_c, -10, 40, "sugar as it comes"),
    NUMBER(room_c, -10, 45, "room"),
    NUMBER(alkalinity_meq_kg, 0.05, 15, "declared alkalinity of the water"),
    {"acid", BIND_CHOICE, AT(acid), 0, 0, BIND_KEEP, "what the acid bottle holds", ACID_CHOICES, NULL, false},
    NUMBER(acid_stock_pct, 1, 80, "strength of the acid bottle"),
    NUMBER(bag_kg, 1, 50, "mass of a bag"),
    YES_NO(fixed_power, "no power controller: the contactor gives full power"),
    YES_NO(fixed_speed, "no stirrer drive: the motor turns at its usual speed"),
    YES_NO(fixed_rate, "the acid pump runs at its usual rate"),
    {0},
};

struct loose { /* values whose type in struct scenario the table cannot write */
    int64_t seed;
    int port;
    double rate;
};

static const struct bind_row RUN_ROWS[] = {
    {"seed", BIND_INTEGER, BIND_AT(struct loose, seed), 0, 1e15, BIND_KEEP, "any whole number", NULL, NULL,
     false},
    {"port", BIND_INTEGER, BIND_AT(struct loose, port), 0, 65535, BIND_KEEP, "0 for a free one", NULL, NULL,
     false},
    {"rate", BIND_DECIMAL, BIND_AT(struct loose, rate), 0, 1e6, BIND_KEEP, "times real time; 0 for no limit",
     NULL, NULL, false},
    {"tank", BIND_MAP, 0, 0, 0, 0, BIND_OPTIONAL, "the tank as declared", NULL, NULL, false},
    {"events", BIND_LIST, 0, 0, 0, 0, BIND_OPTIONAL, "acts at tank times", NULL, NULL, false},
    {0},
};

struct loose_event {
    double at_s;
    char act[SCENARIO_ACT_MAX];
};

static const struct bind_row EVENT_ROWS[] = {
    {"at_s", BIND_DECIMAL, BIND_AT(struct loose_event, at_s), 0, 1e7, NULL, "tank time in seconds", NULL,
     NULL, false},
    {"act", BIND_TEXT, BIND_AT(struct loose_event, act), 1, 0, NULL,
     "an act, as in syrupwright-sim act --help", NULL, NULL, false},
    {0},
};

static void events_read(const struct bind *bind, const struct yaml_node *list, struct scenario *scenario)
{
    int64_t last_us = 0;

    if (list == NULL || list->kind != NODE_LIST)
        return;
    scenario->event_count = 0;
    for (const struct yaml_node *node = list->first; node != NULL; node = node->next) {
        struct loose_event event = {0, ""};
        struct scenario_event *to = &scenario->events[scenario->event_count];

        if (scenario->event_count == SCENARIO_EVENTS_MAX) {
            bind_error(bind, node, "too many events; at most %d", SCENARIO_EVENTS_MAX);
            return;
        }
        bind_map(bind, node, EVENT_ROWS, &event);
        to->at_us = (int64_t)(event.at_s * 1e6);
        (void)snprintf(to->act, sizeof to->act, "%s", event.act);
        if (to->at_us < last_us)
            bind_error(bind, node, "this event comes before the one above it; put events in order of time");
        last_us = to->at_us;
        scenario->event_count++;
    }
}

static void tree_read(const struct bind *bind, const struct yaml_node *root, struct scenario *scenario)
{
    const struct yaml_node *tank = yaml_node_find(root, "tank");
    struct loose loose = {(int64_t)scenario->seed, scenario->port, scenario->rate};

    bind_map(bind, root, RUN_ROWS, &loose);
    if (tank != NULL && tank->kind == NODE_MAP)
        bind_map(bind, tank, TANK_ROWS, &scenario->declared);
    events_read(bind, yaml_node_find(root, "events"), scenario);
    scenario->seed = (uint64_t)loose.seed;
    scenario->port = loose.port;
    scenario->rate = loose.rate;
}

enum status scenario_read(const char *path, struct scenario *scenario)
{
    static struct settings_errors errors;
    struct bind bind = {.file = path, .folder = "/", .errors = &errors};
    struct yaml_tree *tree = NULL;

    errors.count = 0;
    if (yaml_tree_read(path, &errors, &tree) == ST_OK)
        tree_read(&bind, tree->root, scenario);
    yaml_tree_free(tree);
    settings_errors_sort(&errors);
    for (int i = 0; i < errors.count && i < SETTINGS_ERRORS_MAX; i++)
        (void)fprintf(stderr, "%s: %s\n", errors.errors[i].where, errors.errors[i].text);
    return errors.count == 0 ? ST_OK : ST_SETTINGS;
}
