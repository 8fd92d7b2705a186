#include "simulator/scenario.h"

#include "science/acid.h"

#include <getopt.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum option_kind {
    OPTION_NUMBER,
    OPTION_WHOLE,
    OPTION_SEED,
    OPTION_PATH,
    OPTION_ACID,
    OPTION_FLAG,
    OPTION_FILE
};

struct option_row {
    const char *name;
    enum option_kind kind;
    size_t offset;
    double low;
    double high;
};

#define AT(member) offsetof(struct scenario, member)

static const struct option_row OPTIONS[] = {
    {"scenario", OPTION_FILE, 0, 0, 0},
    {"seed", OPTION_SEED, AT(seed), 0, 1e15},
    {"port", OPTION_WHOLE, AT(port), 0, 65535},
    {"rate", OPTION_NUMBER, AT(rate), 0, 1e6},
    {"clock", OPTION_PATH, AT(clock_path), 0, 0},
    {"acts", OPTION_PATH, AT(acts_path), 0, 0},
    {"water-c", OPTION_NUMBER, AT(declared.water_c), 1, 40},
    {"room-c", OPTION_NUMBER, AT(declared.room_c), -10, 45},
    {"sugar-c", OPTION_NUMBER, AT(declared.sugar_c), -10, 40},
    {"alkalinity-meq-kg", OPTION_NUMBER, AT(declared.alkalinity_meq_kg), 0.05, 15},
    {"acid", OPTION_ACID, AT(declared.acid), 0, 0},
    {"acid-stock-pct", OPTION_NUMBER, AT(declared.acid_stock_pct), 1, 80},
    {"bag-kg", OPTION_NUMBER, AT(declared.bag_kg), 1, 50},
    {"fixed-power", OPTION_FLAG, AT(declared.fixed_power), 0, 0},
    {"fixed-speed", OPTION_FLAG, AT(declared.fixed_speed), 0, 0},
    {"fixed-rate", OPTION_FLAG, AT(declared.fixed_rate), 0, 0},
};
#define OPTION_COUNT (sizeof OPTIONS / sizeof *OPTIONS)

const char *scenario_help(void)
{
    return "  --scenario FILE          YAML: seed, port, rate, tank, events; options win over it\n"
           "  --seed N                 which tank of many: its errors and noise (1)\n"
           "  --port N                 Modbus TCP on 127.0.0.1; 0 takes a free one and prints it (0)\n"
           "  --clock PATH             socket on which scans are granted to the daemon\n"
           "  --acts PATH              socket for syrupwright-sim act and person\n"
           "  --rate N                 at most N times real time; 0 as fast as the daemon can (0)\n"
           "  --water-c N --room-c N --sugar-c N --alkalinity-meq-kg N\n"
           "  --acid NAME --acid-stock-pct N --bag-kg N\n"
           "  --fixed-power --fixed-speed --fixed-rate    a tank without that setting\n";
}

void scenario_default(struct scenario *scenario)
{
    memset(scenario, 0, sizeof *scenario);
    plant_declared_demo(&scenario->declared);
    scenario->seed = 1;
}

static enum status number_take(const struct option_row *row, const char *text, void *field, struct fault *f)
{
    char *end;
    double value = strtod(text, &end);

    if (end == text || *end != '\0' || !(value >= row->low && value <= row->high) ||
        (row->kind != OPTION_NUMBER && value != (double)(int64_t)value))
        return fault_set(f, ST_RANGE, row->name, "--%s is \"%s\"; write a %s from %g to %g", row->name, text,
                         row->kind == OPTION_NUMBER ? "number" : "whole number", row->low, row->high);
    if (row->kind == OPTION_NUMBER)
        *(double *)field = value;
    else if (row->kind == OPTION_WHOLE)
        *(int *)field = (int)value;
    else
        *(uint64_t *)field = (uint64_t)value;
    return ST_OK;
}

static enum status path_take(const struct option_row *row, const char *text, char *field, struct fault *f)
{
    if (text[0] == '\0' || snprintf(field, SCENARIO_PATH_MAX, "%s", text) >= SCENARIO_PATH_MAX)
        return fault_set(f, ST_RANGE, row->name, "--%s needs a path of 1 to %d bytes", row->name,
                         SCENARIO_PATH_MAX - 1);
    return ST_OK;
}

static enum status acid_take(const char *text, enum acid *field, struct fault *f)
{
    enum acid acid = acid_find(text);

    if (acid == ACID_COUNT)
        return fault_set(f, ST_RANGE, "acid",
                         "--acid is \"%s\"; write one of none, citric, ascorbic, acetic, lactic, phosphoric, "
                         "tartaric",
                         text);
    *field = acid;
    return ST_OK;
}

static enum status option_take(const struct option_row *row, const char *text, struct scenario *scenario,
                               struct fault *f)
{
    void *field = (char *)scenario + row->offset;

    switch (row->kind) {
    case OPTION_PATH:
        return path_take(row, text, field, f);
    case OPTION_ACID:
        return acid_take(text, field, f);
    case OPTION_FLAG:
        *(bool *)field = true;
        return ST_OK;
    case OPTION_FILE: /* was read in the first pass */
        return ST_OK;
    default:
        return number_take(row, text, field, f);
    }
}

static enum status file_take(const char *path, struct scenario *scenario, struct fault *f)
{
    if (scenario_read(path, scenario) == ST_OK)
        return ST_OK;
    return fault_set(f, ST_SETTINGS, path, "the scenario was not used because of the errors above");
}

/* One pass over the options: the file alone, or everything else. */
static enum status options_pass(int argc, char **argv, bool file_pass, struct scenario *scenario,
                                struct fault *f)
{
    struct option known[OPTION_COUNT + 1] = {{0}};
    int index = -1, found;

    for (size_t i = 0; i < OPTION_COUNT; i++)
        known[i] = (struct option){.name = OPTIONS[i].name,
                                   .has_arg = OPTIONS[i].kind == OPTION_FLAG ? no_argument
                                                                             : required_argument};
    optind = 0; /* begin again */
    opterr = 0;
    while ((found = getopt_long(argc, argv, "", known, &index)) != -1) {
        enum status status = ST_OK;

        if (found != 0)
            return fault_set(f, ST_NOT_FOUND, "run",
                             "\"%s\" is no option, or its value is missing; see --help", argv[optind - 1]);
        if (file_pass && OPTIONS[index].kind == OPTION_FILE)
            status = file_take(optarg, scenario, f);
        else if (!file_pass)
            status = option_take(&OPTIONS[index], optarg, scenario, f);
        if (status != ST_OK)
            return status;
    }
    if (optind < argc)
        return fault_set(f, ST_NOT_FOUND, "run", "\"%s\" is too much; run takes options only", argv[optind]);
    return ST_OK;
}

enum status scenario_options(int argc, char **argv, struct scenario *scenario, struct fault *f)
{
    enum status status;

    scenario_default(scenario);
    status = options_pass(argc, argv, true, scenario, f);
    return status == ST_OK ? options_pass(argc, argv, false, scenario, f) : status;
}
