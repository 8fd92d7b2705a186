#include "records/flight.h"

#include "records/bytes.h"

#include <assert.h>
#include <string.h>

/* First byte of a scan. */
#define SCAN_ON_BEAT 1u    /* one period after the last */
#define SCAN_UTC_STEADY 2u /* UTC moved as far as tank time */
#define SCAN_UTC_SYNCED 4u
#define SCAN_DURABLE 8u /* the acknowledged intention changed */
#define SCAN_READINGS 16u
#define SCAN_COMMANDS 32u
#define SCAN_PLAN 64u

/* First byte of a reading: the point in the low bits. */
#define READING_POINT 31u
#define READING_SAME_AGE 32u
#define READING_SAME_QUALITY 64u
#define READING_SAME_VALUE 128u

_Static_assert(POINT_INPUT_COUNT <= READING_POINT + 1, "a point must fit into the low bits");

/* Differences wrap: any two times have one, and adding it gives the same time back. */
static int64_t difference(int64_t later, int64_t earlier)
{
    return (int64_t)((uint64_t)later - (uint64_t)earlier);
}

static int64_t sum(int64_t time, int64_t step)
{
    return (int64_t)((uint64_t)time + (uint64_t)step);
}

/* ---- the plan, by table ---------------------------------------------------------------------- */

enum field_type { FIELD_DOUBLE, FIELD_TEXT };

struct field {
    enum field_type type;
    size_t offset;
    size_t count; /* doubles, or bytes of text */
};

#define DOUBLES(member, number)                                                                              \
    {                                                                                                        \
        FIELD_DOUBLE, offsetof(struct batch_plan, member), number                                            \
    }
#define TEXT(member)                                                                                         \
    {                                                                                                        \
        FIELD_TEXT, offsetof(struct batch_plan, member), sizeof(((struct batch_plan *)0)->member)            \
    }

static const struct field PLAN_FIELDS[] = {
    TEXT(batch_id),
    DOUBLES(request.volume_l, 1),
    DOUBLES(request.mass_kg, 1),
    DOUBLES(request.strength_pct, 1),
    DOUBLES(request.target_ph, 1),
    DOUBLES(request.alkalinity_meq_kg, 1),
    DOUBLES(request.water_temp_c, 1),
    DOUBLES(request.sugar_temp_c, 1),
    DOUBLES(request.room_temp_c, 1),
    DOUBLES(request.storage_min_temp_c, 1),
    DOUBLES(request.bag_kg, 1),
    TEXT(request.sugar_lot),
    TEXT(request.acid_lot),
    TEXT(request.water_source),
    DOUBLES(sugar_kg, 1),
    DOUBLES(water_kg, 1),
    DOUBLES(final_kg, 1),
    DOUBLES(final_l, 1),
    DOUBLES(fill_kg, 1),
    DOUBLES(acid_stock_pct, 1),
    DOUBLES(acid_stock_kg_l, 1),
    DOUBLES(acid_g, 1),
    DOUBLES(acid_ml, 1),
    DOUBLES(acid_ceiling_ml, 1),
    DOUBLES(preheat_c, 1),
    DOUBLES(dissolve_c, 1),
    DOUBLES(saturated_below_c, 1),
    DOUBLES(tolerance_pct, 1),
    DOUBLES(tolerance_ph, 1),
    DOUBLES(predicted_s[0], sizeof(((struct batch_plan *)0)->predicted_s) / sizeof(double)),
};
#define PLAN_FIELD_COUNT (sizeof PLAN_FIELDS / sizeof PLAN_FIELDS[0])

static void put_plan(struct sink *sink, const struct batch_plan *plan)
{
    put_signed(sink, (int)plan->request.acid);
    put_signed(sink, plan->bags);
    for (size_t i = 0; i < PLAN_FIELD_COUNT; i++) {
        const struct field *field = &PLAN_FIELDS[i];
        const char *at = (const char *)plan + field->offset;

        if (field->type == FIELD_TEXT)
            put_text(sink, at, field->count);
        for (size_t k = 0; field->type == FIELD_DOUBLE && k < field->count; k++)
            put_double(sink, (const double *)(const void *)at + k);
    }
}

