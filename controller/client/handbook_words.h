/* handbook_words.h - what the inputs and choices of the handbook mean, in a few words each. Pure; no
 * allocation. */
#ifndef CLIENT_HANDBOOK_WORDS_H
#define CLIENT_HANDBOOK_WORDS_H

#include "science/handbook.h"

#include <stdbool.h>

/* What an input or a result is: "guard band in parts of U, usually 1"; "" where its name says it. */
const char *handbook_meaning(const struct handbook_entry *entry, const struct handbook_quantity *quantity);

/* What a choice among results says: "inside the limit by less than the guard band"; "" where it speaks. */
const char *handbook_choice_meaning(const char *choice);

/* The value that stands for an input that is left out; false where each must be given, which is nearly
 * everywhere: only where the usual value is the one that is meant. */
bool handbook_left_out(const struct handbook_entry *entry, const struct handbook_quantity *input,
                       double *value);

/* What must stand beside a result, and how to read its unit; NULL for nothing. */
const char *handbook_remark(const struct handbook_entry *entry);

/* What a value below the range does not mean: "below 44 degC a long contact burns too"; NULL for nothing. */
const char *handbook_below(const struct handbook_entry *entry);

#endif
