/* The server against clients that are wrong, rude, slow, many, or nobody in particular. */
#include "remote/server.h"
#include "server_fixture.h"

#include <errno.h>
#include <fcntl.h>
#include <sys/wait.h>

#define STATE_LINE "{\"v\":1,\"verb\":\"state\"}\n"

START_TEST(garbage_is_answered_and_the_connection_stays)
{
    int fd = wire_connect();

    wire_no(fd, "hello?\n", "garbage", "not one JSON object");
    wire_no(fd, "\n", "garbage", "");
    wire_no(fd, "{\"v\":9,\"verb\":\"state\"}\n", "version", "\"v\":1");
    wire_no(fd, "{\"v\":1,\"verb\":\"state\",\"x\\u001b\":1}\n", "key", "x?");
    wire_yes_only(fd, STATE_LINE);
    wire_yes_only(fd, "{\"v\":1,\"verb\":\"state\"}\r\n");
    close(fd);
}
END_TEST

START_TEST(an_oversize_line_is_told_so_and_cut_off)
{
    static char big[70000];
    int fd = wire_connect();

    memset(big, 'a', sizeof big - 1);
    (void)send(fd, big, sizeof big - 1, MSG_NOSIGNAL);
    reply_is_no(wire_read(fd, 3000), "garbage", "64 KiB");
    ck_assert_ptr_null(wire_read(fd, 3000));
    close(fd);
    fd = wire_connect();
    wire_yes_only(fd, STATE_LINE);
    close(fd);
}
END_TEST

START_TEST(one_who_writes_far_too_much_at_once_still_reads_why)
{
    static char big[1 << 20];
    int fd = wire_connect();
    size_t sent = 0;

    memset(big, 'a', sizeof big);
    while (sent < sizeof big) { /* as print and flush do: all of it, before anything is read */
        ssize_t part = send(fd, big + sent, sizeof big - sent, MSG_NOSIGNAL);
        ck_assert_int_gt(part, 0);
        sent += (size_t)part;
    }
    reply_is_no(wire_read(fd, 3000), "garbage", "64 KiB");
    ck_assert_ptr_null(wire_read(fd, 3000));
    close(fd);
}
END_TEST

START_TEST(a_line_of_exactly_64_KiB_is_still_one)
{
    static char big[65537];
    int fd = wire_connect();

    memset(big, ' ', 65536);
    memcpy(big, "{\"v\":1,\"verb\":\"state\"}", 22);
    big[65535] = '\n';
    wire_yes_only(fd, big);
    close(fd);
}
END_TEST

START_TEST(half_a_line_waits_for_its_other_half_and_keeps_nobody_up)
{
    int slow = wire_connect();
    int other = wire_connect();

    wire_send(slow, "{\"v\":1,\"ve");
    wire_yes_only(other, STATE_LINE);
    wire_send(slow, "rb\":\"state\"}");
    ck_assert_ptr_null(wire_read(slow, 100));
    wire_yes_only(slow, "\n");
    close(slow);
    close(other);
}
END_TEST

START_TEST(many_lines_at_once_are_answered_in_order)
{
    int fd = wire_connect();
    json_t *reply;

    wire_send(fd, "{\"v\":1,\"verb\":\"hello\"}\n{\"v\":1,\"verb\":\"hold\"}\nnonsense\n" STATE_LINE);
    reply = wire_read(fd, 3000);
    ck_assert_ptr_nonnull(json_object_get(reply, "you"));
    json_decref(reply);
    reply = wire_read(fd, 3000);
    ck_assert_uint_eq(json_object_size(reply), 2);
    json_decref(reply);
    reply_is_no(wire_read(fd, 3000), "garbage", "");
    reply = wire_read(fd, 3000);
    ck_assert_ptr_nonnull(json_object_get(reply, "state"));
    json_decref(reply);
    close(fd);
}
END_TEST

