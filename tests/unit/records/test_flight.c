#include "records/flight.h"
#include "support/support.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static uint64_t seed = 88172645463325252u;

/* xorshift64, Marsaglia (2003) */
static uint64_t draw(void)
{
    seed ^= seed << 13;
    seed ^= seed >> 7;
    seed ^= seed << 17;
    return seed;
}

static int draw_below(int limit)
{
    return (int)(draw() % (uint64_t)limit);
}

/* Any bits: also not-a-number, infinities, denormals, minus zero. */
static double draw_double(void)
{
    uint64_t bits = draw_below(4) == 0 ? draw() : 0;
    double value;

    memcpy(&value, &bits, sizeof value);
    return bits != 0 ? value : (double)draw_below(10000) / 100;
}

static void draw_text(char *text, size_t size)
{
    int length = draw_below((int)size);

    for (int i = 0; i < length; i++)
        text[i] = (char)(1 + draw_below(255));
}

static void draw_plan(struct batch_plan *plan)
{
    struct plan_request *request = &plan->request;
    double *const doubles[] = {
        &request->volume_l,
        &request->mass_kg,
        &request->strength_pct,
        &request->target_ph,
        &request->alkalinity_meq_kg,
        &request->water_temp_c,
        &request->sugar_temp_c,
        &request->room_temp_c,
        &request->storage_min_temp_c,
        &request->bag_kg,
        &plan->sugar_kg,
        &plan->water_kg,
        &plan->final_kg,
        &plan->final_l,
        &plan->fill_kg,
        &plan->acid_stock_pct,
        &plan->acid_stock_kg_l,
        &plan->acid_g,
        &plan->acid_ml,
        &plan->acid_ceiling_ml,
        &plan->preheat_c,
        &plan->dissolve_c,
        &plan->saturated_below_c,
        &plan->tolerance_pct,
        &plan->tolerance_ph,
    };

    for (size_t i = 0; i < sizeof doubles / sizeof doubles[0]; i++)
        *doubles[i] = draw_double();
    for (int i = 0; i < 16; i++)
        plan->predicted_s[i] = draw_double();
    request->acid = (enum acid)draw_below(ACID_COUNT);
    plan->bags = (int)(uint32_t)draw();
    draw_text(plan->batch_id, sizeof plan->batch_id);
    draw_text(request->sugar_lot, sizeof request->sugar_lot);
    draw_text(request->acid_lot, sizeof request->acid_lot);
    draw_text(request->water_source, sizeof request->water_source);
}

static void draw_command(struct command *command)
{
    command->id = draw();
    command->verb = (enum verb)draw_below(VERB_COUNT);
    command->who.uid = (uint32_t)draw();
    command->who.role = (enum role)draw_below(ROLE_COUNT);
    command->who.door = (enum door)draw_below(DOOR_COUNT);
    draw_text(command->who.name, sizeof command->who.name);
    command->prompt_id = (uint32_t)draw();
    command->answer = (enum answer)draw_below(ANSWER_COUNT);
    command->number = draw_double();
}

static void draw_scan(struct scan_in *in, int64_t scan_us)
{
    memset(in, 0, sizeof *in);
    in->scan_us = draw_below(50) == 0 ? (int64_t)draw() : scan_us;
    in->utc_us = draw_below(50) == 0 ? (int64_t)draw() : 1772366400000000 + scan_us;
    in->utc_synced = draw_below(2) == 1;
    in->durable_intent = draw_below(10) == 0 ? draw() : 5;
    in->reading_count = draw_below(3) == 0 ? draw_below(POINT_INPUT_COUNT + 1) : 0;
    for (int i = 0; i < in->reading_count; i++) {
        in->readings[i].point = (enum point)draw_below(POINT_INPUT_COUNT);
        in->readings[i].reading.value = draw_double();
        in->readings[i].reading.at_us = draw_below(9) == 0 ? (int64_t)draw() : scan_us - 40000;
        in->readings[i].reading.quality = (enum quality)draw_below(QUALITY_GOOD + 1);
        in->readings[i].reading.reason = (enum reason)draw_below(REASON_COUNT);
    }
    in->command_count = draw_below(20) == 0 ? draw_below(SCAN_COMMANDS_MAX + 1) : 0;
    for (int i = 0; i < in->command_count; i++)
        draw_command(&in->commands[i]);
    in->has_plan = draw_below(30) == 0;
    if (in->has_plan)
        draw_plan(&in->plan);
}

