/* plan.h - from what a person wants to what goes into the tank, or a plain no.
 *
 * Pure. Masses are the truth; litres and ratios are for people.
 */
#ifndef PLAN_H
#define PLAN_H

#include "base/status.h"
#include "core/tank_types.h"
#include "plan/plan_types.h"

/* Fill *plan from *request (0 or "" fields take the tank's defaults). ST_OK: the batch can be
 * made; *notes holds warnings (may be none). Otherwise ST_RANGE (a number outside physics or
 * the program's range) or ST_REFUSED (this tank cannot), with the sentence in *f: what is wrong,
 * the nearest that is possible. */
enum status plan_make(const struct plan_request *request, const struct tank_facts *tank,
                      const struct limits *limits, struct batch_plan *plan, struct plan_notes *notes,
                      struct fault *f) MUST_USE;

#endif
