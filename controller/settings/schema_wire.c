/* Rows of the tank file and of device profiles that describe buses, devices and points. */
#include "settings/schema.h"

static const struct bind_choice BUS_KINDS[] = {{"modbus_tcp", BUS_TCP}, {"modbus_rtu", BUS_RTU}, {NULL, 0}};
static const struct bind_choice PARITIES[] = {{"none", 'N'}, {"even", 'E'}, {"odd", 'O'}, {NULL, 0}};
static const struct bind_choice BAUDS[] = {{"1200", 1200},   {"2400", 2400},     {"4800", 4800},
                                           {"9600", 9600},   {"19200", 19200},   {"38400", 38400},
                                           {"57600", 57600}, {"115200", 115200}, {NULL, 0}};
static const struct bind_choice KINDS[] = {{"coil", REGISTER_COIL},
                                           {"discrete", REGISTER_DISCRETE},
                                           {"holding", REGISTER_HOLDING},
                                           {"input", REGISTER_INPUT},
                                           {NULL, 0}};
static const struct bind_choice TYPES[] = {{"bit", TYPE_BIT}, {"u16", TYPE_U16}, {"s16", TYPE_S16},
                                           {"u32", TYPE_U32}, {"s32", TYPE_S32}, {"f32", TYPE_F32},
                                           {NULL, 0}};
static const struct bind_choice ORDERS[] = {
    {"high_first", HIGH_WORD_FIRST}, {"low_first", LOW_WORD_FIRST}, {NULL, 0}};

_Static_assert(sizeof KINDS / sizeof KINDS[0] == REGISTER_KIND_COUNT + 1, "every kind has its word");
_Static_assert(sizeof TYPES / sizeof TYPES[0] == TYPE_COUNT + 1, "every type has its word");

#define BUS_KIND_ROW                                                                                         \
    {                                                                                                        \
        "kind", BIND_CHOICE, BIND_AT(struct bus_settings, kind), .choices = BUS_KINDS,                       \
                                                                 .help = "what kind of wire"                 \
    }
#define BUS_DEVICES_ROW                                                                                      \
    {                                                                                                        \
        "devices", BIND_MAP, 0, 0, .help = "the devices on this wire, by name"                               \
    }

const struct bind_row SCHEMA_BUS_KIND[] = {BUS_KIND_ROW, {0}};

const struct bind_row SCHEMA_BUS_TCP[] = {BUS_KIND_ROW,
                                          {"host", BIND_TEXT, BIND_AT(struct bus_settings, host), .min = 7,
                                           .help = "numeric address, 192.168.1.50"},
                                          {"port", BIND_INTEGER, BIND_AT(struct bus_settings, port), .min = 1,
                                           .max = 65535, .standard = "502", .help = "TCP port",
                                           .may_use_environment = true},
                                          BUS_DEVICES_ROW,
                                          {0}};

const struct bind_row SCHEMA_BUS_RTU[] = {
    BUS_KIND_ROW,
    {"path", BIND_PATH, BIND_AT(struct bus_settings, path), .min = 1,
     .help = "serial device, best by its stable name under /dev/serial/by-id"},
    {"baud", BIND_CHOICE, BIND_AT(struct bus_settings, baud), .choices = BAUDS, .standard = "9600",
     .help = "speed of the line"},
    {"parity", BIND_CHOICE, BIND_AT(struct bus_settings, parity), .choices = PARITIES, .standard = "even",
     .help = "as the devices on the line are set"},
    BIND_NUMBER("gap_ms", BIND_INTEGER, struct bus_settings, gap_ms, 2, 100, "5",
                "silence kept after each reply"),
    BUS_DEVICES_ROW,
    {0}};

#define PROFILE_ROW                                                                                          \
    {                                                                                                        \
        "profile", BIND_TEXT, BIND_AT(struct device, profile),                                               \
            .min = 1, .help = "name of its file in the profiles folder, without .yaml"                       \
    }
#define UNIT_ROW                                                                                             \
    BIND_NUMBER("unit", BIND_INTEGER, struct device, unit, 1, 247, NULL, "its Modbus unit number")
#define POLL_ROW                                                                                             \
    BIND_NUMBER("poll_ms", BIND_INTEGER, struct device, poll_ms, 100, 60000, "500",                          \
                "how often it is read; a multiple of 100")
#define REPLY_ROW                                                                                            \
    BIND_NUMBER("reply_ms", BIND_INTEGER, struct device, reply_ms, 5, 5000, BIND_KEEP,                       \
                "longest time it may take to reply; its profile's when not given")
#define FALLBACK_ROW                                                                                         \
    BIND_NUMBER("fallback_ms", BIND_INTEGER, struct device, fallback_ms, 500, 60000, BIND_KEEP,              \
                "time without a request after which its outputs go off; its profile's when not given")

const struct bind_row SCHEMA_DEVICE[] = {PROFILE_ROW, UNIT_ROW, POLL_ROW, REPLY_ROW, {0}};
const struct bind_row SCHEMA_DEVICE_FALLBACK[] = {PROFILE_ROW, UNIT_ROW,     POLL_ROW,
                                                  REPLY_ROW,   FALLBACK_ROW, {0}};

