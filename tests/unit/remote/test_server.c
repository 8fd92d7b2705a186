/* The server over a real socket: what each verb gives back. */
#include "remote/server.h"
#include "server_fixture.h"

#define START_LINE                                                                                           \
    "{\"v\":1,\"verb\":\"start\",\"request\":{\"volume_l\":600,\"strength_pct\":60,\"acid\":\"citric\","     \
    "\"target_ph\":4.3}}\n"

START_TEST(hello_says_who_is_who)
{
    int fd = wire_connect();
    json_t *reply = wire_yes(fd, "{\"v\":1,\"verb\":\"hello\"}\n");
    const json_t *you = json_object_get(reply, "you");

    ck_assert_int_eq(json_integer_value(json_object_get(you, "uid")), getuid());
    ck_assert_str_eq(json_string_value(json_object_get(you, "role")), "supervisor");
    ck_assert_str_eq(json_string_value(json_object_get(reply, "tank")), "tank one");
    ck_assert_str_eq(json_string_value(json_object_get(reply, "program")), "syrupwrightd");
    ck_assert(json_is_true(json_object_get(reply, "simulated")));
    ck_assert_int_eq(json_integer_value(json_array_get(json_object_get(reply, "versions"), 0)), 1);
    json_decref(reply);
    close(fd);
}
END_TEST

START_TEST(a_plan_needs_no_batch_number_and_starts_nothing)
{
    int fd = wire_connect();
    json_t *reply = wire_yes(
        fd, "{\"v\":1,\"verb\":\"plan\",\"request\":{\"volume_l\":600,\"strength_pct\":60}}\n");

    ck_assert_int_gt(json_integer_value(json_object_get(json_object_get(reply, "plan"), "bags")), 0);
    ck_assert(json_is_array(json_object_get(reply, "notes")));
    ck_assert_ptr_null(json_object_get(reply, "batch"));
    ck_assert_int_eq(fixture.taken, 0);
    json_decref(reply);
    wire_no(fd, "{\"v\":1,\"verb\":\"plan\",\"request\":{\"volume_l\":2000,\"strength_pct\":60}}\n",
            "refused", "");
    close(fd);
}
END_TEST

START_TEST(a_start_brings_plan_and_person_to_the_core_and_the_number_back)
{
    int fd = wire_connect();
    json_t *reply = wire_yes(fd, START_LINE);

    ck_assert_str_eq(json_string_value(json_object_get(reply, "batch")), "2026-0001");
    ck_assert_str_eq(json_string_value(json_object_get(json_object_get(reply, "plan"), "batch_id")),
                     "2026-0001");
    json_decref(reply);
    pthread_mutex_lock(&fixture.lock);
    ck_assert(fixture.has_plan);
    ck_assert_str_eq(fixture.plan.batch_id, "2026-0001");
    ck_assert_int_eq(fixture.plan.request.acid, ACID_CITRIC);
    ck_assert_int_eq(fixture.last.verb, VERB_START);
    ck_assert_uint_eq(fixture.last.who.uid, getuid());
    ck_assert_int_eq(fixture.last.who.door, DOOR_SHELL);
    ck_assert_int_eq(fixture.last.who.role, ROLE_SUPERVISOR);
    pthread_mutex_unlock(&fixture.lock);
    close(fd);
}
END_TEST

START_TEST(answers_reach_the_core_as_they_were_given)
{
    int fd = wire_connect();

    wire_yes_only(fd, "{\"v\":1,\"verb\":\"answer\",\"prompt\":7,\"number\":61.9}\n");
    pthread_mutex_lock(&fixture.lock);
    ck_assert_int_eq(fixture.last.verb, VERB_ANSWER);
    ck_assert_uint_eq(fixture.last.prompt_id, 7);
    ck_assert_int_eq(fixture.last.answer, ANSWER_NUMBER);
    ck_near(fixture.last.number, 61.9, 0);
    pthread_mutex_unlock(&fixture.lock);
    wire_yes_only(fd, "{\"v\":1,\"verb\":\"answer\",\"prompt\":8,\"answer\":\"cannot\"}\n");
    pthread_mutex_lock(&fixture.lock);
    ck_assert_int_eq(fixture.last.answer, ANSWER_CANNOT);
    pthread_mutex_unlock(&fixture.lock);
    close(fd);
}
END_TEST

