/* reading.h - the reading side of the record; works with and without a running daemon.
 *
 * Opens the database read-only. Lists come as JSON (jansson), newest first; the caller owns
 * and decrefs what is returned. NULL with *f filled on failure.
 */
#ifndef RECORDS_READING_H
#define RECORDS_READING_H

#include "base/status.h"

#include <jansson.h>

struct record_reader;

enum status record_reader_open(const char *records_path, struct record_reader **reader,
                               struct fault *f) MUST_USE;
void record_reader_close(struct record_reader *reader);

/* [{"batch","started","ended","outcome","strength_pct","certificate":true|false,"simulated"}] */
json_t *record_reader_batches(struct record_reader *reader, int limit, struct fault *f);

/* The signed certificate as stored, byte for byte; malloc'ed, or NULL. batch NULL: the newest. */
char *record_reader_certificate_json(struct record_reader *reader, const char *batch, struct fault *f);

/* The same as text a person can read; malloc'ed, or NULL. */
char *record_reader_certificate_text(struct record_reader *reader, const char *batch, struct fault *f);

/* [{"seq","utc","batch","event","sentence",...}] of one batch, oldest first; batch NULL: the newest. */
json_t *record_reader_journal(struct record_reader *reader, const char *batch, int limit, struct fault *f);

#endif
