/* The Modbus driver on a serial line (a pseudo-terminal) whose devices answer late or wrongly. The
 * reply to a read carries no address, so a late one fits the next question: it must never shift
 * what is read after it. */
#include "unit/drivers/rogue.h"

#include <fcntl.h>
#include <poll.h>
#include <stdlib.h>
#include <termios.h>

#define REPLY_MS 200

/* 1 s of back-off is 11 passes; a loaded machine may cost a trial or two more. */
#define HEAL_MOST 60

static struct rogue rogue;
static struct listener listener;
static int keeper; /* the far end stays open, so that the near end never sees a hang-up */
static char path[64];

/* ---- the devices ------------------------------------------------------------------------- */

/* CRC-16 of Modbus over Serial Line V1.02, appendix B. */
static unsigned checksum(const uint8_t *bytes, size_t length)
{
    unsigned crc = 0xffff;

    for (size_t i = 0; i < length; i++) {
        crc ^= bytes[i];
        for (int bit = 0; bit < 8; bit++)
            crc = crc & 1 ? crc >> 1 ^ 0xa001 : crc >> 1;
    }
    return crc;
}

static void answer(const uint8_t *request)
{
    uint8_t reply[300];
    enum mischief mischief;
    size_t length = rogue_answer(&rogue, request, reply, &mischief);
    unsigned crc = checksum(reply, length);

    if (mischief == ROGUE_GARBLED)
        crc ^= 0x0100;
    reply[length] = (uint8_t)crc;
    reply[length + 1] = (uint8_t)(crc >> 8);
    (void)rogue_send(&rogue, rogue.fd, reply, length + 2, mischief);
}

/* All requests of this bus have eight bytes; a broken one makes the devices start afresh. */
static void *devices_run(void *unused)
{
    struct pollfd wait = {.fd = rogue.fd, .events = POLLIN};
    uint8_t request[8];
    size_t used = 0;

    (void)unused;
    while (!rogue_is_ending(&rogue)) {
        ssize_t got = poll(&wait, 1, 10) > 0 ? read(rogue.fd, request + used, sizeof request - used) : 0;

        used += got > 0 ? (size_t)got : 0;
        if (used < sizeof request)
            continue;
        used = 0;
        if (checksum(request, 6) == (request[6] | (unsigned)request[7] << 8))
            answer(request);
        else
            (void)tcflush(rogue.fd, TCIFLUSH);
    }
    return NULL;
}

static bool line_open(void)
{
    const char *name;

    rogue.fd = posix_openpt(O_RDWR | O_NOCTTY);
    if (rogue.fd < 0 || grantpt(rogue.fd) != 0 || unlockpt(rogue.fd) != 0)
        return false;
    name = ptsname(rogue.fd);
    if (name == NULL)
        return false;
    (void)snprintf(path, sizeof path, "%s", name);
    keeper = open(path, O_RDWR | O_NOCTTY);
    return keeper >= 0;
}

static void set_up(void)
{
    struct bus_settings bus;

    rogue_set_up(&rogue);
    ck_assert(line_open());
    ck_assert_int_eq(pthread_create(&rogue.thread, NULL, devices_run, NULL), 0);
    rogue_bus(&bus, REPLY_MS);
    bus.kind = BUS_RTU;
    strcpy(bus.path, path);
    bus.baud = 19200;
    bus.parity = 'E';
    listener_open(&listener, driver_find(BUS_RTU), &bus);
}

static void tear_down(void)
{
    if (listener.driver != NULL)
        listener.driver->close(listener.handle);
    listener.driver = NULL;
    (void)pthread_mutex_lock(&rogue.lock);
    rogue.is_ending = true;
    (void)pthread_mutex_unlock(&rogue.lock);
    (void)pthread_join(rogue.thread, NULL);
    (void)close(keeper);
    (void)close(rogue.fd);
}

/* ---- tests ---------------------------------------------------------------------------------- */

START_TEST(a_good_line_is_good_at_once)
{
    ck_assert_int_le(listener_heal(&listener, 3), 2);
    ck_assert_int_eq(rogue_holding(&rogue, 4, 1), 3000);
}
END_TEST

/* Late by less than the timeout and the drain, by more than both, and by much more. */
static const int DELAYS_MS[] = {250, 450, 900};

START_TEST(a_late_reply_does_not_shift_later_readings)
{
    rogue_set_delay(&rogue, DELAYS_MS[_i]);
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    rogue_order(&rogue, 1, ROGUE_LATE, 1);
    listener_pass(&listener);
    ck_assert(listener_all(&listener, QUALITY_BAD));
    ck_assert_int_eq(listener.readings[POINT_WATER_L].reason, REASON_BUS_LOST);
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    for (int i = 0; i < 20; i++)
        listener_pass(&listener);
    ck_assert(listener_all(&listener, QUALITY_GOOD));
}
END_TEST