#define POINT_TEXT_ROW(member, phrase)                                                                       \
    {                                                                                                        \
#member, BIND_TEXT, BIND_AT(struct schema_point, member), .min = 1, .help = (phrase)                 \
    }
#define POINT_PLACE_ROWS                                                                                     \
    POINT_TEXT_ROW(device, "name of a device under buses"),                                                  \
        POINT_TEXT_ROW(channel, "name of a channel in the device's profile")
#define POINT_NUMBER_ROW(member, least, most, normal, phrase)                                                \
    BIND_NUMBER(#member, BIND_DECIMAL, struct schema_point, setup.member, least, most, normal, phrase)
#define POINT_AGE_ROW POINT_NUMBER_ROW(max_age_s, 0.2, 3600, BIND_KEEP, "older readings are stale")
#define POINT_RANGE_ROWS                                                                                     \
    POINT_NUMBER_ROW(min, -1e9, 1e9, BIND_KEEP, "lowest value the instrument can give"),                     \
        POINT_NUMBER_ROW(max, -1e9, 1e9, BIND_KEEP, "highest value the instrument can give")

static const struct bind_row NUMBER_READING[] = {
    POINT_PLACE_ROWS,
    POINT_AGE_ROW,
    POINT_RANGE_ROWS,
    POINT_NUMBER_ROW(uncertainty, 1e-6, 1e6, NULL, "standard uncertainty of a good reading, in its unit"),
    {0}};
static const struct bind_row CONTACT_READING[] = {POINT_PLACE_ROWS, POINT_AGE_ROW, {0}};
static const struct bind_row NUMBER_OUTPUT[] = {POINT_PLACE_ROWS, POINT_RANGE_ROWS, {0}};
static const struct bind_row SWITCH_OUTPUT[] = {POINT_PLACE_ROWS, {0}};

const struct bind_row *schema_point_rows(enum point point)
{
    const struct point_info *info = point_info(point);

    if (info->is_output)
        return info->is_yes_no ? SWITCH_OUTPUT : NUMBER_OUTPUT;
    return info->is_yes_no ? CONTACT_READING : NUMBER_READING;
}

const struct bind_row SCHEMA_PROFILE[] = {
    BIND_NUMBER("reply_ms", BIND_INTEGER, struct device, reply_ms, 5, 5000, NULL,
                "longest time the device may take to reply"),
    {"identity", BIND_MAP, 0, 0, .standard = BIND_OPTIONAL,
     .help = "a register that always holds the same number"},
    {"fallback", BIND_MAP, 0, 0, .standard = BIND_OPTIONAL,
     .help = "the device switches its outputs off by itself when nobody asks"},
    {"channels", BIND_MAP, 0, 0, .help = "its registers, by name"},
    {0}};

const struct bind_row SCHEMA_IDENTITY[] = {
    {"kind", BIND_CHOICE, BIND_AT(struct device, identity_kind), .choices = KINDS,
     .help = "holding or input"},
    BIND_NUMBER("address", BIND_INTEGER, struct device, identity_address, 0, 65535, NULL,
                "register address from 0, as on the wire"),
    BIND_NUMBER("value", BIND_INTEGER, struct device, identity_value, 0, 65535, NULL, "what it always holds"),
    {0}};

const struct bind_row SCHEMA_FALLBACK[] = {
    BIND_NUMBER("address", BIND_INTEGER, struct device, fallback_address, 0, 65535, NULL,
                "holding register of the time in ms, from 0, as on the wire"),
    BIND_NUMBER("ms", BIND_INTEGER, struct device, fallback_ms, 500, 60000, NULL,
                "time without a request after which the outputs go off"),
    {0}};

const struct bind_row SCHEMA_CHANNEL[] = {
    {"kind", BIND_CHOICE, BIND_AT(struct channel, kind), .choices = KINDS, .help = "which register table"},
    BIND_NUMBER("address", BIND_INTEGER, struct channel, address, 0, 65535, NULL,
                "register address from 0, as on the wire; manuals often count from 1 or 40001"),
    {"type", BIND_CHOICE, BIND_AT(struct channel, type), .choices = TYPES, .standard = "bit",
     .help = "how the number is stored; bit for coil and discrete only"},
    {"order", BIND_CHOICE, BIND_AT(struct channel, order), .choices = ORDERS, .standard = "high_first",
     .help = "which word of a 32-bit number comes first"},
    BIND_NUMBER("scale", BIND_DECIMAL, struct channel, scale, -1e6, 1e6, "1", "value = raw * scale + offset"),
    BIND_NUMBER("offset", BIND_DECIMAL, struct channel, offset, -1e6, 1e6, "0",
                "value = raw * scale + offset"),
    {"inverted", BIND_YES_NO, BIND_AT(struct channel, is_inverted), .standard = "no",
     .help = "a contact that is 1 when the point is no"},
    BIND_NUMBER("resolution", BIND_DECIMAL, struct channel, resolution, 0, 1000, "0",
                "readings are rounded to this, in the point's unit; 0 for none"),
    {0}};
