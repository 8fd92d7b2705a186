/* modbus_line.h - one open Modbus bus with the state of all its devices (inside drivers/ only).
 *
 * modbus_line.c decides about the line (connect, dirty, back-off), the other files about one device
 * (proof, outputs, readings). All work on this struct, in the bus thread alone.
 */
#ifndef DRIVERS_MODBUS_LINE_H
#define DRIVERS_MODBUS_LINE_H

#include "drivers/driver.h"
#include "drivers/modbus_bus.h"
#include "drivers/modbus_decode.h"
#include "drivers/modbus_plan.h"

#define REFRESH_US 1000000 /* an output is written again at least this often */
#define DUE_SLACK_US 20000 /* a beat that comes a little early still counts */

enum device_condition {
    DEVICE_UNPROVEN, /* nothing it says is believed before its identity is */
    DEVICE_PROVEN,
    DEVICE_SILENT, /* asked again at retry_us only, so that it does not stall the others */
    DEVICE_FAULTY  /* it answers, but wrongly: outputs are only written off, proof at retry_us */
};

struct output_state {
    bool is_known; /* the device confirmed words */
    bool is_blind; /* written off on a dirty line, unconfirmed */
    uint16_t words[DECODE_WORDS_MAX];
    int64_t written_us;
};

struct line_device {
    enum device_condition condition;
    bool has_inputs;
    bool has_outputs;
    bool has_complained; /* said to the log; one line at each change */
    bool has_hurried;    /* silent: its one early trial to switch something off is used up */
    int level;           /* into the back-off */
    int64_t retry_us;
    int64_t due_us; /* next reading */
    struct output_state outputs[DEVICE_CHANNELS_MAX];
};

enum link_condition { LINK_CLOSED, LINK_DIRTY, LINK_CLEAN };

struct line {
    struct bus_settings settings;
    struct bus_plan plan;
    struct modbus_bus *bus;
    int slowest_ms;
    enum link_condition link;
    bool is_lost;        /* inputs are bad until every device that answers is proven */
    bool has_complained; /* about the lost line */
    bool has_hurried;    /* this outage's one early attempt to switch something off is used up */
    int level;
    int64_t retry_us;
    int64_t now_us; /* of this pass, with io */
    const struct driver_io *io;
    struct line_device devices[BUS_DEVICES_MAX];
};

/* How a step of a pass ended. */
enum outcome {
    OUTCOME_DONE,
    OUTCOME_REFUSED, /* the device answered with an exception; the line is clean */
    OUTCOME_DEVICE,  /* the device was put aside; the line is clean */
    OUTCOME_LINE     /* the line is dirty now: the pass ends */
};

/* ---- modbus_line.c: the line ------------------------------------------------------------- */

/* As the functions of struct driver. */
enum status modbus_line_open(const struct bus_settings *bus, struct line **line, struct fault *f) MUST_USE;
void modbus_line_pass(struct line *line, int64_t now_us, const struct driver_io *io);
void modbus_line_close(struct line *line);

/* µs of tank time to wait before trial number level + 1; *level goes up. 1, 2, 5, then 10 s. */
int64_t modbus_line_backoff(int *level);

PRINTF_LIKE(2, 3) void modbus_line_say(const struct line *line, const char *format, ...);

/* A call to device i failed with f (not an exception): off-writes, then drain or disconnect. */
void modbus_line_failed(struct line *line, int i, const struct fault *f);

/* ---- modbus_device.c: one device ------------------------------------------------------- */

/* One request to device i, whose unit is filled in. OUTCOME_REFUSED: f->text says why, and the
 * caller judges what that means. */
enum outcome modbus_device_call(struct line *line, int i, struct frame_request *request, uint16_t *words,
                                struct fault *f) MUST_USE;
enum outcome modbus_device_read(struct line *line, int i, const struct plan_block *block, uint16_t *words,
                                struct fault *f) MUST_USE;

/* Put device i aside as DEVICE_SILENT or DEVICE_FAULTY until its back-off is over; says so once.
 * Always OUTCOME_DEVICE. */
enum outcome modbus_device_trouble(struct line *line, int i, enum device_condition condition,
                                   const char *text);

/* Post all inputs of device i as bad; the second only if its reading is due. */
void modbus_device_post_bad(struct line *line, int i, enum reason reason);
void modbus_device_post_bad_due(struct line *line, int i);

/* Read all its blocks if they are due, check identity and read-back, post. */
enum outcome modbus_device_poll(struct line *line, int i) MUST_USE;

/* ---- modbus_proof.c: is it the right device, and will it switch off by itself? ----------- */

/* Off-writes, identity, fallback. OUTCOME_DONE: the device is proven. */
enum outcome modbus_device_prove(struct line *line, int i) MUST_USE;

/* words: what block holds. Another number than the identity is a trouble of the device. */
enum outcome modbus_device_check_identity(struct line *line, int i, const struct plan_block *block,
                                          const uint16_t *words) MUST_USE;

/* ---- modbus_output.c: writing ------------------------------------------------------------ */

/* Write what must be off, confirmed by echo; only_off false: then everything else that changed
 * or is due for a refresh. */
enum outcome modbus_output_write(struct line *line, int i, bool only_off) MUST_USE;

/* Off-writes without waiting for the echo, each once while the line is dirty. */
void modbus_output_write_blind(struct line *line, int i);

/* True when an output of the device should be off and has not confirmed it. */
bool modbus_output_owes_off(const struct line *line, int i);

/* True when channel c is an output that was written, and words (read back) say something else. */
bool modbus_output_differs(const struct line *line, int i, int c, const uint16_t *words);

#endif