START_TEST(who_says_no_more_still_gets_the_replies)
{
    int fd = wire_connect();
    json_t *reply;

    wire_send(fd, "{\"v\":1,\"verb\":\"hold\"}\n" STATE_LINE "{\"v\":1,\"ha");
    shutdown(fd, SHUT_WR);
    reply = wire_read(fd, 3000);
    ck_assert_ptr_nonnull(reply);
    json_decref(reply);
    reply = wire_read(fd, 3000);
    ck_assert_ptr_nonnull(json_object_get(reply, "state"));
    json_decref(reply);
    ck_assert_ptr_null(wire_read(fd, 3000));
    close(fd);
}
END_TEST

START_TEST(the_seventeenth_client_is_told_why_not)
{
    int fds[16];
    int extra;

    for (int i = 0; i < 16; i++) {
        fds[i] = wire_connect();
        wire_yes_only(fds[i], STATE_LINE);
    }
    extra = wire_connect();
    reply_is_no(wire_read(extra, 3000), "busy", "16 clients");
    ck_assert_ptr_null(wire_read(extra, 3000));
    close(extra);
    for (int i = 0; i < 16; i++)
        wire_yes_only(fds[i], STATE_LINE);
    close(fds[0]);
    usleep(100000);
    extra = wire_connect();
    wire_yes_only(extra, STATE_LINE);
    close(extra);
    for (int i = 1; i < 16; i++)
        close(fds[i]);
}
END_TEST

/* Ask without end and never read: the server must drop this client and serve the others. */
START_TEST(a_client_that_does_not_read_is_dropped_and_harms_nobody)
{
    int greedy = wire_connect();
    int other = wire_connect();
    bool is_dropped = false;

    (void)fcntl(greedy, F_SETFL, O_NONBLOCK);
    for (int i = 0; i < 4000 && !is_dropped; i++) {
        ssize_t sent = send(greedy, STATE_LINE, strlen(STATE_LINE), MSG_NOSIGNAL);
        is_dropped = sent < 0 && errno == EPIPE;
        if (sent < 0 && errno == EAGAIN)
            usleep(1000);
        if (i % 400 == 0)
            wire_yes_only(other, STATE_LINE);
    }
    ck_assert(is_dropped);
    wire_yes_only(other, STATE_LINE);
    close(greedy);
    close(other);
}
END_TEST

START_TEST(leaving_in_the_middle_of_a_command_frees_the_place)
{
    for (int i = 0; i < 40; i++) {
        int fd = wire_connect();
        wire_send(fd, i % 2 == 0 ? "{\"v\":1,\"verb\":\"hold\"}\n" : "{\"v\":1,\"verb\":\"watch\"}\n");
        if (i % 3 == 0)
            usleep(3000);
        close(fd);
    }
    usleep(200000);
    for (int i = 0; i < 16; i++) {
        int fd = wire_connect();
        wire_yes_only(fd, "{\"v\":1,\"verb\":\"pause\"}\n");
        close(fd);
        usleep(5000);
    }
}
END_TEST

START_TEST(more_commands_than_one_scan_takes_are_told_to_wait)
{
    int fds[10];
    int busy = 0;

    wire_yes_only(fds[0] = wire_connect(), STATE_LINE);
    atomic_store(&fixture.mode, MODE_STALLED);
    usleep(20000);
    for (int i = 1; i < 10; i++)
        fds[i] = wire_connect();
    for (int i = 0; i < 10; i++)
        wire_send(fds[i], "{\"v\":1,\"verb\":\"hold\"}\n");
    usleep(200000);
    atomic_store(&fixture.mode, MODE_ANSWER);
    for (int i = 0; i < 10; i++) {
        json_t *reply = wire_read(fds[i], 3000);
        if (json_is_false(json_object_get(reply, "ok"))) {
            busy++;
            reply_is_no(reply, "busy", "8 commands");
        } else {
            json_decref(reply);
        }
        close(fds[i]);
    }
    ck_assert_int_eq(busy, 2);
}
END_TEST

/* ---- somebody without a role --------------------------------------------------------------------- */

