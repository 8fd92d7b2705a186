#include "simulator/wire_answer.h"

#include <modbus.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>

#define AT_UNIT 6
#define AT_FUNCTION 7
#define AT_ADDRESS 8
#define AT_COUNT 10
#define AT_BYTES 12
#define AT_DATA 13

#define EXCEPTION_NONE 0
#define REPLY_MAX 260

struct wire_answerer {
    modbus_t *modbus;
};

struct wire_answerer *wire_answerer_open(void)
{
    struct wire_answerer *answerer = malloc(sizeof *answerer);

    if (answerer == NULL)
        return NULL;
    answerer->modbus = modbus_new_tcp("127.0.0.1", 502); /* never connected: sockets are given to it */
    if (answerer->modbus == NULL) {
        free(answerer);
        return NULL;
    }
    /* The library sleeps for this long before it refuses some malformed requests. */
    (void)modbus_set_response_timeout(answerer->modbus, 0, 1);
    return answerer;
}

void wire_answerer_close(struct wire_answerer *answerer)
{
    if (answerer == NULL)
        return;
    modbus_free(answerer->modbus);
    free(answerer);
}

static int word_at(const uint8_t *frame, int at)
{
    return frame[at] << 8 | frame[at + 1];
}

static int exception_of(enum device_write result)
{
    return result == DEVICE_WRITE_OK        ? EXCEPTION_NONE
           : result == DEVICE_WRITE_ADDRESS ? MODBUS_EXCEPTION_ILLEGAL_DATA_ADDRESS
                                            : MODBUS_EXCEPTION_ILLEGAL_DATA_VALUE;
}

static int check_many(int unit, const uint8_t *frame, bool coils)
{
    int address = word_at(frame, AT_ADDRESS), count = word_at(frame, AT_COUNT);
    int bytes = coils ? (count + 7) / 8 : 2 * count;
    enum device_write result = count < 1 || bytes != frame[AT_BYTES] ? DEVICE_WRITE_VALUE : DEVICE_WRITE_OK;

    for (int i = 0; i < count && result == DEVICE_WRITE_OK; i++)
        result = coils ? devices_coil_check(unit, address + i)
                       : devices_holding_check(unit, address + i, (uint16_t)word_at(frame, AT_DATA + 2 * i));
    return exception_of(result);
}

/* Nothing, or the exception to answer with. */
static int request_check(int unit, const uint8_t *frame)
{
    int address = word_at(frame, AT_ADDRESS);

    switch (frame[AT_FUNCTION]) {
    case MODBUS_FC_READ_COILS:
    case MODBUS_FC_READ_DISCRETE_INPUTS:
    case MODBUS_FC_READ_HOLDING_REGISTERS:
    case MODBUS_FC_READ_INPUT_REGISTERS:
        return EXCEPTION_NONE;
    case MODBUS_FC_WRITE_SINGLE_COIL:
        return exception_of(devices_coil_check(unit, address));
    case MODBUS_FC_WRITE_SINGLE_REGISTER:
        return exception_of(devices_holding_check(unit, address, (uint16_t)word_at(frame, AT_COUNT)));
    case MODBUS_FC_WRITE_MULTIPLE_COILS:
        return check_many(unit, frame, true);
    case MODBUS_FC_WRITE_MULTIPLE_REGISTERS:
        return check_many(unit, frame, false);
    default:
        return MODBUS_EXCEPTION_ILLEGAL_FUNCTION;
    }
}

/* A reply that is framed well and one register, or two bytes of echo, too short. */
static bool send_short(int fd, const uint8_t *frame)
{
    uint8_t reply[REPLY_MAX] = {0};
    int count = word_at(frame, AT_COUNT), function = frame[AT_FUNCTION], data, length;

    memcpy(reply, frame, AT_ADDRESS);
    if (function <= MODBUS_FC_READ_INPUT_REGISTERS) {
        data = function <= MODBUS_FC_READ_DISCRETE_INPUTS ? (count + 7) / 8 - 1 : 2 * count - 2;
        data = data < 0 ? 0 : data > 248 ? 248 : data;
        reply[AT_ADDRESS] = (uint8_t)data;
        length = AT_ADDRESS + 1 + data;
    } else {
        memcpy(reply + AT_ADDRESS, frame + AT_ADDRESS, 2);
        length = AT_ADDRESS + 2;
    }
    reply[4] = 0;
    reply[5] = (uint8_t)(length - AT_UNIT);
    return send(fd, reply, (size_t)length, MSG_NOSIGNAL) == length;
}

static bool send_reply(struct wire_answerer *answerer, struct device_image *image, const uint8_t *frame,
                       int length)
{
    modbus_mapping_t map = {
        .nb_bits = DEVICE_BITS,
        .nb_input_bits = DEVICE_BITS,
        .nb_input_registers = DEVICE_WORDS,
        .nb_registers = DEVICE_WORDS,
        .tab_bits = image->coils,
        .tab_input_bits = image->discretes,
        .tab_input_registers = image->input,
        .tab_registers = image->holding,
    };
    int exception = request_check(frame[AT_UNIT], frame);

    if (exception != EXCEPTION_NONE)
        return modbus_reply_exception(answerer->modbus, frame, (unsigned)exception) > 0;
    return modbus_reply(answerer->modbus, frame, length, &map) > 0;
}

bool wire_answer(struct wire_answerer *answerer, int fd, struct world *world, const uint8_t *frame,
                 int length)
{
    int unit = frame[AT_UNIT];
    struct device_image *image = devices_unit(&world->devices, unit);
    enum unit_fault_kind fault = image != NULL ? world->unit_faults[unit].kind : UNIT_SILENT;
    bool sent = true;

    if (fault == UNIT_SILENT)
        return true;
    devices_asked(&world->devices, unit, world->tank_us);
    (void)modbus_set_socket(answerer->modbus, fd);
    if (fault == UNIT_EXCEPTION)
        sent = modbus_reply_exception(answerer->modbus, frame, MODBUS_EXCEPTION_SLAVE_OR_SERVER_FAILURE) > 0;
    else if (fault == UNIT_SHORT)
        sent = send_short(fd, frame);
    else
        sent = send_reply(answerer, image, frame, length);
    (void)modbus_set_socket(answerer->modbus, -1);
    return sent;
}
