#include "settings/settings.h"

#include "runtime/crypto.h"
#include "settings/schema.h"
#include "unit/settings/edit.h"

#include <math.h>

static char text[EDIT_TEXT_MAX];
static struct settings first;

static void environment_clear(void)
{
    ck_assert_int_eq(unsetenv("SYRUPWRIGHT_CONTROL"), 0);
    ck_assert_int_eq(unsetenv("SYRUPWRIGHT_SIM_CLOCK"), 0);
    ck_assert_int_eq(unsetenv("SYRUPWRIGHT_RECORDS"), 0);
    ck_assert_int_eq(unsetenv("SYRUPWRIGHT_SIM_PORT"), 0);
}

static char *print(const struct settings *settings)
{
    char *printed = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&printed, &length);

    ck_assert_ptr_nonnull(to);
    settings_print(settings, to);
    ck_assert_int_eq(fclose(to), 0);
    return printed;
}

START_TEST(the_demo_reads_and_holds_what_it_says)
{
    const struct settings *s = &edit_settings;
    enum status st = settings_read(SOURCE_DIR "/config/tanks/demo.yaml", &edit_settings, &edit_errors);

    ck_assert_msg(st == ST_OK, "%s", edit_all_errors());
    ck_assert_str_eq(s->farm_name, "Larkmoor Apiary");
    ck_assert(s->is_simulated && s->setup.is_simulated);
    ck_assert_int_eq(s->owner_role, ROLE_SUPERVISOR);
    ck_assert_int_eq(s->default_acid, ACID_NONE);
    ck_near(s->setup.tank.capacity_l, 800, 0);
    ck_near(s->setup.limits.heat_max_s, 14400, 0);
    ck_near(s->setup.limits.prompt_remind_s, 900, 0);
    ck_assert(s->setup.tank.charging_grid);
    ck_assert_int_eq(s->bus_count, 2);
    ck_assert_int_eq(s->buses[0].device_count, 6);
    ck_assert_int_eq(s->buses[0].port, 1502);
    ck_assert_str_eq(s->buses[1].name, "lab");
    for (int p = 0; p < POINT_COUNT; p++)
        ck_assert_msg(s->setup.points[p].is_bound, "%s", point_info((enum point)p)->name);
    ck_assert_int_eq((int)strlen(s->hash_hex), 64);
}
END_TEST

START_TEST(a_channel_comes_from_its_profile_and_knows_its_point)
{
    const struct device *io = &edit_settings.buses[0].devices[0];
    const struct channel *level;

    ck_assert_int_eq(settings_read(SOURCE_DIR "/config/tanks/demo.yaml", &edit_settings, &edit_errors),
                     ST_OK);
    level = &io->channels[5];
    ck_assert_str_eq(io->name, "io");
    ck_assert_str_eq(io->profile, "io_module");
    ck_assert_int_eq(io->unit, 4);
    ck_assert_int_eq(io->poll_ms, 100);
    ck_assert(io->has_identity && io->identity_value == 4016 && io->identity_kind == REGISTER_HOLDING);
    ck_assert(io->has_fallback && io->fallback_address == 1 && io->fallback_ms == 3000);
    ck_assert_int_eq(level->point, POINT_LEVEL_BELOW_BRIM);
    ck_assert(level->is_inverted);
    ck_assert_int_eq(level->kind, REGISTER_DISCRETE);
    ck_near(edit_settings.setup.points[POINT_TANK_TEMP_C].resolution, 0.1, 0);
    ck_near(edit_settings.setup.points[POINT_TANK_TEMP_C].max, 120, 0);
    ck_near(edit_settings.setup.points[POINT_TANK_TEMP_C].min, -20, 0);
    ck_near(edit_settings.setup.points[POINT_TANK_TEMP_C].uncertainty, 0.3, 0);
    ck_assert_int_eq(edit_settings.buses[1].devices[1].channels[0].order, LOW_WORD_FIRST);
}
END_TEST

