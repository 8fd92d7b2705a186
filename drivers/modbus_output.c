#include "drivers/modbus_line.h"

#include <string.h>

static bool is_bound_output(const struct channel *channel)
{
    return channel->point < POINT_COUNT && channel->point >= POINT_INPUT_COUNT;
}

/* The value an output must have now; what cannot be said as a number is off. */
static double output_wanted(const struct line *line, int i, const struct channel *channel,
                            uint16_t words[DECODE_WORDS_MAX])
{
    double value = 0;

    if (line->devices[i].condition == DEVICE_FAULTY ||
        !line->io->wanted(line->io->context, channel->point, &value) || !(value > 0))
        value = 0;
    if (modbus_encode(channel, value, words))
        return value;
    /* Not finite; what remains is off, which every channel that passed the plan can hold. */
    return modbus_encode(channel, 0, words) ? 0 : -1;
}

static void output_request(const struct channel *channel, const uint16_t words[DECODE_WORDS_MAX],
                           struct frame_request *request)
{
    *request = (struct frame_request){.address = channel->address, .count = modbus_decode_words(channel)};
    memcpy(request->words, words, sizeof request->words);
    if (channel->kind == REGISTER_COIL)
        request->function = FRAME_WRITE_COIL;
    else
        request->function = request->count == 1 ? FRAME_WRITE_REGISTER : FRAME_WRITE_REGISTERS;
}

static bool output_holds(const struct output_state *output, const uint16_t words[DECODE_WORDS_MAX])
{
    return output->is_known && memcmp(output->words, words, sizeof output->words) == 0;
}

static enum outcome output_write(struct line *line, int i, int c, const uint16_t words[DECODE_WORDS_MAX])
{
    const struct channel *channel = &line->settings.devices[i].channels[c];
    struct output_state *output = &line->devices[i].outputs[c];
    struct frame_request request;
    struct fault f;
    enum outcome outcome;

    output_request(channel, words, &request);
    output->is_known = false;
    outcome = modbus_device_call(line, i, &request, NULL, &f);
    if (outcome == OUTCOME_REFUSED)
        return modbus_device_trouble(line, i, DEVICE_FAULTY, f.text);
    if (outcome != OUTCOME_DONE)
        return outcome;
    memcpy(output->words, words, sizeof output->words);
    output->is_known = true;
    output->is_blind = false;
    output->written_us = line->now_us;
    return OUTCOME_DONE;
}

static enum outcome output_write_some(struct line *line, int i, bool off)
{
    const struct device *device = &line->settings.devices[i];

    for (int c = 0; c < device->channel_count; c++) {
        const struct output_state *output = &line->devices[i].outputs[c];
        uint16_t words[DECODE_WORDS_MAX];
        enum outcome outcome;
        bool is_off, is_fresh;

        if (!is_bound_output(&device->channels[c]))
            continue;
        is_off = !(output_wanted(line, i, &device->channels[c], words) > 0);
        is_fresh = line->now_us + DUE_SLACK_US < output->written_us + REFRESH_US;
        if (is_off != off || (output_holds(output, words) && is_fresh))
            continue;
        outcome = output_write(line, i, c, words);
        if (outcome != OUTCOME_DONE)
            return outcome;
    }
    return OUTCOME_DONE;
}

enum outcome modbus_output_write(struct line *line, int i, bool only_off)
{
    enum outcome outcome = output_write_some(line, i, true);

    if (outcome != OUTCOME_DONE || only_off)
        return outcome;
    return output_write_some(line, i, false);
}

bool modbus_output_owes_off(const struct line *line, int i)
{
    const struct device *device = &line->settings.devices[i];

    for (int c = 0; c < device->channel_count; c++) {
        uint16_t words[DECODE_WORDS_MAX];

        if (is_bound_output(&device->channels[c]) &&
            !(output_wanted(line, i, &device->channels[c], words) > 0) &&
            !output_holds(&line->devices[i].outputs[c], words))
            return true;
    }
    return false;
}

void modbus_output_write_blind(struct line *line, int i)
{
    const struct device *device = &line->settings.devices[i];

    for (int c = 0; c < device->channel_count; c++) {
        struct output_state *output = &line->devices[i].outputs[c];
        struct frame_request request;
        uint16_t words[DECODE_WORDS_MAX];

        if (!is_bound_output(&device->channels[c]) || output->is_blind ||
            output_wanted(line, i, &device->channels[c], words) > 0 || output_holds(output, words))
            continue;
        output_request(&device->channels[c], words, &request);
        request.unit = device->unit;
        modbus_bus_send_blind(line->bus, &request);
        output->is_blind = true;
    }
}

bool modbus_output_differs(const struct line *line, int i, int c, const uint16_t *words)
{
    const struct channel *channel = &line->settings.devices[i].channels[c];
    const struct output_state *output = &line->devices[i].outputs[c];

    return is_bound_output(channel) && output->is_known &&
           memcmp(output->words, words, (size_t)modbus_decode_words(channel) * sizeof words[0]) != 0;
}
