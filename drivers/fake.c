#include "drivers/fake.h"

#include <pthread.h>
#include <stdlib.h>
#include <string.h>

struct fake_value {
    double value;
    enum quality quality;
    enum reason reason;
};

struct fake {
    pthread_mutex_t lock;
    struct bus_settings settings;
    enum fake_mode mode;
    struct fake_value shown[POINT_COUNT];  /* by the instruments now */
    struct fake_value before[POINT_COUNT]; /* late: found by the last pass; stuck: kept */
    int64_t before_us;
    double outputs[POINT_COUNT];
};

static enum status fake_open(const struct bus_settings *bus, void **handle, struct fault *f)
{
    struct fake *fake = calloc(1, sizeof *fake);

    *handle = NULL;
    if (fake == NULL)
        return fault_set(f, ST_SYSTEM, bus->name, "out of memory");
    (void)pthread_mutex_init(&fake->lock, NULL);
    fake->settings = *bus;
    for (int p = 0; p < POINT_COUNT; p++)
        fake->shown[p] = (struct fake_value){0, QUALITY_BAD, REASON_NO_READING};
    *handle = fake;
    return ST_OK;
}

static void fake_post(struct fake *fake, const struct driver_io *io, enum point point, int64_t now_us)
{
    struct fake_value value = fake->shown[point];
    int64_t at_us = now_us;

    if (fake->mode == FAKE_LATE || fake->mode == FAKE_STUCK)
        value = fake->before[point];
    if (fake->mode == FAKE_LATE)
        at_us = fake->before_us;
    if (fake->mode == FAKE_ABSENT)
        value = (struct fake_value){0, QUALITY_BAD, REASON_BUS_LOST};
    io->post(io->context, point, value.value, at_us, value.quality, value.reason);
}

static void fake_write(struct fake *fake, const struct driver_io *io, enum point point)
{
    double value = 0;

    if (fake->mode == FAKE_ABSENT)
        return;
    fake->outputs[point] = io->wanted(io->context, point, &value) ? value : 0;
}

static void fake_pass(void *handle, int64_t now_us, const struct driver_io *io)
{
    struct fake *fake = handle;

    (void)pthread_mutex_lock(&fake->lock);
    for (int i = 0; i < fake->settings.device_count; i++) {
        const struct device *device = &fake->settings.devices[i];

        for (int c = 0; c < device->channel_count; c++) {
            if (device->channels[c].point < POINT_INPUT_COUNT)
                fake_post(fake, io, device->channels[c].point, now_us);
            else if (device->channels[c].point < POINT_COUNT)
                fake_write(fake, io, device->channels[c].point);
        }
    }
    if (fake->mode != FAKE_STUCK) {
        memcpy(fake->before, fake->shown, sizeof fake->before);
        fake->before_us = now_us;
    }
    (void)pthread_mutex_unlock(&fake->lock);
}

static void fake_close(void *handle)
{
    struct fake *fake = handle;

    if (fake == NULL)
        return;
    (void)pthread_mutex_destroy(&fake->lock);
    free(fake);
}

const struct driver FAKE_DRIVER = {"fake", fake_open, fake_pass, fake_close};

void fake_set_mode(void *handle, enum fake_mode mode)
{
    struct fake *fake = handle;

    (void)pthread_mutex_lock(&fake->lock);
    fake->mode = mode;
    if (mode == FAKE_STUCK)
        memcpy(fake->before, fake->shown, sizeof fake->before);
    (void)pthread_mutex_unlock(&fake->lock);
}

static void fake_show(struct fake *fake, enum point point, struct fake_value value)
{
    (void)pthread_mutex_lock(&fake->lock);
    fake->shown[point] = value;
    (void)pthread_mutex_unlock(&fake->lock);
}

void fake_set(void *handle, enum point point, double value)
{
    fake_show(handle, point, (struct fake_value){value, QUALITY_GOOD, REASON_NONE});
}

void fake_set_bad(void *handle, enum point point, enum reason reason)
{
    fake_show(handle, point, (struct fake_value){0, QUALITY_BAD, reason});
}

double fake_get_output(void *handle, enum point point)
{
    struct fake *fake = handle;
    double value;

    (void)pthread_mutex_lock(&fake->lock);
    value = fake->outputs[point];
    (void)pthread_mutex_unlock(&fake->lock);
    return value;
}
