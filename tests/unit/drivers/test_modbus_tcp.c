/* The Modbus driver over TCP against a server that misbehaves in every way but one: whatever it
 * does, no wrong number may come out as good (listener_post checks each), and it must heal. */
#include "runtime/realtime.h"
#include "unit/drivers/rogue.h"

#include <arpa/inet.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/socket.h>

#define REPLY_MS 250 /* a loaded machine must not look like a slow device */

/* 1 s of back-off is 11 passes; a loaded machine may cost a trial or two more. */
#define HEAL_MOST 60

static struct rogue rogue;
static struct listener listener;

/* ---- the server ------------------------------------------------------------------------ */

/* false: the connection is to be closed. */
static bool serve_one(int fd)
{
    uint8_t request[64], reply[300];
    enum mischief mischief;
    size_t length;

    if (recv(fd, request, 7, MSG_WAITALL) != 7 || request[5] < 2 || request[5] > 50 ||
        recv(fd, request + 7, (size_t)request[5] - 1, MSG_WAITALL) != request[5] - 1)
        return false;
    memcpy(reply, request, 6);
    length = rogue_answer(&rogue, request + 6, reply + 6, &mischief);
    reply[4] = 0;
    reply[5] = (uint8_t)length;
    if (mischief == ROGUE_WRONG_TRANSACTION)
        reply[1]--;
    return rogue_send(&rogue, fd, reply, length + 6, mischief);
}

static void serve_connection(int fd)
{
    struct pollfd wait = {.fd = fd, .events = POLLIN};

    while (!rogue_is_ending(&rogue))
        if (poll(&wait, 1, 10) > 0 && !serve_one(fd))
            break;
    (void)close(fd);
}

static void *server_run(void *unused)
{
    struct pollfd wait = {.fd = rogue.fd, .events = POLLIN};

    (void)unused;
    while (!rogue_is_ending(&rogue))
        if (poll(&wait, 1, 10) > 0)
            serve_connection(accept(rogue.fd, NULL, NULL));
    return NULL;
}

static void server_start(void)
{
    struct sockaddr_in address = {.sin_family = AF_INET, .sin_port = htons((uint16_t)rogue.port)};
    socklen_t length = sizeof address;
    int on = 1;

    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    rogue.fd = socket(AF_INET, SOCK_STREAM, 0);
    (void)setsockopt(rogue.fd, SOL_SOCKET, SO_REUSEADDR, &on, sizeof on);
    ck_assert_int_eq(bind(rogue.fd, (struct sockaddr *)&address, sizeof address), 0);
    ck_assert_int_eq(listen(rogue.fd, 4), 0);
    ck_assert_int_eq(getsockname(rogue.fd, (struct sockaddr *)&address, &length), 0);
    rogue.port = ntohs(address.sin_port);
    rogue.is_ending = false;
    ck_assert_int_eq(pthread_create(&rogue.thread, NULL, server_run, NULL), 0);
}

static void server_stop(void)
{
    (void)pthread_mutex_lock(&rogue.lock);
    rogue.is_ending = true;
    (void)pthread_mutex_unlock(&rogue.lock);
    (void)pthread_join(rogue.thread, NULL);
    (void)close(rogue.fd);
}

static void open_driver(int reply_ms)
{
    struct bus_settings bus;

    rogue_bus(&bus, reply_ms);
    bus.kind = BUS_TCP;
    strcpy(bus.host, "127.0.0.1");
    bus.port = rogue.port;
    listener_open(&listener, driver_find(BUS_TCP), &bus);
}

static void set_up(void)
{
    (void)signal(SIGPIPE, SIG_IGN); /* the server may write to a closed connection */
    rogue_set_up(&rogue);
    server_start();
    open_driver(REPLY_MS);
}

static void tear_down(void)
{
    listener.driver->close(listener.handle);
    server_stop();
}

/* ---- tests ---------------------------------------------------------------------------------- */

