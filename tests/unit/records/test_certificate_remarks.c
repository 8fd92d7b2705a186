/* What went wrong or was interrupted. */
#include "certificate_kit.h"

START_TEST(what_went_wrong_is_told_and_what_is_usual_is_not)
{
    remark(EVENT_TRIPPED, TRIP_POWER_UP, -1, 0);
    remark(EVENT_TRIPPED, TRIP_HATCH_OPEN, -1, 0);
    remark(EVENT_REFUSED, VERB_START, REFUSAL_TRIPPED, 0);
    remark(EVENT_COMMAND, VERB_START, 0, 0);
    remark(EVENT_ANSWERED, PROMPT_TIP_BAG, ANSWER_DONE, 0);
    ck_assert_uint_eq(json_array_size(remarks.list), 0);
    remark(EVENT_TRIPPED, TRIP_STIRRER, -1, 0);
    remark(EVENT_COMMAND, VERB_HOLD, 0, 0);
    remark(EVENT_COMMAND, VERB_ABORT, 0, 0);
    remark(EVENT_COMMAND, VERB_PAUSE, 0, 0);
    remark(EVENT_ANSWERED, PROMPT_READ_STRENGTH, ANSWER_CANNOT, 0);
    ck_assert_uint_eq(json_array_size(remarks.list), 5);
}
END_TEST

START_TEST(too_many_remarks_are_counted_not_dropped_unseen)
{
    struct event event = {.kind = EVENT_NOT_RECORDED};
    struct journal_row row;

    journal_row_from_event(&event, &row);
    for (int i = 0; i < CERTIFICATE_REMARKS_MAX + 7; i++)
        ck_assert_int_eq(certificate_remark(&remarks, &row, NULL), ST_OK);
    ck_assert_uint_eq(json_array_size(remarks.list), CERTIFICATE_REMARKS_MAX);
    ck_assert_int_eq(remarks.left_out, 7);
    state_row(1, 0, STATE_RUNNING, STATE_HELD); /* has no item to put its length into */
    state_row(1, 10, STATE_HELD, STATE_RESTARTING);
    ck_assert_int_eq(remarks.left_out, 8);
}
END_TEST

static const char *sentence_of(size_t i)
{
    return value_of(json_array_get(remarks.list, i), "sentence");
}

START_TEST(a_pause_and_a_hold_are_told_with_their_length)
{
    state_row(1, 0, STATE_IDLE, STATE_RUNNING);
    state_row(1, 60, STATE_RUNNING, STATE_PAUSING);
    state_row(1, 61, STATE_PAUSING, STATE_PAUSED);
    state_row(1, 150, STATE_PAUSED, STATE_HOLDING);
    state_row(1, 151, STATE_HOLDING, STATE_HELD);
    ck_assert_uint_eq(json_array_size(remarks.list), 2);
    ck_assert_str_eq(value_of(json_array_get(remarks.list, 0), "utc"), "2026-03-01T12:01:00Z");
    ck_assert_str_eq(sentence_of(0), "The batch was paused for 1.5 min.");
    ck_assert_str_eq(value_of(json_array_get(remarks.list, 1), "utc"), "2026-03-01T12:02:30Z");
    ck_assert_str_eq(sentence_of(1), "The batch was held; its end was not recorded.");
    state_row(1, 750, STATE_HELD, STATE_RESTARTING);
    state_row(1, 751, STATE_RESTARTING, STATE_RUNNING);
    ck_assert_uint_eq(json_array_size(remarks.list), 2);
    ck_assert_str_eq(sentence_of(1), "The batch was held for 10.0 min.");
    expect_text_complete();
}
END_TEST

/* Between two runs the tank's time begins anew, and only the clock knows. */
START_TEST(a_hold_over_a_restart_of_the_controller_is_told_by_the_clock)
{
    struct journal_row row = {.code = EVENT_STATE, .run = 2, .scan_us = 5, .a = STATE_HELD};

    row.b = STATE_RESTARTING;
    state_row(1, 600, STATE_RUNNING, STATE_HELD);
    row.utc_us = KIT_UTC_US + 1800 * 1000000LL;
    ck_assert_int_eq(certificate_remark(&remarks, &row, NULL), ST_OK);
    ck_assert_str_eq(sentence_of(0), "The batch was held for 20.0 min.");
    state_row(1, 600, STATE_RUNNING, STATE_HELD);
    row.utc_us = KIT_UTC_US;
    ck_assert_int_eq(certificate_remark(&remarks, &row, NULL), ST_OK);
    ck_assert_ptr_nonnull(strstr(sentence_of(1), "not known, because the clock was set"));
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("certificate");
    TCase *tests = tcase_create("certificate");

    tcase_add_checked_fixture(tests, begin, end);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, what_went_wrong_is_told_and_what_is_usual_is_not);
    tcase_add_test(tests, too_many_remarks_are_counted_not_dropped_unseen);
    tcase_add_test(tests, a_pause_and_a_hold_are_told_with_their_length);
    tcase_add_test(tests, a_hold_over_a_restart_of_the_controller_is_told_by_the_clock);
    suite_add_tcase(suite, tests);
    return suite;
}
