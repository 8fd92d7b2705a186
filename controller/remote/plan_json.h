/* plan_json.h - what a person asks for and the plan that follows, as JSON and back.
 *
 * Pure. Keys are the C names of struct plan_request and struct batch_plan.
 */
#ifndef REMOTE_PLAN_JSON_H
#define REMOTE_PLAN_JSON_H

#include "base/status.h"
#include "plan/plan_types.h"

#include <jansson.h>

/* Read {"volume_l":600,"strength_pct":62.5,...}. Needed: strength_pct or ratio, volume_l or
 * mass_kg. ST_REFUSED for an unknown, missing or contradictory key, ST_RANGE for a value of the
 * wrong type or size; then *f has the sentence and *request must not be used.
 * A given 0 for a temperature or the alkalinity becomes 0.001, because 0 in plan_request means
 * "not given". acid left out with a target_ph given: acid is ACID_NONE with target_ph > 0; see
 * plan_request_acid_default. */
enum status plan_request_from_json(json_t *object, struct plan_request *request, struct fault *f) MUST_USE;

/* A target_ph without an acid means the tank's usual acid; ST_REFUSED where it has none. */
enum status plan_request_acid_default(struct plan_request *request, enum acid usual,
                                      struct fault *f) MUST_USE;

/* New references; NULL only when memory is short. Fields at 0 or "" are left out of the request. */
json_t *plan_request_to_json(const struct plan_request *request);
json_t *plan_to_json(const struct batch_plan *plan);
json_t *plan_notes_to_json(const struct plan_notes *notes);

#endif
