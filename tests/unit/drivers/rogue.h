/* rogue.h - instruments that misbehave, and a listener that knows the truth (for the driver tests).
 *
 * The registers of three units; a test orders one unit to answer its next requests late, wrongly or
 * not at all. Every reading posted as good is compared with the true value: a wrong good number
 * is the failure that must never happen. Own frame code, so that no mistake is shared.
 */
#ifndef TESTS_ROGUE_H
#define TESTS_ROGUE_H

#include "drivers/driver.h"
#include "support/support.h"

#include <pthread.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

enum mischief {
    ROGUE_NONE,
    ROGUE_LATE,              /* answers after delay_ms */
    ROGUE_SILENT,            /* does not hear the request */
    ROGUE_EXCEPTION,         /* exception 4 */
    ROGUE_GATEWAY,           /* exception 11: the gateway got no answer */
    ROGUE_SHORT,             /* two bytes too few, consistently said */
    ROGUE_LONG,              /* two bytes too many, consistently said */
    ROGUE_WRONG_UNIT,        /* another unit number */
    ROGUE_WRONG_FUNCTION,    /* another function */
    ROGUE_WRONG_TRANSACTION, /* TCP: an older transaction number */
    ROGUE_TWICE,             /* the right reply two times */
    ROGUE_TRICKLE,           /* one byte every 40 ms */
    ROGUE_CUT,               /* half of the reply */
    ROGUE_GARBLED,           /* serial: wrong checksum */
    ROGUE_CLOSE,             /* TCP: closes the connection */
    ROGUE_DEAF,              /* confirms writes and does not do them */
    ROGUE_COUNT
};

#define ROGUE_UNITS 8
#define ROGUE_REGISTERS 32

struct rogue_unit {
    uint16_t holding[ROGUE_REGISTERS];
    uint16_t input[ROGUE_REGISTERS];
    uint8_t coils[ROGUE_REGISTERS];
    uint8_t discretes[ROGUE_REGISTERS];
    enum mischief mischief;
    int mischief_count; /* requests it still holds for; -1: always */
    int requests;
};

struct rogue {
    pthread_mutex_t lock;
    pthread_t thread;
    bool is_ending;
    int delay_ms;
    struct rogue_unit units[ROGUE_UNITS];
    int port; /* TCP */
    int fd;   /* listening socket or pseudo-terminal */
};

static inline void rogue_set_up(struct rogue *rogue)
{
    memset(rogue, 0, sizeof *rogue);
    (void)pthread_mutex_init(&rogue->lock, NULL);
    rogue->delay_ms = 400;
    rogue->units[1].input[0] = 215; /* 21.5 °C */
    rogue->units[1].input[1] = 903; /* 90.3 °C */
    rogue->units[1].input[10] = 5401;
    rogue->units[4].holding[0] = 4016;
    rogue->units[4].discretes[0] = 1;
    rogue->units[4].discretes[2] = 1;
    rogue->units[6].input[0] = 0x1234; /* low word first: 0x00051234 = 332340 -> 3323.4 L */
    rogue->units[6].input[1] = 0x0005;
    rogue->units[6].input[20] = 6120;
}

static inline void rogue_order(struct rogue *rogue, int unit, enum mischief mischief, int count)
{
    (void)pthread_mutex_lock(&rogue->lock);
    rogue->units[unit].mischief = mischief;
    rogue->units[unit].mischief_count = count;
    (void)pthread_mutex_unlock(&rogue->lock);
}

static inline int rogue_coil(struct rogue *rogue, int coil)
{
    int value;

    (void)pthread_mutex_lock(&rogue->lock);
    value = rogue->units[4].coils[coil];
    (void)pthread_mutex_unlock(&rogue->lock);
    return value;
}

static inline int rogue_holding(struct rogue *rogue, int unit, int address)
{
    int value;

    (void)pthread_mutex_lock(&rogue->lock);
    value = rogue->units[unit].holding[address];
    (void)pthread_mutex_unlock(&rogue->lock);
    return value;
}

static inline void rogue_set_holding(struct rogue *rogue, int unit, int address, uint16_t value)
{
    (void)pthread_mutex_lock(&rogue->lock);
    rogue->units[unit].holding[address] = value;
    (void)pthread_mutex_unlock(&rogue->lock);
}