START_TEST(every_bare_command_is_passed_on)
{
    static const struct {
        const char *name;
        enum verb verb;
    } BARE[] = {{"pause", VERB_PAUSE},     {"resume", VERB_RESUME},  {"hold", VERB_HOLD},
                {"restart", VERB_RESTART}, {"stop", VERB_STOP},      {"abort", VERB_ABORT},
                {"reset", VERB_RESET},     {"release", VERB_RELEASE}};
    int fd = wire_connect();
    char line[64];

    for (size_t i = 0; i < sizeof BARE / sizeof BARE[0]; i++) {
        (void)snprintf(line, sizeof line, "{\"v\":1,\"verb\":\"%s\"}\n", BARE[i].name);
        wire_yes_only(fd, line);
        pthread_mutex_lock(&fixture.lock);
        ck_assert_int_eq(fixture.last.verb, BARE[i].verb);
        pthread_mutex_unlock(&fixture.lock);
    }
    close(fd);
}
END_TEST

START_TEST(a_refusal_of_the_core_comes_back_as_a_sentence)
{
    int fd = wire_connect();

    atomic_store(&fixture.mode, MODE_REFUSE);
    wire_no(fd, "{\"v\":1,\"verb\":\"resume\"}\n", "refused", "");
    wire_no(fd, START_LINE, "refused", "");
    atomic_store(&fixture.mode, MODE_ANSWER);
    wire_yes_only(fd, "{\"v\":1,\"verb\":\"resume\"}\n");
    close(fd);
}
END_TEST

START_TEST(the_number_of_a_refused_start_goes_to_the_next_one)
{
    int fd = wire_connect();
    json_t *reply;

    atomic_store(&fixture.mode, MODE_REFUSE);
    wire_no(fd, START_LINE, "refused", "");
    wire_no(fd, START_LINE, "refused", "");
    atomic_store(&fixture.mode, MODE_ANSWER);
    for (int i = 1; i <= 2; i++) {
        char expected[24];
        (void)snprintf(expected, sizeof expected, "2026-%04d", i);
        reply = wire_yes(fd, START_LINE);
        ck_assert_str_eq(json_string_value(json_object_get(reply, "batch")), expected);
        json_decref(reply);
    }
    close(fd);
}
END_TEST

START_TEST(a_command_nobody_answers_is_given_up_after_5_s)
{
    int taken = wire_connect();
    int waiting = wire_connect();

    wire_yes_only(taken, "{\"v\":1,\"verb\":\"state\"}\n");
    atomic_store(&fixture.mode, MODE_SILENT);
    usleep(20000);
    wire_send(taken, "{\"v\":1,\"verb\":\"pause\"}\n");
    usleep(100000);
    atomic_store(&fixture.mode, MODE_STALLED);
    usleep(20000);
    wire_send(waiting, START_LINE);
    reply_is_no(wire_read(taken, 8000), "timeout", "may still act");
    reply_is_no(wire_read(waiting, 8000), "timeout", "will not act");
    atomic_store(&fixture.mode, MODE_ANSWER);
    usleep(50000);
    ck_assert(!fixture.has_plan);
    wire_yes_only(waiting, START_LINE);
    close(taken);
    close(waiting);
}
END_TEST

