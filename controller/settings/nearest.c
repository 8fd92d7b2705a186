#include "settings/nearest.h"

#include <stdbool.h>
#include <string.h>

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* Letters to add, drop, replace or swap with a neighbour to get from one word to the other. */
static size_t edit_distance(const char *a, size_t a_length, const char *b, size_t b_length)
{
    size_t rows[3][NEAREST_WORD_MAX + 1];
    size_t *before = rows[0];
    size_t *above = rows[1];
    size_t *row = rows[2];

    for (size_t j = 0; j <= b_length; j++)
        above[j] = before[j] = j;
    for (size_t i = 1; i <= a_length; i++) {
        size_t *spare = before;

        row[0] = i;
        for (size_t j = 1; j <= b_length; j++) {
            row[j] = above[j - 1] + (a[i - 1] != b[j - 1]);
            row[j] = least(row[j], least(above[j], row[j - 1]) + 1);
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = least(row[j], before[j - 2] + 1);
        }
        before = above;
        above = row;
        row = spare;
    }
    return above[b_length];
}

void nearest_offer(struct nearest *nearest, const char *candidate)
{
    size_t a_length = strlen(nearest->word);
    size_t b_length = strlen(candidate);
    size_t distance;

    if (a_length > NEAREST_WORD_MAX || b_length > NEAREST_WORD_MAX || a_length < 2)
        return;
    distance = edit_distance(nearest->word, a_length, candidate, b_length);
    if (distance > 1 + a_length / 4 || (nearest->best != NULL && distance >= nearest->distance))
        return;
    nearest->best = candidate;
    nearest->distance = distance;
}
