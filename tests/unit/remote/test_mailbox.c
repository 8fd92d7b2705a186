/* What server and control thread hand each other: one scan's worth, nothing lost, nothing twice. */
#include "remote/mailbox.h"
#include "support/support.h"

#include <poll.h>
#include <string.h>

static struct mailbox *mailbox;
static struct scan_in in;
static struct scan_out out;
static struct snapshot snapshot;
static struct command_result result;
static struct fault fault;
static char batch_id[24];

static void set_up(void)
{
    mailbox = mailbox_new();
    ck_assert_ptr_nonnull(mailbox);
    memset(&in, 0, sizeof in);
    memset(&out, 0, sizeof out);
    memset(&snapshot, 0, sizeof snapshot);
}

static void tear_down(void)
{
    mailbox_free(mailbox);
}

static bool is_awake(void)
{
    struct pollfd ready = {.fd = mailbox_wake_fd(mailbox), .events = POLLIN};
    bool awake = poll(&ready, 1, 0) == 1;

    mailbox_wake_clear(mailbox);
    return awake;
}

static uint64_t post(int slot, enum verb verb, enum status expected)
{
    struct command command = {.verb = verb};
    struct batch_plan plan = {.bags = 20};
    uint64_t id = 0;

    ck_assert_int_eq(mailbox_post(mailbox, slot, &command, verb == VERB_START ? &plan : NULL, &id, &fault),
                     expected);
    return id;
}

START_TEST(a_command_goes_in_and_its_result_comes_out)
{
    uint64_t id = post(3, VERB_HOLD, ST_OK);

    ck_assert_int_eq(mailbox_result(mailbox, 3, id, &result, batch_id), FLIGHT_WAITING);
    mailbox_take(mailbox, &in);
    ck_assert_int_eq(in.command_count, 1);
    ck_assert_int_eq(in.commands[0].verb, VERB_HOLD);
    ck_assert_uint_eq(in.commands[0].id, id);
    ck_assert(!in.has_plan);
    ck_assert_int_eq(mailbox_result(mailbox, 3, id, &result, batch_id), FLIGHT_TAKEN);
    out.result_count = 1;
    out.results[0] = (struct command_result){.id = id, .refusal = REFUSAL_STATE, .detail = 2};
    mailbox_put(mailbox, &out, &snapshot);
    ck_assert(is_awake());
    ck_assert_int_eq(mailbox_result(mailbox, 3, id, &result, batch_id), FLIGHT_DONE);
    ck_assert_int_eq(result.refusal, REFUSAL_STATE);
    ck_assert_int_eq(mailbox_result(mailbox, 3, id, &result, batch_id), FLIGHT_NONE);
}
END_TEST

START_TEST(a_ninth_command_and_a_second_start_are_refused)
{
    post(0, VERB_START, ST_OK);
    post(1, VERB_START, ST_BUSY);
    for (int slot = 1; slot < 8; slot++)
        post(slot, VERB_PAUSE, ST_OK);
    post(8, VERB_STOP, ST_BUSY);
    ck_assert_ptr_nonnull(strstr(fault.text, "try again"));
    mailbox_take(mailbox, &in);
    ck_assert_int_eq(in.command_count, SCAN_COMMANDS_MAX);
    post(8, VERB_STOP, ST_OK);
    post(9, VERB_START, ST_OK);
}
END_TEST

START_TEST(a_command_is_taken_once)
{
    post(0, VERB_PAUSE, ST_OK);
    post(1, VERB_START, ST_OK);
    mailbox_take(mailbox, &in);
    ck_assert_int_eq(in.command_count, 2);
    ck_assert_int_eq(in.commands[1].verb, VERB_START);
    ck_assert(in.has_plan);
    ck_assert_int_eq(in.plan.bags, 20);
    mailbox_take(mailbox, &in);
    ck_assert_int_eq(in.command_count, 0);
    ck_assert(!in.has_plan);
}
END_TEST

START_TEST(a_start_learns_its_batch_number)
{
    uint64_t id = post(5, VERB_START, ST_OK);

    mailbox_take(mailbox, &in);
    mailbox_name_batch(mailbox, "2026-0009");
    out.result_count = 1;
    out.results[0].id = id;
    mailbox_put(mailbox, &out, &snapshot);
    ck_assert_int_eq(mailbox_result(mailbox, 5, id, &result, batch_id), FLIGHT_DONE);
    ck_assert_str_eq(batch_id, "2026-0009");
}
END_TEST

START_TEST(a_withdrawn_command_never_acts)
{
    uint64_t first = post(0, VERB_START, ST_OK);
    uint64_t second = post(1, VERB_PAUSE, ST_OK);

    ck_assert(mailbox_withdraw(mailbox, 0, first));
    mailbox_take(mailbox, &in);
    ck_assert_int_eq(in.command_count, 1);
    ck_assert_uint_eq(in.commands[0].id, second);
    ck_assert(!in.has_plan);
    ck_assert(!mailbox_withdraw(mailbox, 1, second));
    ck_assert(!mailbox_withdraw(mailbox, 1, 999));
}
END_TEST

START_TEST(results_for_somebody_who_left_are_ignored)
{
    uint64_t old = post(2, VERB_PAUSE, ST_OK);
    uint64_t newer = post(2, VERB_STOP, ST_OK);

    mailbox_take(mailbox, &in);
    out.result_count = 1;
    out.results[0].id = old;
    mailbox_put(mailbox, &out, &snapshot);
    ck_assert_int_eq(mailbox_result(mailbox, 2, old, &result, batch_id), FLIGHT_NONE);
    ck_assert_int_eq(mailbox_result(mailbox, 2, newer, &result, batch_id), FLIGHT_TAKEN);
}
END_TEST

START_TEST(only_what_a_person_must_see_wakes_the_watchers)
{
    uint64_t changes;

    ck_assert(!mailbox_snapshot(mailbox, &snapshot, &changes));
    mailbox_put(mailbox, &out, &snapshot);
    ck_assert(is_awake());
    ck_assert(mailbox_snapshot(mailbox, &snapshot, &changes));
    ck_assert_uint_eq(changes, 1);
    snapshot.scan_us += SCAN_PERIOD_US;
    snapshot.readings[POINT_TANK_TEMP_C].value = 21.5;
    mailbox_put(mailbox, &out, &snapshot);
    ck_assert(!is_awake());
    snapshot.memory.step = STEP_FILL;
    mailbox_put(mailbox, &out, &snapshot);
    ck_assert(is_awake());
    snapshot.prompt = (struct prompt){.kind = PROMPT_TIP_BAG, .id = 0};
    mailbox_put(mailbox, &out, &snapshot);
    ck_assert(is_awake());
    snapshot.trips[TRIP_LID_OPEN].is_present = true;
    mailbox_put(mailbox, &out, &snapshot);
    ck_assert(is_awake());
    ck_assert_uint_eq(mailbox_changes(mailbox), 4);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("mailbox");
    TCase *tests = tcase_create("mailbox");

    tcase_add_checked_fixture(tests, set_up, tear_down);
    tcase_add_test(tests, a_command_goes_in_and_its_result_comes_out);
    tcase_add_test(tests, a_ninth_command_and_a_second_start_are_refused);
    tcase_add_test(tests, a_command_is_taken_once);
    tcase_add_test(tests, a_start_learns_its_batch_number);
    tcase_add_test(tests, a_withdrawn_command_never_acts);
    tcase_add_test(tests, results_for_somebody_who_left_are_ignored);
    tcase_add_test(tests, only_what_a_person_must_see_wakes_the_watchers);
    suite_add_tcase(suite, tests);
    return suite;
}
