#include "unit/settings/edit.h"

static const struct edit_case CASES[] = {
    /* between limits and facts */
    {"sugar_max_c: 60", "sugar_max_c: 76", NULL, "liquid_max_c is 75"},
    {"dose_max_c: 60", "dose_max_c: 80", NULL, "acid would be allowed"},
    {"sheath_max_c: 130", "sheath_max_c: 75", "liquid_max_c: 75", "always hotter"},
    {"liquid_max_c: 75", "liquid_max_c: 39.9", NULL, "40 to 95"}, /* what the plan takes */
    {"liquid_max_c: 75", "liquid_max_c: 95.1", NULL, "40 to 95"},
    {"stirrer_min_rpm: 40", "stirrer_min_rpm: 120", NULL, "never count as turning"},
    {"heater_cover_l: 120", "heater_cover_l: 800", NULL, "never be covered"},
    /* paths, roles, the simulator */
    {"/tmp/syrupwright-demo/control",
     "/tmp/a-folder-name-for-a-socket/another-one/that-is-quite-long/and-another-one-inside-it/"
     "and-one-more-in-that/until-it-is/"
     "control",
     NULL, "a socket's may have 107"},
    {"${SYRUPWRIGHT_SIM_CLOCK:-/tmp/syrupwright-demo/clock}",
     "a-folder-name-that-is-quite-long/which-is-relative/and-another-one-inside-it/and-one-more-in-that/"
     "and-more/until-it-is/c",
     NULL, "a socket's may have 107"},
    {"records_path: ${SYRUPWRIGHT_RECORDS:-/tmp/syrupwright-demo/records}", "# no records", "tank_name: Demo",
     "\"records_path\" is missing"},
    /* buses and devices */
    {"host: 127.0.0.1", "host: localhost", NULL, "numeric address"},
    {"unit: 1, poll_ms: 500", "unit: 4, poll_ms: 500", NULL, "already used on this bus by io"},
    {"unit: 1, poll_ms: 500", "unit: 1, poll_ms: 250", NULL, "multiple of 100"},
    {"unit: 4, poll_ms: 100", "unit: 4, poll_ms: 100, fallback_ms: 50", NULL, "from 500 to 60000"},
    {"unit: 8, poll_ms: 500", "unit: 8, poll_ms: 1500", NULL, "switch off between two readings"},
    {"unit: 5, poll_ms: 500", "unit: 5, poll_ms: 500, fallback_ms: 900", NULL, "unknown key"},
    {"unit: 5, poll_ms: 500", "unit: 5, poll_ms: 500, reply_ms: 900", "  tank:\n    kind",
     "slowest device is drive"},
    {"unit: 6, poll_ms: 200", "unit: 248, poll_ms: 200", NULL, "1 to 247"},
    {"profile: water_meter", "profile: ../devices/water_meter", NULL, "leave folder and .yaml out"},
    {"profile: water_meter", "profile: water_metre", NULL, "no usable device profile"},
    {"      probe: {", "      io: {profile: io_module, unit: 9, poll_ms: 100}\n      probe: {", NULL,
     "already has a device of this name"},
    {"  lab:", "  lab 2:", NULL, "letters, digits"},
    /* points */
    {"device: io, channel: lid,", "device: io, channel: chain,", "  chain_ok: {",
     "already serves lid_closed"},
    {"channel: contactor", "channel: contact", NULL, "did you mean \"contactor\""},
    {"lid_closed: {", "lid_close: {", NULL, "did you mean \"lid_closed\""},
    {"lid_closed: {", "lid_closed: [", NULL, "not valid YAML"},
    {"device: io, channel: lid, max_age_s: 2", "device: io, channel: lid, max_age_s: 2, uncertainty: 1", NULL,
     "unknown key"},
    {"max_age_s: 3, max: 120", "max_age_s: 3, max: 200", NULL, "within -20 to 130"},
    {"max_age_s: 3, max: 120", "max_age_s: 3, max: 70", NULL, "must reach above it"},
    {"max_age_s: 3, max: 120", "max_age_s: 3, min: 125, max: 120", NULL, "in order"},
    {"max_age_s: 3, uncertainty: 2}", "max_age_s: 3, max: 130, uncertainty: 2}", NULL, "sheath_max_c is 130"},
    {"max: 300}", "max: 9000}", NULL, "within 0 to 5000"},
    {"max_age_s: 5, min: -1", "max_age_s: 1, min: -1", NULL, "would go stale"},
    {"  tank_temp_c: {", "  # temp: {", "  heater_on: {", "not tank_temp_c, and"},
    /* the file as a whole */
    {"simulated: yes", "simulated: yes\n---\n", "---", "second document"},
    {"simulated: yes", "simulated: yes\nsimulated: no", "simulated: no", "a second time"},
    {"simulated: yes", "simulated: yes\nedited: no", "edited: no", "still an example"},
};