START_TEST(relative_paths_start_at_the_folder_of_the_file)
{
    char folder[TEST_FOLDER_MAX];
    char wanted[TEST_FOLDER_MAX + 16];

    edit_demo(text);
    edit_replace(text, "${SYRUPWRIGHT_CONTROL:-/tmp/syrupwright-demo/control}", "run/control");
    ck_assert_msg(edit_read(text) == ST_OK, "%s", edit_all_errors());
    (void)snprintf(wanted, sizeof wanted, "%s/run/control", test_folder(folder));
    ck_assert_str_eq(edit_settings.control_path, wanted);
}
END_TEST

START_TEST(paths_and_ports_follow_the_environment)
{
    ck_assert_int_eq(setenv("SYRUPWRIGHT_CONTROL", "/run/x/control", 1), 0);
    ck_assert_int_eq(setenv("SYRUPWRIGHT_SIM_CLOCK", "/run/x/clock", 1), 0);
    ck_assert_int_eq(setenv("SYRUPWRIGHT_RECORDS", "/run/x/records", 1), 0);
    ck_assert_int_eq(setenv("SYRUPWRIGHT_SIM_PORT", "2502", 1), 0);
    edit_demo(text);
    ck_assert_msg(edit_read(text) == ST_OK, "%s", edit_all_errors());
    ck_assert_str_eq(edit_settings.control_path, "/run/x/control");
    ck_assert_str_eq(edit_settings.sim_clock_path, "/run/x/clock");
    ck_assert_str_eq(edit_settings.records_path, "/run/x/records");
    ck_assert_int_eq(edit_settings.buses[0].port, 2502);
    ck_assert_int_eq(edit_settings.buses[1].port, 2502);
    ck_assert_int_eq(setenv("SYRUPWRIGHT_SIM_PORT", "25o2", 1), 0);
    ck_assert_int_eq(edit_read(text), ST_SETTINGS);
    ck_assert_int_eq(edit_errors.count, 2);
}
END_TEST

START_TEST(printed_settings_read_back_to_the_same_struct_and_hash)
{
    char *once;
    char *twice;

    edit_demo(text);
    ck_assert_msg(edit_read(text) == ST_OK, "%s", edit_all_errors());
    memcpy(&first, &edit_settings, sizeof first);
    once = print(&first);
    ck_assert_msg(edit_read(once) == ST_OK, "%s", edit_all_errors());
    ck_assert_msg(memcmp(&first, &edit_settings, sizeof first) == 0, "the structs differ");
    twice = print(&edit_settings);
    ck_assert_str_eq(once, twice);
    free(once);
    free(twice);
}
END_TEST

START_TEST(the_hash_is_that_of_the_printed_text_and_follows_a_profile)
{
    char hex[65];
    char *printed;
    struct fault f;

    edit_demo(text);
    ck_assert_int_eq(edit_read(text), ST_OK);
    printed = print(&edit_settings);
    ck_assert_int_eq(crypto_init(&f), ST_OK);
    crypto_sha256_hex(printed, strlen(printed), hex);
    ck_assert_str_eq(hex, edit_settings.hash_hex);
    edit_replace(printed, "scale: 0.1", "scale: 0.2");
    ck_assert_msg(edit_read(printed) == ST_OK, "%s", edit_all_errors());
    ck_assert_str_ne(hex, edit_settings.hash_hex);
    free(printed);
}
END_TEST

static void keys_expect(const char *printed, const struct bind_row *rows)
{
    for (const struct bind_row *row = rows; row->key != NULL; row++) {
        char key[80];

        (void)snprintf(key, sizeof key, "%s:", row->key);
        ck_assert_msg(strstr(printed, key) != NULL, "%s is not printed", row->key);
        if (row->rows != NULL)
            keys_expect(printed, row->rows);
    }
}