static void take_plan(struct source *source, struct batch_plan *plan)
{
    int64_t bags;

    plan->request.acid = (enum acid)take_index(source, ACID_COUNT);
    bags = take_signed(source);
    if (bags < INT32_MIN || bags > INT32_MAX)
        source->is_damaged = true;
    else
        plan->bags = (int)bags;
    for (size_t i = 0; i < PLAN_FIELD_COUNT; i++) {
        const struct field *field = &PLAN_FIELDS[i];
        char *at = (char *)plan + field->offset;

        if (field->type == FIELD_TEXT)
            take_text(source, at, field->count);
        for (size_t k = 0; field->type == FIELD_DOUBLE && k < field->count; k++)
            take_double(source, (double *)(void *)at + k);
    }
}

/* ---- commands and readings ------------------------------------------------------------------- */

static void put_command(struct sink *sink, const struct command *command)
{
    put_number(sink, command->id);
    put_signed(sink, (int)command->verb);
    put_number(sink, command->who.uid);
    put_signed(sink, (int)command->who.role);
    put_signed(sink, (int)command->who.door);
    put_text(sink, command->who.name, sizeof command->who.name);
    put_number(sink, command->prompt_id);
    put_signed(sink, (int)command->answer);
    put_double(sink, &command->number);
    if (command->verb != VERB_COMPARE) /* so that streams from before this verb still read */
        return;
    put_signed(sink, (int)command->point);
    put_double(sink, &command->expanded_u);
}

static void take_command(struct source *source, struct command *command)
{
    command->id = take_number(source);
    command->verb = (enum verb)take_index(source, VERB_COUNT);
    command->who.uid = (uint32_t)take_number(source);
    command->who.role = (enum role)take_index(source, ROLE_COUNT);
    command->who.door = (enum door)take_index(source, DOOR_COUNT);
    take_text(source, command->who.name, sizeof command->who.name);
    command->prompt_id = (uint32_t)take_number(source);
    command->answer = (enum answer)take_index(source, ANSWER_COUNT);
    take_double(source, &command->number);
    if (command->verb != VERB_COMPARE)
        return;
    command->point = (enum point)take_index(source, POINT_INPUT_COUNT);
    take_double(source, &command->expanded_u);
}

static uint64_t double_bits(double value)
{
    uint64_t bits;

    memcpy(&bits, &value, sizeof bits);
    return bits;
}

static void put_reading(struct sink *sink, struct flight *flight, int64_t scan_us,
                        const struct scan_reading *item)
{
    unsigned point = (unsigned)item->point;
    struct reading *last = &flight->last[point < POINT_INPUT_COUNT ? point : 0];
    const struct reading *now = &item->reading;
    int64_t age_us = difference(scan_us, now->at_us);
    bool same_age = age_us == flight->age_us[point];
    bool same_quality = now->quality == last->quality && now->reason == last->reason;
    bool same_value = double_bits(now->value) == double_bits(last->value); /* also for NAN and -0 */

    assert(point < POINT_INPUT_COUNT);
    put_byte(sink, point | (same_age ? READING_SAME_AGE : 0) | (same_quality ? READING_SAME_QUALITY : 0) |
                       (same_value ? READING_SAME_VALUE : 0));
    if (!same_age)
        put_signed(sink, age_us);
    if (!same_quality) {
        put_signed(sink, (int)now->quality);
        put_signed(sink, (int)now->reason);
    }
    if (!same_value)
        put_double(sink, &now->value);
    flight->age_us[point] = age_us;
    *last = *now;
}

static void take_reading(struct source *source, struct flight *flight, int64_t scan_us,
                         struct scan_reading *item)
{
    unsigned head = take_byte(source);
    unsigned point = head & READING_POINT;

    if (point >= POINT_INPUT_COUNT) {
        source->is_damaged = true;
        return;
    }
    if ((head & READING_SAME_AGE) == 0)
        flight->age_us[point] = take_signed(source);
    if ((head & READING_SAME_QUALITY) == 0) {
        flight->last[point].quality = (enum quality)take_index(source, QUALITY_GOOD + 1);
        flight->last[point].reason = (enum reason)take_index(source, REASON_COUNT);
    }
    if ((head & READING_SAME_VALUE) == 0)
        take_double(source, &flight->last[point].value);
    flight->last[point].at_us = difference(scan_us, flight->age_us[point]);
    item->point = (enum point)point;
    item->reading = flight->last[point];
}

/* ---- scans ----------------------------------------------------------------------------------- */

void flight_start(struct flight *flight)
{
    memset(flight, 0, sizeof *flight);
}

