#include "simulator/acts.h"

#include "science/acid.h"
#include "simulator/acts_truth.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define WORDS_A_LINE 4

struct request {
    struct world *world;
    int count;
    const char *words[WORDS_A_LINE];
    char *reply;
    size_t size;
};

PRINTF_LIKE(2, 3)
static void answer(struct request *request, const char *format, ...)
{
    va_list args;

    va_start(args, format);
    (void)vsnprintf(request->reply, request->size, format, args);
    va_end(args);
}

/* A whole word as a number between low and high; else answers and returns false. */
static bool number_read(struct request *request, int index, const char *what, double low, double high,
                        double *value)
{
    char *end;

    if (index >= request->count) {
        answer(request, "error %s: %s is missing; a number from %g to %g", request->words[0], what, low,
               high);
        return false;
    }
    *value = strtod(request->words[index], &end);
    if (end == request->words[index] || *end != '\0' || !(*value >= low && *value <= high)) {
        answer(request, "error %s: %s is \"%s\"; write a number from %g to %g", request->words[0], what,
               request->words[index], low, high);
        return false;
    }
    return true;
}

/* The second word as one of two; 0, 1, or -1 after an answer. */
static int choice_read(struct request *request, const char *first, const char *second)
{
    const char *word = request->count > 1 ? request->words[1] : "";

    if (strcmp(word, first) == 0)
        return 0;
    if (strcmp(word, second) == 0)
        return 1;
    answer(request, "error %s: write \"%s %s\" or \"%s %s\"", request->words[0], request->words[0], first,
           request->words[0], second);
    return -1;
}

/* ---- acts ------------------------------------------------------------------------------ */

static void act_bag(struct request *request)
{
    struct plant *plant = &request->world->plant;
    double kg = plant->params.declared.bag_kg;

    if (request->count > 1 && !number_read(request, 1, "the mass in kg", 0.05, 100, &kg))
        return;
    if (!plant_add_bag(plant, kg))
        answer(request, "error the lid is closed; open it first (lid open)");
    else
        answer(request, "ok %.3g kg tipped, %d so far", kg, plant->totals.bags);
}

static void act_lid(struct request *request)
{
    int choice = choice_read(request, "open", "closed");

    if (choice < 0)
        return;
    plant_set_lid(&request->world->plant, choice == 1);
    answer(request, "ok lid %s", request->words[1]);
}

static void act_stop(struct request *request)
{
    int choice = choice_read(request, "pressed", "released");

    if (choice < 0)
        return;
    plant_press_stop(&request->world->plant, choice == 0);
    answer(request, "ok emergency stop %s", request->words[1]);
}

static void act_reset(struct request *request)
{
    if (request->count != 2 || strcmp(request->words[1], "limiter") != 0) {
        answer(request, "error reset: write \"reset limiter\"");
        return;
    }
    plant_reset_limiter(&request->world->plant);
    if (request->world->plant.limiter_tripped)
        answer(request, "error the limiter does not hold: the element is still at %.0f °C; let it cool",
               request->world->plant.element_c);
    else
        answer(request, "ok limiter reset");
}

static void act_water(struct request *request)
{
    double liters;

    if (!number_read(request, 1, "the volume in litres", 0.01, 2000, &liters))
        return;
    plant_add_water(&request->world->plant, liters);
    answer(request, "ok %.4g L poured in", liters);
}

static void act_acid(struct request *request)
{
    struct plant *plant = &request->world->plant;
    enum acid held = plant->params.declared.acid, acid = held;
    double grams;

    if (!number_read(request, 1, "the mass in grams", 0.01, 20000, &grams))
        return;
    if (request->count > 2)
        acid = acid_find(request->words[2]);
    if (acid == ACID_COUNT || acid == ACID_NONE)
        answer(request,
               "error acid: \"%s\" is no acid known here; write one of citric, ascorbic, acetic, "
               "lactic, phosphoric, tartaric",
               request->count > 2 ? request->words[2] : "none");
    else if (!plant_add_acid(plant, acid, grams))
        answer(request, "error acid: this tank is set up with %s acid; start the simulator with --acid %s",
               acid_name(held), acid_name(acid));
    else
        answer(request, "ok %.4g g of %s acid added", grams, acid_name(acid));
}

static void act_read(struct request *request)
{
    struct world *world = request->world;
    int choice = choice_read(request, "strength", "ph");

    if (choice < 0)
        return;
    if (plant_volume_l(&world->plant) < 1)
        answer(request, "error read: the tank is empty");
    else if (choice == 0)
        answer(request, "ok %.1f", instruments_hand_strength_pct(&world->instruments, &world->plant));
    else
        answer(request, "ok %.2f", instruments_hand_ph(&world->instruments, &world->plant));
}

static void act_truth(struct request *request)
{
    acts_truth(request->world, request->reply, request->size);
}

static void act_time(struct request *request)
{
    answer(request, "ok %lld", (long long)request->world->tank_us);
}

/* ---- faults ---------------------------------------------------------------------------- */

struct fault_row {
    const char *name;
    const char *argument;
    size_t offset; /* of a bool in struct world */
};

