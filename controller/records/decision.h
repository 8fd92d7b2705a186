/* decision.h - does a measured value conform, given how well it is known?
 *
 * ILAC-G8:09/2019, non-binary statement with guard band w = U, after JCGM 106: a value conforms
 * only when it lies inside the limits by more than its expanded uncertainty (k = 2). Pure.
 */
#ifndef RECORDS_DECISION_H
#define RECORDS_DECISION_H

enum decision {
    DECISION_NOT_JUDGED,           /* no target, or the batch was not finished */
    DECISION_CANNOT_SAY,           /* uncertainty unknown, or larger than the tolerance */
    DECISION_CONFORMS,             /* inside the limits by U or more */
    DECISION_CONFORMS_CONDITIONAL, /* inside, but by less than U */
    DECISION_FAILS_CONDITIONAL,    /* outside, but by no more than U */
    DECISION_FAILS,                /* outside by more than U */
    DECISION_COUNT
};

/* tolerance: half width of the interval around target; expanded_u: U with k = 2, same unit. */
enum decision decision_make(double measured, double target, double tolerance, double expanded_u);

const char *decision_name(enum decision decision);  /* "conforms", for JSON */
const char *decision_words(enum decision decision); /* the sentence on the certificate */
const char *decision_rule(void);                    /* the rule itself, with its risk */

#endif