/* One cause with more than one consequence: each is said. */
static const struct {
    const char *old;
    const char *replacement;
    const char *says[3];
} CONSEQUENCES[] = {
    {"  stirrer_on: {device",
     "  # stir: {device",
     {"not stirrer_on, and it is never", "acid is never dosed unless", "a speed is set, but"}},
    {"  heater_on: {device", "  # heat: {device", {"no contactor (heater_on) is bound"}},
    {"  dose_pump_on: {device", "  # pump: {device", {"a rate is set, but"}},
    {"profile: io_module", "profile: bare_module", {"stay on when the computer or the wire dies"}},
};

START_TEST(each_consequence_of_an_output_left_out_is_said)
{
    static char text[EDIT_TEXT_MAX];

    edit_demo(text);
    if (strcmp(CONSEQUENCES[_i].replacement, "profile: bare_module") == 0)
        edit_replace(
            text, "tank_name: Demo tank",
            "tank_name: Demo tank\ndevice_profiles:\n  bare_module:\n    reply_ms: 60\n    channels:\n"
            "      heater: {kind: coil, address: 0, type: bit}\n"
            "      stirrer: {kind: coil, address: 1, type: bit}\n"
            "      water_valve: {kind: coil, address: 2, type: bit}\n"
            "      acid_pump: {kind: coil, address: 3, type: bit}\n"
            "      level_covers: {kind: discrete, address: 0, type: bit}\n"
            "      level_high: {kind: discrete, address: 1, type: bit, inverted: yes}\n"
            "      lid: {kind: discrete, address: 2, type: bit}\n"
            "      chain: {kind: discrete, address: 3, type: bit}\n"
            "      contactor: {kind: discrete, address: 4, type: bit}");
    edit_replace(text, CONSEQUENCES[_i].old, CONSEQUENCES[_i].replacement);
    ck_assert_int_eq(edit_read(text), ST_SETTINGS);
    for (int i = 0; i < 3 && CONSEQUENCES[_i].says[i] != NULL; i++)
        ck_assert_msg(strstr(edit_all_errors(), CONSEQUENCES[_i].says[i]) != NULL, "%s:%s",
                      CONSEQUENCES[_i].says[i], edit_all_errors());
}
END_TEST

START_TEST(one_contradiction_gives_one_error_at_its_line)
{
    edit_expect_one(&CASES[_i]);
}
END_TEST

/* The demo with two replacements; the error is on the line with the second. */
static const struct {
    struct edit_case first;
    struct edit_case second;
} PAIRS[] = {
    {{"liquid_max_c: 75", "liquid_max_c: 60", NULL, NULL},
     {"water_temp_c: 12", "water_temp_c: 60", NULL, "arrive too hot"}},
    {{"altitude_m: 200", "altitude_m: 5000", NULL, NULL},
     {"liquid_max_c: 75", "liquid_max_c: 85", NULL, "water boils near 83"}},
    {{"  lab:\n    kind: modbus_tcp\n    host: 127.0.0.1\n    port: ${SYRUPWRIGHT_SIM_PORT:-1502}",
      "  lab:\n    kind: modbus_rtu\n    path: /dev/ttyS0 # again", NULL, NULL},
     {"    kind: modbus_tcp\n    host: 127.0.0.1\n    port: ${SYRUPWRIGHT_SIM_PORT:-1502}",
      "    kind: modbus_rtu\n    gap_ms: 5\n    path: /dev/ttyS0", "# again", "already used by bus tank"}},
    {{"simulated: yes\nsim", "simulated: no\n# sim", NULL, NULL},
     {"owner_role: supervisor", "owner_role: helper\n  operator_group: beekeepers", NULL,
      "simulated tank only"}},
    {{"owner_role: supervisor", "supervisor_group: beekeepers", NULL, NULL},
     {"simulated: yes\nsim", "simulated: no\nsim", "sim_clock_path", "runs in real time"}},
    {{"owner_role: supervisor", "helper_group: beekeepers", NULL, NULL},
     {"simulated: yes\nsim", "simulated: no\n# sim", "roles:", "nobody could start"}},
    {{"  lid_closed: {", "  # lid: {", NULL, NULL},
     {"dose_pump_on: {device: io, channel: acid_pump}", "dose_pump_on: {device: io, channel: lid}", NULL,
      "read-only"}},
    {{"  water_l_min: {", "  # flow: {", NULL, NULL},
     {"lid_closed: {device: io, channel: lid,", "lid_closed: {device: water, channel: flow,", NULL,
      "this is a yes or no, but"}},
    {{"  lid_closed: {", "  # lid: {", NULL, NULL},
     {"room_temp_c: {device: temperatures, channel: room,", "room_temp_c: {device: io, channel: lid,", NULL,
      "this is a number, but"}},
    {{"",
      "device_profiles:\n  power_controller:\n    reply_ms: 60\n    fallback: {address: 6, ms: 3000}\n"
      "    channels:\n      power: {kind: holding, address: 0, type: u16, scale: 0.1, offset: 4}\n",
      NULL, NULL},
     {"  heater_power_pct: {", "  heater_power_pct: { ", NULL, "off must be 0 on the wire"}},
    {{"",
      "device_profiles:\n  power_controller:\n    reply_ms: 60\n    fallback: {address: 6, ms: 3000}\n"
      "    channels:\n      power: {kind: input, address: 0, type: u16, scale: 0.1}\n",
      NULL, NULL},
     {"  heater_power_pct: {", "  heater_power_pct: { ", NULL, "read-only"}},
    {{"      power: {", "      # power: {", NULL, NULL},
     {"heater_power_pct: {device: power", "heater_power_pct: {device: pover", NULL, "called \"pover\""}},
};