START_TEST(a_good_bus_is_good_at_once)
{
    ck_assert_int_le(listener_heal(&listener, 3), 2);
    ck_assert_int_eq(rogue_holding(&rogue, 4, 1), 3000);
    ck_assert_int_eq(listener.says, 0);
}
END_TEST

static const enum mischief LINE_MISCHIEF[] = {ROGUE_LATE,
                                              ROGUE_SILENT,
                                              ROGUE_SHORT,
                                              ROGUE_LONG,
                                              ROGUE_WRONG_UNIT,
                                              ROGUE_WRONG_FUNCTION,
                                              ROGUE_WRONG_TRANSACTION,
                                              ROGUE_TRICKLE,
                                              ROGUE_CUT,
                                              ROGUE_CLOSE};

START_TEST(after_any_failure_all_readings_are_bad_and_heal)
{
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    rogue_order(&rogue, 1, LINE_MISCHIEF[_i], 1);
    listener_pass(&listener);
    ck_assert(listener_all(&listener, QUALITY_BAD));
    for (int i = 0; i < ROGUE_POINT_COUNT; i++)
        ck_assert_int_eq(listener.readings[ROGUE_POINTS[i]].reason, REASON_BUS_LOST);
    ck_assert_ptr_nonnull(strstr(listener.said, "bus tank is lost"));
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    ck_assert_ptr_nonnull(strstr(listener.said, "bus tank answers again"));
    for (int i = 0; i < 10; i++)
        listener_pass(&listener);
    ck_assert(listener_all(&listener, QUALITY_GOOD));
    ck_assert_int_le(listener.says, 4);
}
END_TEST

START_TEST(mischief_at_every_request_gives_no_good_reading_of_that_unit)
{
    rogue_order(&rogue, 1, LINE_MISCHIEF[_i], -1);
    for (int i = 0; i < 40; i++) {
        listener_pass(&listener);
        ck_assert_int_eq(listener.readings[POINT_TANK_TEMP_C].quality, QUALITY_BAD);
    }
    rogue_order(&rogue, 1, ROGUE_NONE, 0);
    ck_assert_int_le(listener_heal(&listener, 110), 105);
}
END_TEST

START_TEST(a_reply_given_twice_is_not_taken_for_the_next_one)
{
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    rogue_order(&rogue, 1, ROGUE_TWICE, 1);
    listener_pass(&listener);
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
}
END_TEST

START_TEST(an_exception_makes_one_device_bad_and_leaves_the_bus)
{
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    rogue_order(&rogue, 1, ROGUE_EXCEPTION, 1);
    listener_pass(&listener);
    ck_assert_int_eq(listener.readings[POINT_TANK_TEMP_C].quality, QUALITY_BAD);
    ck_assert_int_eq(listener.readings[POINT_TANK_TEMP_C].reason, REASON_DEVICE);
    ck_assert_int_eq(listener.readings[POINT_SHEATH_TEMP_C].reason, REASON_DEVICE);
    ck_assert_int_eq(listener.readings[POINT_WATER_L].quality, QUALITY_GOOD);
    ck_assert_int_eq(listener.readings[POINT_LID_CLOSED].quality, QUALITY_GOOD);
    ck_assert_int_eq(listener_heal(&listener, 3), 1);
}
END_TEST

START_TEST(a_gateway_that_reports_silence_backs_that_unit_off)
{
    int requests;

    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    rogue_order(&rogue, 6, ROGUE_GATEWAY, -1);
    requests = rogue_requests(&rogue, 6);
    for (int i = 0; i < 80; i++)
        listener_pass(&listener);
    ck_assert_int_eq(listener.readings[POINT_WATER_L].reason, REASON_DEVICE);
    ck_assert_int_eq(listener.readings[POINT_TANK_TEMP_C].bad_posts, 0);
    ck_assert_int_le(rogue_requests(&rogue, 6) - requests, 4);
}
END_TEST

