/* certificate_kit.h - a batch, a key and a journal from which the tests make certificates. */
#ifndef TESTS_CERTIFICATE_KIT_H
#define TESTS_CERTIFICATE_KIT_H

#include "records/certificate.h"
#include "unit/records/kit.h"

#include <ctype.h>
#include <math.h>

static struct settings settings;
static struct batch_memory memory;
static struct crypto_key key;
static struct chain head;
static struct certificate_remarks remarks;

/* The key of RFC 8032, section 7.1, test 1. */
static const char SEED[] = "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60";

static void begin(void)
{
    unsigned char seed[CRYPTO_SEED_BYTES];
    struct fault f;

    ck_assert_int_eq(crypto_init(&f), ST_OK);
    ck_assert(crypto_unhex(SEED, seed, sizeof seed));
    crypto_key_from_seed(seed, &key);
    kit_settings_make(&settings, false);
    kit_memory_make(&memory, "2026-0001");
    memory.outcome = OUTCOME_MET;
    head.seq = 77;
    memset(head.hash, 'b', 64);
    remarks = (struct certificate_remarks){.list = json_array()};
}

static void end(void)
{
    json_decref(remarks.list);
}

static inline char *make(void)
{
    struct certificate_facts facts = {
        .settings = &settings,
        .memory = &memory,
        .serial = 3,
        .issued_utc_us = KIT_UTC_US + 4 * 3600 * 1000000LL,
        .utc_synced = true,
        .program = "0.1.0",
        .head = &head,
        .previous_hash = "c0ffee",
        .key = &key,
        .remarks = &remarks,
        .syrup_ph_u = 0.05,
    };
    struct fault f = {0};
    char *text = certificate_json(&facts, &f);

    ck_assert_msg(text != NULL, "%s", f.text);
    return text;
}

static inline json_t *result_of(const json_t *json, const char *quantity)
{
    json_t *results = json_object_get(json, "results");
    json_t *result;
    size_t i;

    json_array_foreach(results, i, result) if (strcmp(json_string_value(json_object_get(result, "quantity")),
                                                      quantity) == 0) return result;
    return NULL;
}

static inline const char *value_of(const json_t *object, const char *name)
{
    const char *text = json_string_value(json_object_get(object, name));

    ck_assert_msg(text != NULL, "no text %s", name);
    return text;
}

/* ---- signature ------------------------------------------------------------------------------- */

static inline void remark(enum event_kind kind, int a, int b, double value)
{
    struct event event = {.kind = kind, .a = a, .b = b, .intent = 9, .value = value, .utc_us = KIT_UTC_US};
    struct journal_row row;

    journal_row_from_event(&event, &row);
    ck_assert_int_eq(certificate_remark(&remarks, &row, NULL), ST_OK);
}

static inline void state_row(int64_t run, int64_t at_s, enum batch_state from, enum batch_state to)
{
    struct journal_row row = {.code = EVENT_STATE,
                              .run = run,
                              .scan_us = at_s * 1000000,
                              .utc_us = KIT_UTC_US + at_s * 1000000,
                              .a = (int)from,
                              .b = (int)to};

    ck_assert_int_eq(certificate_remark(&remarks, &row, NULL), ST_OK);
}

/* Text with every run of white space as one space, so that wrapping does not matter. */
static inline char *flat(const char *text)
{
    char *out = malloc(strlen(text) + 1);
    size_t used = 0;

    ck_assert_ptr_nonnull(out);
    for (; *text != '\0'; text++)
        if (!isspace((unsigned char)*text))
            out[used++] = *text;
        else if (used > 0 && out[used - 1] != ' ')
            out[used++] = ' ';
    out[used] = '\0';
    return out;
}

static inline void expect_all(const json_t *json, const char *path, const char *text)
{
    const char *name;
    char number[32];
    json_t *item;
    size_t i;

    if (json_is_object(json))
        json_object_foreach((json_t *)(uintptr_t)json, name, item) expect_all(item, name, text);
    else if (json_is_array(json))
        json_array_foreach(json, i, item) expect_all(item, path, text);
    else if (json_is_string(json))
        ck_assert_msg(strstr(text, json_string_value(json)) != NULL, "%s: \"%s\" is not in the text", path,
                      json_string_value(json));
    else if (json_is_integer(json)) {
        (void)snprintf(number, sizeof number, "%lld", (long long)json_integer_value(json));
        ck_assert_msg(strstr(text, number) != NULL, "%s: %s is not in the text", path, number);
    } else {
        ck_assert_msg(json_is_boolean(json), "%s: a certificate holds no other kind of value", path);
    }
}

static inline void expect_text_complete(void)
{
    char *json_text = make();
    char *text = certificate_text(json_text, NULL);
    json_t *json = json_loads(json_text, 0, NULL);
    char *flattened;

    ck_assert_ptr_nonnull(text);
    flattened = flat(text);
    expect_all(json, "", flattened);
    free(flattened);
    json_decref(json);
    free(text);
    free(json_text);
}

#endif
