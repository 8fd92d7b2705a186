/* certificate.h - what a finished batch can show: one signed JSON document, and the same as text.
 *
 * The JSON is in canonical form; every measured number in it is a decimal in quotes, so that no
 * printing of doubles matters. The signature (Ed25519) covers a domain prefix and the canonical
 * form of everything but the field "signature". The text is made from the JSON and from nothing
 * else, so anyone can make it again and compare.
 *
 * Does not:  approve food or feed, replace a laboratory, or say anything of what was not measured.
 * Thread:    any. Memory: returned texts are malloc'ed, the caller frees them.
 */
#ifndef RECORDS_CERTIFICATE_H
#define RECORDS_CERTIFICATE_H

#include "core/scan_types.h"
#include "records/journal.h"
#include "runtime/crypto.h"
#include "settings/settings.h"

#include <jansson.h>

#define CERTIFICATE_FORMAT "syrupwright-certificate-1"
#define CERTIFICATE_REMARKS_MAX 200
#define CERTIFICATE_FINGERPRINT_MAX 40

/* What went wrong or was interrupted, gathered from the rows of one batch, oldest first. Begin with
 * all zero but list. */
struct certificate_remarks {
    json_t *list;     /* the caller's array; gets the sentences with their times */
    int64_t left_out; /* those beyond CERTIFICATE_REMARKS_MAX */
    json_t *rest;     /* in list: the pause or hold under way; NULL: none, or left out */
    int64_t rest_run; /* when that began */
    int64_t rest_scan_us;
    int64_t rest_utc_us;
};

struct certificate_facts {
    const struct settings *settings;
    const struct batch_memory *memory;
    int64_t serial;
    int64_t issued_utc_us;
    bool utc_synced;
    const char *program;       /* version */
    const struct chain *head;  /* newest journal row it rests on */
    const char *previous_hash; /* SHA-256 of the certificate before; "" for the first */
    const struct crypto_key *key;
    const struct certificate_remarks *remarks;
    double syrup_ph_u; /* standard uncertainty as recorded; NAN when unknown */
};

/* Add what this row says of something wrong; most rows say nothing. A pause or a hold becomes one
 * remark at its beginning, which gets its length once it has ended. ST_SYSTEM: memory. */
enum status certificate_remark(struct certificate_remarks *remarks, const struct journal_row *row,
                               struct fault *f) MUST_USE;

/* The signed JSON; NULL with *f filled when memory is short. */
char *certificate_json(const struct certificate_facts *facts, struct fault *f);

/* The text a person reads. NULL with *f filled when json_text is no certificate. */
char *certificate_text(const char *json_text, struct fault *f);

/* Is this byte for byte what was signed? public_key NULL: by the key it names itself, which shows
 * that nothing changed since, not who signed. ST_OK, or with the sentence in *f: ST_BAD_REPLY (not
 * a certificate; changed), ST_NOT_FOUND (not signed), ST_REFUSED (signed with another key).
 * crypto_init must have been called. */
enum status certificate_verify(const char *json_text, const unsigned char *public_key,
                               struct fault *f) MUST_USE;

/* "1a2b 3c4d ...": the first 16 bytes of the SHA-256 of a public key. */
void certificate_fingerprint(const unsigned char public_key[CRYPTO_PUBLIC_BYTES],
                             char out[CERTIFICATE_FINGERPRINT_MAX]);

#endif
