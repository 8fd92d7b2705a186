#include "drivers/modbus_bus.h"

#include "runtime/realtime.h"

#include <arpa/inet.h>
#include <errno.h>
#include <modbus/modbus.h>
#include <poll.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/select.h>
#include <sys/socket.h>
#include <unistd.h>

#define CHARACTER_BITS 11 /* start, 8 data, parity or second stop, stop */
#define NOISE_BYTES_MAX 3 /* fewer than the shortest frame */
#define DRAIN_SLICE_MS 10
#define SILENCE_FAST_US 1750 /* above 19200 baud; Modbus over Serial Line V1.02, 2.5.1.1 */

struct modbus_bus {
    const struct bus_settings *settings;
    modbus_t *library;
    int fd; /* -1: closed */
    uint16_t transaction;
    int64_t active_us; /* machine time of the last byte sent or received */
};

/* Other speeds are silently taken as 9600 by the library. */
static const int SPEEDS[] = {1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200};

static bool is_tcp(const struct modbus_bus *bus)
{
    return bus->settings->kind == BUS_TCP;
}

/* ---- open and close ------------------------------------------------------------------ */

static bool speed_is_known(int baud)
{
    for (size_t i = 0; i < sizeof SPEEDS / sizeof SPEEDS[0]; i++)
        if (SPEEDS[i] == baud)
            return true;
    return false;
}

enum status modbus_bus_check(const struct bus_settings *settings, struct fault *f)
{
    struct in_addr address;

    if (settings->kind == BUS_TCP) {
        if (inet_pton(AF_INET, settings->host, &address) != 1)
            return fault_set(f, ST_SETTINGS, settings->name,
                             "host \"%s\" is not an IPv4 address in numbers, such as 192.168.1.20",
                             settings->host);
        if (settings->port < 1 || settings->port > 65535)
            return fault_set(f, ST_SETTINGS, settings->name, "port %d is not allowed; ports are 1 to 65535",
                             settings->port);
        return ST_OK;
    }
    if (!speed_is_known(settings->baud))
        return fault_set(
            f, ST_SETTINGS, settings->name,
            "%d baud is not supported; use 1200, 2400, 4800, 9600, 19200, 38400, 57600 or 115200",
            settings->baud);
    if (settings->parity == '\0' || strchr("NEO", settings->parity) == NULL)
        return fault_set(f, ST_SETTINGS, settings->name, "parity must be N, E or O");
    return ST_OK;
}

static modbus_t *library_new(const struct bus_settings *settings)
{
    if (settings->kind == BUS_TCP)
        return modbus_new_tcp(settings->host, settings->port);
    /* A character on the wire has always 11 bits: without parity, two stop bits. */
    return modbus_new_rtu(settings->path, settings->baud, settings->parity, 8,
                          settings->parity == 'N' ? 2 : 1);
}

enum status modbus_bus_new(const struct bus_settings *settings, struct modbus_bus **bus, struct fault *f)
{
    struct modbus_bus *b;

    *bus = NULL;
    if (modbus_bus_check(settings, f) != ST_OK)
        return ST_SETTINGS;
    b = calloc(1, sizeof *b);
    if (b == NULL)
        return fault_set(f, ST_SYSTEM, settings->name, "out of memory");
    b->settings = settings;
    b->fd = -1;
    b->library = library_new(settings);
    if (b->library == NULL) {
        free(b);
        return fault_set(f, ST_SYSTEM, settings->name, "the Modbus line could not be prepared: %s",
                         modbus_strerror(errno));
    }
    /* The library's own recovery of a lost link can block for ever; 0 makes the response timeout
     * hold for a whole reply, however slowly its bytes trickle in. */
    (void)modbus_set_error_recovery(b->library, MODBUS_ERROR_RECOVERY_NONE);
    (void)modbus_set_byte_timeout(b->library, 0, 0);
    *bus = b;
    return ST_OK;
}

