#include "simulator/granter.h"
#include "simulator/line_client.h"
#include "simulator/wire.h"

#include "support/folder.h"
#include "support/support.h"

#include <arpa/inet.h>
#include <errno.h>
#include <netinet/in.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

static struct world world;
static struct wire wire;

static void wire_begin(void)
{
    struct plant_declared declared;
    struct fault f;

    plant_declared_demo(&declared);
    world_init(&world, 1, &declared);
    ck_assert(wire_open(&wire, 0, &f) == ST_OK);
    ck_assert_int_gt(wire.port, 0);
}

static int master_open(void)
{
    struct sockaddr_in address = {.sin_family = AF_INET, .sin_port = htons((uint16_t)wire.port)};
    int fd = socket(AF_INET, SOCK_STREAM, 0);

    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    ck_assert_int_eq(connect(fd, (const struct sockaddr *)&address, sizeof address), 0);
    return fd;
}

static void wire_turn(int64_t now_us)
{
    struct pollfd polls[1 + WIRE_PEERS_MAX];
    int count = wire_polls(&wire, polls);

    ck_assert_int_ge(poll(polls, (nfds_t)count, 20), 0);
    wire_serve(&wire, &world, polls, count, now_us);
}

/* Turns until nothing is left to do at this real time. */
static void wire_settle(int64_t now_us)
{
    for (int i = 0; i < 4; i++)
        wire_turn(now_us);
    (void)wire_serve_late(&wire, &world, now_us);
}

struct reply {
    int length; /* 0: none came; -1: closed */
    uint8_t bytes[300];
};

static struct reply receive(int fd)
{
    struct reply reply = {0, {0}};
    ssize_t got = recv(fd, reply.bytes, sizeof reply.bytes, MSG_DONTWAIT);

    reply.length = got > 0 ? (int)got : got < 0 && errno == EAGAIN ? 0 : -1;
    return reply;
}

/* One request of six bytes after the unit: function, address, count or value. */
static void send_request(int fd, int unit, int function, int address, int count)
{
    uint8_t frame[12] = {0x12, 0x34, 0, 0, 0, 6};

    frame[6] = (uint8_t)unit;
    frame[7] = (uint8_t)function;
    frame[8] = (uint8_t)(address >> 8);
    frame[9] = (uint8_t)address;
    frame[10] = (uint8_t)(count >> 8);
    frame[11] = (uint8_t)count;
    ck_assert_int_eq(send(fd, frame, sizeof frame, MSG_NOSIGNAL), sizeof frame);
}

static struct reply ask(int fd, int unit, int function, int address, int count)
{
    send_request(fd, unit, function, address, count);
    wire_settle(0);
    return receive(fd);
}

static bool is_exception(const struct reply *reply, int code)
{
    return reply->length == 9 && (reply->bytes[7] & 0x80) != 0 && reply->bytes[8] == code;
}

START_TEST(registers_are_read_and_written)
{
    struct reply reply;
    int fd;

    wire_begin();
    fd = master_open();
    reply = ask(fd, 1, 4, 10, 1);
    ck_assert_int_eq(reply.length, 11);
    ck_assert_int_eq(reply.bytes[0] << 8 | reply.bytes[1], 0x1234);
    ck_assert_int_eq(reply.bytes[6], 1);
    ck_assert_int_eq(reply.bytes[9] << 8 | reply.bytes[10], 5401);
    reply = ask(fd, 4, 5, 1, 0xff00);
    ck_assert_int_eq(reply.length, 12);
    ck_assert_uint_eq(world.devices.units[3].coils[1], 1);
    reply = ask(fd, 8, 6, 0, 455);
    ck_assert_int_eq(reply.length, 12);
    ck_assert_uint_eq(world.devices.units[7].holding[0], 455);
    close(fd);
    wire_close(&wire);
}
END_TEST

START_TEST(what_a_device_does_not_have_is_refused)
{
    struct reply reply;
    int fd;

    wire_begin();
    fd = master_open();
    reply = ask(fd, 8, 6, 0, 1001);
    ck_assert(is_exception(&reply, 3));
    reply = ask(fd, 8, 6, 5, 1);
    ck_assert(is_exception(&reply, 2));
    reply = ask(fd, 1, 3, 200, 1);
    ck_assert(is_exception(&reply, 2));
    reply = ask(fd, 1, 4, 0, 0);
    ck_assert(is_exception(&reply, 3));
    reply = ask(fd, 1, 43, 0, 0);
    ck_assert(is_exception(&reply, 1));
    reply = ask(fd, 77, 4, 0, 1); /* nobody there */
    ck_assert_int_eq(reply.length, 0);
    close(fd);
    wire_close(&wire);
}
END_TEST

