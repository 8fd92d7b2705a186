/* queue.h - a bounded ring of items of different sizes in fixed memory.
 *
 * Does:      keep items in order until the reader says that they are safe elsewhere.
 * Does not:  lock. The caller holds its lock around queue_put, queue_end and queue_drop; walking
 *            up to an end taken under the lock needs none, because the writer never touches items
 *            that were not dropped.
 * Memory:    one block, taken in queue_new.
 */
#ifndef RECORDS_QUEUE_H
#define RECORDS_QUEUE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct queue;

/* bytes: a multiple of 8. NULL when memory is short. queue_free accepts NULL. */
struct queue *queue_new(size_t bytes);
void queue_free(struct queue *q);

/* Append a copy. false: no room, nothing changed. What is not vital finds no room in the last
 * quarter, which is kept for what is. */
bool queue_put(struct queue *q, uint32_t kind, const void *item, size_t size, bool is_vital);

/* Positions only grow. An item at *position before end: its kind and content, and *position moves
 * behind it; NULL at the end. */
uint64_t queue_start(const struct queue *q);
uint64_t queue_end(const struct queue *q);
const void *queue_walk(const struct queue *q, uint64_t *position, uint64_t end, uint32_t *kind);

/* Forget everything before position (one that queue_end or queue_walk gave). */
void queue_drop(struct queue *q, uint64_t position);

/* Share of the memory in use, 0-100. */
unsigned queue_fill_pct(const struct queue *q);

#endif
