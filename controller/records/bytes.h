/* bytes.h - numbers and texts into bytes and out of them, for the flight recording.
 *
 * Pure. Putting beyond the sink's size is our own bug (asserted). Taking beyond the source's end,
 * or what cannot be, marks the source as damaged and gives 0, so that a reader checks once at its
 * end.
 */
#ifndef RECORDS_BYTES_H
#define RECORDS_BYTES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct sink {
    unsigned char *to;
    size_t size;
    size_t used;
};

struct source {
    const unsigned char *from;
    size_t left;
    bool is_damaged;
};

void put_byte(struct sink *sink, unsigned value);
void put_number(struct sink *sink, uint64_t value);      /* 1-10 bytes, small numbers short */
void put_signed(struct sink *sink, int64_t value);       /* the same for small magnitudes of either sign */
void put_double(struct sink *sink, const double *value); /* 8 bytes, every bit */
void put_text(struct sink *sink, const char *text, size_t size); /* at most size - 1, below 256 */

unsigned take_byte(struct source *source);
uint64_t take_number(struct source *source);
int64_t take_signed(struct source *source);
void take_double(struct source *source, double *value);
void take_text(struct source *source, char *text, size_t size); /* the rest of text becomes 0 */
int take_index(struct source *source, int limit);               /* a signed number from 0 to limit - 1 */

#endif