START_TEST(faults_show_on_the_wire)
{
    struct reply reply;
    int fd;

    wire_begin();
    fd = master_open();
    world.unit_faults[1].kind = UNIT_SILENT;
    reply = ask(fd, 1, 4, 0, 3);
    ck_assert_int_eq(reply.length, 0);
    world.unit_faults[1].kind = UNIT_EXCEPTION;
    reply = ask(fd, 1, 4, 0, 3);
    ck_assert(is_exception(&reply, 4));
    world.unit_faults[1].kind = UNIT_SHORT;
    reply = ask(fd, 1, 4, 0, 3);
    ck_assert_int_eq(reply.length, 13); /* two registers instead of three, framed well */
    ck_assert_int_eq(reply.bytes[8], 4);
    reply = ask(fd, 2, 3, 0, 2); /* others are well */
    ck_assert_int_eq(reply.length, 13);
    close(fd);
    wire_close(&wire);
}
END_TEST

START_TEST(a_slow_unit_answers_late_and_blocks_nobody)
{
    struct reply reply;
    int slow, quick;

    wire_begin();
    slow = master_open();
    quick = master_open();
    world.unit_faults[2] = (struct unit_fault){UNIT_SLOW, 500};
    send_request(slow, 2, 3, 0, 2);
    wire_settle(1000000);
    ck_assert_int_eq(receive(slow).length, 0);
    reply = ask(quick, 1, 4, 0, 3);
    ck_assert_int_eq(reply.length, 15);
    ck_assert_int_eq(wire_serve_late(&wire, &world, 1400000), 1500000);
    ck_assert_int_eq(receive(slow).length, 0);
    (void)wire_serve_late(&wire, &world, 1500000);
    ck_assert_int_eq(receive(slow).length, 13);
    close(slow);
    close(quick);
    wire_close(&wire);
}
END_TEST

START_TEST(a_request_in_pieces_waits_and_nonsense_closes)
{
    const uint8_t head[5] = {0, 1, 0, 0, 0}, tail[7] = {6, 1, 4, 0, 10, 0, 1};
    const uint8_t nonsense[12] = "GET / HTTP/1";
    int fd, other;

    wire_begin();
    fd = master_open();
    ck_assert_int_eq(send(fd, head, sizeof head, 0), sizeof head);
    wire_settle(0);
    ck_assert_int_eq(receive(fd).length, 0);
    ck_assert_int_eq(send(fd, tail, sizeof tail, 0), sizeof tail);
    wire_settle(0);
    ck_assert_int_eq(receive(fd).length, 11);
    other = master_open();
    ck_assert_int_eq(send(other, nonsense, sizeof nonsense, 0), sizeof nonsense);
    wire_settle(0);
    ck_assert_int_eq(receive(other).length, -1);
    close(other);
    close(fd);
    wire_close(&wire);
}
END_TEST

START_TEST(a_request_resets_the_fallback_time_and_a_silent_device_hears_none)
{
    int fd;

    wire_begin();
    fd = master_open();
    world.tank_us = 5000000;
    (void)ask(fd, 4, 1, 0, 4);
    ck_assert_int_eq(world.devices.units[3].asked_us, 5000000);
    world.unit_faults[4].kind = UNIT_SILENT;
    world.tank_us = 6000000;
    (void)ask(fd, 4, 1, 0, 4);
    ck_assert_int_eq(world.devices.units[3].asked_us, 5000000);
    close(fd);
    wire_close(&wire);
}
END_TEST

/* ---- the clock socket ---------------------------------------------------------------- */

static struct granter granter;
static char folder[TEST_FOLDER_MAX];
static char path[TEST_FOLDER_MAX + 8];

static void granter_begin(double rate)
{
    struct plant_declared declared;
    struct fault f;

    plant_declared_demo(&declared);
    world_init(&world, 1, &declared);
    (void)test_folder_template(folder, "sw-wire");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/clock", folder);
    ck_assert(granter_open(&granter, path, &world, rate, 0, &f) == ST_OK);
}

