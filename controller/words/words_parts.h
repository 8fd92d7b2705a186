/* words_parts.h - printers of events that stand in a file of their own; of this folder only. */
#ifndef WORDS_PARTS_H
#define WORDS_PARTS_H

#include "words/words.h"

/* by: " by NAME", or empty. */
void words_hand_reading(const struct event *event, const char *by, char out[WORDS_MAX]);
void words_compared(const struct event *event, char out[WORDS_MAX]);

#endif
