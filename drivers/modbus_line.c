#include "drivers/modbus_line.h"

#include "runtime/realtime.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CONNECT_QUICK_US 20000

static const int BACKOFF_S[] = {1, 2, 5, 10};
#define BACKOFF_STEPS (int)(sizeof BACKOFF_S / sizeof BACKOFF_S[0])

int64_t modbus_line_backoff(int *level)
{
    int step = *level < BACKOFF_STEPS ? *level : BACKOFF_STEPS - 1;

    if (*level < BACKOFF_STEPS)
        ++*level;
    return (int64_t)BACKOFF_S[step] * 1000000;
}

void modbus_line_say(const struct line *line, const char *format, ...)
{
    char sentence[512];
    va_list args;

    va_start(args, format);
    (void)vsnprintf(sentence, sizeof sentence, format, args);
    va_end(args);
    line->io->say(line->io->context, sentence);
}

/* ---- losing the line ------------------------------------------------------------------ */

static void line_complain(struct line *line, const char *text)
{
    if (!line->has_complained)
        modbus_line_say(line, "bus %s is lost: %s; its readings are bad until it has recovered",
                        line->settings.name, text);
    line->has_complained = true;
}

static void line_lose(struct line *line)
{
    line->is_lost = true;
    for (int i = 0; i < line->settings.device_count; i++)
        modbus_device_post_bad(line, i, REASON_BUS_LOST);
}

static void write_blind(void *context)
{
    struct line *line = context;

    for (int i = 0; i < line->settings.device_count; i++)
        modbus_output_write_blind(line, i);
}

static void write_blind_anew(struct line *line)
{
    for (int i = 0; i < line->settings.device_count; i++)
        for (int c = 0; c < DEVICE_CHANNELS_MAX; c++)
            line->devices[i].outputs[c].is_blind = false;
    write_blind(line);
}

static void line_disconnect(struct line *line, int64_t retry_us)
{
    modbus_bus_disconnect(line->bus);
    line->link = LINK_CLOSED;
    line->retry_us = retry_us;
}

/* Whatever was believed of the devices has to be proven again. */
static void devices_doubt(struct line *line, int silent)
{
    for (int i = 0; i < line->settings.device_count; i++) {
        struct line_device *device = &line->devices[i];

        if (device->condition == DEVICE_PROVEN)
            device->condition = DEVICE_UNPROVEN;
        for (int c = 0; c < DEVICE_CHANNELS_MAX; c++)
            device->outputs[c].is_known = false;
    }
    line->devices[silent].condition = DEVICE_SILENT;
    line->devices[silent].retry_us = line->now_us + modbus_line_backoff(&line->devices[silent].level);
}

static void line_drain(struct line *line)
{
    bool is_silent = modbus_bus_drain(line->bus, line->slowest_ms, line->slowest_ms, write_blind, line);

    line->link = is_silent ? LINK_CLEAN : LINK_DIRTY;
}

void modbus_line_failed(struct line *line, int i, const struct fault *f)
{
    /* A device that was silent before gets a trial now and then. Its failure dirties the line, but
     * what the others said before was read on a clean one. */
    bool was_silent = line->devices[i].condition == DEVICE_SILENT;
    struct line_device *device = &line->devices[i];

    write_blind_anew(line);
    devices_doubt(line, i);
    if (!device->has_complained)
        modbus_line_say(line, "device %s (unit %d): %s", line->settings.devices[i].name,
                        line->settings.devices[i].unit, f->text);
    device->has_complained = true;
    if (!was_silent) {
        line_complain(line, f->text);
        line_lose(line);
    }
    if (line->settings.kind == BUS_TCP || f->code == ST_LINK_DOWN)
        line_disconnect(line, line->now_us + (was_silent ? 0 : modbus_line_backoff(&line->level)));
    else
        line_drain(line);
}

/* ---- getting it back ---------------------------------------------------------------------- */

/* Switching off does not wait for the back-off of a silent device, once in each of its silences. */
static bool device_owes_off(const struct line *line, int i)
{
    const struct line_device *device = &line->devices[i];

    return !(device->condition == DEVICE_SILENT && device->has_hurried) && modbus_output_owes_off(line, i);
}

static bool line_owes_off(const struct line *line)
{
    for (int i = 0; i < line->settings.device_count; i++)
        if (device_owes_off(line, i))
            return true;
    return false;
}

/* Nor for the line's, once in an outage. */
static bool line_may_connect(struct line *line)
{
    if (line->now_us + DUE_SLACK_US >= line->retry_us)
        return true;
    if (line->has_hurried || !line_owes_off(line))
        return false;
    line->has_hurried = true;
    return true;
}

/* A slow connection uses up the time of a whole pass: go on at the next one. */
static bool line_connect(struct line *line)
{
    int64_t began_us = realtime_now_us();
    struct fault f;

    if (!line_may_connect(line))
        return false;
    if (modbus_bus_connect(line->bus, line->slowest_ms, &f) == ST_OK) {
        line->link = LINK_CLEAN;
        return realtime_now_us() - began_us < CONNECT_QUICK_US;
    }
    line->retry_us = line->now_us + modbus_line_backoff(&line->level);
    line_complain(line, f.text);
    if (!line->is_lost)
        line_lose(line);
    return false;
}

