#include "plan/plan.h"

#include "plan/plan_parts.h"

#include <stddef.h>

enum status plan_make(const struct plan_request *request, const struct tank_facts *tank,
                      const struct limits *limits, struct batch_plan *plan, struct plan_notes *notes,
                      struct fault *f)
{
    static enum status (*const PARTS[])(struct job *) = {plan_check_inputs, plan_find_amounts,
                                                         plan_find_warmth,  plan_check_fit,
                                                         plan_check_pulse,  plan_find_times};
    struct job job = {.tank = tank, .limits = limits, .f = f};

    job.plan.request = *request;
    for (size_t i = 0; i < sizeof PARTS / sizeof PARTS[0]; i++) {
        enum status status = PARTS[i](&job);

        if (status != ST_OK)
            return status;
    }
    job.plan.tolerance_pct = tank->tolerance_pct;
    job.plan.tolerance_ph = tank->tolerance_ph;
    plan_add_notes(&job);
    *plan = job.plan;
    *notes = job.notes;
    return ST_OK;
}
