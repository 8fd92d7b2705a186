#include "drivers/modbus_line.h"

#include <string.h>

#define EXCEPTION_GATEWAY_PATH 10
#define EXCEPTION_GATEWAY_SILENT 11

static const struct device *device_settings(const struct line *line, int i)
{
    return &line->settings.devices[i];
}

/* ---- troubles of one device ---------------------------------------------------------- */

enum outcome modbus_device_trouble(struct line *line, int i, enum device_condition condition,
                                   const char *text)
{
    struct line_device *device = &line->devices[i];

    if (device->condition == condition && line->now_us < device->retry_us)
        return OUTCOME_DEVICE;
    if (device->condition != condition)
        memset(device->outputs, 0, sizeof device->outputs);
    device->condition = condition;
    device->retry_us = line->now_us + modbus_line_backoff(&device->level);
    if (!device->has_complained)
        modbus_line_say(line, "device %s: %s; its readings are bad and its outputs off until it is right",
                        device_settings(line, i)->name, text);
    device->has_complained = true;
    modbus_device_post_bad(line, i, REASON_DEVICE);
    return OUTCOME_DEVICE;
}

/* A gateway that waits for a silent device takes as long as the device would: back off. */
static bool is_silence(int exception)
{
    return exception == EXCEPTION_GATEWAY_PATH || exception == EXCEPTION_GATEWAY_SILENT;
}

enum outcome modbus_device_call(struct line *line, int i, struct frame_request *request, uint16_t *words,
                                struct fault *f)
{
    const struct device *device = device_settings(line, i);
    int exception = 0;
    enum status code;

    request->unit = device->unit;
    code = modbus_bus_call(line->bus, request, device->reply_ms, words, &exception, f);
    if (code == ST_OK)
        return OUTCOME_DONE;
    if (code == ST_EXCEPTION)
        return is_silence(exception) ? modbus_device_trouble(line, i, DEVICE_SILENT, f->text)
                                     : OUTCOME_REFUSED;
    modbus_line_failed(line, i, f);
    return OUTCOME_LINE;
}

/* ---- posting ---------------------------------------------------------------------------- */

static void post(struct line *line, enum point point, double value, enum quality quality, enum reason reason)
{
    line->io->post(line->io->context, point, value, line->now_us, quality, reason);
}

/* An output that cannot be reached cannot be switched off: then no reading of this bus may be
 * used to carry on. Such a device's own inputs tell; without any, the others' have to. */
static bool output_is_out_of_reach(const struct line *line)
{
    for (int i = 0; i < line->settings.device_count; i++) {
        const struct line_device *device = &line->devices[i];

        if (device->has_outputs && !device->has_inputs &&
            (device->condition == DEVICE_SILENT || device->condition == DEVICE_FAULTY))
            return true;
    }
    return false;
}

void modbus_device_post_bad(struct line *line, int i, enum reason reason)
{
    const struct device *device = device_settings(line, i);

    if (line->is_lost || line->devices[i].has_outputs)
        reason = REASON_BUS_LOST;
    for (int c = 0; c < device->channel_count; c++)
        if (device->channels[c].point < POINT_INPUT_COUNT)
            post(line, device->channels[c].point, 0, QUALITY_BAD, reason);
}

static bool device_is_due(struct line *line, int i)
{
    struct line_device *device = &line->devices[i];
    int64_t poll_us = (int64_t)device_settings(line, i)->poll_ms * 1000;

    if (line->now_us + DUE_SLACK_US < device->due_us)
        return false;
    device->due_us += poll_us;
    if (device->due_us <= line->now_us)
        device->due_us = line->now_us + poll_us;
    return true;
}

void modbus_device_post_bad_due(struct line *line, int i)
{
    if (device_is_due(line, i))
        modbus_device_post_bad(line, i, REASON_DEVICE);
}

enum outcome modbus_device_read(struct line *line, int i, const struct plan_block *block, uint16_t *words,
                                struct fault *f)
{
    struct frame_request request = {.function = modbus_frame_read_function(block->kind),
                                    .address = block->address,
                                    .count = block->count};

