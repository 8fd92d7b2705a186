/* Which requests a bus needs, and which buses are refused. */
#include "drivers/driver.h"
#include "drivers/modbus_plan.h"
#include "support/support.h"

#include <string.h>

static struct channel bound(enum point point, enum register_kind kind, int address, enum register_type type)
{
    return (struct channel){
        .name = "channel", .point = point, .kind = kind, .address = address, .type = type, .scale = 1};
}

static struct bus_settings one_device(int unit)
{
    struct bus_settings bus = {.name = "tank", .kind = BUS_TCP, .host = "127.0.0.1", .port = 502};

    bus.device_count = 1;
    bus.devices[0] = (struct device){.name = "thing", .unit = unit, .poll_ms = 500, .reply_ms = 100};
    return bus;
}

static void add(struct bus_settings *bus, struct channel channel)
{
    struct device *device = &bus->devices[0];

    device->channels[device->channel_count++] = channel;
}

static void identify(struct bus_settings *bus, enum register_kind kind, int address)
{
    bus->devices[0].has_identity = true;
    bus->devices[0].identity_kind = kind;
    bus->devices[0].identity_address = address;
}

static const struct plan_block *find_block(const struct bus_plan *plan, enum register_kind kind, int address)
{
    for (int i = 0; i < plan->devices[0].block_count; i++)
        if (plan->devices[0].blocks[i].kind == kind && plan->devices[0].blocks[i].address == address)
            return &plan->devices[0].blocks[i];
    return NULL;
}

START_TEST(channels_of_one_kind_become_one_read)
{
    struct bus_settings bus = one_device(1);
    struct bus_plan plan;
    const struct plan_block *block;

    add(&bus, bound(POINT_ROOM_TEMP_C, REGISTER_INPUT, 2, TYPE_S16));
    add(&bus, bound(POINT_TANK_TEMP_C, REGISTER_INPUT, 0, TYPE_S16));
    add(&bus, bound(POINT_WATER_L, REGISTER_INPUT, 6, TYPE_U32));
    add(&bus, bound(POINT_COUNT, REGISTER_INPUT, 90, TYPE_S16)); /* not bound: not read */
    identify(&bus, REGISTER_INPUT, 20);
    ck_assert_int_eq(modbus_plan_make(&bus, &plan, NULL), ST_OK);
    ck_assert_int_eq(plan.devices[0].block_count, 2);
    block = find_block(&plan, REGISTER_INPUT, 0);
    ck_assert_ptr_nonnull(block);
    ck_assert_int_eq(block->count, 8);
    ck_assert(block->has_channels && !block->has_identity);
    block = find_block(&plan, REGISTER_INPUT, 20);
    ck_assert_ptr_nonnull(block);
    ck_assert_int_eq(block->count, 1);
    ck_assert(block->has_identity && !block->has_channels);
}
END_TEST

START_TEST(an_io_module_needs_three_reads)
{
    struct bus_settings bus = one_device(4);
    struct bus_plan plan;
    const struct plan_block *block;

    add(&bus, bound(POINT_HEATER_ON, REGISTER_COIL, 0, TYPE_BIT));
    add(&bus, bound(POINT_DOSE_PUMP_ON, REGISTER_COIL, 3, TYPE_BIT));
    add(&bus, bound(POINT_LID_CLOSED, REGISTER_DISCRETE, 2, TYPE_BIT));
    identify(&bus, REGISTER_HOLDING, 0);
    bus.devices[0].has_fallback = true;
    bus.devices[0].fallback_address = 1;
    ck_assert_int_eq(modbus_plan_make(&bus, &plan, NULL), ST_OK);
    ck_assert_int_eq(plan.devices[0].block_count, 3);
    block = find_block(&plan, REGISTER_HOLDING, 0);
    ck_assert_ptr_nonnull(block);
    ck_assert_int_eq(block->count, 2);
    ck_assert(block->has_identity && block->has_fallback);
    ck_assert_int_eq(find_block(&plan, REGISTER_COIL, 0)->count, 4);
}
END_TEST