START_TEST(what_comes_back_is_bit_for_bit_what_went_in)
{
    static unsigned char bytes[FLIGHT_SCAN_MAX];
    struct flight encoder, decoder;
    struct scan_in in, back;
    size_t used;

    flight_start(&encoder);
    flight_start(&decoder);
    for (int i = 0; i < 20000; i++) {
        size_t size;

        draw_scan(&in, (int64_t)i * SCAN_PERIOD_US);
        size = flight_encode(&encoder, &in, bytes);
        ck_assert_int_eq(flight_decode(&decoder, bytes, size, &used, &back, NULL), ST_OK);
        ck_assert_uint_eq(used, size);
        ck_assert_int_eq(memcmp(&in, &back, sizeof in), 0);
    }
}
END_TEST

START_TEST(scans_follow_one_another_in_one_stream)
{
    static unsigned char bytes[100 * FLIGHT_SCAN_MAX];
    static struct scan_in scans[100];
    struct flight flight;
    struct scan_in back;
    size_t size = 0, at = 0, used;

    flight_start(&flight);
    for (int i = 0; i < 100; i++) {
        draw_scan(&scans[i], (int64_t)i * SCAN_PERIOD_US);
        size += flight_encode(&flight, &scans[i], bytes + size);
    }
    flight_start(&flight);
    for (int i = 0; i < 100; i++, at += used) {
        ck_assert_int_eq(flight_decode(&flight, bytes + at, size - at, &used, &back, NULL), ST_OK);
        ck_assert_int_eq(memcmp(&scans[i], &back, sizeof back), 0);
    }
    ck_assert_uint_eq(at, size);
}
END_TEST

START_TEST(a_quiet_scan_is_one_byte_and_an_unchanged_reading_one_more)
{
    unsigned char bytes[FLIGHT_SCAN_MAX];
    struct flight flight;
    struct scan_in in;

    memset(&in, 0, sizeof in);
    flight_start(&flight);
    for (int i = 0; i < 3; i++) {
        in.scan_us += SCAN_PERIOD_US;
        in.utc_us += SCAN_PERIOD_US;
        in.reading_count = 1;
        in.readings[0].point = POINT_TANK_TEMP_C;
        in.readings[0].reading = (struct reading){
            .value = 45.5, .at_us = in.scan_us - 30000, .quality = QUALITY_GOOD};
        ck_assert_uint_eq(flight_encode(&flight, &in, bytes), i == 0 ? 1 + 1 + 1 + 3 + 2 + 8 : 3);
    }
    in.scan_us += SCAN_PERIOD_US;
    in.utc_us += SCAN_PERIOD_US;
    in.reading_count = 0;
    ck_assert_uint_eq(flight_encode(&flight, &in, bytes), 1);
}
END_TEST

START_TEST(the_largest_scan_fits)
{
    unsigned char bytes[FLIGHT_SCAN_MAX];
    struct flight flight;
    struct scan_in in;

    memset(&in, 0x7f, sizeof in);
    in.utc_synced = in.has_plan = true;
    in.scan_us = INT64_MIN;
    in.utc_us = INT64_MAX;
    in.durable_intent = UINT64_MAX;
    in.reading_count = POINT_INPUT_COUNT;
    for (int i = 0; i < POINT_INPUT_COUNT; i++)
        in.readings[i] = (struct scan_reading){(enum point)i, {-1.5, 7, QUALITY_GOOD, REASON_DEVICE}};
    in.command_count = SCAN_COMMANDS_MAX;
    for (int i = 0; i < SCAN_COMMANDS_MAX; i++)
        in.commands[i].id = UINT64_MAX;
    in.plan.request.acid = ACID_TARTARIC;
    flight_start(&flight);
    ck_assert_uint_lt(flight_encode(&flight, &in, bytes), FLIGHT_SCAN_MAX);
}
END_TEST