static inline void rogue_set_coil(struct rogue *rogue, int coil, uint8_t value)
{
    (void)pthread_mutex_lock(&rogue->lock);
    rogue->units[4].coils[coil] = value;
    (void)pthread_mutex_unlock(&rogue->lock);
}

static inline void rogue_set_delay(struct rogue *rogue, int delay_ms)
{
    (void)pthread_mutex_lock(&rogue->lock);
    rogue->delay_ms = delay_ms;
    (void)pthread_mutex_unlock(&rogue->lock);
}

static inline int rogue_delay(struct rogue *rogue)
{
    int delay_ms;

    (void)pthread_mutex_lock(&rogue->lock);
    delay_ms = rogue->delay_ms;
    (void)pthread_mutex_unlock(&rogue->lock);
    return delay_ms;
}

static inline int rogue_requests(struct rogue *rogue, int unit)
{
    int requests;

    (void)pthread_mutex_lock(&rogue->lock);
    requests = rogue->units[unit].requests;
    (void)pthread_mutex_unlock(&rogue->lock);
    return requests;
}

/* ---- answering; unit and protocol data unit in, unit and protocol data unit out ---------- */

static inline size_t rogue_read_bits(const uint8_t *bits, int address, int count, uint8_t *reply)
{
    reply[2] = (uint8_t)((count + 7) / 8);
    memset(reply + 3, 0, reply[2]);
    for (int i = 0; i < count; i++)
        reply[3 + i / 8] |= (uint8_t)(bits[address + i] << (i % 8));
    return 3u + reply[2];
}

static inline size_t rogue_read_words(const uint16_t *words, int address, int count, uint8_t *reply)
{
    reply[2] = (uint8_t)(2 * count);
    for (int i = 0; i < count; i++) {
        reply[3 + 2 * i] = (uint8_t)(words[address + i] >> 8);
        reply[4 + 2 * i] = (uint8_t)words[address + i];
    }
    return 3u + reply[2];
}

static inline size_t rogue_serve(struct rogue *rogue, const uint8_t *request, bool is_deaf, uint8_t *reply)
{
    struct rogue_unit *unit = &rogue->units[request[0] % ROGUE_UNITS];
    int address = request[2] << 8 | request[3];
    int number = request[4] << 8 | request[5];

    memcpy(reply, request, 6);
    if (address + (request[1] <= 4 ? number : 1) > ROGUE_REGISTERS) {
        reply[1] |= 0x80;
        reply[2] = 2;
        return 3;
    }
    switch (request[1]) {
    case 1:
        return rogue_read_bits(unit->coils, address, number, reply);
    case 2:
        return rogue_read_bits(unit->discretes, address, number, reply);
    case 3:
        return rogue_read_words(unit->holding, address, number, reply);
    case 4:
        return rogue_read_words(unit->input, address, number, reply);
    case 5:
        if (!is_deaf)
            unit->coils[address] = number != 0;
        return 6;
    default:
        if (!is_deaf)
            unit->holding[address] = (uint16_t)number;
        return 6;
    }
}

/* The mischief that holds for this request. */
static inline enum mischief rogue_next_mischief(struct rogue *rogue, int number)
{
    struct rogue_unit *unit = &rogue->units[number % ROGUE_UNITS];
    enum mischief mischief = unit->mischief_count == 0 ? ROGUE_NONE : unit->mischief;

    if (unit->mischief_count > 0)
        unit->mischief_count--;
    unit->requests++;
    return mischief;
}

/* Fill reply and return its length, with the mischief that a frame can carry. */
static inline size_t rogue_answer(struct rogue *rogue, const uint8_t *request, uint8_t *reply,
                                  enum mischief *mischief)
{
    size_t length;

