#include "drivers/modbus_decode.h"

#include <math.h>
#include <string.h>

struct type_facts {
    int words;
    double min; /* what the register can hold */
    double max;
};

static const struct type_facts TYPES[TYPE_COUNT] = {
    [TYPE_BIT] = {1, 0, 1},
    [TYPE_U16] = {1, 0, 65535},
    [TYPE_S16] = {1, -32768, 32767},
    [TYPE_U32] = {2, 0, 4294967295.0},
    [TYPE_S32] = {2, -2147483648.0, 2147483647.0},
    [TYPE_F32] = {2, -3.4e38, 3.4e38},
};

int modbus_decode_words(const struct channel *channel)
{
    return TYPES[channel->type].words;
}

double modbus_decode_round(double value, double resolution)
{
    double parts, whole;

    if (!(resolution > 0))
        return value;
    /* 0.01 has no exact double; dividing by 100 gives the double nearest to the decimal. */
    parts = 1.0 / resolution;
    whole = round(parts);
    if (whole >= 1 && fabs(parts - whole) < 1e-9 * whole)
        value = round(value * whole) / whole;
    else
        value = round(value / resolution) * resolution;
    return value + 0.0; /* no negative zero */
}

static double raw_from_words(const struct channel *channel, const uint16_t *words)
{
    bool high_first = channel->order == HIGH_WORD_FIRST;
    uint32_t both = 0;
    float f;

    if (TYPES[channel->type].words == 2)
        both = (uint32_t)words[high_first ? 0 : 1] << 16 | words[high_first ? 1 : 0];
    switch (channel->type) {
    case TYPE_BIT:
        return words[0] != 0;
    case TYPE_S16:
        return (int16_t)words[0];
    case TYPE_U32:
        return both;
    case TYPE_S32:
        return (int32_t)both;
    case TYPE_F32:
        memcpy(&f, &both, sizeof f);
        return (double)f;
    default:
        return words[0];
    }
}

bool modbus_decode(const struct channel *channel, const uint16_t *words, double *value)
{
    double raw = raw_from_words(channel, words);

    if (channel->type == TYPE_BIT) {
        *value = channel->is_inverted ? 1 - raw : raw;
        return true;
    }
    *value = modbus_decode_round(raw * channel->scale + channel->offset, channel->resolution);
    if (isfinite(*value))
        return true;
    *value = 0;
    return false;
}

static uint32_t bits_from_raw(enum register_type type, double raw)
{
    uint32_t bits;
    float f = (float)raw;

    if (type == TYPE_F32) {
        memcpy(&bits, &f, sizeof bits);
        return bits;
    }
    return (uint32_t)(int64_t)round(raw);
}

bool modbus_encode(const struct channel *channel, double value, uint16_t words[DECODE_WORDS_MAX])
{
    const struct type_facts *type = &TYPES[channel->type];
    bool high_first = channel->order == HIGH_WORD_FIRST;
    double raw;
    uint32_t bits;

    words[0] = words[1] = 0;
    if (!isfinite(value) || (channel->type != TYPE_BIT && !(fabs(channel->scale) > 0)))
        return false;
    if (channel->type == TYPE_BIT)
        raw = (value > 0.5) != channel->is_inverted;
    else
        raw = (value - channel->offset) / channel->scale;
    raw = fmin(fmax(raw, type->min), type->max);
    bits = bits_from_raw(channel->type, raw);
    if (type->words == 1) {
        words[0] = (uint16_t)bits;
        return true;
    }
    words[high_first ? 0 : 1] = (uint16_t)(bits >> 16);
    words[high_first ? 1 : 0] = (uint16_t)bits;
    return true;
}