START_TEST(every_cut_stream_is_refused)
{
    unsigned char bytes[FLIGHT_SCAN_MAX];
    struct flight flight;
    struct scan_in in, back;
    struct fault f = {0};
    size_t size, used;

    memset(&in, 0, sizeof in);
    in.has_plan = true;
    draw_plan(&in.plan);
    in.command_count = 1;
    draw_command(&in.commands[0]);
    flight_start(&flight);
    size = flight_encode(&flight, &in, bytes);
    for (size_t cut = 0; cut < size; cut++) {
        unsigned char *exact = malloc(cut + 1); /* so that a sanitizer sees one byte too far */

        ck_assert_ptr_nonnull(exact);
        memcpy(exact, bytes, cut);
        flight_start(&flight);
        ck_assert_int_eq(flight_decode(&flight, exact, cut, &used, &back, &f), ST_BAD_REPLY);
        free(exact);
    }
    ck_assert_ptr_nonnull(strstr(f.text, "damaged"));
}
END_TEST

/* No text that was put in has one: what was read could not be written again. */
START_TEST(a_text_with_a_zero_in_it_is_refused)
{
    unsigned char bytes[FLIGHT_SCAN_MAX], *name;
    struct flight flight;
    struct scan_in in, back;
    size_t size, used;

    memset(&in, 0, sizeof in);
    in.command_count = 1;
    memcpy(in.commands[0].who.name, "keeper", sizeof "keeper");
    flight_start(&flight);
    size = flight_encode(&flight, &in, bytes);
    name = memmem(bytes, size, "keeper", 6);
    ck_assert_ptr_nonnull(name);
    name[2] = '\0';
    flight_start(&flight);
    ck_assert_int_eq(flight_decode(&flight, bytes, size, &used, &back, NULL), ST_BAD_REPLY);
}
END_TEST

START_TEST(garbage_is_refused_or_read_as_a_possible_scan)
{
    unsigned char bytes[400];
    struct flight flight;
    struct scan_in in;
    int refused = 0;
    size_t used;

    flight_start(&flight);
    for (int i = 0; i < 50000; i++) {
        size_t size = (size_t)draw_below((int)sizeof bytes);

        for (size_t k = 0; k < size; k++)
            bytes[k] = (unsigned char)draw();
        if (flight_decode(&flight, bytes, size, &used, &in, NULL) != ST_OK) {
            refused++;
            flight_start(&flight);
            continue;
        }
        ck_assert_uint_le(used, size);
        ck_assert_int_le(in.reading_count, POINT_INPUT_COUNT);
        ck_assert_int_le(in.command_count, SCAN_COMMANDS_MAX);
        for (int k = 0; k < in.reading_count; k++)
            ck_assert_int_lt((int)in.readings[k].point, POINT_INPUT_COUNT);
        for (int k = 0; k < in.command_count; k++)
            ck_assert_int_lt((int)in.commands[k].verb, VERB_COUNT);
    }
    ck_assert_int_gt(refused, 25000);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("flight recording");
    TCase *tests = tcase_create("flight");

    tcase_add_test(tests, what_comes_back_is_bit_for_bit_what_went_in);
    tcase_add_test(tests, scans_follow_one_another_in_one_stream);
    tcase_add_test(tests, a_quiet_scan_is_one_byte_and_an_unchanged_reading_one_more);
    tcase_add_test(tests, the_largest_scan_fits);
    tcase_add_test(tests, every_cut_stream_is_refused);
    tcase_add_test(tests, a_text_with_a_zero_in_it_is_refused);
    tcase_add_test(tests, garbage_is_refused_or_read_as_a_possible_scan);
    suite_add_tcase(suite, tests);
    return suite;
}