    (void)pthread_mutex_lock(&rogue->lock);
    *mischief = rogue_next_mischief(rogue, request[0]);
    length = rogue_serve(rogue, request, *mischief == ROGUE_DEAF || *mischief == ROGUE_SILENT, reply);
    (void)pthread_mutex_unlock(&rogue->lock);
    if (*mischief == ROGUE_EXCEPTION || *mischief == ROGUE_GATEWAY) {
        reply[1] |= 0x80;
        reply[2] = *mischief == ROGUE_GATEWAY ? 11 : 4;
        return 3;
    }
    if (*mischief == ROGUE_SHORT && length > 5) {
        length -= 2;
        reply[2] = (uint8_t)(reply[2] - 2);
    }
    if (*mischief == ROGUE_LONG) {
        reply[length] = reply[length + 1] = 7;
        length += 2;
        reply[2] = (uint8_t)(reply[2] + 2);
    }
    if (*mischief == ROGUE_WRONG_UNIT)
        reply[0] ^= 2;
    if (*mischief == ROGUE_WRONG_FUNCTION)
        reply[1] ^= 7;
    return length;
}

static inline bool rogue_is_ending(struct rogue *rogue)
{
    bool is_ending;

    (void)pthread_mutex_lock(&rogue->lock);
    is_ending = rogue->is_ending;
    (void)pthread_mutex_unlock(&rogue->lock);
    return is_ending;
}

/* Send the ready frame the way the mischief wants; false: close the connection. */
static inline bool rogue_send(struct rogue *rogue, int fd, const uint8_t *frame, size_t length,
                              enum mischief mischief)
{
    size_t piece = mischief == ROGUE_TRICKLE ? 1 : length;

    if (mischief == ROGUE_SILENT)
        return true;
    if (mischief == ROGUE_CLOSE)
        return false;
    if (mischief == ROGUE_LATE)
        (void)usleep((useconds_t)rogue_delay(rogue) * 1000);
    if (mischief == ROGUE_CUT)
        piece = length = length / 2;
    for (int times = mischief == ROGUE_TWICE ? 2 : 1; times > 0; times--)
        for (size_t at = 0; at < length; at += piece) {
            if (write(fd, frame + at, piece) < 0)
                return false;
            if (mischief == ROGUE_TRICKLE)
                (void)usleep(40000);
        }
    return true;
}

/* ---- the bus as settings ------------------------------------------------------------------- */

static inline struct channel rogue_channel(enum point point, enum register_kind kind, int address,
                                           enum register_type type, double scale)
{
    return (struct channel){.point = point,
                            .kind = kind,
                            .address = address,
                            .type = type,
                            .order = LOW_WORD_FIRST,
                            .scale = scale,
                            .resolution = type == TYPE_BIT ? 0 : scale};
}

static inline void rogue_bus(struct bus_settings *bus, int reply_ms)
{
    *bus = (struct bus_settings){.name = "tank", .gap_ms = 2, .device_count = 3};
    bus->devices[0] = (struct device){.name = "temperatures",
                                      .unit = 1,
                                      .has_identity = true,
                                      .identity_kind = REGISTER_INPUT,
                                      .identity_address = 10,
                                      .identity_value = 5401,
                                      .channel_count = 2};
    bus->devices[0].channels[0] = rogue_channel(POINT_TANK_TEMP_C, REGISTER_INPUT, 0, TYPE_S16, 0.1);
    bus->devices[0].channels[1] = rogue_channel(POINT_SHEATH_TEMP_C, REGISTER_INPUT, 1, TYPE_S16, 0.1);
    bus->devices[1] = (struct device){.name = "switches",
                                      .unit = 4,
                                      .has_identity = true,
                                      .identity_kind = REGISTER_HOLDING,
                                      .identity_address = 0,
                                      .identity_value = 4016,
                                      .has_fallback = true,
                                      .fallback_address = 1,
                                      .fallback_ms = 3000,
                                      .channel_count = 4};
    bus->devices[1].channels[0] = rogue_channel(POINT_HEATER_ON, REGISTER_COIL, 0, TYPE_BIT, 1);
    bus->devices[1].channels[1] = rogue_channel(POINT_STIRRER_ON, REGISTER_COIL, 1, TYPE_BIT, 1);
    bus->devices[1].channels[2] = rogue_channel(POINT_LEVEL_COVERS_HEATER, REGISTER_DISCRETE, 0, TYPE_BIT, 1);
    bus->devices[1].channels[3] = rogue_channel(POINT_LID_CLOSED, REGISTER_DISCRETE, 2, TYPE_BIT, 1);
    bus->devices[2] = (struct device){.name = "water meter",
                                      .unit = 6,
                                      .has_identity = true,
                                      .identity_kind = REGISTER_INPUT,
                                      .identity_address = 20,
                                      .identity_value = 6120,
                                      .channel_count = 1};
    bus->devices[2].channels[0] = rogue_channel(POINT_WATER_L, REGISTER_INPUT, 0, TYPE_U32, 0.01);
    for (int i = 0; i < bus->device_count; i++) {
        bus->devices[i].poll_ms = 100;
        bus->devices[i].reply_ms = reply_ms;
    }
}