/* What a silent unit costs is counted in requests that wait in vain: one a pass, and few passes. */
START_TEST(a_silent_unit_does_not_stall_the_others)
{
    int most = 0, in_vain = 0, bad_before;

    rogue_order(&rogue, 6, ROGUE_SILENT, -1);
    for (int i = 0; i < 20; i++)
        listener_pass(&listener);
    bad_before = listener.readings[POINT_TANK_TEMP_C].bad_posts;
    for (int i = 0; i < 200; i++) {
        int before = rogue_requests(&rogue, 6), now;

        listener_pass(&listener);
        now = rogue_requests(&rogue, 6) - before;
        most = now > most ? now : most;
        in_vain += now;
        ck_assert_int_eq(listener.readings[POINT_TANK_TEMP_C].quality, QUALITY_GOOD);
        ck_assert_int_le(listener.now_us - listener.readings[POINT_TANK_TEMP_C].at_us, 100000);
    }
    ck_assert_int_eq(listener.readings[POINT_TANK_TEMP_C].bad_posts, bad_before);
    ck_assert_int_eq(listener.readings[POINT_WATER_L].quality, QUALITY_BAD);
    ck_assert_int_eq(listener.readings[POINT_WATER_L].reason, REASON_DEVICE);
    ck_assert_int_le(in_vain, 5);
    ck_assert_int_le(most, 1);
    rogue_order(&rogue, 6, ROGUE_NONE, 0);
    ck_assert_int_le(listener_heal(&listener, 110), 105);
}
END_TEST

START_TEST(a_silent_unit_with_outputs_counts_as_a_lost_bus)
{
    rogue_order(&rogue, 4, ROGUE_SILENT, -1);
    for (int i = 0; i < 20; i++)
        listener_pass(&listener);
    ck_assert_int_eq(listener.readings[POINT_LID_CLOSED].reason, REASON_BUS_LOST);
    ck_assert_int_eq(listener.readings[POINT_TANK_TEMP_C].quality, QUALITY_GOOD);
}
END_TEST

START_TEST(outputs_are_written_on_change_and_refreshed_every_second)
{
    int requests;

    listener.has_wanted = true;
    listener.wanted[POINT_HEATER_ON] = 1;
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    ck_assert_int_eq(rogue_coil(&rogue, 0), 1);
    listener.wanted[POINT_STIRRER_ON] = 1;
    listener_pass(&listener);
    ck_assert_int_eq(rogue_coil(&rogue, 1), 1);
    requests = rogue_requests(&rogue, 4);
    for (int i = 0; i < 100; i++)
        listener_pass(&listener);
    /* two reads a pass, two refreshes a second, for 10 s */
    ck_assert_int_ge(rogue_requests(&rogue, 4) - requests, 200 + 18);
    ck_assert_int_le(rogue_requests(&rogue, 4) - requests, 200 + 24);
    listener.has_wanted = false; /* expired */
    listener_pass(&listener);
    ck_assert_int_eq(rogue_coil(&rogue, 0), 0);
    ck_assert_int_eq(rogue_coil(&rogue, 1), 0);
}
END_TEST

START_TEST(an_off_write_goes_out_in_the_pass_of_the_failure_and_is_verified_after)
{
    listener.has_wanted = true;
    listener.wanted[POINT_HEATER_ON] = 1;
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    ck_assert_int_eq(rogue_coil(&rogue, 0), 1);
    rogue_order(&rogue, 4, ROGUE_SILENT, 1); /* the off-write itself gets no answer */
    listener.wanted[POINT_HEATER_ON] = 0;
    listener_pass(&listener);
    for (int i = 0; i < 200 && rogue_coil(&rogue, 0) != 0; i++)
        (void)usleep(10000);
    ck_assert_int_eq(rogue_coil(&rogue, 0), 0);
    ck_assert(listener_all(&listener, QUALITY_BAD));
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    ck_assert_int_eq(rogue_coil(&rogue, 0), 0);
}
END_TEST

