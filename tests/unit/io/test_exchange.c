/* The mailboxes between bus threads and the control thread. */
#include "io/exchange.h"
#include "support/support.h"

#include <pthread.h>

static struct exchange *exchange;
static struct scan_in in;

static void set_up(void)
{
    exchange = exchange_new(500000);
    ck_assert_ptr_nonnull(exchange);
}

static void tear_down(void)
{
    exchange_free(exchange);
}

static void post(enum point point, double value)
{
    exchange_post_reading(exchange, point, &(struct reading){.value = value, .quality = QUALITY_GOOD});
}

START_TEST(a_reading_is_taken_once_and_the_newest_wins)
{
    post(POINT_WATER_L, 1);
    post(POINT_TANK_TEMP_C, 20);
    post(POINT_TANK_TEMP_C, 21);
    exchange_take_readings(exchange, &in);
    ck_assert_int_eq(in.reading_count, 2);
    ck_assert_int_eq(in.readings[0].point, POINT_TANK_TEMP_C);
    ck_near(in.readings[0].reading.value, 21, 0);
    ck_assert_int_eq(in.readings[1].point, POINT_WATER_L);
    exchange_take_readings(exchange, &in);
    ck_assert_int_eq(in.reading_count, 0);
}
END_TEST

START_TEST(an_output_is_safe_before_anything_was_published)
{
    double value = 7;

    ck_assert(!exchange_get_output(exchange, POINT_HEATER_ON, 0, &value));
    ck_assert(value == 0);
}
END_TEST

START_TEST(an_output_holds_until_it_expires_and_lives_again_when_refreshed)
{
    double outputs[POINT_OUTPUT_COUNT] = {[POINT_HEATER_POWER_PCT - POINT_INPUT_COUNT] = 60};
    double value = 0;

    exchange_post_outputs(exchange, outputs, 1000000);
    ck_assert(exchange_get_output(exchange, POINT_HEATER_POWER_PCT, 1500000, &value));
    ck_near(value, 60, 0);
    ck_assert(!exchange_get_output(exchange, POINT_HEATER_POWER_PCT, 1500001, &value));
    ck_assert(value == 0);
    exchange_post_outputs(exchange, outputs, 1600000);
    ck_assert(exchange_get_output(exchange, POINT_HEATER_POWER_PCT, 1600001, &value));
    ck_near(value, 60, 0);
}
END_TEST

#define POSTS 20000

static void *post_many(void *unused)
{
    (void)unused;
    for (int i = 1; i <= POSTS; i++)
        exchange_post_reading(exchange, POINT_WATER_L, &(struct reading){.value = i, .at_us = i});
    return NULL;
}

START_TEST(a_reading_taken_while_another_is_posted_is_whole)
{
    pthread_t thread;
    double last = 0;

    ck_assert_int_eq(pthread_create(&thread, NULL, post_many, NULL), 0);
    while (last < POSTS) {
        exchange_take_readings(exchange, &in);
        if (in.reading_count == 0)
            continue;
        ck_near(in.readings[0].reading.value, (double)in.readings[0].reading.at_us, 0);
        ck_assert(in.readings[0].reading.value > last);
        last = in.readings[0].reading.value;
    }
    (void)pthread_join(thread, NULL);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("exchange");
    TCase *tcase = tcase_create("all");

    tcase_add_checked_fixture(tcase, set_up, tear_down);
    tcase_add_test(tcase, a_reading_is_taken_once_and_the_newest_wins);
    tcase_add_test(tcase, an_output_is_safe_before_anything_was_published);
    tcase_add_test(tcase, an_output_holds_until_it_expires_and_lives_again_when_refreshed);
    tcase_add_test(tcase, a_reading_taken_while_another_is_posted_is_whole);
    suite_add_tcase(suite, tcase);
    return suite;
}