/* ---- the listener ---------------------------------------------------------------------------- */

static const enum point ROGUE_POINTS[] = {POINT_TANK_TEMP_C, POINT_SHEATH_TEMP_C, POINT_LEVEL_COVERS_HEATER,
                                          POINT_LID_CLOSED, POINT_WATER_L};
#define ROGUE_POINT_COUNT 5

struct listener {
    struct driver_io io;
    struct {
        double value;
        int64_t at_us;
        enum quality quality;
        enum reason reason;
        int posts;
        int bad_posts;
    } readings[POINT_COUNT];
    double wanted[POINT_COUNT];
    bool has_wanted;
    char said[8192];
    int says;
    int64_t now_us;
    const struct driver *driver;
    void *handle;
};

static inline double rogue_truth(enum point point)
{
    switch (point) {
    case POINT_TANK_TEMP_C:
        return 21.5;
    case POINT_SHEATH_TEMP_C:
        return 90.3;
    case POINT_WATER_L:
        return 3323.4;
    default:
        return 1;
    }
}

static inline void listener_post(void *context, enum point point, double value, int64_t at_us,
                                 enum quality quality, enum reason reason)
{
    struct listener *listener = context;

    ck_assert_int_lt(point, POINT_INPUT_COUNT);
    ck_assert_int_eq(at_us, listener->now_us);
    if (quality == QUALITY_GOOD) {
        ck_near(value, rogue_truth(point), 1e-6);
        ck_assert_int_eq(reason, REASON_NONE);
    } else {
        ck_assert_int_eq(quality, QUALITY_BAD);
        ck_assert_int_ne(reason, REASON_NONE);
        listener->readings[point].bad_posts++;
    }
    listener->readings[point].value = value;
    listener->readings[point].at_us = at_us;
    listener->readings[point].quality = quality;
    listener->readings[point].reason = reason;
    listener->readings[point].posts++;
}

static inline bool listener_wanted(void *context, enum point point, double *value)
{
    struct listener *listener = context;

    ck_assert_int_ge(point, POINT_INPUT_COUNT);
    *value = listener->wanted[point];
    return listener->has_wanted;
}

static inline void listener_say(void *context, const char *sentence)
{
    struct listener *listener = context;
    size_t used = strlen(listener->said);

    (void)snprintf(listener->said + used, sizeof listener->said - used, "%s\n", sentence);
    listener->says++;
}

static inline void listener_open(struct listener *listener, const struct driver *driver,
                                 const struct bus_settings *bus)
{
    struct fault f = {0};

    memset(listener, 0, sizeof *listener);
    listener->io = (struct driver_io){listener, listener_post, listener_wanted, listener_say};
    listener->driver = driver;
    listener->now_us = 5000000;
    ck_assert_msg(driver->open(bus, &listener->handle, &f) == ST_OK, "%s", f.text);
}

static inline void listener_pass(struct listener *listener)
{
    listener->now_us += 100000;
    listener->driver->pass(listener->handle, listener->now_us, &listener->io);
}

static inline bool listener_all(const struct listener *listener, enum quality quality)
{
    for (int i = 0; i < ROGUE_POINT_COUNT; i++)
        if (listener->readings[ROGUE_POINTS[i]].posts == 0 ||
            listener->readings[ROGUE_POINTS[i]].quality != quality)
            return false;
    return true;
}

/* Passes until everything is good; returns how many it took, or most + 1. */
static inline int listener_heal(struct listener *listener, int most)
{
    int passes = 0;

    do
        listener_pass(listener);
    while (!listener_all(listener, QUALITY_GOOD) && ++passes < most);
    return passes + 1;
}

#endif
