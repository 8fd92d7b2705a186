/* change.h - what warmth and acid have done to a syrup along its record: inversion, HMF, warm hours.
 *
 * Does:      carry an estimate forward step by step, temperatures linear between the ends of a step.
 * Does not:  read a clock or a file, allocate, keep state of its own; it asks nobody what was measured.
 *            Any thread; the record belongs to the caller.
 * The rates, their sources and their spread are those of inversion.h and hmf.h: an estimate, wrong by a
 * factor of 5 and more for HMF, never a measurement, and no statement that a feed is harmless.
 */
#ifndef SCIENCE_CHANGE_H
#define SCIENCE_CHANGE_H

#include "base/status.h"
#include "science/span.h"

enum { CHANGE_WARM_40, CHANGE_WARM_50, CHANGE_WARM_60, CHANGE_WARM_COUNT };

/* Per kg of sugar, so that adding or losing water between two steps changes nothing in it. */
struct change_record {
    struct span inverted;               /* share of the sugar, 0-1 */
    struct span hmf_mg_kg;              /* mg for each kg of sugar weighed in */
    double hours;                       /* length of the record */
    double warm_min[CHANGE_WARM_COUNT]; /* minutes above 40, 50 and 60 degC */
};

/* Conditions between two points of a record. */
struct change_step {
    double hours;  /* 0-1e6 */
    double from_c; /* 0-105, as to_c */
    double to_c;
    double ph;           /* 2-8: of the water or a diluted sample, see inversion.h */
    double strength_pct; /* 0-85: sugar weighed in, % by weight */
};

/* A record that begins with a share inverted (0-100 %; fresh sugar 0, invert syrup near 100) and HMF
 * (0-1e5 mg per kg of sugar; 0 where it is not known to be there). */
enum status change_start_eval(double inverted_pct, double hmf_mg_kg, struct change_record *record) MUST_USE;

/* The record after a step; before and after may be the same. ST_RANGE for a step outside its ranges, or
 * when the high end of HMF passes 1e6 mg per kg of sugar; after is then untouched. Constant temperature:
 * exact, and cutting the step in two changes nothing but rounding. A ramp: within 1e-6 of the fine limit
 * however long the step is. Bounded: at most about 300 pieces, each about half a microsecond; a step that
 * moves by less than 1 K and exposes little is one piece. */
enum status change_advance_eval(const struct change_record *before, const struct change_step *step,
                                struct change_record *after) MUST_USE;

/* HMF in the syrup at a strength (0-85 %), mg/kg. */
enum status change_hmf_eval(const struct change_record *record, double strength_pct,
                            struct span *mg_kg) MUST_USE;

#endif