START_TEST(replies_that_are_always_late_never_become_good_numbers)
{
    rogue_set_delay(&rogue, 250);
    rogue_order(&rogue, 1, ROGUE_LATE, -1);
    for (int i = 0; i < 25; i++) {
        listener_pass(&listener);
        ck_assert_int_eq(listener.readings[POINT_TANK_TEMP_C].quality, QUALITY_BAD);
    }
    ck_assert_int_eq(listener.readings[POINT_WATER_L].quality, QUALITY_GOOD);
    rogue_order(&rogue, 1, ROGUE_NONE, 0);
    ck_assert_int_le(listener_heal(&listener, 110), 105);
}
END_TEST

static const enum mischief LINE_MISCHIEF[] = {ROGUE_SILENT,         ROGUE_SHORT,   ROGUE_LONG,
                                              ROGUE_WRONG_UNIT,     ROGUE_GARBLED, ROGUE_CUT,
                                              ROGUE_WRONG_FUNCTION, ROGUE_TRICKLE};

START_TEST(after_any_failure_all_readings_are_bad_and_heal)
{
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    rogue_order(&rogue, 1, LINE_MISCHIEF[_i], 1);
    listener_pass(&listener);
    ck_assert(listener_all(&listener, QUALITY_BAD));
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
}
END_TEST

START_TEST(a_reply_given_twice_is_not_taken_for_the_next_one)
{
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    rogue_order(&rogue, 1, ROGUE_TWICE, 3);
    listener_pass(&listener);
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
}
END_TEST

START_TEST(an_exception_leaves_the_line)
{
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    rogue_order(&rogue, 6, ROGUE_EXCEPTION, 1);
    listener_pass(&listener);
    ck_assert_int_eq(listener.readings[POINT_WATER_L].reason, REASON_DEVICE);
    ck_assert_int_eq(listener.readings[POINT_TANK_TEMP_C].quality, QUALITY_GOOD);
    ck_assert_int_le(listener_heal(&listener, 3), 1);
}
END_TEST

START_TEST(an_off_write_goes_out_before_the_drain)
{
    listener.has_wanted = true;
    listener.wanted[POINT_HEATER_ON] = 1;
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    ck_assert_int_eq(rogue_coil(&rogue, 0), 1);
    rogue_order(&rogue, 4, ROGUE_SILENT, 1); /* the off-write itself gets no answer */
    listener.wanted[POINT_HEATER_ON] = 0;
    listener_pass(&listener);
    ck_assert_int_eq(rogue_coil(&rogue, 0), 0);
    ck_assert_int_le(listener_heal(&listener, 80), HEAL_MOST);
    ck_assert_int_eq(rogue_coil(&rogue, 0), 0);
}
END_TEST

START_TEST(a_silent_unit_does_not_stall_the_others)
{
    rogue_order(&rogue, 6, ROGUE_SILENT, -1);
    for (int i = 0; i < 15; i++)
        listener_pass(&listener);
    for (int i = 0; i < 60; i++) {
        listener_pass(&listener);
        ck_assert_int_eq(listener.readings[POINT_TANK_TEMP_C].quality, QUALITY_GOOD);
    }
    ck_assert_int_eq(listener.readings[POINT_WATER_L].reason, REASON_DEVICE);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("modbus_rtu");
    TCase *tcase = tcase_create("all");
    int kinds = (int)(sizeof LINE_MISCHIEF / sizeof LINE_MISCHIEF[0]);

    suite_add_tcase(suite, tcase);
    if (!line_open()) {
        printf("SKIP: this machine gives no pseudo-terminal, so the serial line is not tested\n");
        return suite;
    }
    (void)close(keeper);
    (void)close(rogue.fd);
    tcase_add_checked_fixture(tcase, set_up, tear_down);
    tcase_set_timeout(tcase, 60);
    tcase_add_test(tcase, a_good_line_is_good_at_once);
    tcase_add_loop_test(tcase, a_late_reply_does_not_shift_later_readings, 0, 3);
    tcase_add_test(tcase, replies_that_are_always_late_never_become_good_numbers);
    tcase_add_loop_test(tcase, after_any_failure_all_readings_are_bad_and_heal, 0, kinds);
    tcase_add_test(tcase, a_reply_given_twice_is_not_taken_for_the_next_one);
    tcase_add_test(tcase, an_exception_leaves_the_line);
    tcase_add_test(tcase, an_off_write_goes_out_before_the_drain);
    tcase_add_test(tcase, a_silent_unit_does_not_stall_the_others);
    return suite;
}
