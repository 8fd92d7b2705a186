#include "records/certificate.h"

#include "records/canonical.h"
#include "records/certificate_parts.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char DOMAIN[] = CERTIFICATE_FORMAT "\n";

void certificate_fingerprint(const unsigned char public_key[CRYPTO_PUBLIC_BYTES],
                             char out[CERTIFICATE_FINGERPRINT_MAX])
{
    char hex[CRYPTO_HASH_HEX];
    size_t used = 0;

    crypto_sha256_hex(public_key, CRYPTO_PUBLIC_BYTES, hex);
    for (size_t i = 0; i < 32; i++) {
        if (i > 0 && i % 4 == 0)
            out[used++] = ' ';
        out[used++] = hex[i];
    }
    out[used] = '\0';
}

/* ---- signing ------------------------------------------------------------------------------- */

/* The bytes a signature covers: the domain keeps a signature from being used for anything else. */
static char *signed_bytes(const json_t *unsigned_json, size_t *size)
{
    char *canonical = canonical_json(unsigned_json);
    char *bytes = NULL;

    if (canonical != NULL) {
        *size = sizeof DOMAIN - 1 + strlen(canonical);
        bytes = malloc(*size + 1);
        if (bytes != NULL)
            (void)snprintf(bytes, *size + 1, "%s%s", DOMAIN, canonical);
    }
    free(canonical);
    return bytes;
}

static bool sign(json_t *json, const struct crypto_key *key)
{
    unsigned char signature[CRYPTO_SIGNATURE_BYTES];
    char hex[CRYPTO_SIGNATURE_HEX];
    size_t size = 0;
    char *bytes = signed_bytes(json, &size);

    if (bytes == NULL)
        return false;
    crypto_key_sign(key, bytes, size, signature);
    free(bytes);
    crypto_hex(signature, sizeof signature, hex);
    return json_object_set_new(json, "signature", json_string(hex)) == 0;
}

char *certificate_json(const struct certificate_facts *facts, struct fault *f)
{
    json_t *json = certificate_build(facts);
    char *text = NULL;

    if (json != NULL && sign(json, facts->key))
        text = canonical_json(json);
    json_decref(json);
    if (text == NULL)
        (void)fault_set(f, ST_SYSTEM, "certificate", "memory is short: the certificate could not be made");
    return text;
}

/* ---- verifying ----------------------------------------------------------------------------- */

static enum status check_canonical(const json_t *json, const char *json_text, struct fault *f)
{
    char *canonical = canonical_json(json);
    bool same = canonical != NULL && strcmp(canonical, json_text) == 0;
    bool short_of_memory = canonical == NULL;

    free(canonical);
    if (short_of_memory)
        return fault_set(f, ST_SYSTEM, "certificate", "memory is short");
    if (!same)
        return fault_set(
            f, ST_BAD_REPLY, "certificate",
            "the certificate was changed after signing: it is not written in the form that was signed "
            "(spaces, line ends or the order of fields were altered)");
    return ST_OK;
}

static enum status check_key(const json_t *json, const unsigned char *expected,
                             unsigned char key[CRYPTO_PUBLIC_BYTES], struct fault *f)
{
    const char *hex = json_string_value(json_object_get(json_object_get(json, "evidence"), "public_key"));

    if (hex == NULL || !crypto_unhex(hex, key, CRYPTO_PUBLIC_BYTES))
        return fault_set(f, ST_BAD_REPLY, "certificate", "the certificate names no valid public key");
    if (expected != NULL && memcmp(expected, key, CRYPTO_PUBLIC_BYTES) != 0) {
        char given[CERTIFICATE_FINGERPRINT_MAX], named[CERTIFICATE_FINGERPRINT_MAX];

        certificate_fingerprint(expected, given);
        certificate_fingerprint(key, named);
        return fault_set(f, ST_REFUSED, "certificate",
                         "the certificate was signed with another key: it names key %s, expected is %s",
                         named, given);
    }
    return ST_OK;
}

static enum status check_signature(json_t *json, const unsigned char key[CRYPTO_PUBLIC_BYTES],
                                   struct fault *f)
{
    const char *hex = json_string_value(json_object_get(json, "signature"));
    unsigned char signature[CRYPTO_SIGNATURE_BYTES];
    size_t size = 0;
    char *bytes;
    bool is_good;

    if (hex == NULL || !crypto_unhex(hex, signature, sizeof signature) ||
        strspn(hex, "0123456789abcdef") != strlen(hex))
        return fault_set(f, ST_BAD_REPLY, "certificate", "the signature is not one: it was changed or cut");
    if (json_object_del(json, "signature") != 0 || (bytes = signed_bytes(json, &size)) == NULL)
        return fault_set(f, ST_SYSTEM, "certificate", "memory is short");
    is_good = crypto_verify(key, bytes, size, signature);
    free(bytes);
    if (!is_good)
        return fault_set(
            f, ST_BAD_REPLY, "certificate",
            "the certificate was changed after signing: the signature does not match its content");
    return ST_OK;
}

enum status certificate_verify(const char *json_text, const unsigned char *public_key, struct fault *f)
{
    unsigned char key[CRYPTO_PUBLIC_BYTES];
    json_error_t error;
    json_t *json = json_loads(json_text, JSON_REJECT_DUPLICATES, &error);
    enum status code;

    if (json == NULL)
        return fault_set(f, ST_BAD_REPLY, "certificate", "this is not JSON (line %d: %s)", error.line,
                         error.text);
    if (!json_is_object(json) ||
        strcmp(CERTIFICATE_FORMAT, json_is_string(json_object_get(json, "format"))
                                       ? json_string_value(json_object_get(json, "format"))
                                       : "") != 0)
        code = fault_set(f, ST_BAD_REPLY, "certificate", "this is JSON, but no certificate of this program");
    else if (json_object_get(json, "signature") == NULL)
        code = fault_set(f, ST_NOT_FOUND, "certificate", "the certificate is not signed");
    else
        code = check_canonical(json, json_text, f);
    if (code == ST_OK)
        code = check_key(json, public_key, key, f);
    if (code == ST_OK)
        code = check_signature(json, key, f);
    json_decref(json);
    return code;
}