static void granter_end(void)
{
    granter_close(&granter);
    ck_assert_int_ne(access(path, F_OK), 0);
    ck_assert_int_eq(rmdir(folder), 0);
}

static void granter_turn(int64_t now_us)
{
    struct pollfd polls[1 + LINE_PEERS_MAX];
    int count;

    for (int i = 0; i < 3; i++) {
        count = granter_polls(&granter, polls);
        ck_assert_int_ge(poll(polls, (nfds_t)count, 10), 0);
        granter_serve(&granter, polls, count, now_us);
        (void)granter_run(&granter, now_us);
    }
}

START_TEST(scans_are_granted_one_by_one_and_time_goes_on_for_the_next_daemon)
{
    static struct line_client daemon;
    struct fault f;
    const char *line;

    granter_begin(0);
    ck_assert(line_client_open(&daemon, path, &f) == ST_OK);
    granter_turn(0);
    ck_assert_str_eq(line_client_next(&daemon, 100), "grant 0 1789365600000000");
    granter_turn(50000000); /* however long the daemon takes, the tank waits */
    ck_assert_int_eq(world.tank_us, 0);
    ck_assert(line_client_send(&daemon, "done 0\n"));
    granter_turn(50000000);
    ck_assert_str_eq(line_client_next(&daemon, 100), "grant 100000 1789365600100000");
    line_client_close(&daemon);
    granter_turn(60000000);
    (void)granter_run(&granter, 60000000 + 350000); /* nobody there: real time */
    ck_assert_int_eq(world.tank_us, 400000);
    ck_assert(line_client_open(&daemon, path, &f) == ST_OK);
    granter_turn(60350000);
    line = line_client_next(&daemon, 100);
    ck_assert_str_eq(line, "grant 400000 1789365600400000");
    line_client_close(&daemon);
    granter_end();
}
END_TEST

START_TEST(a_rate_holds_the_next_grant_back)
{
    static struct line_client daemon;
    struct fault f;

    granter_begin(10); /* a scan each 10 ms */
    ck_assert(line_client_open(&daemon, path, &f) == ST_OK);
    granter_turn(1000000);
    ck_assert_ptr_nonnull(line_client_next(&daemon, 100));
    ck_assert(line_client_send(&daemon, "done 0\n"));
    granter_turn(1002000);
    ck_assert_ptr_null(line_client_next(&daemon, 10));
    ck_assert_int_eq(granter_run(&granter, 1003000), 1010000);
    granter_turn(1010000);
    ck_assert_ptr_nonnull(line_client_next(&daemon, 100));
    line_client_close(&daemon);
    granter_end();
}
END_TEST

START_TEST(a_dead_socket_is_replaced_and_a_live_one_is_not)
{
    static struct line_server second;
    struct fault f;

    granter_begin(0);
    ck_assert(line_server_open(&second, path, 1, &f) == ST_BUSY);
    ck_assert_ptr_nonnull(strstr(f.text, "another simulator"));
    close(granter.server.fd); /* as after a kill: the file stays */
    ck_assert(line_server_open(&second, path, 1, &f) == ST_OK);
    line_server_close(&second);
    granter.server.fd = -1;
    granter_end();
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("wire");
    TCase *tests = tcase_create("wire");

    tcase_set_timeout(tests, 30);
    tcase_add_test(tests, registers_are_read_and_written);
    tcase_add_test(tests, what_a_device_does_not_have_is_refused);
    tcase_add_test(tests, faults_show_on_the_wire);
    tcase_add_test(tests, a_slow_unit_answers_late_and_blocks_nobody);
    tcase_add_test(tests, a_request_in_pieces_waits_and_nonsense_closes);
    tcase_add_test(tests, a_request_resets_the_fallback_time_and_a_silent_device_hears_none);
    tcase_add_test(tests, scans_are_granted_one_by_one_and_time_goes_on_for_the_next_daemon);
    tcase_add_test(tests, a_rate_holds_the_next_grant_back);
    tcase_add_test(tests, a_dead_socket_is_replaced_and_a_live_one_is_not);
    suite_add_tcase(suite, tests);
    return suite;
}
