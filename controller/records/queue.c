#include "records/queue.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#define ALIGNED(size) (((size) + 7u) & ~(size_t)7u)
#define KIND_SKIP UINT32_MAX /* the rest of the ring up to its end is unused */

struct header {
    uint32_t bytes; /* with this header */
    uint32_t kind;
};

struct queue {
    size_t bytes;
    uint64_t start;
    uint64_t end;
    unsigned char *ring;
};

struct queue *queue_new(size_t bytes)
{
    struct queue *q = calloc(1, sizeof *q);

    assert(bytes % 8 == 0 && bytes > 0);
    if (q == NULL)
        return NULL;
    q->bytes = bytes;
    q->ring = calloc(1, bytes);
    if (q->ring == NULL) {
        free(q);
        return NULL;
    }
    return q;
}

void queue_free(struct queue *q)
{
    if (q == NULL)
        return;
    free(q->ring);
    free(q);
}

static void write_header(struct queue *q, size_t bytes, uint32_t kind)
{
    struct header header = {(uint32_t)bytes, kind};

    memcpy(q->ring + q->end % q->bytes, &header, sizeof header);
}

bool queue_put(struct queue *q, uint32_t kind, const void *item, size_t size, bool is_vital)
{
    size_t bytes = sizeof(struct header) + ALIGNED(size);
    size_t to_edge = q->bytes - q->end % q->bytes;
    size_t skip = bytes > to_edge ? to_edge : 0;
    size_t room = q->bytes - (size_t)(q->end - q->start);

    if (skip + bytes > room || (!is_vital && room - skip - bytes < q->bytes / 4))
        return false;
    if (skip > 0) {
        write_header(q, skip, KIND_SKIP);
        q->end += skip;
    }
    write_header(q, bytes, kind);
    memcpy(q->ring + q->end % q->bytes + sizeof(struct header), item, size);
    q->end += bytes;
    return true;
}

uint64_t queue_start(const struct queue *q)
{
    return q->start;
}

uint64_t queue_end(const struct queue *q)
{
    return q->end;
}

const void *queue_walk(const struct queue *q, uint64_t *position, uint64_t end, uint32_t *kind)
{
    while (*position < end) {
        const unsigned char *at = q->ring + *position % q->bytes;
        struct header header;

        memcpy(&header, at, sizeof header);
        *position += header.bytes;
        if (header.kind != KIND_SKIP) {
            *kind = header.kind;
            return at + sizeof header;
        }
    }
    return NULL;
}

void queue_drop(struct queue *q, uint64_t position)
{
    assert(position >= q->start && position <= q->end);
    q->start = position;
}

unsigned queue_fill_pct(const struct queue *q)
{
    return (unsigned)((q->end - q->start) * 100u / q->bytes);
}
