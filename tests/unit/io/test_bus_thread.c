/* One bus thread in real time: passes, outputs that expire, and off at the end. */
#include "drivers/fake.h"
#include "io/bus_thread.h"
#include "support/support.h"

#include <stdatomic.h>
#include <string.h>

/* The driver's handle belongs to the thread; the tests look at it from outside. */
static void *shown;
static atomic_int closed;

static enum status open_shown(const struct bus_settings *bus, void **handle, struct fault *f)
{
    enum status code = FAKE_DRIVER.open(bus, handle, f);

    shown = *handle;
    return code;
}

static void pass_shown(void *handle, int64_t now_us, const struct driver_io *io)
{
    FAKE_DRIVER.pass(handle, now_us, io);
}

static void close_shown(void *handle)
{
    atomic_fetch_add(&closed, 1);
    FAKE_DRIVER.close(handle);
}

static const struct driver SHOWN_DRIVER = {"shown", open_shown, pass_shown, close_shown};

static struct bus_settings bus;
static struct exchange *exchange;
static struct clock *tank_clock;
static struct bus_thread *thread;

static void set_up(void)
{
    struct fault f = {0};

    memset(&bus, 0, sizeof bus);
    strcpy(bus.name, "tank");
    bus.device_count = 1;
    bus.devices[0].channel_count = 2;
    bus.devices[0].channels[0].point = POINT_TANK_TEMP_C;
    bus.devices[0].channels[1].point = POINT_HEATER_ON;
    atomic_store(&closed, 0);
    exchange = exchange_new(500000);
    ck_assert_int_eq(clock_open(NULL, 1, &tank_clock, &f), ST_OK);
    ck_assert_int_eq(bus_thread_start_driver(&SHOWN_DRIVER, &bus, exchange, tank_clock, 0, &thread, &f),
                     ST_OK);
}

static void tear_down(void)
{
    clock_stop(tank_clock);
    bus_thread_stop(thread);
    ck_assert_int_eq(atomic_load(&closed), 1);
    clock_close(tank_clock);
    exchange_free(exchange);
}

static struct clock_time wait_scans(int scans)
{
    struct clock_time now = {0};

    while (scans-- > 0)
        ck_assert(clock_wait_scan(tank_clock, &now));
    return now;
}

START_TEST(readings_arrive_with_the_time_of_their_pass)
{
    struct scan_in in;
    struct clock_time now;

    fake_set(shown, POINT_TANK_TEMP_C, 42);
    now = wait_scans(3);
    exchange_take_readings(exchange, &in);
    ck_assert_int_eq(in.reading_count, 1);
    ck_assert_int_eq(in.readings[0].point, POINT_TANK_TEMP_C);
    ck_near(in.readings[0].reading.value, 42, 0);
    ck_assert(in.readings[0].reading.at_us <= now.tank_us);
    ck_assert(bus_thread_last_pass_us(thread) >= in.readings[0].reading.at_us);
}
END_TEST

START_TEST(an_output_is_written_and_goes_off_when_nobody_refreshes_it)
{
    double outputs[POINT_OUTPUT_COUNT] = {[POINT_HEATER_ON - POINT_INPUT_COUNT] = 1};
    struct clock_time now = wait_scans(1);

    exchange_post_outputs(exchange, outputs, now.tank_us);
    (void)wait_scans(3);
    ck_assert(fake_get_output(shown, POINT_HEATER_ON) == 1);
    (void)wait_scans(6);
    ck_assert(fake_get_output(shown, POINT_HEATER_ON) == 0);
}
END_TEST

START_TEST(a_kind_of_bus_without_driver_is_refused)
{
    struct bus_thread *none = thread;
    struct fault f = {0};

    bus.kind = BUS_KIND_COUNT;
    ck_assert_int_eq(bus_thread_start(&bus, exchange, tank_clock, 0, &none, &f), ST_SETTINGS);
    ck_assert_ptr_null(none);
    ck_assert_str_ne(f.text, "");
    bus_thread_stop(NULL);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("bus_thread");
    TCase *tcase = tcase_create("all");

    tcase_add_checked_fixture(tcase, set_up, tear_down);
    tcase_set_timeout(tcase, 20);
    tcase_add_test(tcase, readings_arrive_with_the_time_of_their_pass);
    tcase_add_test(tcase, an_output_is_written_and_goes_off_when_nobody_refreshes_it);
    tcase_add_test(tcase, a_kind_of_bus_without_driver_is_refused);
    suite_add_tcase(suite, tcase);
    return suite;
}
