/* Every one of the 12 x 8 pairs of state and command, against the table of IEC 61512-1 as the
 * reference collection gives it (safety.md 2.1: from memory, consistent with the published
 * diagrams), written out here a second time in words. */
#include "core/state_table.h"
#include "support/rig.h"
#include "support/support.h"

#include <string.h>

struct way {
    enum batch_state from;
    enum verb command;
    enum batch_state to;
};

static const struct way WAYS[] = {
    {STATE_IDLE, VERB_START, STATE_RUNNING},      {STATE_RUNNING, VERB_STOP, STATE_STOPPING},
    {STATE_RUNNING, VERB_HOLD, STATE_HOLDING},    {STATE_RUNNING, VERB_ABORT, STATE_ABORTING},
    {STATE_RUNNING, VERB_PAUSE, STATE_PAUSING},   {STATE_PAUSING, VERB_STOP, STATE_STOPPING},
    {STATE_PAUSING, VERB_HOLD, STATE_HOLDING},    {STATE_PAUSING, VERB_ABORT, STATE_ABORTING},
    {STATE_PAUSED, VERB_STOP, STATE_STOPPING},    {STATE_PAUSED, VERB_HOLD, STATE_HOLDING},
    {STATE_PAUSED, VERB_ABORT, STATE_ABORTING},   {STATE_PAUSED, VERB_RESUME, STATE_RUNNING},
    {STATE_HOLDING, VERB_STOP, STATE_STOPPING},   {STATE_HOLDING, VERB_ABORT, STATE_ABORTING},
    {STATE_HELD, VERB_STOP, STATE_STOPPING},      {STATE_HELD, VERB_RESTART, STATE_RESTARTING},
    {STATE_HELD, VERB_ABORT, STATE_ABORTING},     {STATE_RESTARTING, VERB_STOP, STATE_STOPPING},
    {STATE_RESTARTING, VERB_HOLD, STATE_HOLDING}, {STATE_RESTARTING, VERB_ABORT, STATE_ABORTING},
    {STATE_STOPPING, VERB_ABORT, STATE_ABORTING}, {STATE_STOPPED, VERB_ABORT, STATE_ABORTING},
    {STATE_STOPPED, VERB_RESET, STATE_IDLE},      {STATE_ABORTED, VERB_RESET, STATE_IDLE},
    {STATE_COMPLETE, VERB_RESET, STATE_IDLE},
};

static enum batch_state expected(enum batch_state from, enum verb command)
{
    for (unsigned i = 0; i < sizeof WAYS / sizeof WAYS[0]; i++)
        if (WAYS[i].from == from && WAYS[i].command == command)
            return WAYS[i].to;
    return STATE_COUNT;
}

START_TEST(each_pair_leads_where_the_standard_says_or_nowhere)
{
    enum batch_state from = (enum batch_state)(_i / VERB_BATCH_COUNT);
    enum verb command = (enum verb)(_i % VERB_BATCH_COUNT);

    ck_assert_int_eq(state_table_next(from, command), expected(from, command));
}
END_TEST

/* The same pairs through the whole core: accepted and seen in the state, or refused with a reason,
 * recorded, and the state unchanged. */
START_TEST(each_pair_is_carried_out_or_refused_with_a_reason)
{
    enum batch_state from = (enum batch_state)(_i / VERB_BATCH_COUNT);
    enum verb command = (enum verb)(_i % VERB_BATCH_COUNT);
    static struct rig rig;
    enum refusal refusal;
    int refused_before;

    rig_init(&rig, NULL);
    rig_start(&rig);
    if (from == STATE_IDLE)
        rig.scan.memory.has_batch = false;
    rig.scan.memory.state = from;
    refused_before = rig_count(&rig, EVENT_REFUSED);
    refusal = rig_command(&rig, command);
    if (expected(from, command) == STATE_COUNT) {
        ck_assert_int_eq(refusal, REFUSAL_STATE);
        ck_assert_int_eq(rig.result.detail, from);
        ck_assert_int_eq(rig_count(&rig, EVENT_REFUSED), refused_before + 1);
    } else {
        const struct event *event = NULL;
        ck_assert_int_eq(refusal, REFUSAL_NONE);
        for (int i = 0; i < rig.out.event_count && event == NULL; i++)
            if (rig.out.events[i].kind == EVENT_STATE)
                event = &rig.out.events[i];
        ck_assert_ptr_nonnull(event);
        ck_assert_int_eq(event->a, from);
        ck_assert_int_eq(event->b, expected(from, command));
    }
}
END_TEST

START_TEST(transient_states_end_by_themselves_and_the_others_wait)
{
    static const enum batch_state done[STATE_COUNT] = {
        [STATE_IDLE] = STATE_COUNT,         [STATE_RUNNING] = STATE_COUNT,    [STATE_PAUSING] = STATE_PAUSED,
        [STATE_PAUSED] = STATE_COUNT,       [STATE_HOLDING] = STATE_HELD,     [STATE_HELD] = STATE_COUNT,
        [STATE_RESTARTING] = STATE_RUNNING, [STATE_STOPPING] = STATE_STOPPED, [STATE_STOPPED] = STATE_COUNT,
        [STATE_ABORTING] = STATE_ABORTED,   [STATE_ABORTED] = STATE_COUNT,    [STATE_COMPLETE] = STATE_COUNT,
    };

    for (int state = 0; state < STATE_COUNT; state++)
        ck_assert_int_eq(state_table_done((enum batch_state)state), done[state]);
}
END_TEST

START_TEST(after_a_power_cut_no_state_runs)
{
    for (int state = 0; state < STATE_COUNT; state++) {
        enum batch_state after = state_table_recovered((enum batch_state)state);
        ck_assert(after == STATE_IDLE || after == STATE_HELD || after == STATE_STOPPED ||
                  after == STATE_ABORTED || after == STATE_COMPLETE);
        ck_assert((after == STATE_IDLE) == (state == STATE_IDLE));
    }
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("core state table");
    TCase *tc = tcase_create("pairs");

    tcase_add_loop_test(tc, each_pair_leads_where_the_standard_says_or_nowhere, 0,
                        STATE_COUNT * VERB_BATCH_COUNT);
    tcase_add_loop_test(tc, each_pair_is_carried_out_or_refused_with_a_reason, 0,
                        STATE_COUNT * VERB_BATCH_COUNT);
    tcase_add_test(tc, transient_states_end_by_themselves_and_the_others_wait);
    tcase_add_test(tc, after_a_power_cut_no_state_runs);
    suite_add_tcase(suite, tc);
    return suite;
}