START_TEST(switching_off_does_not_wait_for_the_back_off)
{
    listener.has_wanted = true;
    listener.wanted[POINT_HEATER_ON] = 1;
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    rogue_order(&rogue, 1, ROGUE_SILENT, 1);
    listener_pass(&listener);
    ck_assert(listener_all(&listener, QUALITY_BAD));
    ck_assert_int_eq(rogue_coil(&rogue, 0), 1);
    listener.wanted[POINT_HEATER_ON] = 0; /* the scan trips on the bad readings */
    listener_pass(&listener);
    ck_assert_int_eq(rogue_coil(&rogue, 0), 0);
}
END_TEST

/* The module that holds the relay loses one reply: it is put aside as silent, but not its off-write. */
START_TEST(a_lost_reply_of_the_switching_module_does_not_keep_the_heater_on)
{
    static const enum mischief lost[] = {ROGUE_SILENT, ROGUE_LATE, ROGUE_GATEWAY,
                                         ROGUE_CLOSE,  ROGUE_CUT,  ROGUE_TWICE};

    listener.has_wanted = true;
    listener.wanted[POINT_HEATER_ON] = 1;
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    ck_assert_int_eq(rogue_coil(&rogue, 0), 1);
    rogue_order(&rogue, 4, lost[_i], 1);
    listener_pass(&listener);
    listener.wanted[POINT_HEATER_ON] = 0; /* the scan trips on the bad readings */
    for (int i = 0; i < 3; i++)
        listener_pass(&listener);
    ck_assert_int_eq(rogue_coil(&rogue, 0), 0);
}
END_TEST

START_TEST(nothing_is_switched_on_before_the_identity_is_proven)
{
    listener.has_wanted = true;
    listener.wanted[POINT_HEATER_ON] = 1;
    rogue_set_holding(&rogue, 4, 0, 1234);
    for (int i = 0; i < 40; i++) {
        listener_pass(&listener);
        ck_assert_int_eq(rogue_coil(&rogue, 0), 0);
        ck_assert_int_eq(listener.readings[POINT_LID_CLOSED].quality, QUALITY_BAD);
    }
    ck_assert_int_eq(rogue_holding(&rogue, 4, 1), 0); /* nor is its fallback set */
    ck_assert_ptr_nonnull(strstr(listener.said, "unit 4 says it is 1234 where 4016 belongs"));
    ck_assert_int_eq(listener.readings[POINT_TANK_TEMP_C].quality, QUALITY_GOOD);
}
END_TEST

START_TEST(a_fallback_that_does_not_stick_is_a_failed_device)
{
    listener.has_wanted = true;
    listener.wanted[POINT_HEATER_ON] = 1;
    rogue_order(&rogue, 4, ROGUE_DEAF, -1);
    for (int i = 0; i < 20; i++)
        listener_pass(&listener);
    ck_assert_int_eq(listener.readings[POINT_LID_CLOSED].quality, QUALITY_BAD);
    ck_assert_ptr_nonnull(strstr(listener.said, "switch-off after 3000 ms"));
    rogue_order(&rogue, 4, ROGUE_NONE, 0);
    ck_assert_int_le(listener_heal(&listener, 110), 60);
    ck_assert_int_eq(rogue_holding(&rogue, 4, 1), 3000);
    ck_assert_int_eq(rogue_coil(&rogue, 0), 1);
}
END_TEST

START_TEST(an_output_that_does_not_hold_what_was_written_is_found)
{
    listener.has_wanted = true;
    listener.wanted[POINT_HEATER_ON] = 1;
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    rogue_set_coil(&rogue, 0, 0); /* the module restarted and dropped everything */
    rogue_set_holding(&rogue, 4, 1, 0);
    listener_pass(&listener);
    ck_assert_int_eq(listener.readings[POINT_LID_CLOSED].quality, QUALITY_BAD);
    ck_assert_ptr_nonnull(strstr(listener.said, "heater_on does not hold what was written"));
    ck_assert_int_eq(rogue_coil(&rogue, 0), 0);
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    ck_assert_int_eq(rogue_holding(&rogue, 4, 1), 3000);
}
END_TEST

