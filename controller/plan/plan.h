/* plan.h - from what a person wants to what goes into the tank, or a plain no.
 *
 * Does:      round to whole bags, find water, acid, temperatures and times, and say what is not
 *            possible here and what the nearest possible is.
 * Does not:  read the tank's present state, start anything, allocate. Pure; any thread.
 * Masses are the truth; litres and ratios are for people. The few hundred grams of acid itself
 * count neither as sugar nor as water (below 0.02 % of the batch).
 *
 * Where a field of the request is 0 or "": bag, alkalinity, water, sugar and storage temperature
 * take the tank's value, the room that of the sugar, lots "not given". A true 0 can therefore not
 * be asked for; 0.01 does. Ranges: volume 1-20000 L, mass 1-30000 kg, strength 30-70 %, pH
 * 3.5-5.5, alkalinity 0-20 meq/kg, water 0-60, sugar -20-45, room -20-50, storage -20-40 degC,
 * bag 0.5-1500 kg.
 */
#ifndef PLAN_H
#define PLAN_H

#include "base/status.h"
#include "core/tank_types.h"
#include "plan/plan_types.h"

/* Fill *plan from *request (0 or "" fields take the tank's defaults). ST_OK: the batch can be
 * made; *notes holds warnings (may be none). Otherwise ST_RANGE (a number outside physics or
 * the program's range) or ST_REFUSED (this tank cannot), with the sentence in *f (may be NULL):
 * what is wrong, the nearest that is possible; f->where names the field, and *plan and *notes
 * are as they were. */
enum status plan_make(const struct plan_request *request, const struct tank_facts *tank,
                      const struct limits *limits, struct batch_plan *plan, struct plan_notes *notes,
                      struct fault *f) MUST_USE;

#endif