static bool raw_ask(int fd, const char *line, const char *part)
{
    char reply[16384];
    size_t used = 0;
    ssize_t got = 1;

    (void)send(fd, line, strlen(line), MSG_NOSIGNAL);
    while (got > 0 && used < sizeof reply - 1 && (used == 0 || reply[used - 1] != '\n')) {
        got = recv(fd, reply + used, sizeof reply - 1 - used, 0);
        used += got > 0 ? (size_t)got : 0;
    }
    reply[used] = '\0';
    return strstr(reply, part) != NULL;
}

static int raw_connect(void)
{
    struct sockaddr_un address = {.sun_family = AF_UNIX};
    int fd = socket(AF_UNIX, SOCK_STREAM, 0);

    (void)snprintf(address.sun_path, sizeof address.sun_path, "%.100s", fixture.settings->control_path);
    return connect(fd, (const struct sockaddr *)&address, sizeof address) == 0 ? fd : -1;
}

static int looker_try(void)
{
    int fds[9];

    fds[0] = raw_connect();
    if (fds[0] < 0)
        return 1;
    if (!raw_ask(fds[0], "{\"v\":1,\"verb\":\"hello\"}\n", "\"role\":\"looker\""))
        return 2;
    if (!raw_ask(fds[0], STATE_LINE, "\"state\""))
        return 3;
    if (!raw_ask(fds[0], "{\"v\":1,\"verb\":\"stop\"}\n", "\"code\":\"role\""))
        return 4;
    if (!raw_ask(fds[0], "{\"v\":1,\"verb\":\"reset\"}\n", "syrup-makers"))
        return 5;
    if (!raw_ask(fds[0], "{\"v\":1,\"verb\":\"plan\",\"request\":{\"volume_l\":600,\"strength_pct\":60}}\n",
                 "\"bags\""))
        return 6;
    for (int i = 1; i < 8; i++)
        if ((fds[i] = raw_connect()) < 0 || !raw_ask(fds[i], STATE_LINE, "\"state\""))
            return 7;
    fds[8] = raw_connect();
    return raw_ask(fds[8], STATE_LINE, "8 people without a role") ? 0 : 8;
}

START_TEST(somebody_without_a_role_may_look_and_not_touch_nor_crowd_out)
{
    int status = 0;
    pid_t child;

    if (getuid() != 0)
        fixture.settings->owner_role = ROLE_LOOKER;
    child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0) {
        if (getuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0))
            _exit(99);
        _exit(looker_try());
    }
    ck_assert_int_eq(waitpid(child, &status, 0), child);
    ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "step %d failed", WEXITSTATUS(status));
    ck_assert_int_eq(fixture.taken, 0);
}
END_TEST

/* ---- the socket file ------------------------------------------------------------------------------- */

/* A folder of its own: no server runs in it. */
static struct settings *empty_place(char folder[TEST_FOLDER_MAX])
{
    (void)test_folder_template(folder, "sw-socket");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    return fixture_settings(folder);
}

static void place_remove(struct settings *settings, const char *folder)
{
    char path[SETTINGS_PATH_MAX + 8];

    unlink(settings->control_path);
    (void)snprintf(path, sizeof path, "%s/run", folder);
    rmdir(path);
    rmdir(folder);
    free(settings);
}

START_TEST(the_socket_a_dead_daemon_left_is_replaced)
{
    char folder[TEST_FOLDER_MAX];
    struct settings *settings = empty_place(folder);
    struct sockaddr_un address = {.sun_family = AF_UNIX};
    struct server *server = NULL;
    struct fault f = {0};
    struct stat there;
    char run[80];
    int fd = socket(AF_UNIX, SOCK_STREAM, 0);

    (void)snprintf(run, sizeof run, "%s/run", folder);
    ck_assert_int_eq(mkdir(run, 0755), 0);
    (void)snprintf(address.sun_path, sizeof address.sun_path, "%.100s", settings->control_path);
    ck_assert_int_eq(bind(fd, (const struct sockaddr *)&address, sizeof address), 0);
    close(fd);
    ck_assert_msg(server_open(settings, &fixture.records, &server, &f) == ST_OK, "%s", f.text);
    ck_assert_int_eq(stat(settings->control_path, &there), 0);
    ck_assert_uint_eq(there.st_mode & 0777, 0666);
    server_close(server);
    ck_assert_int_ne(stat(settings->control_path, &there), 0);
    place_remove(settings, folder);
}
END_TEST

