#include "records/bytes.h"

#include <assert.h>
#include <string.h>

void put_byte(struct sink *sink, unsigned value)
{
    assert(sink->used < sink->size);
    sink->to[sink->used++] = (unsigned char)value;
}

void put_number(struct sink *sink, uint64_t value)
{
    for (; value > 127; value >>= 7)
        put_byte(sink, 128u | (unsigned)(value & 127));
    put_byte(sink, (unsigned)value);
}

void put_signed(struct sink *sink, int64_t value)
{
    put_number(sink, ((uint64_t)value << 1) ^ (value < 0 ? UINT64_MAX : 0));
}

void put_double(struct sink *sink, const double *value)
{
    uint64_t bits;

    memcpy(&bits, value, sizeof bits);
    for (int i = 0; i < 8; i++)
        put_byte(sink, (unsigned)(bits >> (8 * i)) & 255u);
}

void put_text(struct sink *sink, const char *text, size_t size)
{
    size_t length = strnlen(text, size - 1);

    put_byte(sink, (unsigned)length);
    for (size_t i = 0; i < length; i++)
        put_byte(sink, (unsigned char)text[i]);
}

unsigned take_byte(struct source *source)
{
    if (source->left == 0) {
        source->is_damaged = true;
        return 0;
    }
    source->left--;
    return *source->from++;
}

uint64_t take_number(struct source *source)
{
    uint64_t value = 0;

    for (unsigned shift = 0; shift < 64; shift += 7) {
        unsigned byte = take_byte(source);

        value |= (uint64_t)(byte & 127u) << shift;
        if (byte < 128)
            return value;
    }
    source->is_damaged = true;
    return 0;
}

int64_t take_signed(struct source *source)
{
    uint64_t value = take_number(source);

    return (int64_t)((value >> 1) ^ ((value & 1) != 0 ? UINT64_MAX : 0));
}

void take_double(struct source *source, double *value)
{
    uint64_t bits = 0;

    for (int i = 0; i < 8; i++)
        bits |= (uint64_t)take_byte(source) << (8 * i);
    memcpy(value, &bits, sizeof bits);
}

void take_text(struct source *source, char *text, size_t size)
{
    size_t length = take_byte(source);

    if (length >= size || length > source->left || memchr(source->from, '\0', length) != NULL) {
        source->is_damaged = true;
        return;
    }
    memset(text, 0, size);
    memcpy(text, source->from, length);
    source->from += length;
    source->left -= length;
}

int take_index(struct source *source, int limit)
{
    int64_t value = take_signed(source);

    if (value < 0 || value >= limit) {
        source->is_damaged = true;
        return 0;
    }
    return (int)value;
}