START_TEST(a_server_that_goes_away_is_tried_with_growing_pauses)
{
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    server_stop();
    for (int i = 0; i < 300; i++)
        listener_pass(&listener);
    ck_assert(listener_all(&listener, QUALITY_BAD));
    ck_assert_int_ge(listener.readings[POINT_TANK_TEMP_C].bad_posts, 299); /* stays fresh */
    ck_assert_int_le(listener.says, 2);
    server_start();
    ck_assert_int_le(listener_heal(&listener, 120), 101);
}
END_TEST

START_TEST(closing_switches_everything_off)
{
    listener.has_wanted = true;
    listener.wanted[POINT_HEATER_ON] = listener.wanted[POINT_STIRRER_ON] = 1;
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    ck_assert_int_eq(rogue_coil(&rogue, 0) + rogue_coil(&rogue, 1), 2);
    listener.driver->close(listener.handle);
    ck_assert_int_eq(rogue_coil(&rogue, 0) + rogue_coil(&rogue, 1), 0);
    open_driver(REPLY_MS);
    listener.driver->close(NULL);
}
END_TEST

START_TEST(a_bus_that_cannot_be_driven_is_not_opened)
{
    struct bus_settings bus;
    struct fault f = {0};
    void *handle = &bus;

    rogue_bus(&bus, REPLY_MS);
    ck_assert_int_eq(driver_find(BUS_TCP)->open(&bus, &handle, &f), ST_SETTINGS);
    ck_assert_ptr_null(handle);
    ck_assert_str_ne(f.text, "");
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("modbus_tcp");
    TCase *tcase = tcase_create("all");
    int kinds = (int)(sizeof LINE_MISCHIEF / sizeof LINE_MISCHIEF[0]);

    tcase_add_checked_fixture(tcase, set_up, tear_down);
    tcase_set_timeout(tcase, 60);
    tcase_add_test(tcase, a_good_bus_is_good_at_once);
    tcase_add_loop_test(tcase, after_any_failure_all_readings_are_bad_and_heal, 0, kinds);
    tcase_add_loop_test(tcase, mischief_at_every_request_gives_no_good_reading_of_that_unit, 0, kinds);
    tcase_add_test(tcase, a_reply_given_twice_is_not_taken_for_the_next_one);
    tcase_add_test(tcase, an_exception_makes_one_device_bad_and_leaves_the_bus);
    tcase_add_test(tcase, a_gateway_that_reports_silence_backs_that_unit_off);
    tcase_add_test(tcase, a_silent_unit_does_not_stall_the_others);
    tcase_add_test(tcase, a_silent_unit_with_outputs_counts_as_a_lost_bus);
    tcase_add_test(tcase, outputs_are_written_on_change_and_refreshed_every_second);
    tcase_add_test(tcase, an_off_write_goes_out_in_the_pass_of_the_failure_and_is_verified_after);
    tcase_add_test(tcase, switching_off_does_not_wait_for_the_back_off);
    tcase_add_loop_test(tcase, a_lost_reply_of_the_switching_module_does_not_keep_the_heater_on, 0, 6);
    tcase_add_test(tcase, nothing_is_switched_on_before_the_identity_is_proven);
    tcase_add_test(tcase, a_fallback_that_does_not_stick_is_a_failed_device);
    tcase_add_test(tcase, an_output_that_does_not_hold_what_was_written_is_found);
    tcase_add_test(tcase, a_server_that_goes_away_is_tried_with_growing_pauses);
    tcase_add_test(tcase, closing_switches_everything_off);
    tcase_add_test(tcase, a_bus_that_cannot_be_driven_is_not_opened);
    suite_add_tcase(suite, tcase);
    return suite;
}
