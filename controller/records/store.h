/* store.h - the database file: the one door to SQLite, for the writer and for readers.
 *
 * Does:      open the file in the right mode, run statements with typed values, transactions,
 *            the integrity check, and turn every refusal into a sentence.
 * Does not:  know what the tables mean.
 * Thread:    one thread at a time owns a struct store. Memory: SQLite's.
 */
#ifndef RECORDS_STORE_H
#define RECORDS_STORE_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct store;
struct store_row;

/* ---- values -------------------------------------------------------------------------------- */

enum cell_type { CELL_TYPE_NULL, CELL_TYPE_INT, CELL_TYPE_REAL, CELL_TYPE_TEXT, CELL_TYPE_BLOB };

struct cell {
    enum cell_type type;
    int64_t number;
    double real;
    const void *bytes; /* must live until the call returns */
    size_t size;
};

struct cell cell_int(int64_t number);
struct cell cell_real(double real);      /* not a number becomes NULL, -0 becomes 0 */
struct cell cell_text(const char *text); /* NULL becomes NULL */
struct cell cell_blob(const void *bytes, size_t size);

/* ---- open, close --------------------------------------------------------------------------- */

/* Open for writing; the file is created when missing (mode 0640). WAL, synchronous FULL, foreign
 * keys on; the write-ahead log persists after close, so that readers without write permission
 * work at any time. On failure *store is NULL. */
enum status store_open_writer(const char *path, struct store **store, struct fault *f) MUST_USE;

/* Open read-only; a statement gives up after 200 ms when it cannot read. ST_NOT_FOUND: no file. */
enum status store_open_reader(const char *path, struct store **store, struct fault *f) MUST_USE;

void store_close(struct store *store); /* accepts NULL */

/* ---- statements ---------------------------------------------------------------------------- */

/* Run one or more statements without values. */
enum status store_run(struct store *store, const char *sql, struct fault *f) MUST_USE;

/* Run one statement with values for its "?" in order. */
enum status store_write(struct store *store, const char *sql, const struct cell *cells, size_t count,
                        struct fault *f) MUST_USE;

/* Undo what store_run("BEGIN IMMEDIATE") began; harmless when nothing is open any more. */
void store_rollback(struct store *store);

/* Called for each row; anything but ST_OK ends the query and is returned. */
typedef enum status store_row_fn(void *context, struct store_row *row, struct fault *f);

enum status store_query(struct store *store, const char *sql, const struct cell *cells, size_t count,
                        store_row_fn *each, void *context, struct fault *f) MUST_USE;

/* One whole number; *found (may be NULL) tells whether there was a row with one. */
enum status store_number(struct store *store, const char *sql, const struct cell *cells, size_t count,
                         int64_t *number, bool *found, struct fault *f) MUST_USE;

/* Columns of the row at hand, from 0. Texts are never NULL; they and blobs live until the row
 * function returns. A NULL is 0, NAN or "". */
int64_t row_int(struct store_row *row, int column);
double row_real(struct store_row *row, int column);
const char *row_text(struct store_row *row, int column);
const void *row_blob(struct store_row *row, int column, size_t *size);
bool row_is_null(struct store_row *row, int column);

/* ST_OK when SQLite's own quick check finds the file sound; ST_BAD_REPLY with its first finding. */
enum status store_check(struct store *store, struct fault *f) MUST_USE;

#endif
