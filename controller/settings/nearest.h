/* nearest.h - what a mistyped word was probably meant to be. */
#ifndef SETTINGS_NEAREST_H
#define SETTINGS_NEAREST_H

#include <stddef.h>

#define NEAREST_WORD_MAX 64

/* Offer candidates one by one; best stays NULL when nothing is near enough to suggest. */
struct nearest {
    const char *word;
    const char *best;
    size_t distance; /* of best; 0 while there is none */
};

/* candidate must live as long as the search; words longer than NEAREST_WORD_MAX match nothing. */
void nearest_offer(struct nearest *nearest, const char *candidate);

#endif
