#include "simulator/acts_truth.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

struct number_row {
    const char *name;
    double value;
};

struct flag_row {
    const char *name;
    bool value;
};

/* jansson keeps a failure of any step as a NULL object, which the dump then refuses. */
static void put_numbers(json_t *object, const struct number_row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++)
        (void)json_object_set_new(object, rows[i].name,
                                  isfinite(rows[i].value) ? json_real(rows[i].value) : json_null());
}

static void put_flags(json_t *object, const struct flag_row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++)
        (void)json_object_set_new(object, rows[i].name, json_boolean(rows[i].value));
}

static json_t *outputs_json(const struct plant_inputs *inputs)
{
    const struct number_row rows[] = {
        {"heater_on", inputs->heater_on},
        {"heater_power_pct", inputs->heater_power_pct},
        {"stirrer_on", inputs->stirrer_on},
        {"stirrer_set_rpm", inputs->stirrer_set_rpm},
        {"water_valve_open", inputs->water_valve_open},
        {"dose_pump_on", inputs->dose_pump_on},
        {"dose_ml_min", inputs->dose_ml_min},
    };
    json_t *object = json_object();

    put_numbers(object, rows, sizeof rows / sizeof *rows);
    return object;
}

static void put_truth(json_t *object, const struct world *world, const struct plant_truth *t)
{
    const struct plant *plant = &world->plant;
    const struct number_row numbers[] = {
        {"water_kg", t->water_kg},
        {"dissolved_kg", t->dissolved_kg},
        {"solid_kg", t->solid_kg},
        {"acid_mol", t->acid_mol},
        {"liquid_kg", t->liquid_kg},
        {"strength_pct", t->strength_pct},
        {"final_strength_pct", t->final_strength_pct},
        {"ph", t->ph},
        {"probe_ph", t->probe_ph},
        {"probe_strength_pct", t->probe_strength_pct},
        {"liquid_c", t->liquid_c},
        {"probe_c", t->probe_c},
        {"element_c", t->element_c},
        {"volume_l", t->volume_l},
        {"heater_kw", t->heater_kw},
        {"stirrer_rpm", t->stirrer_rpm},
        {"valve_l", plant->totals.valve_l},
        {"acid_ml", plant->totals.acid_ml},
        {"sugar_in_kg", plant->totals.sugar_in_kg},
        {"water_in_kg", plant->totals.water_in_kg},
        {"evaporated_kg", plant->totals.evaporated_kg},
        {"alkalinity_meq_kg", plant->params.alkalinity_meq_kg},
    };
    const struct flag_row flags[] = {
        {"boiled", t->boiled},
        {"dry_heated", t->dry_heated},
        {"overflowed", t->overflowed},
        {"lid_closed", plant->lid_closed},
        {"chain_closed", plant_chain_closed(plant)},
        {"contactor_closed", plant->contactor_closed},
        {"limiter_tripped", plant->limiter_tripped},
    };

    (void)json_object_set_new(object, "tank_us", json_integer(world->tank_us));
    put_numbers(object, numbers, sizeof numbers / sizeof *numbers);
    put_flags(object, flags, sizeof flags / sizeof *flags);
    (void)json_object_set_new(object, "bags", json_integer(plant->totals.bags));
    (void)json_object_set_new(object, "outputs", outputs_json(&world->inputs));
}

void acts_truth(const struct world *world, char *reply, size_t size)
{
    struct plant_truth truth;
    json_t *object = json_object();
    char *text;

    plant_truth_get(&world->plant, &truth);
    put_truth(object, world, &truth);
    text = json_dumps(object, JSON_COMPACT | JSON_REAL_PRECISION(8));
    (void)snprintf(reply, size, "%s", text != NULL ? text : "error no memory left for the answer");
    free(text);
    json_decref(object);
}