void modbus_bus_free(struct modbus_bus *bus)
{
    if (bus == NULL)
        return;
    modbus_bus_disconnect(bus);
    modbus_free(bus->library);
    free(bus);
}

static void timeout_set(struct modbus_bus *bus, int ms)
{
    (void)modbus_set_response_timeout(bus->library, (uint32_t)ms / 1000, (uint32_t)ms % 1000 * 1000);
}

enum status modbus_bus_connect(struct modbus_bus *bus, int limit_ms, struct fault *f)
{
    const struct bus_settings *s = bus->settings;

    modbus_bus_disconnect(bus);
    timeout_set(bus, limit_ms);
    if (modbus_connect(bus->library) != 0) {
        if (is_tcp(bus))
            return fault_set(f, ST_LINK_DOWN, s->name, "no connection to %s port %d (%s)", s->host, s->port,
                             modbus_strerror(errno));
        return fault_set(f, ST_LINK_DOWN, s->name, "the serial device %s could not be opened (%s)", s->path,
                         modbus_strerror(errno));
    }
    bus->fd = modbus_get_socket(bus->library);
    bus->active_us = realtime_now_us();
    if (bus->fd < FD_SETSIZE)
        return ST_OK;
    /* The library waits with select, which cannot hold such a descriptor. */
    modbus_bus_disconnect(bus);
    return fault_set(f, ST_LINK_DOWN, s->name, "too many files are open in this program");
}

void modbus_bus_disconnect(struct modbus_bus *bus)
{
    if (bus->fd >= 0)
        modbus_close(bus->library);
    bus->fd = -1;
}

/* ---- silence on a serial line ---------------------------------------------------------- */

int modbus_bus_character_us(const struct bus_settings *settings)
{
    return settings->kind == BUS_TCP ? 0 : CHARACTER_BITS * 1000000 / settings->baud;
}

static int64_t silence_us(const struct bus_settings *settings)
{
    int64_t frame_us = settings->baud > 19200 ? SILENCE_FAST_US : modbus_bus_character_us(settings) * 7 / 2;
    int64_t gap_us = (int64_t)settings->gap_ms * 1000;

    return gap_us > frame_us ? gap_us : frame_us;
}

/* Discard what is there; true when there was anything. */
static bool discard(struct modbus_bus *bus)
{
    uint8_t waste[256];
    ssize_t got = read(bus->fd, waste, sizeof waste);

    if (got <= 0)
        return false;
    bus->active_us = realtime_now_us();
    return true;
}

bool modbus_bus_drain(struct modbus_bus *bus, int silent_ms, int most_ms, void (*between)(void *context),
                      void *context)
{
    int64_t until_us = realtime_now_us() + (int64_t)most_ms * 1000;

    while (realtime_now_us() - bus->active_us < (int64_t)silent_ms * 1000) {
        struct pollfd wait = {.fd = bus->fd, .events = POLLIN};

        if (realtime_now_us() >= until_us)
            return false;
        if (poll(&wait, 1, DRAIN_SLICE_MS) > 0 && !discard(bus))
            realtime_sleep_until(realtime_now_us() + DRAIN_SLICE_MS * 1000LL);
        else if (wait.revents == 0)
            between(context);
    }
    (void)modbus_flush(bus->library);
    return true;
}

/* ---- one request -------------------------------------------------------------------------- */

static enum status link_down(struct fault *f, const char *act)
{
    return fault_set(f, ST_LINK_DOWN, "", "%s (%s)", act, modbus_strerror(errno));
}

/* Bytes that nobody asked for mean that something answers late or twice. */
static enum status check_quiet(struct modbus_bus *bus, struct fault *f)
{
    uint8_t byte;
    int waiting = 0;
    ssize_t got;