START_TEST(every_key_of_the_schema_is_printed)
{
    static const struct bind_row *const TABLES[] = {SCHEMA_TANK_FILE,       SCHEMA_READING, SCHEMA_BUS_KIND,
                                                    SCHEMA_BUS_TCP,         SCHEMA_BUS_RTU, SCHEMA_DEVICE,
                                                    SCHEMA_DEVICE_FALLBACK, SCHEMA_PROFILE, SCHEMA_IDENTITY,
                                                    SCHEMA_FALLBACK,        SCHEMA_CHANNEL};
    char *printed;

    edit_demo(text);
    edit_replace(text,
                 "kind: modbus_tcp\n    host: 127.0.0.1\n    port: ${SYRUPWRIGHT_SIM_PORT:-1502}\n    "
                 "devices:\n      refr",
                 "kind: modbus_rtu\n    path: /dev/ttyS0\n    devices:\n      refr");
    ck_assert_msg(edit_read(text) == ST_OK, "%s", edit_all_errors());
    printed = print(&edit_settings);
    for (size_t i = 0; i < sizeof TABLES / sizeof TABLES[0]; i++)
        keys_expect(printed, TABLES[i]);
    for (int p = 0; p < POINT_COUNT; p++)
        keys_expect(printed, schema_point_rows((enum point)p));
    free(printed);
}
END_TEST

START_TEST(a_serial_bus_reads_and_prints_back)
{
    char *printed;

    edit_demo(text);
    edit_replace(text,
                 "kind: modbus_tcp\n    host: 127.0.0.1\n    port: ${SYRUPWRIGHT_SIM_PORT:-1502}\n    "
                 "devices:\n      refr",
                 "kind: modbus_rtu\n    path: /dev/ttyS0\n    baud: 19200\n    parity: none\n    gap_ms: 7\n "
                 "   devices:\n      refr");
    ck_assert_msg(edit_read(text) == ST_OK, "%s", edit_all_errors());
    ck_assert_int_eq(edit_settings.buses[1].kind, BUS_RTU);
    ck_assert_int_eq(edit_settings.buses[1].baud, 19200);
    ck_assert_int_eq(edit_settings.buses[1].parity, 'N');
    ck_assert_int_eq(edit_settings.buses[1].gap_ms, 7);
    ck_assert_str_eq(edit_settings.buses[1].path, "/dev/ttyS0");
    memcpy(&first, &edit_settings, sizeof first);
    printed = print(&first);
    ck_assert_msg(edit_read(printed) == ST_OK, "%s", edit_all_errors());
    ck_assert_int_eq(memcmp(&first, &edit_settings, sizeof first), 0);
    free(printed);
}
END_TEST

START_TEST(a_device_may_differ_from_its_profile)
{
    edit_demo(text);
    edit_replace(text, "unit: 4, poll_ms: 100}", "unit: 4, poll_ms: 100, reply_ms: 80, fallback_ms: 5000}");
    ck_assert_msg(edit_read(text) == ST_OK, "%s", edit_all_errors());
    ck_assert_int_eq(edit_settings.buses[0].devices[0].reply_ms, 80);
    ck_assert_int_eq(edit_settings.buses[0].devices[0].fallback_ms, 5000);
    ck_assert_int_eq(edit_settings.buses[0].devices[1].reply_ms, 60);
}
END_TEST

START_TEST(a_reading_without_an_age_limit_gets_three_polls)
{
    edit_demo(text);
    edit_replace(text, "channel: ph, max_age_s: 5,", "channel: ph,");
    edit_replace(text, "channel: chain, max_age_s: 2}", "channel: chain}");
    ck_assert_msg(edit_read(text) == ST_OK, "%s", edit_all_errors());
    ck_near(edit_settings.setup.points[POINT_ACIDITY_PH].max_age_s, 3, 0);
    ck_near(edit_settings.setup.points[POINT_CHAIN_OK].max_age_s, 2, 0);
}
END_TEST

