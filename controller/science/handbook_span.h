/* handbook_span.h - how a row of the handbook gives a span: three outputs, low, best, high. */
#ifndef SCIENCE_HANDBOOK_SPAN_H
#define SCIENCE_HANDBOOK_SPAN_H

#include "base/status.h"
#include "science/span.h"

/* The outputs of a row; suffix is the unit's in a name ("mg_kg"). */
#define SPAN_OUTPUTS(suffix, unit, min, max)                                                                 \
    {                                                                                                        \
        {"low_" suffix, unit, min, max, NULL}, {"best_" suffix, unit, min, max, NULL},                       \
        {                                                                                                    \
            "high_" suffix, unit, min, max, NULL                                                             \
        }                                                                                                    \
    }

/* Hand on a status, with the span when there is one. */
static inline enum status span_give(enum status status, const struct span *span, double out[])
{
    if (status != ST_OK)
        return status;
    out[0] = span->low;
    out[1] = span->best;
    out[2] = span->high;
    return ST_OK;
}

#endif