    if (is_tcp(bus)) {
        got = recv(bus->fd, &byte, 1, MSG_PEEK | MSG_DONTWAIT);
        if (got == 0)
            return fault_set(f, ST_LINK_DOWN, "", "the other end closed the connection");
        if (got > 0)
            return fault_set(f, ST_BAD_REPLY, "", "bytes arrived that nobody asked for");
        return errno == EAGAIN || errno == EWOULDBLOCK ? ST_OK : link_down(f, "the connection broke");
    }
    realtime_sleep_until(bus->active_us + silence_us(bus->settings));
    if (ioctl(bus->fd, FIONREAD, &waiting) != 0)
        return link_down(f, "the serial device is gone");
    if (waiting > NOISE_BYTES_MAX)
        return fault_set(f, ST_BAD_REPLY, "", "bytes arrived that nobody asked for");
    if (waiting > 0)
        (void)modbus_flush(bus->library);
    return ST_OK;
}

static bool send_frame(struct modbus_bus *bus, const struct frame_request *request)
{
    uint8_t frame[FRAME_MAX];
    size_t length;
    bool is_sent;

    (void)modbus_set_slave(bus->library, request->unit);
    if (is_tcp(bus)) {
        /* The library sends raw requests with transaction number 0 only. */
        length = modbus_frame_build_tcp(request, ++bus->transaction, frame);
        is_sent = send(bus->fd, frame, length, MSG_NOSIGNAL) == (ssize_t)length;
    } else {
        length = modbus_frame_build(request, frame);
        is_sent = modbus_send_raw_request(bus->library, frame, (int)length) > 0;
    }
    bus->active_us = realtime_now_us();
    return is_sent;
}

static enum status receive_failed(int error, int reply_ms, struct fault *f)
{
    if (error == ETIMEDOUT)
        return fault_set(f, ST_TIMEOUT, "", "no answer within %d ms", reply_ms);
    if (error == EMBBADCRC)
        return fault_set(f, ST_BAD_REPLY, "", "the reply's checksum is wrong");
    if (error > MODBUS_ENOBASE)
        return fault_set(f, ST_BAD_REPLY, "", "the reply makes no sense (%s)", modbus_strerror(error));
    errno = error;
    return link_down(f, "the connection broke");
}

enum status modbus_bus_call(struct modbus_bus *bus, const struct frame_request *request, int reply_ms,
                            uint16_t *words, int *exception, struct fault *f)
{
    uint8_t reply[MODBUS_TCP_MAX_ADU_LENGTH];
    const char *why = "";
    enum status code = check_quiet(bus, f);
    int length;

    if (code != ST_OK)
        return code;
    if (!send_frame(bus, request))
        return link_down(f, "the request could not be sent");
    timeout_set(bus, reply_ms);
    length = modbus_receive_confirmation(bus->library, reply);
    bus->active_us = realtime_now_us();
    if (length < 0)
        return receive_failed(errno, reply_ms, f);
    if (is_tcp(bus))
        code = modbus_frame_check_tcp(request, bus->transaction, reply, (size_t)length, words, exception,
                                      &why);
    else if (length == 0) /* how the library says that the frame came from another unit */
        return fault_set(f, ST_BAD_REPLY, "", "another unit answered");
    else /* without the two bytes of the checksum, which the library has verified */
        code = modbus_frame_check(request, reply, (size_t)length - 2, words, exception, &why);
    if (code == ST_BAD_REPLY)
        return fault_set(f, code, "", "%s", why);
    if (code == ST_EXCEPTION)
        return fault_set(f, code, "", "the device refused (%d: %s)", *exception,
                         modbus_frame_exception(*exception));
    return ST_OK;
}

void modbus_bus_send_blind(struct modbus_bus *bus, const struct frame_request *request)
{
    int64_t until_us;

    if (bus->fd < 0)
        return;
    if (!is_tcp(bus))
        realtime_sleep_until(bus->active_us + silence_us(bus->settings));
    if (!send_frame(bus, request) || is_tcp(bus))
        return;
    until_us = realtime_now_us() + BUS_BLIND_WAIT_MS * 1000LL + 16LL * modbus_bus_character_us(bus->settings);
    while (realtime_now_us() < until_us) {
        (void)discard(bus);
        realtime_sleep_until(realtime_now_us() + 1000);
    }
}