START_TEST(a_point_on_the_wrong_kind_of_channel_is_refused)
{
    static char text[EDIT_TEXT_MAX];
    const struct edit_case *second = &PAIRS[_i].second;

    edit_demo(text);
    edit_replace(text, PAIRS[_i].first.old, PAIRS[_i].first.replacement);
    edit_replace(text, second->old, second->replacement);
    ck_assert_int_eq(edit_read(text), ST_SETTINGS);
    ck_assert_msg(edit_errors.count == 1 && strstr(edit_errors.errors[0].text, second->says) != NULL, "%s:%s",
                  second->says, edit_all_errors());
    ck_assert_msg(edit_error_line(0) ==
                      edit_line_of(text, second->line_with != NULL ? second->line_with : second->replacement),
                  "%s", edit_all_errors());
}
END_TEST

/* One more channel, or another part, of a profile that is written in the tank file. */
static const struct {
    const char *line;
    const char *says;
} PROFILE_CASES[] = {
    {"      extra: {kind: holding, address: 9}", "needs a type"},
    {"      extra: {kind: coil, address: 9, type: u16}", "leave the type out"},
    {"      extra: {kind: input, address: 9, type: u32}", "needs its word order"},
    {"      extra: {kind: input, address: 65535, type: f32, order: low_first}", "over the end"},
    {"      extra: {kind: input, address: 65536, type: u16}", "from 0 to 65535"},
    {"      extra: {kind: input, address: 1, type: u16}", "same register as channel total"},
    {"      extra: {kind: input, address: 9, type: u16, inverted: yes}", "only a bit"},
    {"      extra: {kind: discrete, address: 9, scale: 2}", "no scale"},
    {"      extra: {kind: input, address: 9, type: u16, scale: 0}", "scale 0"},
    {"      extra: {kind: relay, address: 9}", "one of coil, discrete, holding, input"},
    {"      extra: {kind: input, adress: 9, address: 8, type: u16}", "did you mean \"address\""},
    {"      extra: 5", "a channel"},
    {"    identity: {kind: coil, address: 0, value: 5}", "holding or input register"},
    {"    identity: {kind: input, address: 0, value: 70000}", "from 0 to 65535"},
    {"    fallback: {address: 0, ms: 5}", "from 500 to 60000"},
    {"    fallbak: {address: 0, ms: 5000}", "did you mean \"fallback\""},
};

START_TEST(one_fault_in_a_profile_gives_one_error_at_its_line)
{
    static char text[EDIT_TEXT_MAX];

    edit_demo(text);
    edit_replace(text, "",
                 "device_profiles:\n  water_meter:\n    reply_ms: 60\n    channels:\n"
                 "      total: {kind: input, address: 0, type: u32, order: low_first}\n"
                 "      flow: {kind: input, address: 2, type: u16}\n");
    ck_assert_msg(edit_read(text) == ST_OK, "%s", edit_all_errors());
    edit_replace(text, "", PROFILE_CASES[_i].line);
    ck_assert_int_eq(edit_read(text), ST_SETTINGS);
    ck_assert_msg(edit_errors.count == 1 &&
                      strstr(edit_errors.errors[0].text, PROFILE_CASES[_i].says) != NULL,
                  "%s:%s", PROFILE_CASES[_i].line, edit_all_errors());
    ck_assert_msg(edit_error_line(0) == edit_line_of(text, PROFILE_CASES[_i].line), "%s", edit_all_errors());
}
END_TEST

