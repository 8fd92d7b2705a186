#include "simulator/world.h"

#include "support/support.h"

#include <math.h>
#include <string.h>

static struct world world;

static void world_begin(uint64_t seed)
{
    struct plant_declared declared;

    plant_declared_demo(&declared);
    world_init(&world, seed, &declared);
}

static float float_of(uint16_t high, uint16_t low)
{
    uint32_t bits = (uint32_t)high << 16 | low;
    float value;

    memcpy(&value, &bits, sizeof value);
    return value;
}

START_TEST(identities_are_where_the_profiles_say)
{
    struct devices *devices = &world.devices;

    world_begin(1);
    ck_assert_uint_eq(devices_unit(devices, 1)->input[10], 5401);
    ck_assert_uint_eq(devices_unit(devices, 2)->holding[40], 2071);
    ck_assert_uint_eq(devices_unit(devices, 3)->input[100], 3303);
    ck_assert_uint_eq(devices_unit(devices, 4)->holding[0], 4016);
    ck_assert_uint_eq(devices_unit(devices, 5)->holding[10], 5150);
    ck_assert_uint_eq(devices_unit(devices, 6)->input[20], 6120);
    ck_assert_uint_eq(devices_unit(devices, 7)->holding[9], 7007);
    ck_assert_uint_eq(devices_unit(devices, 8)->holding[5], 8012);
    ck_assert_ptr_null(devices_unit(devices, 9));
    ck_assert_ptr_null(devices_unit(devices, 0));
}
END_TEST

START_TEST(values_are_encoded_in_each_devices_own_way)
{
    struct instrument_values values = {{0}};
    struct devices *devices = &world.devices;

    world_begin(1);
    values.value[POINT_TANK_TEMP_C] = 54.34;
    values.value[POINT_ROOM_TEMP_C] = -3.27;
    values.value[POINT_STRENGTH_PCT] = 62.5;
    values.value[POINT_ACIDITY_PH] = 4.25;
    values.value[POINT_PROBE_MV] = 160.5;
    values.value[POINT_WATER_L] = 1234.56; /* 123456 = 0x1e240 */
    values.value[POINT_WATER_L_MIN] = 29.5;
    values.value[POINT_DOSED_ML] = 1234.56;
    values.value[POINT_STIRRER_RPM] = 119.6;
    values.value[POINT_LEVEL_COVERS_HEATER] = 1;
    values.value[POINT_LEVEL_BELOW_BRIM] = 1;
    devices_refresh(devices, &values);
    ck_assert_uint_eq(devices_unit(devices, 1)->input[0], 543);
    ck_assert_int_eq((int16_t)devices_unit(devices, 1)->input[2], -33);
    ck_assert_double_eq((double)float_of(devices->units[1].holding[0], devices->units[1].holding[1]), 62.5);
    ck_assert_double_eq((double)float_of(devices->units[2].input[1], devices->units[2].input[0]), 4.25);
    ck_assert_double_eq((double)float_of(devices->units[2].input[5], devices->units[2].input[4]), 160.5);
    ck_assert_uint_eq(devices->units[5].input[0], 0xe240);
    ck_assert_uint_eq(devices->units[5].input[1], 1);
    ck_assert_uint_eq(devices->units[5].input[2], 2950);
    ck_assert_uint_eq(devices->units[6].input[0], 1);
    ck_assert_uint_eq(devices->units[6].input[1], 0xe240);
    ck_assert_uint_eq(devices->units[4].input[0], 120);
    ck_assert_uint_eq(devices->units[3].discretes[0], 1);
    ck_assert_uint_eq(devices->units[3].discretes[1], 0); /* 1 would be: too high */
}
END_TEST

START_TEST(a_broken_sensor_wire_gives_the_over_range_code)
{
    world_begin(1);
    world.instruments.faults.sheath_open = true;
    for (int i = 0; i < 10; i++)
        world_step(&world);
    ck_assert_int_eq((int16_t)world.devices.units[0].input[1], 32767);
}
END_TEST

START_TEST(outputs_act_on_the_tank)
{
    world_begin(2);
    world.devices.units[3].coils[1] = 1;
    world.devices.units[3].coils[2] = 1;
    world.devices.units[4].holding[0] = 120;
    for (int i = 0; i < 600; i++)
        world_step(&world);
    ck_near(world.plant.stirrer_rpm, 120, 0.1);
    ck_near(world.plant.totals.valve_l, 29, 4);
    ck_assert_int_eq(world.tank_us, 60000000);
}
END_TEST

START_TEST(outputs_drop_when_nobody_has_asked_for_the_fallback_time)
{
    struct device_image *switches, *power;

    world_begin(3);
    switches = devices_unit(&world.devices, 4);
    power = devices_unit(&world.devices, 8);
    switches->coils[0] = 1;
    switches->holding[1] = 3000;
    power->holding[0] = 500;
    power->holding[6] = 3000;
    for (int i = 0; i < 300; i++) { /* both asked now and then */
        devices_asked(&world.devices, 4, world.tank_us);
        devices_asked(&world.devices, 8, world.tank_us);
        world_step(&world);
    }
    ck_assert(world.plant.contactor_closed);
    for (int i = 0; i < 30; i++) { /* 8 alone: 4 drops after 3 s */
        ck_assert(world.plant.contactor_closed);
        devices_asked(&world.devices, 8, world.tank_us);
        world_step(&world);
    }
    world_step(&world);
    ck_assert(!world.plant.contactor_closed);
    ck_assert_uint_eq(switches->coils[0], 0);
    ck_assert_uint_eq(power->holding[0], 500);
    for (int i = 0; i < 40; i++)
        world_step(&world);
    ck_assert_uint_eq(power->holding[0], 0);
}
END_TEST

