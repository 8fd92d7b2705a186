/* Certificates in the database: made once, at the end of a batch, and checked at every start. */
#include "records/canonical.h"
#include "records/certificate.h"
#include "records/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- issue --------------------------------------------------------------------------------------- */

struct collected {
    struct certificate_remarks remarks;
    double syrup_ph_u;
};

static enum status collect_row(void *context, const struct journal_row *row, struct fault *f)
{
    struct collected *collected = context;

    if (row->code == EVENT_MEASURED && row->a == MEASURED_SYRUP_PH)
        collected->syrup_ph_u = row->value2 > 0 ? row->value2 : (double)NAN;
    return certificate_remark(&collected->remarks, row, f);
}

struct newest {
    int64_t serial;
    char hash[CRYPTO_HASH_HEX];
};

static enum status take_newest(void *context, struct store_row *row, struct fault *f)
{
    struct newest *newest = context;
    const char *json = row_text(row, 1);

    (void)f;
    newest->serial = row_int(row, 0);
    crypto_sha256_hex(json, strlen(json), newest->hash);
    return ST_OK;
}

static enum status store_certificate(struct records *r, const struct certificate_facts *facts,
                                     const char *json, struct fault *f)
{
    const struct batch_memory *memory = facts->memory;
    json_t *parsed = json_loads(json, 0, NULL);
    char *text = certificate_text(json, f);
    enum status code = ST_SYSTEM;

    if (parsed != NULL && text != NULL) {
        const struct cell cells[] = {
            cell_int(facts->serial),
            cell_text(json_string_value(json_object_get(parsed, "batch"))),
            cell_int(facts->issued_utc_us),
            cell_text(json_string_value(json_object_get(parsed, "outcome"))),
            cell_int(facts->settings->is_simulated),
            cell_real(memory->has_strength ? memory->strength_pct : (double)NAN),
            cell_text(json),
            cell_text(json_string_value(json_object_get(parsed, "signature"))),
            cell_text(text),
            cell_int(facts->head->seq),
            cell_text(facts->head->hash),
        };

        code = store_write(r->store,
                           "INSERT INTO certificate (serial, batch, issued_utc_us, outcome, is_simulated,"
                           " strength_pct, json, signature, text, head_seq, head_hash)"
                           " VALUES (?,?,?,?,?,?,?,?,?,?,?)",
                           cells, sizeof cells / sizeof cells[0], f);
    } else if (text != NULL) {
        code = fault_set(f, ST_SYSTEM, "certificate", "memory is short");
    }
    free(text);
    json_decref(parsed);
    return code;
}

static enum status make_and_store(struct records *r, const struct memory_item *item,
                                  struct collected *collected, struct fault *f)
{
    const char *batch = item->memory.plan.batch_id;
    struct newest newest = {0};
    enum status code = journal_each(r->store, batch, INT32_MAX, collect_row, collected, f);
    char *json;

    if (code == ST_OK)
        code = store_query(r->store, "SELECT serial, json FROM certificate ORDER BY serial DESC LIMIT 1",
                           NULL, 0, take_newest, &newest, f);
    if (code != ST_OK)
        return code;
    struct certificate_facts facts = {
        .settings = &r->settings,
        .memory = &item->memory,
        .serial = newest.serial + 1,
        .issued_utc_us = item->utc_us,
        .utc_synced = item->utc_synced,
        .program = SYRUPWRIGHT_VERSION,
        .head = &r->chain,
        .previous_hash = newest.hash,
        .key = &r->key,
        .remarks = &collected->remarks,
        .syrup_ph_u = collected->syrup_ph_u,
    };
    json = certificate_json(&facts, f);
    if (json == NULL)
        return ST_SYSTEM;
    code = store_certificate(r, &facts, json, f);
    free(json);
    return code;
}

enum status issue_certificate(struct records *r, const struct memory_item *item, struct fault *f)
{
    struct cell batch = cell_text(item->memory.plan.batch_id);
    struct collected collected = {.syrup_ph_u = (double)NAN};
    int64_t issued = 0;
    enum status code = store_number(r->store, "SELECT count(*) FROM certificate WHERE batch=?", &batch, 1,
                                    &issued, NULL, f);

    if (code != ST_OK || issued > 0)
        return code;
    collected.remarks.list = json_array();
    if (collected.remarks.list == NULL)
        return fault_set(f, ST_SYSTEM, "certificate", "memory is short");
    code = make_and_store(r, item, &collected, f);
    json_decref(collected.remarks.list);
    return code;
}

/* ---- check --------------------------------------------------------------------------------------- */

static enum status wrong(struct fault *f, struct store_row *row, const char *how)
{
    return fault_set(f, ST_BAD_REPLY, "records",
                     "certificate %lld (batch %.24s) %s: the record was changed or damaged. Keep the file as "
                     "evidence and put back the last good copy",
                     (long long)row_int(row, 0), row_text(row, 1), how);
}

static const char *evidence(const json_t *json, const char *key)
{
    const char *text = json_string_value(json_object_get(json_object_get(json, "evidence"), key));

    return text == NULL ? "" : text;
}

/* What is not a valid document has been refused before this. */
static enum status check_links(struct store_row *row, const json_t *json, const struct newest *before,
                               struct fault *f)
{
    const char *batch = json_string_value(json_object_get(json, "batch"));

    if (row_int(row, 0) != before->serial + 1 ||
        json_integer_value(json_object_get(json, "serial")) != row_int(row, 0))
        return wrong(f, row, "does not have the next number");
    if (before->serial > 0 && strcmp(evidence(json, "previous_certificate"), before->hash) != 0)
        return wrong(f, row, "does not follow the certificate before it");
    if (batch == NULL || strcmp(batch, row_text(row, 1)) != 0)
        return wrong(f, row, "is filed under another batch");
    if (strcmp(evidence(json, "record_head"), row_text(row, 4)) != 0 ||
        json_integer_value(json_object_get(json_object_get(json, "evidence"), "record_rows")) !=
            row_int(row, 5))
        return wrong(f, row, "rests on journal rows that are missing or changed");
    return ST_OK;
}

static enum status check_certificate(void *context, struct store_row *row, struct fault *f)
{
    struct newest *before = context;
    const char *text = row_text(row, 2);
    struct fault why = {0};
    enum status code;
    char *rendered;
    json_t *json;

    if (certificate_verify(text, NULL, &why) != ST_OK)
        return wrong(f, row, why.text);
    json = json_loads(text, 0, NULL);
    code = check_links(row, json, before, f);
    json_decref(json);
    if (code != ST_OK)
        return code;
    rendered = certificate_text(text, f);
    if (rendered == NULL || strcmp(rendered, row_text(row, 3)) != 0)
        code = wrong(f, row, "has a text that does not say what was signed");
    free(rendered);
    before->serial = row_int(row, 0);
    crypto_sha256_hex(text, strlen(text), before->hash);
    return code;
}

enum status issue_check_all(struct store *store, struct fault *f)
{
    struct newest before = {0};

    return store_query(store,
                       "SELECT c.serial, c.batch, c.json, c.text, coalesce(j.hash, ''), coalesce(j.seq, 0)"
                       " FROM certificate c LEFT JOIN journal j ON j.seq = c.head_seq ORDER BY c.serial",
                       NULL, 0, check_certificate, &before, f);
}
