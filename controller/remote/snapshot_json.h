/* snapshot_json.h - the state of tank and batch as JSON, for readers outside the core.
 *
 * Pure. A number that is not known is null, never 0; a bad reading has no value.
 */
#ifndef REMOTE_SNAPSHOT_JSON_H
#define REMOTE_SNAPSHOT_JSON_H

#include "core/snapshot_types.h"

#include <jansson.h>

struct record_health {
    bool is_failing;
    uint64_t lost;
    const char *sentence;
};

/* limits: for the sentences of the trips. A new reference; NULL only when memory is short. */
json_t *snapshot_to_json(const struct snapshot *snapshot, const struct limits *limits,
                         const struct record_health *record);

#endif
