/* state_table.h - the states of a batch after IEC 61512 and the way from each by each command. */
#ifndef CORE_STATE_TABLE_H
#define CORE_STATE_TABLE_H

#include "core/scan_types.h"

/* State that the command leads to, or STATE_COUNT where the table has no such way (refused). */
enum batch_state state_table_next(enum batch_state from, enum verb command);

/* State that follows by itself once a transient state has done its work (everything that must
 * be off is off); STATE_COUNT for a state that waits. */
enum batch_state state_table_done(enum batch_state from);

/* State after the daemon was gone: nothing goes on by itself. */
enum batch_state state_table_recovered(enum batch_state before);

#endif
