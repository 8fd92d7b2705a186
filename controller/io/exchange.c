#include "io/exchange.h"

#include <assert.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>

struct exchange {
    pthread_mutex_t lock;
    int64_t output_expiry_us;
    bool has_outputs;
    int64_t outputs_us; /* tank time of the scan that published them */
    double outputs[POINT_OUTPUT_COUNT];
    bool is_new[POINT_INPUT_COUNT];
    struct reading readings[POINT_INPUT_COUNT];
};

struct exchange *exchange_new(int64_t output_expiry_us)
{
    struct exchange *x = calloc(1, sizeof *x);

    if (x == NULL)
        return NULL;
    (void)pthread_mutex_init(&x->lock, NULL);
    x->output_expiry_us = output_expiry_us;
    return x;
}

void exchange_free(struct exchange *x)
{
    if (x == NULL)
        return;
    (void)pthread_mutex_destroy(&x->lock);
    free(x);
}

void exchange_post_reading(struct exchange *x, enum point point, const struct reading *reading)
{
    assert((unsigned)point < POINT_INPUT_COUNT);
    (void)pthread_mutex_lock(&x->lock);
    x->readings[point] = *reading;
    x->is_new[point] = true;
    (void)pthread_mutex_unlock(&x->lock);
}

void exchange_take_readings(struct exchange *x, struct scan_in *in)
{
    in->reading_count = 0;
    (void)pthread_mutex_lock(&x->lock);
    for (int p = 0; p < POINT_INPUT_COUNT; p++) {
        if (!x->is_new[p])
            continue;
        in->readings[in->reading_count].point = (enum point)p;
        in->readings[in->reading_count].reading = x->readings[p];
        in->reading_count++;
        x->is_new[p] = false;
    }
    (void)pthread_mutex_unlock(&x->lock);
}

void exchange_post_outputs(struct exchange *x, const double outputs[POINT_OUTPUT_COUNT], int64_t scan_us)
{
    (void)pthread_mutex_lock(&x->lock);
    memcpy(x->outputs, outputs, sizeof x->outputs);
    x->outputs_us = scan_us;
    x->has_outputs = true;
    (void)pthread_mutex_unlock(&x->lock);
}

bool exchange_get_output(struct exchange *x, enum point point, int64_t now_us, double *value)
{
    bool is_valid;

    assert(point >= POINT_INPUT_COUNT && point < POINT_COUNT);
    (void)pthread_mutex_lock(&x->lock);
    is_valid = x->has_outputs && now_us - x->outputs_us <= x->output_expiry_us;
    *value = is_valid ? x->outputs[point - POINT_INPUT_COUNT] : 0;
    (void)pthread_mutex_unlock(&x->lock);
    return is_valid;
}
