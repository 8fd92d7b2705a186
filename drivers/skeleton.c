#include "drivers/skeleton.h"

#include <stdlib.h>

/* Everything the driver remembers of one bus; there are no globals. */
struct skeleton {
    struct bus_settings settings;
    int64_t due_us[BUS_DEVICES_MAX]; /* next reading of each device */
    bool has_complained;             /* one line to the log at each change, not one a pass */
};

/* Check the settings and allocate. The device may be switched off now: do not connect here. */
static enum status skeleton_open(const struct bus_settings *bus, void **handle, struct fault *f)
{
    struct skeleton *skeleton = calloc(1, sizeof *skeleton);

    *handle = NULL;
    if (skeleton == NULL)
        return fault_set(f, ST_SYSTEM, bus->name, "out of memory");
    skeleton->settings = *bus;
    *handle = skeleton;
    return ST_OK;
}

/* Read one device and post every bound input, whatever happened. A driver with a wire posts
 * QUALITY_GOOD only for a reply it has checked in full. Here there is no wire. */
static void skeleton_read(const struct skeleton *skeleton, int i, int64_t now_us, const struct driver_io *io)
{
    const struct device *device = &skeleton->settings.devices[i];

    for (int c = 0; c < device->channel_count; c++)
        if (device->channels[c].point < POINT_INPUT_COUNT)
            io->post(io->context, device->channels[c].point, 0, now_us, QUALITY_BAD, REASON_BUS_LOST);
}

/* One bounded pass: what must be off, other outputs (io->wanted; false means 0), readings due. */
static void skeleton_pass(void *handle, int64_t now_us, const struct driver_io *io)
{
    struct skeleton *skeleton = handle;

    if (!skeleton->has_complained)
        io->say(io->context, "the skeleton driver has no wire; all its readings are bad");
    skeleton->has_complained = true;
    for (int i = 0; i < skeleton->settings.device_count; i++) {
        if (now_us < skeleton->due_us[i])
            continue;
        skeleton->due_us[i] = now_us + (int64_t)skeleton->settings.devices[i].poll_ms * 1000;
        skeleton_read(skeleton, i, now_us, io);
    }
}

/* Switch every output off as well as can be done in a bounded time, then release everything. */
static void skeleton_close(void *handle)
{
    free(handle);
}

const struct driver SKELETON_DRIVER = {"skeleton", skeleton_open, skeleton_pass, skeleton_close};
