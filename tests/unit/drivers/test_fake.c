/* The driver without a wire, and the skeleton that new drivers start from. */
#include "drivers/fake.h"
#include "drivers/skeleton.h"
#include "unit/drivers/rogue.h"

static struct listener listener;

static void open_fake(const struct driver *driver)
{
    struct bus_settings bus;

    rogue_bus(&bus, 100);
    listener_open(&listener, driver, &bus);
}

static void show_truth(void)
{
    for (int i = 0; i < ROGUE_POINT_COUNT; i++)
        fake_set(listener.handle, ROGUE_POINTS[i], rogue_truth(ROGUE_POINTS[i]));
}

START_TEST(values_set_by_a_test_are_posted_and_outputs_taken)
{
    open_fake(&FAKE_DRIVER);
    listener_pass(&listener);
    ck_assert_int_eq(listener.readings[POINT_TANK_TEMP_C].reason, REASON_NO_READING);
    show_truth();
    listener.has_wanted = true;
    listener.wanted[POINT_HEATER_ON] = 1;
    listener_pass(&listener);
    ck_assert(listener_all(&listener, QUALITY_GOOD));
    ck_assert(fake_get_output(listener.handle, POINT_HEATER_ON) == 1);
    listener.has_wanted = false;
    fake_set_bad(listener.handle, POINT_TANK_TEMP_C, REASON_DEVICE);
    listener_pass(&listener);
    ck_assert_int_eq(listener.readings[POINT_TANK_TEMP_C].reason, REASON_DEVICE);
    ck_assert(fake_get_output(listener.handle, POINT_HEATER_ON) == 0);
    FAKE_DRIVER.close(listener.handle);
}
END_TEST

START_TEST(absent_instruments_are_bad_and_heal)
{
    open_fake(&FAKE_DRIVER);
    show_truth();
    fake_set_mode(listener.handle, FAKE_ABSENT);
    listener_pass(&listener);
    ck_assert(listener_all(&listener, QUALITY_BAD));
    ck_assert_int_eq(listener.readings[POINT_WATER_L].reason, REASON_BUS_LOST);
    fake_set_mode(listener.handle, FAKE_ANSWERS);
    listener_pass(&listener);
    ck_assert(listener_all(&listener, QUALITY_GOOD));
    FAKE_DRIVER.close(listener.handle);
}
END_TEST

START_TEST(stuck_instruments_keep_their_value_with_fresh_times)
{
    open_fake(&FAKE_DRIVER);
    show_truth();
    fake_set_mode(listener.handle, FAKE_STUCK);
    fake_set(listener.handle, POINT_TANK_TEMP_C, 80);
    listener_pass(&listener);
    listener_pass(&listener);
    ck_near(listener.readings[POINT_TANK_TEMP_C].value, 21.5, 1e-9);
    FAKE_DRIVER.close(listener.handle);
}
END_TEST

static void post_late(void *context, enum point point, double value, int64_t at_us, enum quality quality,
                      enum reason reason)
{
    struct listener *late = context;

    (void)quality, (void)reason;
    late->readings[point].value = value;
    late->readings[point].at_us = at_us;
}

START_TEST(late_instruments_tell_what_was_and_when)
{
    open_fake(&FAKE_DRIVER);
    show_truth();
    listener_pass(&listener);
    listener.io.post = post_late;
    fake_set_mode(listener.handle, FAKE_LATE);
    fake_set(listener.handle, POINT_TANK_TEMP_C, 80);
    listener_pass(&listener);
    ck_near(listener.readings[POINT_TANK_TEMP_C].value, 21.5, 1e-9);
    ck_assert_int_eq(listener.readings[POINT_TANK_TEMP_C].at_us, listener.now_us - 100000);
    listener_pass(&listener);
    ck_near(listener.readings[POINT_TANK_TEMP_C].value, 80, 1e-9);
    FAKE_DRIVER.close(listener.handle);
}
END_TEST

START_TEST(the_skeleton_keeps_the_contract)
{
    open_fake(&SKELETON_DRIVER);
    for (int i = 0; i < 10; i++)
        listener_pass(&listener);
    ck_assert(listener_all(&listener, QUALITY_BAD));
    ck_assert_int_eq(listener.says, 1);
    SKELETON_DRIVER.close(listener.handle);
    SKELETON_DRIVER.close(NULL);
    FAKE_DRIVER.close(NULL);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("fake");
    TCase *tcase = tcase_create("all");

    tcase_add_test(tcase, values_set_by_a_test_are_posted_and_outputs_taken);
    tcase_add_test(tcase, absent_instruments_are_bad_and_heal);
    tcase_add_test(tcase, stuck_instruments_keep_their_value_with_fresh_times);
    tcase_add_test(tcase, late_instruments_tell_what_was_and_when);
    tcase_add_test(tcase, the_skeleton_keeps_the_contract);
    suite_add_tcase(suite, tcase);
    return suite;
}