START_TEST(a_missing_instrument_is_no_error)
{
    char *printed;

    edit_demo(text);
    edit_replace(text, "\n  strength_pct: {", "\n  # strength_pct: {");
    ck_assert_msg(edit_read(text) == ST_OK, "%s", edit_all_errors());
    ck_assert(!edit_settings.setup.points[POINT_STRENGTH_PCT].is_bound);
    printed = print(&edit_settings);
    ck_assert_ptr_nonnull(strstr(printed, "# strength_pct: not fitted"));
    free(printed);
}
END_TEST

START_TEST(the_example_is_refused_for_being_an_example_and_for_nothing_else)
{
    ck_assert_int_eq(settings_read(SOURCE_DIR "/config/tanks/example.yaml", &edit_settings, &edit_errors),
                     ST_SETTINGS);
    ck_assert_msg(edit_errors.count == 1, "%s", edit_all_errors());
    edit_load(SOURCE_DIR "/config/tanks/example.yaml", text);
    ck_assert_int_eq(edit_error_line(0), edit_line_of(text, "edited: no"));
    ck_assert_ptr_nonnull(strstr(edit_errors.errors[0].text, "edited: yes"));
}
END_TEST

static void example_load(void)
{
    edit_load(SOURCE_DIR "/config/tanks/example.yaml", text);
    edit_replace(text, "edited: no", "edited: yes");
    edit_replace(text, "profiles: ../devices", "profiles: " SOURCE_DIR "/config/devices");
}

START_TEST(the_edited_example_is_the_smallest_tank)
{
    int bound = 0;

    example_load();
    ck_assert_msg(edit_read(text) == ST_OK, "%s", edit_all_errors());
    for (int p = 0; p < POINT_COUNT; p++)
        bound += edit_settings.setup.points[p].is_bound;
    ck_assert_int_eq(bound, 6);
    ck_assert(!edit_settings.is_simulated);
    ck_assert_int_eq(edit_settings.owner_role, ROLE_LOOKER);
}
END_TEST

START_TEST(the_edited_example_with_all_its_lines_is_the_fullest_tank)
{
    example_load();
    while (strstr(text, "\n#+") != NULL)
        edit_replace(text, "\n#+", "\n");
    ck_assert_msg(edit_read(text) == ST_OK, "%s", edit_all_errors());
    for (int p = 0; p < POINT_COUNT; p++)
        ck_assert_msg(edit_settings.setup.points[p].is_bound, "%s", point_info((enum point)p)->name);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("settings");
    TCase *tests = tcase_create("files");

    tcase_add_checked_fixture(tests, environment_clear, environment_clear);
    tcase_add_test(tests, the_demo_reads_and_holds_what_it_says);
    tcase_add_test(tests, a_channel_comes_from_its_profile_and_knows_its_point);
    tcase_add_test(tests, relative_paths_start_at_the_folder_of_the_file);
    tcase_add_test(tests, paths_and_ports_follow_the_environment);
    tcase_add_test(tests, printed_settings_read_back_to_the_same_struct_and_hash);
    tcase_add_test(tests, the_hash_is_that_of_the_printed_text_and_follows_a_profile);
    tcase_add_test(tests, every_key_of_the_schema_is_printed);
    tcase_add_test(tests, a_serial_bus_reads_and_prints_back);
    tcase_add_test(tests, a_device_may_differ_from_its_profile);
    tcase_add_test(tests, a_reading_without_an_age_limit_gets_three_polls);
    tcase_add_test(tests, a_missing_instrument_is_no_error);
    tcase_add_test(tests, the_example_is_refused_for_being_an_example_and_for_nothing_else);
    tcase_add_test(tests, the_edited_example_is_the_smallest_tank);
    tcase_add_test(tests, the_edited_example_with_all_its_lines_is_the_fullest_tank);
    suite_add_tcase(suite, tests);
    return suite;
}