START_TEST(reads_of_equal_length_become_one_when_they_lie_close)
{
    struct bus_settings bus = one_device(5);
    struct bus_plan plan;

    add(&bus, bound(POINT_STIRRER_SET_RPM, REGISTER_HOLDING, 0, TYPE_U16));
    identify(&bus, REGISTER_HOLDING, 10);
    ck_assert_int_eq(modbus_plan_make(&bus, &plan, NULL), ST_OK);
    ck_assert_int_eq(plan.devices[0].block_count, 1);
    ck_assert_int_eq(plan.devices[0].blocks[0].count, 11);
    ck_assert(plan.devices[0].blocks[0].has_channels && plan.devices[0].blocks[0].has_identity);
}
END_TEST

START_TEST(touching_registers_are_joined_before_lengths_are_compared)
{
    struct bus_settings bus = one_device(8);
    struct bus_plan plan;

    add(&bus, bound(POINT_HEATER_POWER_PCT, REGISTER_HOLDING, 0, TYPE_U16));
    identify(&bus, REGISTER_HOLDING, 5);
    bus.devices[0].has_fallback = true;
    bus.devices[0].fallback_address = 6;
    ck_assert_int_eq(modbus_plan_make(&bus, &plan, NULL), ST_OK);
    ck_assert_int_eq(plan.devices[0].block_count, 2);
    ck_assert_int_eq(find_block(&plan, REGISTER_HOLDING, 0)->count, 1);
    ck_assert_int_eq(find_block(&plan, REGISTER_HOLDING, 5)->count, 2);
}
END_TEST

static void refused(const struct bus_settings *bus, const char *phrase)
{
    struct fault f = {0};

    ck_assert_int_eq(driver_check_bus(bus, &f), ST_SETTINGS);
    ck_assert_msg(strstr(f.text, phrase) != NULL, "\"%s\" is not in: %s", phrase, f.text);
    ck_assert_str_ne(f.where, "");
}

START_TEST(reads_of_equal_length_far_apart_are_refused)
{
    struct bus_settings bus = one_device(5);

    add(&bus, bound(POINT_STIRRER_SET_RPM, REGISTER_HOLDING, 0, TYPE_U16));
    identify(&bus, REGISTER_HOLDING, 500);
    refused(&bus, "equal lengths");
}
END_TEST

START_TEST(two_devices_with_one_unit_must_not_read_equal_lengths)
{
    struct bus_settings bus = one_device(5);

    add(&bus, bound(POINT_STIRRER_RPM, REGISTER_INPUT, 0, TYPE_U16));
    bus.devices[1] = bus.devices[0];
    bus.devices[1].channels[0].point = POINT_TANK_TEMP_C;
    bus.devices[1].channels[0].address = 7;
    bus.device_count = 2;
    refused(&bus, "equal lengths");
    bus.devices[1].unit = 6;
    ck_assert_int_eq(driver_check_bus(&bus, NULL), ST_OK);
}
END_TEST

START_TEST(a_span_longer_than_one_read_is_refused)
{
    struct bus_settings bus = one_device(5);

    add(&bus, bound(POINT_STIRRER_RPM, REGISTER_INPUT, 0, TYPE_U16));
    add(&bus, bound(POINT_TANK_TEMP_C, REGISTER_INPUT, 125, TYPE_U16));
    refused(&bus, "do not fit one read");
    bus.devices[0].channels[1].address = 124;
    ck_assert_int_eq(driver_check_bus(&bus, NULL), ST_OK);
}
END_TEST

START_TEST(an_output_needs_a_place_that_can_be_written)
{
    struct bus_settings bus = one_device(5);

    add(&bus, bound(POINT_HEATER_ON, REGISTER_DISCRETE, 0, TYPE_BIT));
    refused(&bus, "cannot be written");
}
END_TEST

