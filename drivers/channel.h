/* channel.h - what the settings say of a bus, its devices and their registers: plain data. */
#ifndef DRIVERS_CHANNEL_H
#define DRIVERS_CHANNEL_H

#include "base/point.h"

#include <stdbool.h>
#include <stdint.h>

#define BUS_DEVICES_MAX 16
#define DEVICE_CHANNELS_MAX 16
#define CHANNEL_NAME_MAX 32

enum register_kind {
    REGISTER_COIL,
    REGISTER_DISCRETE,
    REGISTER_HOLDING,
    REGISTER_INPUT,
    REGISTER_KIND_COUNT
};
enum register_type { TYPE_BIT, TYPE_U16, TYPE_S16, TYPE_U32, TYPE_S32, TYPE_F32, TYPE_COUNT };
enum word_order { HIGH_WORD_FIRST, LOW_WORD_FIRST, WORD_ORDER_COUNT };

/* One register (or pair) of a device, bound to one point. value = raw * scale + offset. */
struct channel {
    char name[CHANNEL_NAME_MAX]; /* as the device profile calls it */
    enum point point;            /* POINT_COUNT: not bound, not read */
    enum register_kind kind;
    int address; /* 0-based, as on the wire */
    enum register_type type;
    enum word_order order;
    double scale;
    double offset;
    bool is_inverted;  /* a yes/no contact that is 1 when the point is 0 */
    double resolution; /* readings are rounded to this; 0 for none */
};

struct device {
    char name[CHANNEL_NAME_MAX]; /* in the tank file */
    char profile[CHANNEL_NAME_MAX];
    int unit;          /* Modbus unit number, 1-247 */
    int poll_ms;       /* how often its channels are read; a multiple of 100 */
    int reply_ms;      /* response timeout; the longest reply it may need */
    bool has_identity; /* a register that always holds the same number */
    enum register_kind identity_kind;
    int identity_address;
    int identity_value;
    bool has_fallback;    /* the device switches its outputs off by itself */
    int fallback_address; /* holding register: milliseconds without a request */
    int fallback_ms;
    int channel_count;
    struct channel channels[DEVICE_CHANNELS_MAX];
};

enum bus_kind { BUS_TCP, BUS_RTU, BUS_KIND_COUNT };

struct bus_settings {
    char name[CHANNEL_NAME_MAX];
    enum bus_kind kind;
    char host[64]; /* TCP: numeric address */
    int port;
    char path[128]; /* RTU: serial device */
    int baud;
    char parity; /* 'N', 'E', 'O' */
    int gap_ms;  /* silence kept after each reply on a serial line */
    int device_count;
    struct device devices[BUS_DEVICES_MAX];
};

#endif
