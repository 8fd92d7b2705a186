/* modbus_bus.h - one Modbus line: connect, one request at a time, drain, close.
 *
 * Does:      bound every call by its reply time; check every reply in full (modbus_frame.h);
 *            set the unit on every call; keep the line's silences.
 * Does not:  retry, reconnect by itself, or know what a register means. After ST_TIMEOUT,
 *            ST_BAD_REPLY or ST_LINK_DOWN the line is dirty: a late reply may still come, and the
 *            caller drains (serial) or disconnects (TCP) before it believes anything again.
 * Thread:    one thread owns one line.   Memory: allocated in modbus_bus_new only.
 */
#ifndef DRIVERS_MODBUS_BUS_H
#define DRIVERS_MODBUS_BUS_H

#include "base/status.h"
#include "drivers/channel.h"
#include "drivers/modbus_frame.h"

#define BUS_BLIND_WAIT_MS 10 /* how long a write that nobody waits for gets to be answered */

struct modbus_bus;

/* ST_SETTINGS when host, port, speed or parity cannot work; *f says which and what is allowed. */
enum status modbus_bus_check(const struct bus_settings *settings, struct fault *f) MUST_USE;

/* settings must outlive the line. Does not connect. On failure *bus is NULL. */
enum status modbus_bus_new(const struct bus_settings *settings, struct modbus_bus **bus,
                           struct fault *f) MUST_USE;
void modbus_bus_free(struct modbus_bus *bus); /* accepts NULL; closes */

/* At most limit_ms on TCP. ST_LINK_DOWN with the reason; the line is then closed. */
enum status modbus_bus_connect(struct modbus_bus *bus, int limit_ms, struct fault *f) MUST_USE;
void modbus_bus_disconnect(struct modbus_bus *bus); /* closed already: no-op */

/* One request, one reply. words: see modbus_frame_check; exception: set at ST_EXCEPTION.
 * f->text is a clause without device or point: "no answer within 150 ms". */
enum status modbus_bus_call(struct modbus_bus *bus, const struct frame_request *request, int reply_ms,
                            uint16_t *words, int *exception, struct fault *f) MUST_USE;

/* Send a write on a dirty line and ignore the reply. On a serial line: waits until it is silent,
 * sends, and leaves BUS_BLIND_WAIT_MS for the reply to pass. */
void modbus_bus_send_blind(struct modbus_bus *bus, const struct frame_request *request);

/* Serial line: read and discard for at most most_ms. true once nothing was sent or received for
 * silent_ms, counted over several calls; the line is then flushed. between(context), called every
 * few milliseconds, may send blind writes. */
bool modbus_bus_drain(struct modbus_bus *bus, int silent_ms, int most_ms, void (*between)(void *context),
                      void *context) MUST_USE;

/* Time on the wire of one character, µs; 0 for TCP. */
int modbus_bus_character_us(const struct bus_settings *settings);

#endif
