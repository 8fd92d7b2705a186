/* kit.h - a folder, settings, a batch and scans for the tests of the record. */
#ifndef TESTS_RECORDS_KIT_H
#define TESTS_RECORDS_KIT_H

#include "records/inside.h"
#include "support/folder.h"
#include "support/support.h"

#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#define KIT_UNUSED __attribute__((unused))
#define KIT_UTC_US 1772366400000000LL /* 2026-03-01T12:00:00Z */

static KIT_UNUSED char kit_path[TEST_FOLDER_MAX];

static KIT_UNUSED void kit_begin(void)
{
    (void)test_folder_template(kit_path, "sw-records");
    ck_assert_ptr_nonnull(mkdtemp(kit_path));
}

static int kit_remove_one(const char *path, const struct stat *facts, int type, struct FTW *place)
{
    (void)facts;
    (void)type;
    (void)place;
    return remove(path);
}

static KIT_UNUSED void kit_end(void)
{
    ck_assert_int_eq(nftw(kit_path, kit_remove_one, 16, FTW_DEPTH | FTW_PHYS), 0);
}

static KIT_UNUSED const char *kit_file(const char *name)
{
    static char path[320];

    (void)snprintf(path, sizeof path, "%s/records/%s", kit_path, name);
    return path;
}

static KIT_UNUSED void kit_settings_make(struct settings *settings, bool is_simulated)
{
    memset(settings, 0, sizeof *settings);
    (void)snprintf(settings->tank_name, sizeof settings->tank_name, "Big tank");
    (void)snprintf(settings->farm_name, sizeof settings->farm_name, "Larkmoor Apiary");
    (void)snprintf(settings->records_path, sizeof settings->records_path, "%s/records", kit_path);
    memset(settings->hash_hex, 'a', 64);
    settings->is_simulated = is_simulated;
    settings->setup.is_simulated = is_simulated;
    settings->setup.points[POINT_TANK_TEMP_C] = (struct point_setup){
        .is_bound = true, .max_age_s = 5, .max = 130, .uncertainty = 0.3};
    settings->setup.points[POINT_ACIDITY_PH] = (struct point_setup){
        .is_bound = true, .max_age_s = 5, .max = 14, .uncertainty = 0.03};
    settings->setup.points[POINT_HEATER_ON] = (struct point_setup){.is_bound = true, .max = 1};
}

static KIT_UNUSED struct records *kit_open(const struct settings *settings)
{
    struct records *records = NULL;
    struct fault f = {0};

    ck_assert_msg(records_open(settings, NULL, 0, &records, &f) == ST_OK, "%s: %s", f.where, f.text);
    return records;
}

/* A batch of Larkmoor Apiary that met its targets. */
static KIT_UNUSED void kit_memory_make(struct batch_memory *memory, const char *batch)
{
    memset(memory, 0, sizeof *memory);
    memory->layout = MEMORY_LAYOUT;
    memory->has_batch = true;
    memory->state = STATE_RUNNING;
    memory->step = STEP_CHARGE;
    (void)snprintf(memory->plan.batch_id, sizeof memory->plan.batch_id, "%s", batch);
    memory->plan.request.strength_pct = 61.5;
    memory->plan.request.acid = ACID_CITRIC;
    memory->plan.request.target_ph = 4.5;
    memory->plan.request.bag_kg = 25;
    (void)snprintf(memory->plan.request.sugar_lot, PLAN_NAME_MAX, "Hollin Sugar 4711");
    (void)snprintf(memory->plan.request.acid_lot, PLAN_NAME_MAX, "Brackwater Chemicals C-12");
    (void)snprintf(memory->plan.request.water_source, PLAN_NAME_MAX, "well in the yard");
    memory->plan.bags = 24;
    memory->plan.acid_stock_pct = 20;
    memory->plan.acid_stock_kg_l = 1.08;
    memory->plan.tolerance_pct = 0.5;
    memory->plan.tolerance_ph = 0.3;
    memory->next_intent = 12;
    memory->water_in_l = 375.5;
    memory->acid_in_ml = 210.4;
    memory->sugar_in_kg = 600;
    memory->bags_in = 24;
    memory->started_utc_us = KIT_UTC_US;
    memory->ended_utc_us = KIT_UTC_US + 3 * 3600 * 1000000LL;
    memory->running_s = 10000;
    memory->waiting_s = 1800;
    memory->peak_temp_c = 58.3;
    memory->above_40_s = 6000;
    memory->above_50_s = 4000;
    memory->heater_kwh = 42.17;
    memory->has_water_ph = true;
    memory->water_ph = 4.52;
    memory->water_ph_u = 0.03;
    memory->has_strength = true;
    memory->strength_pct = 61.43;
    memory->strength_u_pct = 0.07;
    memory->strength_temp_c = 31.2;
    memory->has_syrup_ph = true;
    memory->syrup_ph = 4.93;
    memory->started_by = (struct who){
        .uid = 1000, .role = ROLE_OPERATOR, .door = DOOR_SHELL, .name = "operator-1"};
}

