#include "core/state_table.h"

#define NO STATE_COUNT

static const enum batch_state NEXT[STATE_COUNT][VERB_BATCH_COUNT] = {
    /* from: start, stop, hold, restart, abort, reset, pause, resume (the order of enum verb) */
    [STATE_IDLE] = {STATE_RUNNING, NO, NO, NO, NO, NO, NO, NO},
    [STATE_RUNNING] = {NO, STATE_STOPPING, STATE_HOLDING, NO, STATE_ABORTING, NO, STATE_PAUSING, NO},
    [STATE_PAUSING] = {NO, STATE_STOPPING, STATE_HOLDING, NO, STATE_ABORTING, NO, NO, NO},
    [STATE_PAUSED] = {NO, STATE_STOPPING, STATE_HOLDING, NO, STATE_ABORTING, NO, NO, STATE_RUNNING},
    [STATE_HOLDING] = {NO, STATE_STOPPING, NO, NO, STATE_ABORTING, NO, NO, NO},
    [STATE_HELD] = {NO, STATE_STOPPING, NO, STATE_RESTARTING, STATE_ABORTING, NO, NO, NO},
    [STATE_RESTARTING] = {NO, STATE_STOPPING, STATE_HOLDING, NO, STATE_ABORTING, NO, NO, NO},
    [STATE_STOPPING] = {NO, NO, NO, NO, STATE_ABORTING, NO, NO, NO},
    [STATE_STOPPED] = {NO, NO, NO, NO, STATE_ABORTING, STATE_IDLE, NO, NO},
    [STATE_ABORTING] = {NO, NO, NO, NO, NO, NO, NO, NO},
    [STATE_ABORTED] = {NO, NO, NO, NO, NO, STATE_IDLE, NO, NO},
    [STATE_COMPLETE] = {NO, NO, NO, NO, NO, STATE_IDLE, NO, NO},
};

static const enum batch_state DONE[STATE_COUNT] = {
    [STATE_IDLE] = NO,
    [STATE_RUNNING] = NO, /* the sequence completes it */
    [STATE_PAUSING] = STATE_PAUSED,
    [STATE_PAUSED] = NO,
    [STATE_HOLDING] = STATE_HELD,
    [STATE_HELD] = NO,
    [STATE_RESTARTING] = STATE_RUNNING,
    [STATE_STOPPING] = STATE_STOPPED,
    [STATE_STOPPED] = NO,
    [STATE_ABORTING] = STATE_ABORTED,
    [STATE_ABORTED] = NO,
    [STATE_COMPLETE] = NO,
};

enum batch_state state_table_next(enum batch_state from, enum verb command)
{
    if ((unsigned)from >= STATE_COUNT || (unsigned)command >= VERB_BATCH_COUNT)
        return STATE_COUNT;
    return NEXT[from][command];
}

enum batch_state state_table_done(enum batch_state from)
{
    return (unsigned)from < STATE_COUNT ? DONE[from] : STATE_COUNT;
}

enum batch_state state_table_recovered(enum batch_state before)
{
    switch (before) {
    case STATE_RUNNING:
    case STATE_PAUSING:
    case STATE_PAUSED:
    case STATE_HOLDING:
    case STATE_HELD:
    case STATE_RESTARTING:
        return STATE_HELD;
    case STATE_STOPPING:
        return STATE_STOPPED;
    case STATE_ABORTING:
        return STATE_ABORTED;
    default:
        return before;
    }
}
