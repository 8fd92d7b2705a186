#include "drivers/modbus_frame.h"

#include <string.h>

static const enum frame_function READ_FUNCTIONS[REGISTER_KIND_COUNT] = {
    [REGISTER_COIL] = FRAME_READ_COILS,
    [REGISTER_DISCRETE] = FRAME_READ_DISCRETES,
    [REGISTER_HOLDING] = FRAME_READ_HOLDING,
    [REGISTER_INPUT] = FRAME_READ_INPUT,
};

/* Modbus Application Protocol V1.1b, chapter 7. */
static const char *const EXCEPTIONS[] = {
    [1] = "it does not know this function",         [2] = "it has no such register",
    [3] = "it does not allow this value",           [4] = "it reports a failure of its own",
    [5] = "it accepted the request but needs long", [6] = "it is busy",
    [8] = "it found an error in its memory",        [10] = "the gateway has no way to it",
    [11] = "the gateway got no answer from it",
};

enum frame_function modbus_frame_read_function(enum register_kind kind)
{
    return READ_FUNCTIONS[kind];
}

const char *modbus_frame_exception(int code)
{
    int known = (int)(sizeof EXCEPTIONS / sizeof EXCEPTIONS[0]);

    return code > 0 && code < known && EXCEPTIONS[code] != NULL ? EXCEPTIONS[code] : "for an unknown reason";
}

static void put_word(uint8_t *at, unsigned word)
{
    at[0] = (uint8_t)(word >> 8);
    at[1] = (uint8_t)word;
}

static uint16_t get_word(const uint8_t *at)
{
    return (uint16_t)(at[0] << 8 | at[1]);
}

size_t modbus_frame_build(const struct frame_request *request, uint8_t *frame)
{
    frame[0] = (uint8_t)request->unit;
    frame[1] = (uint8_t)request->function;
    put_word(frame + 2, (unsigned)request->address);
    switch (request->function) {
    case FRAME_WRITE_COIL:
        put_word(frame + 4, request->words[0] != 0 ? 0xff00 : 0);
        return 6;
    case FRAME_WRITE_REGISTER:
        put_word(frame + 4, request->words[0]);
        return 6;
    case FRAME_WRITE_REGISTERS:
        put_word(frame + 4, (unsigned)request->count);
        frame[6] = (uint8_t)(2 * request->count);
        for (size_t i = 0; i < (size_t)request->count; i++)
            put_word(frame + 7 + 2 * i, request->words[i]);
        return 7 + 2 * (size_t)request->count;
    default:
        put_word(frame + 4, (unsigned)request->count);
        return 6;
    }
}

size_t modbus_frame_build_tcp(const struct frame_request *request, uint16_t transaction, uint8_t *frame)
{
    size_t length = modbus_frame_build(request, frame + FRAME_TCP_HEADER - 1);

    put_word(frame, transaction);
    put_word(frame + 2, 0);
    put_word(frame + 4, (unsigned)length);
    return FRAME_TCP_HEADER - 1 + length;
}

static enum status bad(const char **why, const char *text)
{
    *why = text;
    return ST_BAD_REPLY;
}

static enum status check_read(const struct frame_request *request, const uint8_t *frame, size_t length,
                              uint16_t *words, const char **why)
{
    bool is_bits = request->function <= FRAME_READ_DISCRETES;
    size_t bytes = is_bits ? ((size_t)request->count + 7) / 8 : 2 * (size_t)request->count;

    if (length != 3 + bytes || frame[2] != bytes)
        return bad(why, "the reply has another length than was asked for");
    for (size_t i = 0; i < (size_t)request->count; i++)
        words[i] = is_bits ? frame[3 + i / 8] >> (i % 8) & 1 : get_word(frame + 3 + 2 * i);
    return ST_OK;
}

/* A write is answered by its own first six bytes. */
static enum status check_echo(const struct frame_request *request, const uint8_t *frame, size_t length,
                              const char **why)
{
    uint8_t sent[FRAME_MAX];

    (void)modbus_frame_build(request, sent);
    if (length != 6 || memcmp(sent, frame, 6) != 0)
        return bad(why, "the device did not confirm what was written");
    return ST_OK;
}

enum status modbus_frame_check(const struct frame_request *request, const uint8_t *frame, size_t length,
                               uint16_t *words, int *exception, const char **why)
{
    if (length < 3)
        return bad(why, "the reply is too short");
    if (frame[0] != request->unit)
        return bad(why, "another unit answered");
    if (frame[1] == ((unsigned)request->function | 0x80) && length == 3) {
        *exception = frame[2];
        return ST_EXCEPTION;
    }
    if (frame[1] != (unsigned)request->function)
        return bad(why, "the reply belongs to another function");
    if (request->function <= FRAME_READ_INPUT)
        return check_read(request, frame, length, words, why);
    return check_echo(request, frame, length, why);
}

enum status modbus_frame_check_tcp(const struct frame_request *request, uint16_t transaction,
                                   const uint8_t *frame, size_t length, uint16_t *words, int *exception,
                                   const char **why)
{
    if (length < FRAME_TCP_HEADER)
        return bad(why, "the reply is too short");
    if (get_word(frame) != transaction || get_word(frame + 2) != 0)
        return bad(why, "the reply belongs to another request");
    if ((size_t)get_word(frame + 4) != length - (FRAME_TCP_HEADER - 1))
        return bad(why, "the reply has another length than it says");
    return modbus_frame_check(request, frame + FRAME_TCP_HEADER - 1, length - (FRAME_TCP_HEADER - 1), words,
                              exception, why);
}
