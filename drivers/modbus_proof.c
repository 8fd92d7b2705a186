#include "drivers/modbus_line.h"

enum outcome modbus_device_check_identity(struct line *line, int i, const struct plan_block *block,
                                          const uint16_t *words)
{
    const struct device *device = &line->settings.devices[i];
    struct fault f;
    int seen;

    if (!block->has_identity)
        return OUTCOME_DONE;
    seen = words[device->identity_address - block->address];
    if (seen == device->identity_value)
        return OUTCOME_DONE;
    fault_set(
        &f, ST_BAD_REPLY, "",
        "unit %d says it is %d where %d belongs; is another device connected there, or is its unit number "
        "wrong?",
        device->unit, seen, device->identity_value);
    return modbus_device_trouble(line, i, DEVICE_FAULTY, f.text);
}

static enum outcome set_fallback(struct line *line, int i, const struct plan_block *block, uint16_t *words)
{
    const struct device *device = &line->settings.devices[i];
    struct frame_request request = {.function = FRAME_WRITE_REGISTER,
                                    .address = device->fallback_address,
                                    .count = 1,
                                    .words = {(uint16_t)device->fallback_ms}};
    struct fault f;
    enum outcome outcome = modbus_device_call(line, i, &request, NULL, &f);

    if (outcome == OUTCOME_DONE)
        outcome = modbus_device_read(line, i, block, words, &f);
    if (outcome == OUTCOME_DONE && words[device->fallback_address - block->address] != device->fallback_ms) {
        outcome = OUTCOME_REFUSED;
        fault_set(&f, ST_BAD_REPLY, "", "it keeps %d ms", words[device->fallback_address - block->address]);
    }
    if (outcome == OUTCOME_REFUSED) {
        struct fault whole;

        fault_set(&whole, ST_BAD_REPLY, "",
                  "its switch-off after %d ms of lost connection could not be set: %.200s",
                  device->fallback_ms, f.text);
        return modbus_device_trouble(line, i, DEVICE_FAULTY, whole.text);
    }
    return outcome;
}

static enum outcome prove_block(struct line *line, int i, const struct plan_block *block)
{
    uint16_t words[FRAME_BITS_MAX];
    struct fault f;
    enum outcome outcome = modbus_device_read(line, i, block, words, &f);

    if (outcome == OUTCOME_REFUSED)
        return modbus_device_trouble(line, i, DEVICE_FAULTY, f.text);
    if (outcome == OUTCOME_DONE)
        outcome = modbus_device_check_identity(line, i, block, words);
    if (outcome == OUTCOME_DONE && block->has_fallback)
        outcome = set_fallback(line, i, block, words);
    return outcome;
}

/* Identity before anything is written but an off. */
static enum outcome prove_blocks(struct line *line, int i)
{
    const struct device_plan *plan = &line->plan.devices[i];
    bool has_identity = line->settings.devices[i].has_identity;
    enum outcome outcome = OUTCOME_DONE;

    for (int b = 0; b < plan->block_count && outcome == OUTCOME_DONE; b++)
        if (plan->blocks[b].has_identity || (!has_identity && b == 0))
            outcome = prove_block(line, i, &plan->blocks[b]);
    for (int b = 0; b < plan->block_count && outcome == OUTCOME_DONE; b++)
        if (plan->blocks[b].has_fallback && !plan->blocks[b].has_identity && (has_identity || b != 0))
            outcome = prove_block(line, i, &plan->blocks[b]);
    return outcome;
}

enum outcome modbus_device_prove(struct line *line, int i)
{
    struct line_device *device = &line->devices[i];
    enum outcome outcome = modbus_output_write(line, i, true);

    if (outcome == OUTCOME_DONE)
        outcome = prove_blocks(line, i);
    if (outcome != OUTCOME_DONE)
        return outcome;
    device->condition = DEVICE_PROVEN;
    device->has_hurried = false;
    device->due_us = line->now_us;
    if (device->has_complained)
        modbus_line_say(line, "device %s: right again", line->settings.devices[i].name);
    device->has_complained = false;
    return OUTCOME_DONE;
}
