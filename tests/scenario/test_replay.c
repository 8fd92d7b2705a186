/* A recorded batch, replayed: the scan inputs of a whole batch go through the flight recording's
 * bytes and back into a second core, which must want and say exactly the same, bit for bit. */
#include "records/flight.h"
#include "support/batch_run.h"
#include "support/support.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { CHUNK_SCANS = 600, BYTES_MAX = 64 << 20 };

struct recording {
    struct flight encoder;
    unsigned char *bytes;
    size_t length;
    uint64_t scans;
    uint64_t mark; /* running digest of outputs, events and results */
};

static uint64_t mark_add(uint64_t mark, const void *data, size_t length)
{
    const unsigned char *bytes = data;

    for (size_t i = 0; i < length; i++) /* FNV-1a */
        mark = (mark ^ bytes[i]) * UINT64_C(1099511628211);
    return mark;
}

static uint64_t mark_scan(uint64_t mark, const struct scan_out *out)
{
    mark = mark_add(mark, out->outputs, sizeof out->outputs);
    mark = mark_add(mark, out->events, (size_t)out->event_count * sizeof out->events[0]);
    return mark_add(mark, out->results, (size_t)out->result_count * sizeof out->results[0]);
}

static void record(void *context, const struct scan_in *in, const struct scan_out *out)
{
    struct recording *rec = context;

    if (rec->scans % CHUNK_SCANS == 0)
        flight_start(&rec->encoder);
    ck_assert_uint_lt(rec->length + FLIGHT_SCAN_MAX, BYTES_MAX);
    rec->length += flight_encode(&rec->encoder, in, rec->bytes + rec->length);
    rec->mark = mark_scan(rec->mark, out);
    rec->scans++;
}

static struct batch_run RUN;
static struct recording REC;

static void record_batch(uint64_t seed)
{
    memset(&REC, 0, sizeof REC);
    REC.bytes = malloc(BYTES_MAX);
    ck_assert_ptr_nonnull(REC.bytes);
    memset(&RUN, 0, sizeof RUN);
    batch_run_init_watched(&RUN, seed, NULL, record, &REC);
    ck_assert_int_eq(batch_run_to_end(&RUN, 8), STATE_COMPLETE);
}

/* Feed the bytes to a new core; flip: which scan's first reading is falsified, or UINT64_MAX. */
static uint64_t replay(uint64_t flip)
{
    static struct scan scan;
    static struct scan_in in;
    static struct scan_out out;
    struct flight decoder;
    uint64_t mark = 0;
    size_t at = 0, used;
    struct fault fault = {0};

    memset(&out, 0, sizeof out);
    scan_init(&scan, &RUN.settings.setup, NULL);
    for (uint64_t i = 0; i < REC.scans; i++) {
        if (i % CHUNK_SCANS == 0)
            flight_start(&decoder);
        ck_assert_int_eq(flight_decode(&decoder, REC.bytes + at, REC.length - at, &used, &in, &fault), ST_OK);
        at += used;
        if (i == flip)
            for (int r = 0; r < in.reading_count; r++)
                in.readings[r].reading.quality = QUALITY_BAD;
        scan_step(&scan, &RUN.settings.setup, &in, &out);
        mark = mark_scan(mark, &out);
    }
    ck_assert_uint_eq(at, REC.length);
    return mark;
}

START_TEST(a_replayed_batch_is_the_same_batch)
{
    record_batch(11);
    ck_assert_uint_gt(REC.scans, 50000);
    ck_assert(replay(UINT64_MAX) == REC.mark);
    printf("replayed %llu scans from %zu kB\n", (unsigned long long)REC.scans, REC.length / 1024);
    free(REC.bytes);
}
END_TEST

START_TEST(a_falsified_reading_shows_in_the_replay)
{
    record_batch(11);
    ck_assert(replay(REC.scans / 2) != REC.mark);
    free(REC.bytes);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("replay");
    TCase *tc = tcase_create("flight");

    tcase_set_timeout(tc, 60);
    tcase_add_test(tc, a_replayed_batch_is_the_same_batch);
    tcase_add_test(tc, a_falsified_reading_shows_in_the_replay);
    suite_add_tcase(suite, tc);
    return suite;
}
