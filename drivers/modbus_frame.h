/* modbus_frame.h - Modbus requests as bytes, and the full check of what came back.
 *
 * Does:      build the protocol data unit; accept a reply only when unit, function, length, echo
 *            and (on TCP) transaction number and length field all fit the request.
 * Does not:  send, receive or compute the checksum of a serial frame. Pure.
 * Layouts: Modbus Application Protocol V1.1b and Modbus Messaging on TCP/IP V1.0b.
 */
#ifndef DRIVERS_MODBUS_FRAME_H
#define DRIVERS_MODBUS_FRAME_H

#include "base/status.h"
#include "drivers/channel.h"

#include <stddef.h>
#include <stdint.h>

#define FRAME_TCP_HEADER 7 /* transaction, protocol, length, unit */
#define FRAME_MAX 260      /* room for any frame */
#define FRAME_REGISTERS_MAX 125
#define FRAME_BITS_MAX 2000

enum frame_function {
    FRAME_READ_COILS = 1,
    FRAME_READ_DISCRETES = 2,
    FRAME_READ_HOLDING = 3,
    FRAME_READ_INPUT = 4,
    FRAME_WRITE_COIL = 5,
    FRAME_WRITE_REGISTER = 6,
    FRAME_WRITE_REGISTERS = 16
};

struct frame_request {
    int unit;
    enum frame_function function;
    int address;
    int count;         /* reads: coils or registers; writes: 1 or 2 */
    uint16_t words[2]; /* writes: a coil as 0 or 1 */
};

/* The read function of a kind of register. */
enum frame_function modbus_frame_read_function(enum register_kind kind);

/* Unit and protocol data unit, as a serial line carries them without the checksum.
 * frame has FRAME_MAX bytes of room. Returns the length. */
size_t modbus_frame_build(const struct frame_request *request, uint8_t *frame);

/* The same with the header of Modbus TCP. */
size_t modbus_frame_build_tcp(const struct frame_request *request, uint16_t transaction, uint8_t *frame);

/* Judge a reply: unit and protocol data unit, length bytes in all.
 * words: as many as request->count, filled for reads, may be NULL for writes.
 * ST_OK; ST_EXCEPTION with *exception set; ST_BAD_REPLY, *why (static text) says what is wrong. */
enum status modbus_frame_check(const struct frame_request *request, const uint8_t *frame, size_t length,
                               uint16_t *words, int *exception, const char **why) MUST_USE;

/* The same for a reply with the header of Modbus TCP. */
enum status modbus_frame_check_tcp(const struct frame_request *request, uint16_t transaction,
                                   const uint8_t *frame, size_t length, uint16_t *words, int *exception,
                                   const char **why) MUST_USE;

/* What an exception code means, for a sentence; never NULL. */
const char *modbus_frame_exception(int code);

#endif