static KIT_UNUSED void kit_event(struct scan_out *out, enum event_kind kind, int a, uint64_t intent,
                                 double value)
{
    struct event *event = &out->events[out->event_count++];

    *event = (struct event){.kind = kind, .a = a, .b = -1, .intent = intent, .value = value};
    event->who.door = DOOR_SELF;
}

/* Post one scan at this tank time. */
static KIT_UNUSED void kit_post(struct records *records, int64_t scan_us, struct scan_out *out,
                                const struct batch_memory *memory)
{
    struct scan_in in;

    memset(&in, 0, sizeof in);
    in.scan_us = scan_us;
    in.utc_us = KIT_UTC_US + scan_us;
    in.utc_synced = true;
    in.reading_count = 1;
    in.readings[0].point = POINT_TANK_TEMP_C;
    in.readings[0].reading = (struct reading){
        .value = 45.5, .at_us = scan_us - 40000, .quality = QUALITY_GOOD};
    for (int i = 0; i < out->event_count; i++) {
        out->events[i].scan_us = scan_us;
        out->events[i].utc_us = in.utc_us;
    }
    records_post_scan(records, &in, out, memory);
}

static KIT_UNUSED void kit_sleep_ms(long ms)
{
    struct timespec pause = {ms / 1000, (ms % 1000) * 1000000};

    (void)nanosleep(&pause, NULL);
}

/* True when the intention is durable within half a minute: the machine may be busy. */
static KIT_UNUSED bool kit_wait_durable(struct records *records, uint64_t intent)
{
    struct records_status status = {0};

    for (int i = 0; i < 30000; i++) {
        records_status_get(records, &status);
        if (status.durable_intent == intent)
            return true;
        kit_sleep_ms(1);
    }
    return false;
}

/* Run SQL on the file as an outsider would. */
static KIT_UNUSED void kit_tamper(const char *sql)
{
    struct store *store = NULL;
    struct fault f = {0};

    ck_assert_msg(store_open_writer(kit_file(SCHEMA_FILE), &store, &f) == ST_OK, "%s", f.text);
    ck_assert_msg(store_run(store, sql, &f) == ST_OK, "%s: %s", sql, f.text);
    store_close(store);
}

static KIT_UNUSED int64_t kit_count(const char *sql)
{
    struct store *store = NULL;
    struct fault f = {0};
    int64_t number = -1;

    ck_assert_msg(store_open_reader(kit_file(SCHEMA_FILE), &store, &f) == ST_OK, "%s", f.text);
    ck_assert_msg(store_number(store, sql, NULL, 0, &number, NULL, &f) == ST_OK, "%s: %s", sql, f.text);
    store_close(store);
    return number;
}

#endif