START_TEST(a_coil_holds_one_bit_only)
{
    struct bus_settings bus = one_device(5);

    add(&bus, bound(POINT_TANK_TEMP_C, REGISTER_COIL, 0, TYPE_U16));
    refused(&bus, "hold one bit");
}
END_TEST

START_TEST(units_outside_1_to_247_are_refused)
{
    struct bus_settings bus = one_device(0);

    refused(&bus, "unit 0");
    bus.devices[0].unit = 248;
    refused(&bus, "unit 248");
}
END_TEST

START_TEST(an_address_beyond_65535_is_refused)
{
    struct bus_settings bus = one_device(5);

    add(&bus, bound(POINT_WATER_L, REGISTER_INPUT, 65535, TYPE_U32));
    refused(&bus, "0 to 65535");
}
END_TEST

START_TEST(hosts_ports_speeds_and_parities_are_checked)
{
    struct bus_settings bus = one_device(5);

    strcpy(bus.host, "controller.example");
    refused(&bus, "IPv4");
    strcpy(bus.host, "127.0.0.1");
    bus.port = 0;
    refused(&bus, "port 0");
    bus.kind = BUS_RTU;
    bus.baud = 9601;
    bus.parity = 'E';
    refused(&bus, "9601 baud");
    bus.baud = 9600;
    bus.parity = 'X';
    refused(&bus, "parity");
}
END_TEST

START_TEST(the_worst_case_adds_reply_drain_and_writes)
{
    struct bus_settings bus = one_device(5);

    ck_assert_int_eq(driver_worst_case_ms(&bus), 120);
    bus.kind = BUS_RTU;
    bus.baud = 19200;
    bus.parity = 'E';
    bus.gap_ms = 5;
    ck_assert_int_eq(driver_worst_case_ms(&bus), 200);
    add(&bus, bound(POINT_HEATER_ON, REGISTER_COIL, 0, TYPE_BIT));
    ck_assert_int_ge(driver_worst_case_ms(&bus), 220);
    ck_assert_int_le(driver_worst_case_ms(&bus), 240);
}
END_TEST

START_TEST(every_kind_of_bus_has_a_driver)
{
    ck_assert_str_eq(driver_find(BUS_TCP)->name, "modbus_tcp");
    ck_assert_str_eq(driver_find(BUS_RTU)->name, "modbus_rtu");
    ck_assert_ptr_null(driver_find(BUS_KIND_COUNT));
    for (int i = 0; i < BUS_KIND_COUNT; i++)
        ck_assert_ptr_nonnull(DRIVERS[i]);
    ck_assert_ptr_null(DRIVERS[BUS_KIND_COUNT]);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("modbus_plan");
    TCase *tcase = tcase_create("all");

    tcase_add_test(tcase, channels_of_one_kind_become_one_read);
    tcase_add_test(tcase, an_io_module_needs_three_reads);
    tcase_add_test(tcase, reads_of_equal_length_become_one_when_they_lie_close);
    tcase_add_test(tcase, touching_registers_are_joined_before_lengths_are_compared);
    tcase_add_test(tcase, reads_of_equal_length_far_apart_are_refused);
    tcase_add_test(tcase, two_devices_with_one_unit_must_not_read_equal_lengths);
    tcase_add_test(tcase, a_span_longer_than_one_read_is_refused);
    tcase_add_test(tcase, an_output_needs_a_place_that_can_be_written);
    tcase_add_test(tcase, a_coil_holds_one_bit_only);
    tcase_add_test(tcase, units_outside_1_to_247_are_refused);
    tcase_add_test(tcase, an_address_beyond_65535_is_refused);
    tcase_add_test(tcase, hosts_ports_speeds_and_parities_are_checked);
    tcase_add_test(tcase, the_worst_case_adds_reply_drain_and_writes);
    tcase_add_test(tcase, every_kind_of_bus_has_a_driver);
    suite_add_tcase(suite, tcase);
    return suite;
}
