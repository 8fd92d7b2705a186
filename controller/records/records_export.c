/* Certificates as files beside the database, for people and for copying. */
#include "records/inside.h"
#include "runtime/file.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define FILE_MODE 0640

struct exporting {
    struct records *records;
    enum status code; /* the first failure; the others are still tried */
    struct fault *fault;
};

/* A batch number is ours and harmless; a damaged one must still not name another folder. */
static void file_name(const char *batch, char name[BATCH_ID_MAX])
{
    size_t i = 0;

    for (; batch[i] != '\0' && i < BATCH_ID_MAX - 1; i++)
        name[i] = isalnum((unsigned char)batch[i]) || batch[i] == '-' ? batch[i] : '_';
    name[i] = '\0';
}

static void write_file(struct exporting *exporting, const char *batch, const char *ending,
                       const char *content)
{
    char path[RECORDS_PATH_MAX], name[BATCH_ID_MAX];
    struct fault why = {0};
    enum status code;

    file_name(batch, name);
    (void)snprintf(path, sizeof path, "%s/certificates/%s.%s", exporting->records->settings.records_path,
                   name, ending);
    if (access(path, F_OK) == 0)
        return;
    code = file_write_atomic(path, content, strlen(content), FILE_MODE, true, &why);
    if (code != ST_OK && exporting->code == ST_OK)
        exporting->code = fault_set(
            exporting->fault, code, path,
            "a certificate could not be written as a file (it is safe in the database, and will be tried "
            "again): %.200s",
            why.text);
}

static enum status export_row(void *context, struct store_row *row, struct fault *f)
{
    struct exporting *exporting = context;
    char batch[BATCH_ID_MAX];

    (void)f;
    (void)snprintf(batch, sizeof batch, "%s", row_text(row, 0));
    write_file(exporting, batch, "json", row_text(row, 1));
    write_file(exporting, batch, "txt", row_text(row, 2));
    return ST_OK;
}

enum status export_missing(struct records *r, struct fault *f)
{
    struct exporting exporting = {r, ST_OK, f};
    enum status code = store_query(r->store, "SELECT batch, json, text FROM certificate ORDER BY serial",
                                   NULL, 0, export_row, &exporting, f);

    return code != ST_OK ? code : exporting.code;
}
