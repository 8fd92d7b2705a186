#include "records/store.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define READER_WAIT_MS 200
#define WRITER_WAIT_MS 2000 /* only a foreign writer, such as a copying tool, can be in the way */
#define FILE_MODE 0640

struct store {
    sqlite3 *db;
    char path[256];
};

/* A row is the statement that stands on it. */
static sqlite3_stmt *row_statement(struct store_row *row)
{
    return (sqlite3_stmt *)(void *)row;
}

/* ---- failures ------------------------------------------------------------------------------ */

static enum status store_code(int rc)
{
    static const struct {
        int rc;
        enum status code;
    } CODES[] = {
        {SQLITE_FULL, ST_FULL},          {SQLITE_BUSY, ST_BUSY},        {SQLITE_LOCKED, ST_BUSY},
        {SQLITE_CORRUPT, ST_BAD_REPLY},  {SQLITE_NOTADB, ST_BAD_REPLY}, {SQLITE_CONSTRAINT, ST_REFUSED},
        {SQLITE_CANTOPEN, ST_NOT_FOUND}, {SQLITE_READONLY, ST_REFUSED},
    };

    for (size_t i = 0; i < sizeof CODES / sizeof CODES[0]; i++)
        if (CODES[i].rc == (rc & 0xff))
            return CODES[i].code;
    return ST_SYSTEM;
}

/* Said once here, because it is the message a person sees when the record stops. */
static enum status store_refused(struct store *store, int rc, struct fault *f)
{
    enum status code = store_code(rc);
    int system;

    if (code == ST_FULL)
        return fault_set(f, code, store->path,
                         "the disk is full: the record cannot be written; free some space");
    if (code == ST_BUSY)
        return fault_set(f, code, store->path,
                         "another program keeps the record locked; end it, or try again");
    system = store->db == NULL ? 0 : sqlite3_system_errno(store->db);
    return fault_set(f, code, store->path, "the record could not be read or written: %s%s%s",
                     store->db == NULL ? sqlite3_errstr(rc) : sqlite3_errmsg(store->db),
                     system == 0 ? "" : "; the system says: ", system == 0 ? "" : strerror(system));
}

/* ---- values -------------------------------------------------------------------------------- */

struct cell cell_int(int64_t number)
{
    return (struct cell){.type = CELL_TYPE_INT, .number = number};
}

/* SQLite keeps neither NAN nor the sign of zero; saying so here keeps hashes reproducible. */
struct cell cell_real(double real)
{
    if (isnan(real))
        return (struct cell){.type = CELL_TYPE_NULL};
    return (struct cell){.type = CELL_TYPE_REAL, .real = real == 0 ? 0 : real};
}

struct cell cell_text(const char *text)
{
    if (text == NULL)
        return (struct cell){.type = CELL_TYPE_NULL};
    return (struct cell){.type = CELL_TYPE_TEXT, .bytes = text, .size = strlen(text)};
}

struct cell cell_blob(const void *bytes, size_t size)
{
    return (struct cell){.type = CELL_TYPE_BLOB, .bytes = bytes, .size = size};
}

static int bind_cell(sqlite3_stmt *statement, int at, const struct cell *cell)
{
    switch (cell->type) {
    case CELL_TYPE_INT:
        return sqlite3_bind_int64(statement, at, cell->number);
    case CELL_TYPE_REAL:
        return sqlite3_bind_double(statement, at, cell->real);
    case CELL_TYPE_TEXT:
        return sqlite3_bind_text64(statement, at, cell->bytes, cell->size, SQLITE_STATIC, SQLITE_UTF8);
    case CELL_TYPE_BLOB:
        return sqlite3_bind_blob64(statement, at, cell->bytes, cell->size, SQLITE_STATIC);
    case CELL_TYPE_NULL:
        break;
    }
    return sqlite3_bind_null(statement, at);
}

int64_t row_int(struct store_row *row, int column)
{
    return sqlite3_column_int64(row_statement(row), column);
}

double row_real(struct store_row *row, int column)
{
    return row_is_null(row, column) ? (double)NAN : sqlite3_column_double(row_statement(row), column);
}

const char *row_text(struct store_row *row, int column)
{
    const unsigned char *text = sqlite3_column_text(row_statement(row), column);

    return text == NULL ? "" : (const char *)text;
}

const void *row_blob(struct store_row *row, int column, size_t *size)
{
    const void *bytes = sqlite3_column_blob(row_statement(row), column);

    *size = (size_t)sqlite3_column_bytes(row_statement(row), column);
    return bytes;
}

bool row_is_null(struct store_row *row, int column)
{
    return sqlite3_column_type(row_statement(row), column) == SQLITE_NULL;
}

/* ---- open, close --------------------------------------------------------------------------- */

/* Created here and not by SQLite, so that the mode does not depend on the umask; the log and its
 * index take the mode of the database. */
static enum status create_file(const char *path, struct fault *f)
{
    int fd = open(path, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, FILE_MODE);
    int rc;

    if (fd < 0 && errno == EEXIST)
        return ST_OK;
    rc = fd < 0 ? -1 : fchmod(fd, FILE_MODE);
    if (fd >= 0 && close(fd) != 0)
        rc = -1;
    return rc == 0 ? ST_OK
                   : fault_set(f, ST_SYSTEM, path, "the record could not be created: %s", strerror(errno));
}

static enum status open_database(const char *path, int flags, int wait_ms, struct store **store,
                                 struct fault *f)
{
    struct store *s = calloc(1, sizeof *s);
    enum status code;
    int rc;