START_TEST(an_error_in_a_profile_file_names_that_file_once)
{
    static char text[EDIT_TEXT_MAX];

    edit_load(SOURCE_DIR "/config/tanks/demo.yaml", text);
    edit_replace(text, "profiles: ../devices", "profiles: " SOURCE_DIR "/config/devices");
    edit_replace(text, "profile: water_meter", "profile: broken_meter");
    edit_replace(text, "profile: acid_pump", "profile: broken_meter");
    edit_replace(text, "/config/devices", "/tests/unit/settings/data");
    ck_assert_int_eq(edit_read(text), ST_SETTINGS);
    for (int i = 0, named = 0; i < edit_errors.count; i++) {
        named += strstr(edit_errors.errors[i].where, "data/broken_meter.yaml:4") != NULL;
        ck_assert_int_le(named, 1);
        ck_assert(i < edit_errors.count - 1 || named == 1);
    }
}
END_TEST

START_TEST(a_slow_device_is_welcome_on_a_bus_without_outputs)
{
    static char text[EDIT_TEXT_MAX];

    edit_demo(text);
    edit_replace(text, "unit: 2, poll_ms: 1000", "unit: 2, poll_ms: 1000, reply_ms: 3000");
    ck_assert_msg(edit_read(text) == ST_OK, "%s", edit_all_errors());
}
END_TEST

/* What a line of many_errors.yaml says about itself: how many errors, and words of one of them. */
static int line_expects(const char *line, char words[128])
{
    const char *mark = strstr(line, "#! ");
    const char *end = line + strcspn(line, "\n");
    int count = 1;

    words[0] = '\0';
    if (mark == NULL || mark > end || line[0] == '#')
        return 0;
    mark += 3;
    if (strncmp(mark, "2 errors: ", 10) == 0) {
        count = 2;
        mark += 10;
    }
    (void)snprintf(words, 128, "%.*s", (int)strcspn(mark, "\n"), mark);
    return count;
}

START_TEST(all_errors_of_a_file_come_at_once_each_at_its_line)
{
    static char text[EDIT_TEXT_MAX];
    const char *path = SOURCE_DIR "/tests/unit/settings/data/many_errors.yaml";
    int line = 1;
    int at = 0;
    char words[128];

    edit_load(path, text);
    ck_assert_int_eq(settings_read(path, &edit_settings, &edit_errors), ST_SETTINGS);
    for (const char *c = text; *c != '\0'; c += strcspn(c, "\n") + 1, line++) {
        int expected = line_expects(c, words);
        bool has_words = expected == 0;

        for (int i = 0; i < expected; i++, at++) {
            ck_assert_msg(at < edit_errors.count && edit_error_line(at) == line,
                          "line %d should have %d errors (%s):%s", line, expected, words, edit_all_errors());
            has_words = has_words || strstr(edit_errors.errors[at].text, words) != NULL;
        }
        ck_assert_msg(has_words, "line %d does not say \"%s\":%s", line, words, edit_all_errors());
    }
    ck_assert_msg(at == edit_errors.count, "%d errors, %d expected:%s", edit_errors.count, at,
                  edit_all_errors());
}
END_TEST

START_TEST(a_file_that_is_not_there_is_one_error)
{
    ck_assert_int_eq(settings_read("/nowhere/tank.yaml", &edit_settings, &edit_errors), ST_SETTINGS);
    ck_assert_int_eq(edit_errors.count, 1);
    ck_assert_str_eq(edit_errors.errors[0].where, "/nowhere/tank.yaml:1");
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("settings_check");
    TCase *tests = tcase_create("checks");

    tcase_add_loop_test(tests, each_consequence_of_an_output_left_out_is_said, 0,
                        sizeof CONSEQUENCES / sizeof CONSEQUENCES[0]);
    tcase_add_loop_test(tests, one_contradiction_gives_one_error_at_its_line, 0,
                        (int)(sizeof CASES / sizeof CASES[0]));
    tcase_add_loop_test(tests, a_point_on_the_wrong_kind_of_channel_is_refused, 0,
                        (int)(sizeof PAIRS / sizeof PAIRS[0]));
    tcase_add_loop_test(tests, one_fault_in_a_profile_gives_one_error_at_its_line, 0,
                        (int)(sizeof PROFILE_CASES / sizeof PROFILE_CASES[0]));
    tcase_add_test(tests, an_error_in_a_profile_file_names_that_file_once);
    tcase_add_test(tests, a_slow_device_is_welcome_on_a_bus_without_outputs);
    tcase_add_test(tests, all_errors_of_a_file_come_at_once_each_at_its_line);
    tcase_add_test(tests, a_file_that_is_not_there_is_one_error);
    suite_add_tcase(suite, tests);
    return suite;
}