static bool line_is_clean(struct line *line)
{
    if (line->link == LINK_CLOSED)
        return line_connect(line);
    if (line->link == LINK_DIRTY)
        line_drain(line);
    return line->link == LINK_CLEAN;
}

/* ---- one pass ------------------------------------------------------------------------------ */

static bool device_may_be_written(const struct line *line, int i, bool only_off)
{
    enum device_condition condition = line->devices[i].condition;

    return condition == DEVICE_PROVEN || (only_off && condition != DEVICE_SILENT);
}

static bool pass_write(struct line *line, bool only_off)
{
    for (int i = 0; i < line->settings.device_count; i++)
        if (device_may_be_written(line, i, only_off) &&
            modbus_output_write(line, i, only_off) == OUTCOME_LINE)
            return false;
    return true;
}

static bool pass_prove(struct line *line)
{
    for (int i = 0; i < line->settings.device_count; i++)
        if (line->devices[i].condition == DEVICE_UNPROVEN && modbus_device_prove(line, i) == OUTCOME_LINE)
            return false;
    if (line->has_complained)
        modbus_line_say(line, "bus %s answers again", line->settings.name);
    line->has_complained = false;
    line->is_lost = false;
    return true;
}

static bool pass_poll(struct line *line)
{
    for (int i = 0; i < line->settings.device_count; i++)
        if (line->devices[i].condition == DEVICE_PROVEN && modbus_device_poll(line, i) == OUTCOME_LINE)
            return false;
    return true;
}

static bool retry_is_due(struct line *line, int i)
{
    struct line_device *device = &line->devices[i];

    if (device->condition < DEVICE_SILENT)
        return false;
    if (line->now_us + DUE_SLACK_US >= device->retry_us)
        return true;
    if (device->condition != DEVICE_SILENT || !device_owes_off(line, i))
        return false;
    device->has_hurried = true;
    return true;
}

/* At most one trial a pass, after everything else is done. */
static bool pass_retry(struct line *line)
{
    for (int i = 0; i < line->settings.device_count; i++)
        if (retry_is_due(line, i))
            return modbus_device_prove(line, i) != OUTCOME_LINE;
    return true;
}

static void pass_post_bad(struct line *line)
{
    for (int i = 0; i < line->settings.device_count; i++) {
        enum device_condition condition = line->devices[i].condition;

        if (condition >= DEVICE_SILENT || (condition == DEVICE_UNPROVEN && line->is_lost))
            modbus_device_post_bad_due(line, i);
    }
}

void modbus_line_pass(struct line *line, int64_t now_us, const struct driver_io *io)
{
    line->now_us = now_us;
    line->io = io;
    if (line_is_clean(line) && pass_write(line, true) && pass_prove(line) && pass_write(line, false) &&
        pass_poll(line) && pass_retry(line)) {
        line->level = 0;
        line->has_hurried = false;
    }
    pass_post_bad(line);
    line->io = NULL;
}

/* ---- open and close ---------------------------------------------------------------------- */

static void line_set_up(struct line *line)
{
    for (int i = 0; i < line->settings.device_count; i++) {
        const struct device *device = &line->settings.devices[i];

        if (device->reply_ms > line->slowest_ms)
            line->slowest_ms = device->reply_ms;
        for (int c = 0; c < device->channel_count; c++) {
            line->devices[i].has_inputs |= device->channels[c].point < POINT_INPUT_COUNT;
            line->devices[i].has_outputs |= device->channels[c].point < POINT_COUNT &&
                                            device->channels[c].point >= POINT_INPUT_COUNT;
        }
    }
}

enum status modbus_line_open(const struct bus_settings *bus, struct line **line, struct fault *f)
{
    struct line *l = calloc(1, sizeof *l);
    enum status code;

    *line = NULL;
    if (l == NULL)
        return fault_set(f, ST_SYSTEM, bus->name, "out of memory");
    l->settings = *bus;
    l->is_lost = true;
    line_set_up(l);
    code = modbus_plan_make(&l->settings, &l->plan, f);
    if (code == ST_OK)
        code = modbus_bus_new(&l->settings, &l->bus, f);
    if (code != ST_OK) {
        free(l);
        return code;
    }
    *line = l;
    return ST_OK;
}

static void ignore_post(void *context, enum point point, double value, int64_t at_us, enum quality quality,
                        enum reason reason)
{
    (void)context, (void)point, (void)value, (void)at_us, (void)quality, (void)reason;
}

static bool want_nothing(void *context, enum point point, double *value)
{
    (void)context, (void)point;
    *value = 0;
    return false;
}

static void ignore_say(void *context, const char *sentence)
{
    (void)context, (void)sentence;
}

static const struct driver_io CLOSING = {.post = ignore_post, .wanted = want_nothing, .say = ignore_say};

/* Off with an answer where the line is good; without one for silent devices, and for all others
 * from the first failure on. */
void modbus_line_close(struct line *line)
{
    struct fault f;

    if (line == NULL)
        return;
    line->io = &CLOSING;
    if (line->link == LINK_CLOSED && line_owes_off(line) &&
        modbus_bus_connect(line->bus, line->slowest_ms, &f) == ST_OK)
        line->link = LINK_CLEAN;
    if (line->link == LINK_DIRTY || (line->link == LINK_CLEAN && pass_write(line, true)))
        write_blind_anew(line);
    modbus_bus_free(line->bus);
    free(line);
}
