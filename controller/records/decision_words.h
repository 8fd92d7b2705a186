/* decision_words.h - how a decision is named in JSON and worded on the certificate. Pure. */
#ifndef RECORDS_DECISION_WORDS_H
#define RECORDS_DECISION_WORDS_H

#include "science/decision.h"

const char *decision_words_name(enum decision decision);     /* "conforms", for JSON */
const char *decision_words_sentence(enum decision decision); /* the sentence on the certificate */
const char *decision_words_rule(void);                       /* the rule itself, with its risk */

#endif
