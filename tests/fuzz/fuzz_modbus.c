/* A reply after a request. The first bytes of an input choose request and channel, the rest is what
 * came back: once as a frame of a serial line, once with the header of Modbus TCP. */
#include "drivers/modbus_decode.h"
#include "drivers/modbus_frame.h"
#include "fuzz/fuzz.h"

#include <math.h>

#define HEAD 12
#define PLAIN_LIMIT 3.4e38

static const enum frame_function FUNCTIONS[] = {
    FRAME_READ_COILS, FRAME_READ_DISCRETES, FRAME_READ_HOLDING,   FRAME_READ_INPUT,
    FRAME_WRITE_COIL, FRAME_WRITE_REGISTER, FRAME_WRITE_REGISTERS};

static void request_choose(const uint8_t *head, struct frame_request *request)
{
    unsigned count = (unsigned)head[4] << 8 | head[5];

    request->function = FUNCTIONS[head[0] % (sizeof FUNCTIONS / sizeof FUNCTIONS[0])];
    request->unit = 1 + head[1] % 247;
    request->address = head[2] << 8 | head[3];
    request->words[0] = (uint16_t)(head[6] << 8 | head[7]);
    request->words[1] = (uint16_t)(head[8] << 8 | head[9]);
    if (request->function <= FRAME_READ_DISCRETES)
        request->count = 1 + (int)(count % FRAME_BITS_MAX);
    else if (request->function <= FRAME_READ_INPUT)
        request->count = 1 + (int)(count % FRAME_REGISTERS_MAX);
    else
        request->count = request->function == FRAME_WRITE_REGISTERS ? 2 : 1;
    if (request->function == FRAME_WRITE_COIL)
        request->words[0] &= 1;
}

static void channel_choose(const uint8_t *head, bool is_bits, struct channel *channel)
{
    static const double SCALES[] = {1, 0.1, -0.01, 1e6};
    static const double OFFSETS[] = {0, -40};
    static const double RESOLUTIONS[] = {0, 0.01, 0.3, 1e-12};
    int types = TYPE_COUNT - 1;

    memset(channel, 0, sizeof *channel);
    channel->type = is_bits ? TYPE_BIT : (enum register_type)(1 + head[10] % types);
    channel->order = (head[10] & 128) != 0 ? LOW_WORD_FIRST : HIGH_WORD_FIRST;
    channel->is_inverted = is_bits && (head[10] & 64) != 0;
    channel->scale = is_bits ? 1 : SCALES[head[11] & 3];
    channel->offset = is_bits ? 0 : OFFSETS[head[11] >> 2 & 1];
    channel->resolution = is_bits ? 0 : RESOLUTIONS[head[11] >> 3 & 3];
}

static void decode(const struct channel *channel, const uint16_t *words)
{
    bool is_plain = channel->scale >= 1 && channel->scale <= 1 && channel->offset >= 0 &&
                    !(channel->resolution > 0);
    uint16_t sent[DECODE_WORDS_MAX];
    double value = -1, again = -1;

    if (!modbus_decode(channel, words, &value)) {
        fuzz_claim(channel->type == TYPE_F32 && fabs(value) <= 0);
        return;
    }
    fuzz_claim(isfinite(value));
    fuzz_claim(modbus_encode(channel, value, sent));
    fuzz_claim(modbus_decode(channel, sent, &again));
    if (is_plain && fabs(value) <= PLAIN_LIMIT)
        fuzz_claim(fabs(again - value) <= 0);
}

/* An array of exactly the words that were asked for, so that one more is seen. */
static void reply_take(const struct frame_request *request, const struct channel *channel,
                       const uint8_t *frame, size_t length, bool is_tcp)
{
    uint16_t *words = calloc((size_t)request->count, sizeof *words);
    const char *why = NULL;
    int exception = -1, step = modbus_decode_words(channel);
    enum status code;

    fuzz_claim(words != NULL);
    code = is_tcp ? modbus_frame_check_tcp(request, (uint16_t)request->address, frame, length, words,
                                           &exception, &why)
                  : modbus_frame_check(request, frame, length, words, &exception, &why);
    fuzz_claim(code == ST_OK || code == ST_EXCEPTION || code == ST_BAD_REPLY);
    fuzz_claim(code != ST_BAD_REPLY || (why != NULL && why[0] != '\0'));
    fuzz_claim(code != ST_EXCEPTION || modbus_frame_exception(exception) != NULL);
    if (code == ST_OK && request->function <= FRAME_READ_INPUT)
        for (int i = 0; i + step <= request->count; i++)
            decode(channel, words + i);
    free(words);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    uint8_t sent[FRAME_MAX];
    struct frame_request request;
    struct channel channel;
    uint8_t *frame;
    size_t length = size - HEAD;

    if (size < HEAD + 1 || length > FRAME_MAX)
        return -1;
    request_choose(data, &request);
    channel_choose(data, request.function <= FRAME_READ_DISCRETES, &channel);
    fuzz_claim(modbus_frame_build(&request, sent) <= FRAME_MAX);
    fuzz_claim(modbus_frame_build_tcp(&request, (uint16_t)request.address, sent) <= FRAME_MAX);
    frame = malloc(length);
    fuzz_claim(frame != NULL);
    memcpy(frame, data + HEAD, length);
    reply_take(&request, &channel, frame, length, false);
    reply_take(&request, &channel, frame, length, true);
    free(frame);
    return 0;
}
