/* schema.h - the tables of the record, and which version of them this program reads.
 *
 * Thread: that of the store.
 */
#ifndef RECORDS_SCHEMA_H
#define RECORDS_SCHEMA_H

#include "records/store.h"

#define SCHEMA_VERSION 1
#define SCHEMA_FILE "record.db" /* in the folder of records */

/* Make the tables in an empty file, or check the version of what is there. ST_REFUSED: another
 * program's file, or another version. */
enum status schema_prepare(struct store *store, struct fault *f) MUST_USE;

/* The check alone, for readers. ST_NOT_FOUND: the file is still empty. */
enum status schema_check(struct store *store, struct fault *f) MUST_USE;

#endif