    return modbus_device_call(line, i, &request, words, f);
}

/* ---- reading -------------------------------------------------------------------------------- */

static int channel_in_block(const struct channel *channel, const struct plan_block *block)
{
    bool is_inside = channel->point < POINT_COUNT && channel->kind == block->kind &&
                     channel->address >= block->address &&
                     channel->address + modbus_decode_words(channel) <= block->address + block->count;

    return is_inside ? channel->address - block->address : -1;
}

static enum outcome check_read_back(struct line *line, int i, const struct plan_block *block,
                                    const uint16_t *words)
{
    const struct device *device = device_settings(line, i);
    struct fault f;

    for (int c = 0; c < device->channel_count; c++) {
        const struct channel *channel = &device->channels[c];
        int at = channel_in_block(channel, block);
        double seen = 0;

        if (at < 0 || !modbus_output_differs(line, i, c, words + at))
            continue;
        (void)fault_set(&f, ST_BAD_REPLY, "", "%s does not hold what was written (it reads back %g)",
                        point_info(channel->point)->name,
                        modbus_decode(channel, words + at, &seen) ? seen : 0);
        return modbus_device_trouble(line, i, DEVICE_FAULTY, f.text);
    }
    return OUTCOME_DONE;
}

static void post_block(struct line *line, int i, const struct plan_block *block, const uint16_t *words)
{
    const struct device *device = device_settings(line, i);
    bool is_cut_off = output_is_out_of_reach(line);

    for (int c = 0; c < device->channel_count; c++) {
        const struct channel *channel = &device->channels[c];
        int at = channel_in_block(channel, block);
        double value = 0;

        if (at < 0 || channel->point >= POINT_INPUT_COUNT)
            continue;
        if (is_cut_off)
            post(line, channel->point, 0, QUALITY_BAD, REASON_BUS_LOST);
        else if (modbus_decode(channel, words + at, &value))
            post(line, channel->point, value, QUALITY_GOOD, REASON_NONE);
        else
            post(line, channel->point, 0, QUALITY_BAD, REASON_NOT_FINITE);
    }
}

/* The device lives but refuses to be read: bad for now, and asked again at its next turn. */
static enum outcome poll_refused(struct line *line, int i, const struct fault *f)
{
    struct line_device *device = &line->devices[i];

    if (!device->has_complained)
        modbus_line_say(line, "device %s: %s; its readings are bad", device_settings(line, i)->name, f->text);
    device->has_complained = true;
    modbus_device_post_bad(line, i, REASON_DEVICE);
    return OUTCOME_DEVICE;
}

static enum outcome poll_block(struct line *line, int i, const struct plan_block *block)
{
    uint16_t words[FRAME_BITS_MAX];
    struct fault f;
    enum outcome outcome = modbus_device_read(line, i, block, words, &f);

    if (outcome == OUTCOME_REFUSED)
        return poll_refused(line, i, &f);
    if (outcome == OUTCOME_DONE)
        outcome = modbus_device_check_identity(line, i, block, words);
    if (outcome == OUTCOME_DONE)
        outcome = check_read_back(line, i, block, words);
    if (outcome == OUTCOME_DONE)
        post_block(line, i, block, words);
    return outcome;
}

enum outcome modbus_device_poll(struct line *line, int i)
{
    const struct device_plan *plan = &line->plan.devices[i];
    struct line_device *device = &line->devices[i];

    if (!device_is_due(line, i))
        return OUTCOME_DONE;
    for (int b = 0; b < plan->block_count; b++) {
        enum outcome outcome;

        if (!plan->blocks[b].has_channels)
            continue;
        outcome = poll_block(line, i, &plan->blocks[b]);
        if (outcome != OUTCOME_DONE)
            return outcome;
    }
    if (device->has_complained)
        modbus_line_say(line, "device %s: right again", device_settings(line, i)->name);
    device->has_complained = false;
    device->level = 0;
    return OUTCOME_DONE;
}
