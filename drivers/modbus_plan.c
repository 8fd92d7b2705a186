#include "drivers/modbus_plan.h"

#include "drivers/modbus_decode.h"
#include "drivers/modbus_frame.h"

#include <stdio.h>
#include <string.h>

static const char *const KIND_NAMES[REGISTER_KIND_COUNT] = {"coils", "discrete inputs", "holding registers",
                                                            "input registers"};

static bool kind_is_bits(enum register_kind kind)
{
    return kind == REGISTER_COIL || kind == REGISTER_DISCRETE;
}

static int block_end(const struct plan_block *block)
{
    return block->address + block->count;
}

/* Make a the hull of both. */
static void block_join(struct plan_block *a, const struct plan_block *b)
{
    int end = block_end(a) > block_end(b) ? block_end(a) : block_end(b);

    a->address = a->address < b->address ? a->address : b->address;
    a->count = end - a->address;
    a->has_channels |= b->has_channels;
    a->has_identity |= b->has_identity;
    a->has_fallback |= b->has_fallback;
}

static void plan_add(struct device_plan *plan, const struct plan_block *block)
{
    for (int i = 0; i < plan->block_count && block->has_channels; i++) {
        struct plan_block *have = &plan->blocks[i];

        if (have->kind == block->kind && have->has_channels) {
            block_join(have, block);
            return;
        }
    }
    plan->blocks[plan->block_count++] = *block;
}

static void plan_remove(struct device_plan *plan, int at)
{
    plan->block_count--;
    memmove(&plan->blocks[at], &plan->blocks[at + 1],
            (size_t)(plan->block_count - at) * sizeof plan->blocks[0]);
}

/* Blocks that touch are one read anyway; blocks of equal length have to become one. */
static bool blocks_may_join(const struct plan_block *a, const struct plan_block *b, bool touching_only)
{
    struct plan_block hull = *a;

    if (a->kind != b->kind)
        return false;
    block_join(&hull, b);
    if (hull.count <= a->count + b->count)
        return true;
    return !touching_only && a->count == b->count && hull.count <= PLAN_JOIN_MAX;
}

static bool plan_join_one(struct device_plan *plan, bool touching_only)
{
    for (int i = 0; i < plan->block_count; i++)
        for (int j = i + 1; j < plan->block_count; j++)
            if (blocks_may_join(&plan->blocks[i], &plan->blocks[j], touching_only)) {
                block_join(&plan->blocks[i], &plan->blocks[j]);
                plan_remove(plan, j);
                return true;
            }
    return false;
}

static void plan_join(struct device_plan *plan, bool touching_only)
{
    while (plan_join_one(plan, touching_only))
        ;
}

static enum status plan_check_blocks(const struct device *device, const struct device_plan *plan,
                                     struct fault *f)
{
    for (int i = 0; i < plan->block_count; i++) {
        const struct plan_block *block = &plan->blocks[i];
        int most = kind_is_bits(block->kind) ? FRAME_BITS_MAX : FRAME_REGISTERS_MAX;

        if (block->address < 0 || block_end(block) > 65536)
            return fault_set(f, ST_SETTINGS, device->name, "addresses of %s run from 0 to 65535; found %d",
                             KIND_NAMES[block->kind], block->address);
        if (block->count > most)
            return fault_set(
                f, ST_SETTINGS, device->name,
                "its %s from %d to %d do not fit one read of at most %d; bind only channels that "
                "lie closer together",
                KIND_NAMES[block->kind], block->address, block_end(block) - 1, most);
    }
    return ST_OK;
}

/* Outputs need a place that can be written; 16 and 32 bit only in holding registers. */
static enum status plan_check_channel(const struct device *device, const struct channel *channel,
                                      struct fault *f)
{
    bool is_output = point_info(channel->point)->is_output;

    if (kind_is_bits(channel->kind) && channel->type != TYPE_BIT)
        return fault_set(f, ST_SETTINGS, device->name, "channel %s: %s hold one bit; give it the type bit",
                         channel->name, KIND_NAMES[channel->kind]);
    if (is_output && (channel->kind == REGISTER_DISCRETE || channel->kind == REGISTER_INPUT))
        return fault_set(f, ST_SETTINGS, device->name,
                         "channel %s: %s cannot be written, but %s is an output; bind it to a coil or a "
                         "holding register",
                         channel->name, KIND_NAMES[channel->kind], point_info(channel->point)->name);
    return ST_OK;
}

static enum status plan_device(const struct device *device, struct device_plan *plan, struct fault *f)
{
    *plan = (struct device_plan){0};
    for (int i = 0; i < device->channel_count; i++) {
        const struct channel *channel = &device->channels[i];
        struct plan_block block = {channel->kind, channel->address, modbus_decode_words(channel), true, false,
                                   false};

        if (channel->point >= POINT_COUNT)
            continue;
        if (plan_check_channel(device, channel, f) != ST_OK)
            return ST_SETTINGS;
        plan_add(plan, &block);
    }
    if (device->has_identity)
        plan_add(plan, &(struct plan_block){device->identity_kind, device->identity_address, 1, false, true,
                                            false});
    if (device->has_fallback)
        plan_add(plan,
                 &(struct plan_block){REGISTER_HOLDING, device->fallback_address, 1, false, false, true});
    plan_join(plan, true);
    plan_join(plan, false);
    return plan_check_blocks(device, plan, f);
}

static enum status plan_compare(const struct bus_settings *bus, const struct bus_plan *plan, int a, int b,
                                struct fault *f)
{
    const struct device *first = &bus->devices[a], *second = &bus->devices[b];

    for (int i = 0; i < plan->devices[a].block_count; i++)
        for (int j = a == b ? i + 1 : 0; j < plan->devices[b].block_count; j++) {
            const struct plan_block *one = &plan->devices[a].blocks[i], *other = &plan->devices[b].blocks[j];

            if (one->kind == other->kind && one->count == other->count)
                return fault_set(f, ST_SETTINGS, first->name,
                                 "two reads of %d %s at unit %d, from %d and (device %s) from %d: with equal "
                                 "lengths a late reply to one could be taken for the other; bind one channel "
                                 "more or fewer, or choose another identity register",
                                 one->count, KIND_NAMES[one->kind], first->unit, one->address, second->name,
                                 other->address);
        }
    return ST_OK;
}

enum status modbus_plan_make(const struct bus_settings *bus, struct bus_plan *plan, struct fault *f)
{
    for (int i = 0; i < bus->device_count; i++) {
        const struct device *device = &bus->devices[i];

        if (device->unit < 1 || device->unit > 247)
            return fault_set(f, ST_SETTINGS, device->name, "unit %d is not allowed; units are 1 to 247",
                             device->unit);
        if (device->reply_ms < 1)
            return fault_set(f, ST_SETTINGS, device->name, "a reply time of %d ms is not possible",
                             device->reply_ms);
        if (plan_device(device, &plan->devices[i], f) != ST_OK)
            return ST_SETTINGS;
    }
    for (int a = 0; a < bus->device_count; a++)
        for (int b = a; b < bus->device_count; b++)
            if (bus->devices[a].unit == bus->devices[b].unit && plan_compare(bus, plan, a, b, f) != ST_OK)
                return ST_SETTINGS;
    return ST_OK;
}