START_TEST(without_a_fallback_time_outputs_stay)
{
    world_begin(3);
    world.devices.units[3].coils[1] = 1;
    for (int i = 0; i < 600; i++)
        world_step(&world);
    ck_assert_uint_eq(world.devices.units[3].coils[1], 1);
}
END_TEST

START_TEST(only_outputs_and_settings_may_be_written)
{
    ck_assert_int_eq(devices_coil_check(4, 3), DEVICE_WRITE_OK);
    ck_assert_int_eq(devices_coil_check(4, 4), DEVICE_WRITE_ADDRESS);
    ck_assert_int_eq(devices_coil_check(5, 0), DEVICE_WRITE_ADDRESS);
    ck_assert_int_eq(devices_holding_check(8, 0, 1000), DEVICE_WRITE_OK);
    ck_assert_int_eq(devices_holding_check(8, 0, 1001), DEVICE_WRITE_VALUE);
    ck_assert_int_eq(devices_holding_check(4, 0, 1), DEVICE_WRITE_ADDRESS); /* identity */
}
END_TEST

START_TEST(instruments_are_near_the_truth_and_follow_late)
{
    struct plant_truth truth;
    const double *value = world.instruments.values.value;

    world_begin(4);
    world.devices.units[3].coils[1] = 1;
    world.devices.units[4].holding[0] = 120;
    plant_add_solution(&world.plant, 200, 300, 50);
    world_step(&world);
    ck_assert_double_lt(value[POINT_TANK_TEMP_C], 30); /* 8 s lag */
    for (int i = 0; i < 1200; i++)
        world_step(&world);
    plant_truth_get(&world.plant, &truth);
    ck_near(value[POINT_TANK_TEMP_C], truth.probe_c, 1.0);
    ck_near(value[POINT_STRENGTH_PCT], truth.strength_pct, 0.4);
    ck_near(value[POINT_ACIDITY_PH], truth.probe_ph, 0.15);
    ck_near(value[POINT_STIRRER_RPM], 120, 2);
    ck_near(instruments_hand_strength_pct(&world.instruments, &world.plant), truth.strength_pct, 0.8);
}
END_TEST

START_TEST(the_refractometer_sees_only_what_is_dissolved)
{
    struct plant_truth truth;

    world_begin(5);
    plant_add_solution(&world.plant, 200, 200, 20);
    plant_set_lid(&world.plant, false);
    for (int i = 0; i < 4; i++)
        ck_assert(plant_add_bag(&world.plant, 25));
    for (int i = 0; i < 300; i++)
        world_step(&world);
    plant_truth_get(&world.plant, &truth);
    ck_assert_double_gt(truth.final_strength_pct, 59);
    ck_near(world.instruments.values.value[POINT_STRENGTH_PCT], truth.probe_strength_pct, 0.5);
    ck_assert_double_lt(world.instruments.values.value[POINT_STRENGTH_PCT], 55);
}
END_TEST

START_TEST(a_dry_refractometer_shows_the_bottom_of_its_scale)
{
    world_begin(5);
    for (int i = 0; i < 100; i++) {
        world_step(&world);
        ck_assert_double_eq(world.instruments.values.value[POINT_STRENGTH_PCT], 0);
    }
}
END_TEST

START_TEST(a_frozen_probe_repeats_itself)
{
    double before;

    world_begin(6);
    plant_add_water(&world.plant, 200);
    for (int i = 0; i < 300; i++)
        world_step(&world);
    before = world.instruments.values.value[POINT_ACIDITY_PH];
    world.instruments.faults.probe_frozen = true;
    ck_assert(plant_add_acid(&world.plant, ACID_CITRIC, 100));
    for (int i = 0; i < 3000; i++)
        world_step(&world);
    ck_assert_double_eq(world.instruments.values.value[POINT_ACIDITY_PH], before);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("devices");
    TCase *tests = tcase_create("devices");

    tcase_add_test(tests, identities_are_where_the_profiles_say);
    tcase_add_test(tests, values_are_encoded_in_each_devices_own_way);
    tcase_add_test(tests, a_broken_sensor_wire_gives_the_over_range_code);
    tcase_add_test(tests, outputs_act_on_the_tank);
    tcase_add_test(tests, outputs_drop_when_nobody_has_asked_for_the_fallback_time);
    tcase_add_test(tests, without_a_fallback_time_outputs_stay);
    tcase_add_test(tests, only_outputs_and_settings_may_be_written);
    tcase_add_test(tests, instruments_are_near_the_truth_and_follow_late);
    tcase_add_test(tests, the_refractometer_sees_only_what_is_dissolved);
    tcase_add_test(tests, a_dry_refractometer_shows_the_bottom_of_its_scale);
    tcase_add_test(tests, a_frozen_probe_repeats_itself);
    suite_add_tcase(suite, tests);
    return suite;
}