static const struct fault_row FAULTS[] = {
    {"heater", "stuck_on", offsetof(struct world, plant.faults.heater_stuck_on)},
    {"stirrer", "stopped", offsetof(struct world, plant.faults.stirrer_stopped)},
    {"pump", "airlock", offsetof(struct world, plant.faults.pump_airlock)},
    {"water", "stuck_open", offsetof(struct world, plant.faults.water_stuck_open)},
    {"sheath", "open", offsetof(struct world, instruments.faults.sheath_open)},
    {"thermometer", "open", offsetof(struct world, instruments.faults.tank_open)},
    {"probe", "frozen", offsetof(struct world, instruments.faults.probe_frozen)},
    {"refractometer", "frozen", offsetof(struct world, instruments.faults.refractometer_frozen)},
    {"level", "stuck", offsetof(struct world, instruments.faults.level_stuck)},
};

static const struct {
    const char *name;
    enum unit_fault_kind kind;
} UNIT_FAULTS[] = {
    {"silent", UNIT_SILENT}, {"slow", UNIT_SLOW}, {"exception", UNIT_EXCEPTION}, {"short", UNIT_SHORT}};

static void faults_clear(struct world *world)
{
    for (size_t i = 0; i < sizeof FAULTS / sizeof *FAULTS; i++)
        *(bool *)((char *)world + FAULTS[i].offset) = false;
    memset(world->unit_faults, 0, sizeof world->unit_faults);
}

static void unit_fault_set(struct request *request, enum unit_fault_kind kind)
{
    double unit, delay_ms = 0;

    if (!number_read(request, 2, "the unit number", 1, DEVICES_UNITS, &unit))
        return;
    if (kind == UNIT_SLOW && !number_read(request, 3, "the delay in ms", 1, 60000, &delay_ms))
        return;
    request->world->unit_faults[(int)unit] = (struct unit_fault){.kind = kind, .delay_ms = (int)delay_ms};
    answer(request, "ok unit %d %s", (int)unit, request->words[1]);
}

static void act_fault(struct request *request)
{
    const char *name = request->count > 1 ? request->words[1] : "";
    const char *argument = request->count > 2 ? request->words[2] : "";

    if (strcmp(name, "clear") == 0) {
        faults_clear(request->world);
        answer(request, "ok no faults");
        return;
    }
    for (size_t i = 0; i < sizeof UNIT_FAULTS / sizeof *UNIT_FAULTS; i++)
        if (strcmp(name, UNIT_FAULTS[i].name) == 0) {
            unit_fault_set(request, UNIT_FAULTS[i].kind);
            return;
        }
    for (size_t i = 0; i < sizeof FAULTS / sizeof *FAULTS; i++)
        if (strcmp(name, FAULTS[i].name) == 0 && strcmp(argument, FAULTS[i].argument) == 0) {
            *(bool *)((char *)request->world + FAULTS[i].offset) = true;
            answer(request, "ok %s %s", name, argument);
            return;
        }
    answer(request, "error fault: \"%s%s%s\" is not known; see syrupwright-sim act --help", name,
           argument[0] != '\0' ? " " : "", argument);
}

/* ---- dispatch -------------------------------------------------------------------------- */

static const struct {
    const char *name;
    void (*act)(struct request *request);
} ACTS[] = {
    {"bag", act_bag},   {"lid", act_lid},   {"stop", act_stop},   {"reset", act_reset}, {"water", act_water},
    {"acid", act_acid}, {"read", act_read}, {"truth", act_truth}, {"time", act_time},   {"fault", act_fault},
};

const char *acts_help(void)
{
    return "  bag [kg]                     tip sugar in; the lid must be open\n"
           "  lid open|closed\n"
           "  stop pressed|released        the emergency stop\n"
           "  reset limiter                the manual reset of the temperature limiter\n"
           "  water <L>                    pour water by hand\n"
           "  acid <g> [name]              add acid dissolved in a little water\n"
           "  read strength|ph             what a hand instrument shows\n"
           "  truth | time                 the true state as JSON; tank time in microseconds\n"
           "  fault silent|exception|short <unit>, fault slow <unit> <ms>\n"
           "  fault heater stuck_on, stirrer stopped, pump airlock, water stuck_open\n"
           "  fault sheath open, thermometer open, probe frozen, refractometer frozen, level stuck\n"
           "  fault clear\n";
}

void acts_do(struct world *world, const char *line, char *reply, size_t size)
{
    struct request request = {.world = world, .size = size};
    char copy[ACTS_LINE_MAX], *rest = NULL;

    request.reply = reply;
    if (snprintf(copy, sizeof copy, "%s", line) >= (int)sizeof copy) {
        answer(&request, "error the line is too long; at most %d bytes", ACTS_LINE_MAX - 1);
        return;
    }
    for (char *word = strtok_r(copy, " \t\r", &rest); word != NULL; word = strtok_r(NULL, " \t\r", &rest)) {
        if (request.count == WORDS_A_LINE) {
            answer(&request, "error too many words; at most %d", WORDS_A_LINE);
            return;
        }
        request.words[request.count++] = word;
    }
    for (size_t i = 0; request.count > 0 && i < sizeof ACTS / sizeof *ACTS; i++)
        if (strcmp(request.words[0], ACTS[i].name) == 0) {
            ACTS[i].act(&request);
            return;
        }
    answer(&request,
           "error \"%s\" is no act; one of bag, lid, stop, reset, water, acid, read, truth, time, fault",
           request.count > 0 ? request.words[0] : "");
}
