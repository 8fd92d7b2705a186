#include "plan/plan_parts.h"

#include <stddef.h>
#include <string.h>

struct field {
    const char *name;  /* as in the settings and the protocol */
    const char *label; /* as in a sentence */
    const char *unit;
    size_t offset;
    double min;
    double max;
    bool or_zero; /* 0 says that there is none */
};

/* clang-format off */
#define FIELD(type, name, label, unit, min, max) \
    {#name, label, unit, offsetof(struct type, name), min, max, false}
#define FIELD_OR_ZERO(type, name, label, unit, min, max) \
    {#name, label, unit, offsetof(struct type, name), min, max, true}
/* clang-format on */

static const struct field REQUEST_FIELDS[] = {
    FIELD(plan_request, strength_pct, "strength", " %", 30, 70),
    FIELD(plan_request, alkalinity_meq_kg, "alkalinity of the water", " meq/kg", 0, 20),
    FIELD(plan_request, water_temp_c, "temperature of the water", " °C", 0, 60),
    FIELD(plan_request, sugar_temp_c, "temperature of the sugar", " °C", -20, 45),
    FIELD(plan_request, room_temp_c, "temperature of the room", " °C", -20, 50),
    FIELD(plan_request, storage_min_temp_c, "lowest storage temperature", " °C", -20, 40),
    FIELD(plan_request, bag_kg, "weight of a bag", " kg", 0.5, 1500),
};
static const struct field VOLUME_FIELD = FIELD(plan_request, volume_l, "volume of finished syrup", " L", 1,
                                               20000);
static const struct field MASS_FIELD = FIELD(plan_request, mass_kg, "mass of finished syrup", " kg", 1,
                                             30000);
static const struct field PH_FIELD = FIELD(plan_request, target_ph, "acidity aimed at", " pH", 3.5, 5.5);

static const struct field TANK_FIELDS[] = {
    FIELD(tank_facts, capacity_l, "tank's capacity", " L", 20, 50000),
    FIELD(tank_facts, heater_cover_l, "liquid that covers the heater", " L", 1, 50000),
    FIELD(tank_facts, heater_kw, "heater's power", " kW", 0.1, 1000),
    FIELD_OR_ZERO(tank_facts, water_l_min, "water flow", " L/min", 0.1, 5000),
    FIELD_OR_ZERO(tank_facts, dose_ml_min, "rate of the acid pump", " mL/min", 0.1, 100000),
    FIELD_OR_ZERO(tank_facts, dose_min_pulse_ml, "smallest acid pulse", " mL", 0.001, 10000),
    FIELD(tank_facts, heat_loss_w_k, "heat loss", " W/K", 0, 5000),
    FIELD_OR_ZERO(tank_facts, acid_stock_pct, "strength of the acid solution", " %", 0.01, 100),
    FIELD(tank_facts, tolerance_pct, "tolerance of the strength", " %", 0.01, 10),
    FIELD(tank_facts, tolerance_ph, "tolerance of the acidity", " pH", 0.01, 2),
    FIELD(tank_facts, mixing_s, "mixing time", " s", 0, 3600),
};

static const struct field LIMIT_FIELDS[] = {
    FIELD(limits, liquid_max_c, "limit of the liquid", " °C", 40, 95),
    FIELD(limits, sugar_max_c, "limit for adding sugar", " °C", 20, 95),
    FIELD(limits, dose_max_c, "limit for adding acid", " °C", 0, 95),
    FIELD(limits, fill_max_s, "time limit for filling", " s", 1, 1e7),
    FIELD(limits, acidify_max_s, "time limit for acidifying", " s", 1, 1e7),
    FIELD(limits, heat_max_s, "time limit for heating", " s", 1, 1e7),
    FIELD(limits, dissolve_max_s, "time limit for dissolving", " s", 1, 1e7),
};

static enum status check_field(const void *base, const struct field *field, const char *whose,
                               struct fault *f)
{
    double value;

    memcpy(&value, (const char *)base + field->offset, sizeof value);
    if ((value >= field->min && value <= field->max) || (field->or_zero && value == 0))
        return ST_OK;
    return fault_set(f, ST_RANGE, field->name, "%s %s is %g%s; allowed is %s%g to %g%s.", whose, field->label,
                     value, field->unit, field->or_zero ? "0 or " : "", field->min, field->max, field->unit);
}

static enum status check_fields(const void *base, const struct field *fields, size_t count, const char *whose,
                                struct fault *f)
{
    for (size_t i = 0; i < count; i++) {
        enum status status = check_field(base, &fields[i], whose, f);

        if (status != ST_OK)
            return status;
    }
    return ST_OK;
}

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

static enum status check_size(const struct plan_request *r, struct fault *f)
{
    if (r->volume_l != 0 && r->mass_kg != 0)
        return fault_set(f, ST_RANGE, "volume_l",
                         "Both a volume (%g L) and a mass (%g kg) are given; give one of them.", r->volume_l,
                         r->mass_kg);
    if (r->volume_l == 0 && r->mass_kg == 0)
        return fault_set(f, ST_RANGE, "volume_l",
                         "No size is given; say how many litres or how many kilograms of finished syrup.");
    return check_field(r, r->volume_l != 0 ? &VOLUME_FIELD : &MASS_FIELD, "The", f);
}

static enum status check_acid(struct plan_request *r, struct fault *f)
{
    if ((unsigned)r->acid >= ACID_COUNT)
        return fault_set(f, ST_RANGE, "acid", "There is no acid number %d; allowed is 0 (none) to %d.",
                         (int)r->acid, ACID_COUNT - 1);
    if (r->acid == ACID_NONE) {
        r->target_ph = 0;
        return ST_OK;
    }
    return check_field(r, &PH_FIELD, "The", f);
}

/* An ended text without control characters; empty becomes "not given". */
static enum status check_text(char text[PLAN_NAME_MAX], const char *name, struct fault *f)
{
    static const char NOT_GIVEN[] = "not given";

    if (memchr(text, '\0', PLAN_NAME_MAX) == NULL)
        return fault_set(f, ST_RANGE, name, "The text for %s is too long; allowed are %d characters.", name,
                         PLAN_NAME_MAX - 1);
    for (const char *c = text; *c != '\0'; c++)
        if ((unsigned char)*c < ' ' || *c == 0x7f)
            return fault_set(f, ST_RANGE, name, "The text for %s has a control character in it.", name);
    if (text[0] == '\0')
        memcpy(text, NOT_GIVEN, sizeof NOT_GIVEN);
    return ST_OK;
}

static enum status check_texts(struct plan_request *r, struct fault *f)
{
    enum status status = check_text(r->sugar_lot, "sugar_lot", f);

    if (status == ST_OK)
        status = check_text(r->acid_lot, "acid_lot", f);
    if (status == ST_OK)
        status = check_text(r->water_source, "water_source", f);
    return status;
}

static void default_number(double *value, double preset)
{
    if (*value == 0)
        *value = preset;
}

enum status plan_check_inputs(struct job *job)
{
    struct plan_request *r = &job->plan.request;
    const struct tank_facts *t = job->tank;
    enum status status = check_size(r, job->f);

    default_number(&r->bag_kg, t->bag_kg);
    default_number(&r->alkalinity_meq_kg, t->alkalinity_meq_kg);
    default_number(&r->water_temp_c, t->water_temp_c);
    default_number(&r->sugar_temp_c, t->sugar_temp_c);
    default_number(&r->room_temp_c, r->sugar_temp_c);
    default_number(&r->storage_min_temp_c, t->storage_min_temp_c);
    if (status == ST_OK && r->strength_pct == 0)
        status = fault_set(job->f, ST_RANGE, "strength_pct",
                           "No strength is given; allowed is 30 to 70 %% by weight.");
    if (status == ST_OK)
        status = check_fields(r, REQUEST_FIELDS, COUNT(REQUEST_FIELDS), "The", job->f);
    if (status == ST_OK)
        status = check_acid(r, job->f);
    if (status == ST_OK)
        status = check_texts(r, job->f);
    if (status == ST_OK)
        status = check_fields(t, TANK_FIELDS, COUNT(TANK_FIELDS), "Tank file: the", job->f);
    if (status == ST_OK)
        status = check_fields(job->limits, LIMIT_FIELDS, COUNT(LIMIT_FIELDS), "Tank file: the", job->f);
    return status;
}