START_TEST(a_watcher_hears_at_once_and_in_time)
{
    int fd = wire_connect();
    json_t *reply = wire_yes(fd, "{\"v\":1,\"verb\":\"watch\",\"every_ms\":10000}\n");

    json_decref(reply);
    ck_assert_ptr_null(wire_read(fd, 200));
    pthread_mutex_lock(&fixture.lock);
    fixture.snapshot.memory.state = STATE_RUNNING;
    fixture.snapshot.memory.has_batch = true;
    pthread_mutex_unlock(&fixture.lock);
    reply = wire_read(fd, 1000);
    ck_assert_str_eq(json_string_value(json_object_get(json_object_get(reply, "state"), "state")), "running");
    json_decref(reply);
    ck_assert_ptr_null(wire_read(fd, 200));
    wire_yes_only(fd, "{\"v\":1,\"verb\":\"watch\",\"every_ms\":50}\n");
    for (int i = 0; i < 5; i++) {
        reply = wire_read(fd, 300);
        ck_assert_ptr_nonnull(reply);
        json_decref(reply);
    }
    close(fd);
}
END_TEST

START_TEST(the_record_is_read_for_anyone)
{
    int fd = wire_connect();
    json_t *reply = wire_yes(fd, "{\"v\":1,\"verb\":\"batches\",\"limit\":5}\n");

    ck_assert_uint_eq(json_array_size(json_object_get(reply, "batches")), 1);
    json_decref(reply);
    reply = wire_yes(fd, "{\"v\":1,\"verb\":\"certificate\",\"form\":\"json\"}\n");
    ck_assert_str_eq(json_string_value(json_object_get(reply, "certificate")), "{ \"stored\":\"as it is\" }");
    json_decref(reply);
    reply = wire_yes(fd, "{\"v\":1,\"verb\":\"certificate\",\"form\":\"text\",\"batch\":\"2026-0001\"}\n");
    ck_assert_str_eq(json_string_value(json_object_get(reply, "certificate")), "Certificate\n");
    json_decref(reply);
    reply = wire_yes(fd, "{\"v\":1,\"verb\":\"journal\",\"limit\":3}\n");
    ck_assert_uint_eq(json_array_size(json_object_get(reply, "journal")), 3);
    json_decref(reply);
    wire_no(fd, "{\"v\":1,\"verb\":\"certificate\",\"batch\":\"2026-9999\"}\n", "not_found", "2026-9999");
    wire_no(fd, "{\"v\":1,\"verb\":\"journal\",\"limit\":1000}\n", "range", "smaller");
    fixture.settings->records_path[0] = '\0';
    wire_no(fd, "{\"v\":1,\"verb\":\"batches\"}\n", "system", "cannot be opened");
    close(fd);
}
END_TEST

START_TEST(a_second_daemon_is_refused_and_the_first_lives_on)
{
    struct server *second = NULL;
    struct fault f = {0};
    int fd = wire_connect();

    ck_assert_int_eq(server_open(fixture.settings, &fixture.records, &second, &f), ST_BUSY);
    ck_assert_ptr_null(second);
    ck_assert_ptr_nonnull(strstr(f.text, "another daemon is running on"));
    ck_assert_ptr_nonnull(strstr(f.text, fixture.settings->control_path));
    wire_yes_only(fd, "{\"v\":1,\"verb\":\"state\"}\n");
    close(fd);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("server");
    TCase *tests = tcase_create("verbs");

    tcase_add_checked_fixture(tests, fixture_open, fixture_close);
    tcase_set_timeout(tests, 30);
    tcase_add_test(tests, hello_says_who_is_who);
    tcase_add_test(tests, a_plan_needs_no_batch_number_and_starts_nothing);
    tcase_add_test(tests, a_start_brings_plan_and_person_to_the_core_and_the_number_back);
    tcase_add_test(tests, answers_reach_the_core_as_they_were_given);
    tcase_add_test(tests, every_bare_command_is_passed_on);
    tcase_add_test(tests, a_refusal_of_the_core_comes_back_as_a_sentence);
    tcase_add_test(tests, the_number_of_a_refused_start_goes_to_the_next_one);
    tcase_add_test(tests, a_command_nobody_answers_is_given_up_after_5_s);
    tcase_add_test(tests, a_watcher_hears_at_once_and_in_time);
    tcase_add_test(tests, the_record_is_read_for_anyone);
    tcase_add_test(tests, a_second_daemon_is_refused_and_the_first_lives_on);
    suite_add_tcase(suite, tests);
    return suite;
}