START_TEST(before_the_first_scan_there_is_no_state)
{
    fixture_open_without_control();
    int fd = wire_connect();

    wire_no(fd, STATE_LINE, "busy", "first scan");
    wire_no(fd, "{\"v\":1,\"verb\":\"watch\"}\n", "busy", "first scan");
    wire_yes_only(fd, "{\"v\":1,\"verb\":\"hello\"}\n");
    close(fd);
    fixture_close_without_control();
}
END_TEST

START_TEST(what_is_no_socket_is_left_alone)
{
    char folder[TEST_FOLDER_MAX];
    struct settings *settings = empty_place(folder);
    struct server *server = NULL;
    struct fault f = {0};
    struct stat there;
    int fd;

    (void)snprintf(settings->control_path, sizeof settings->control_path, "%s/precious", folder);
    fd = open(settings->control_path, O_CREAT | O_WRONLY, 0600);
    close(fd);
    ck_assert_int_eq(server_open(settings, &fixture.records, &server, &f), ST_SETTINGS);
    ck_assert_ptr_nonnull(strstr(f.text, "not a socket"));
    ck_assert_int_eq(stat(settings->control_path, &there), 0);
    place_remove(settings, folder);
}
END_TEST

START_TEST(a_path_that_cannot_be_is_refused)
{
    struct settings *settings = fixture_settings("/tmp");
    struct server *server = NULL;
    struct fault f = {0};

    memset(settings->control_path, 'a', 150);
    settings->control_path[150] = '\0';
    ck_assert_int_eq(server_open(settings, &fixture.records, &server, &f), ST_SETTINGS);
    (void)snprintf(settings->control_path, sizeof settings->control_path, "/proc/nowhere/control");
    ck_assert_int_eq(server_open(settings, &fixture.records, &server, &f), ST_SYSTEM);
    ck_assert_ptr_nonnull(strstr(f.text, "folder"));
    ck_assert_ptr_null(server);
    server_close(NULL);
    free(settings);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("server under abuse");
    TCase *tests = tcase_create("abuse");
    TCase *files = tcase_create("socket file");

    tcase_add_checked_fixture(tests, fixture_open, fixture_close);
    tcase_set_timeout(tests, 30);
    tcase_add_test(tests, garbage_is_answered_and_the_connection_stays);
    tcase_add_test(tests, an_oversize_line_is_told_so_and_cut_off);
    tcase_add_test(tests, one_who_writes_far_too_much_at_once_still_reads_why);
    tcase_add_test(tests, a_line_of_exactly_64_KiB_is_still_one);
    tcase_add_test(tests, half_a_line_waits_for_its_other_half_and_keeps_nobody_up);
    tcase_add_test(tests, many_lines_at_once_are_answered_in_order);
    tcase_add_test(tests, who_says_no_more_still_gets_the_replies);
    tcase_add_test(tests, the_seventeenth_client_is_told_why_not);
    tcase_add_test(tests, a_client_that_does_not_read_is_dropped_and_harms_nobody);
    tcase_add_test(tests, leaving_in_the_middle_of_a_command_frees_the_place);
    tcase_add_test(tests, more_commands_than_one_scan_takes_are_told_to_wait);
    tcase_add_test(tests, somebody_without_a_role_may_look_and_not_touch_nor_crowd_out);
    suite_add_tcase(suite, tests);
    tcase_add_test(files, the_socket_a_dead_daemon_left_is_replaced);
    tcase_add_test(files, before_the_first_scan_there_is_no_state);
    tcase_add_test(files, what_is_no_socket_is_left_alone);
    tcase_add_test(files, a_path_that_cannot_be_is_refused);
    suite_add_tcase(suite, files);
    return suite;
}
