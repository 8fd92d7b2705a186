/* Any JSON as a certificate: checked and printed as it is, then signed with a key of this program and
 * checked again; then with one byte changed, which must show. */
#include "fuzz/fuzz.h"

#include "records/canonical.h"
#include "records/certificate.h"

static struct crypto_key key;

int LLVMFuzzerInitialize(int *argc, char ***argv)
{
    static const unsigned char SEED[CRYPTO_SEED_BYTES] = {7};

    (void)argc;
    (void)argv;
    fuzz_claim(crypto_init(NULL) == ST_OK);
    crypto_key_from_seed(SEED, &key);
    return 0;
}

static void read_any(const char *text)
{
    struct fault f = {0};
    char *page;

    fuzz_claim(certificate_verify(text, NULL, &f) == ST_OK || f.text[0] != '\0');
    page = certificate_text(text, &f);
    fuzz_claim(page != NULL || f.text[0] != '\0');
    free(page);
}

/* The signed bytes are written down in certificate.h; this makes them without the code under test. */
static char *sign(json_t *json)
{
    static const char DOMAIN[] = CERTIFICATE_FORMAT "\n";
    unsigned char signature[CRYPTO_SIGNATURE_BYTES];
    char hex[CRYPTO_SIGNATURE_HEX], *canonical = canonical_json(json), *bytes;
    size_t length = sizeof DOMAIN - 1;

    fuzz_claim(canonical != NULL);
    bytes = malloc(length + strlen(canonical) + 1);
    fuzz_claim(bytes != NULL);
    memcpy(bytes, DOMAIN, length);
    memcpy(bytes + length, canonical, strlen(canonical) + 1);
    crypto_key_sign(&key, bytes, length + strlen(canonical), signature);
    free(bytes);
    free(canonical);
    crypto_hex(signature, sizeof signature, hex);
    fuzz_claim(json_object_set_new(json, "signature", json_string(hex)) == 0);
    canonical = canonical_json(json);
    fuzz_claim(canonical != NULL);
    return canonical;
}

static void signed_check(json_t *json, const uint8_t *data, size_t size)
{
    char hex[CRYPTO_PUBLIC_HEX], *text, *page;
    json_t *evidence = json_object_get(json, "evidence");
    struct fault f = {0};
    size_t at;

    crypto_hex(key.public_key, sizeof key.public_key, hex);
    if (!json_is_object(evidence))
        (void)json_object_set_new(json, "evidence", json_pack("{s:s}", "public_key", hex));
    else
        (void)json_object_set_new(evidence, "public_key", json_string(hex));
    (void)json_object_set_new(json, "format", json_string(CERTIFICATE_FORMAT));
    (void)json_object_del(json, "signature");
    text = sign(json);
    fuzz_claim(certificate_verify(text, key.public_key, &f) == ST_OK);
    page = certificate_text(text, &f);
    fuzz_claim(page != NULL);
    free(page);
    at = ((size_t)data[0] << 8 | data[size - 1]) % strlen(text);
    text[at] = (char)(text[at] ^ (1 << (data[size / 2] & 3)));
    fuzz_claim(certificate_verify(text, key.public_key, &f) != ST_OK);
    free(text);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size);
    json_t *json = json_loads(text, JSON_REJECT_DUPLICATES, NULL);

    read_any(text);
    if (json_is_object(json))
        signed_check(json, data, size);
    json_decref(json);
    free(text);
    return 0;
}