/* The check cannot see that the sink writes through its pointer. */
// NOLINTNEXTLINE(readability-non-const-parameter)
size_t flight_encode(struct flight *flight, const struct scan_in *in, unsigned char to[FLIGHT_SCAN_MAX])
{
    struct sink sink = {to, FLIGHT_SCAN_MAX, 0};
    int64_t step = difference(in->scan_us, flight->scan_us);
    int64_t utc_step = difference(in->utc_us, flight->utc_us);
    bool durable = in->durable_intent != flight->durable_intent;

    assert(in->reading_count >= 0 && in->reading_count <= POINT_INPUT_COUNT);
    assert(in->command_count >= 0 && in->command_count <= SCAN_COMMANDS_MAX);
    put_byte(&sink, (step == SCAN_PERIOD_US ? SCAN_ON_BEAT : 0) | (utc_step == step ? SCAN_UTC_STEADY : 0) |
                        (in->utc_synced ? SCAN_UTC_SYNCED : 0) | (durable ? SCAN_DURABLE : 0) |
                        (in->reading_count > 0 ? SCAN_READINGS : 0) |
                        (in->command_count > 0 ? SCAN_COMMANDS : 0) | (in->has_plan ? SCAN_PLAN : 0));
    if (step != SCAN_PERIOD_US)
        put_signed(&sink, step);
    if (utc_step != step)
        put_signed(&sink, utc_step);
    if (durable)
        put_number(&sink, in->durable_intent);
    if (in->reading_count > 0)
        put_byte(&sink, (unsigned)in->reading_count);
    for (int i = 0; i < in->reading_count; i++)
        put_reading(&sink, flight, in->scan_us, &in->readings[i]);
    if (in->command_count > 0)
        put_byte(&sink, (unsigned)in->command_count);
    for (int i = 0; i < in->command_count; i++)
        put_command(&sink, &in->commands[i]);
    if (in->has_plan)
        put_plan(&sink, &in->plan);
    flight->scan_us = in->scan_us;
    flight->utc_us = in->utc_us;
    flight->durable_intent = in->durable_intent;
    return sink.used;
}

static void take_head(struct source *source, struct flight *flight, unsigned head, struct scan_in *in)
{
    int64_t step = (head & SCAN_ON_BEAT) != 0 ? SCAN_PERIOD_US : take_signed(source);
    int64_t utc_step = (head & SCAN_UTC_STEADY) != 0 ? step : take_signed(source);

    if ((head & SCAN_DURABLE) != 0)
        flight->durable_intent = take_number(source);
    flight->scan_us = sum(flight->scan_us, step);
    flight->utc_us = sum(flight->utc_us, utc_step);
    in->scan_us = flight->scan_us;
    in->utc_us = flight->utc_us;
    in->utc_synced = (head & SCAN_UTC_SYNCED) != 0;
    in->durable_intent = flight->durable_intent;
}

/* How many readings or commands follow: 1 to limit. */
static int take_count(struct source *source, int limit)
{
    int count = (int)take_byte(source);

    if (count < 1 || count > limit) {
        source->is_damaged = true;
        return 0;
    }
    return count;
}

enum status flight_decode(struct flight *flight, const unsigned char *from, size_t count, size_t *used,
                          struct scan_in *in, struct fault *f)
{
    struct source source = {from, count, false};
    unsigned head = take_byte(&source);

    memset(in, 0, sizeof *in);
    take_head(&source, flight, head, in);
    if ((head & SCAN_READINGS) != 0)
        in->reading_count = take_count(&source, POINT_INPUT_COUNT);
    for (int i = 0; i < in->reading_count; i++)
        take_reading(&source, flight, in->scan_us, &in->readings[i]);
    if ((head & SCAN_COMMANDS) != 0)
        in->command_count = take_count(&source, SCAN_COMMANDS_MAX);
    for (int i = 0; i < in->command_count; i++)
        take_command(&source, &in->commands[i]);
    in->has_plan = (head & SCAN_PLAN) != 0;
    if (in->has_plan)
        take_plan(&source, &in->plan);
    *used = count - source.left;
    if (source.is_damaged || (head & 128u) != 0)
        return fault_set(f, ST_BAD_REPLY, "flight recording",
                         "the recorded scan inputs are damaged or cut short; the batch cannot be replayed "
                         "from here on");
    return ST_OK;
}