    *store = NULL;
    if (s == NULL)
        return fault_set(f, ST_SYSTEM, path, "memory is short");
    (void)snprintf(s->path, sizeof s->path, "%s", path);
    rc = sqlite3_open_v2(path, &s->db, flags | SQLITE_OPEN_NOMUTEX, NULL);
    if (rc == SQLITE_OK)
        rc = sqlite3_busy_timeout(s->db, wait_ms);
    if (rc == SQLITE_OK)
        rc = sqlite3_db_config(s->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
    if (rc != SQLITE_OK) {
        code = store_refused(s, rc, f);
        store_close(s);
        return code;
    }
    *store = s;
    return ST_OK;
}

/* Some file systems cannot do it, and SQLite then stays in another mode without an error. */
static enum status use_write_ahead_log(struct store *store, struct fault *f)
{
    int64_t is_wal = 0;
    int persist = 1;
    enum status code = store_run(store, "PRAGMA journal_mode=WAL", f);

    if (code == ST_OK)
        code = store_number(store, "SELECT journal_mode = 'wal' FROM pragma_journal_mode", NULL, 0, &is_wal,
                            NULL, f);
    if (code != ST_OK)
        return code;
    if (is_wal == 0 || sqlite3_file_control(store->db, NULL, SQLITE_FCNTL_PERSIST_WAL, &persist) != SQLITE_OK)
        return fault_set(f, ST_SYSTEM, store->path,
                         "this file system cannot keep a write-ahead log; put the records on a local disk");
    return ST_OK;
}

enum status store_open_writer(const char *path, struct store **store, struct fault *f)
{
    enum status code = create_file(path, f);
    struct store *opened = NULL;

    *store = NULL;
    if (code == ST_OK)
        code = open_database(path, SQLITE_OPEN_READWRITE, WRITER_WAIT_MS, &opened, f);
    if (code != ST_OK || opened == NULL)
        return code;
    code = use_write_ahead_log(opened, f);
    if (code == ST_OK)
        code = store_run(opened,
                         "PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON; PRAGMA trusted_schema=OFF;"
                         "PRAGMA journal_size_limit=8388608",
                         f);
    if (code == ST_OK)
        *store = opened;
    else
        store_close(opened);
    return code;
}

enum status store_open_reader(const char *path, struct store **store, struct fault *f)
{
    *store = NULL;
    if (access(path, F_OK) != 0 && errno == ENOENT)
        return fault_set(f, ST_NOT_FOUND, path,
                         "there is no record yet: nothing was made with this tank file");
    return open_database(path, SQLITE_OPEN_READONLY, READER_WAIT_MS, store, f);
}

void store_close(struct store *store)
{
    if (store == NULL)
        return;
    (void)sqlite3_close_v2(store->db);
    free(store);
}

/* ---- statements ---------------------------------------------------------------------------- */

enum status store_run(struct store *store, const char *sql, struct fault *f)
{
    int rc = sqlite3_exec(store->db, sql, NULL, NULL, NULL);

    return rc == SQLITE_OK ? ST_OK : store_refused(store, rc, f);
}

/* After a full disk SQLite has often rolled back by itself. Should this fail too, the next BEGIN
 * fails and says so. */
void store_rollback(struct store *store)
{
    if (sqlite3_get_autocommit(store->db) == 0)
        (void)sqlite3_exec(store->db, "ROLLBACK", NULL, NULL, NULL);
}

static int prepare(struct store *store, const char *sql, const struct cell *cells, size_t count,
                   sqlite3_stmt **statement)
{
    int rc = sqlite3_prepare_v2(store->db, sql, -1, statement, NULL);

    for (size_t i = 0; rc == SQLITE_OK && i < count; i++)
        rc = bind_cell(*statement, (int)i + 1, &cells[i]);
    return rc;
}

enum status store_query(struct store *store, const char *sql, const struct cell *cells, size_t count,
                        store_row_fn *each, void *context, struct fault *f)
{
    sqlite3_stmt *statement = NULL;
    enum status code = ST_OK;
    int rc = prepare(store, sql, cells, count, &statement);

    if (rc == SQLITE_OK)
        rc = sqlite3_step(statement);
    for (; rc == SQLITE_ROW && code == ST_OK; rc = code == ST_OK ? sqlite3_step(statement) : rc)
        if (each != NULL)
            code = each(context, (struct store_row *)(void *)statement, f);
    if (code == ST_OK && rc != SQLITE_DONE)
        code = store_refused(store, rc, f);
    (void)sqlite3_finalize(statement); /* repeats the error of the step, told already */
    return code;
}

enum status store_write(struct store *store, const char *sql, const struct cell *cells, size_t count,
                        struct fault *f)
{
    return store_query(store, sql, cells, count, NULL, NULL, f);
}

struct one_number {
    int64_t number;
    bool found;
};

static enum status keep_number(void *context, struct store_row *row, struct fault *f)
{
    struct one_number *one = context;

    (void)f;
    one->found = !row_is_null(row, 0);
    one->number = row_int(row, 0);
    return ST_OK;
}

enum status store_number(struct store *store, const char *sql, const struct cell *cells, size_t count,
                         int64_t *number, bool *found, struct fault *f)
{
    struct one_number one = {0, false};
    enum status code = store_query(store, sql, cells, count, keep_number, &one, f);

    *number = one.number;
    if (found != NULL)
        *found = one.found;
    return code;
}

static enum status judge_check(void *context, struct store_row *row, struct fault *f)
{
    const struct store *store = context;

    if (strcmp(row_text(row, 0), "ok") == 0)
        return ST_OK;
    return fault_set(f, ST_BAD_REPLY, store->path,
                     "the record is damaged: %.200s. Keep the file, and put back the last good copy",
                     row_text(row, 0));
}

enum status store_check(struct store *store, struct fault *f)
{
    return store_query(store, "PRAGMA quick_check(1)", NULL, 0, judge_check, store, f);
}
