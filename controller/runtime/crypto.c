#include "runtime/crypto.h"

#include "runtime/file.h"

#include <assert.h>
#include <sodium.h>
#include <string.h>

_Static_assert(sizeof(crypto_hash_sha256_state) <= sizeof(struct crypto_hash), "room for the state");
_Static_assert(crypto_sign_PUBLICKEYBYTES == CRYPTO_PUBLIC_BYTES, "public key");
_Static_assert(crypto_sign_SECRETKEYBYTES == CRYPTO_SECRET_BYTES, "secret key");
_Static_assert(crypto_sign_SEEDBYTES == CRYPTO_SEED_BYTES, "seed");
_Static_assert(crypto_sign_BYTES == CRYPTO_SIGNATURE_BYTES, "signature");

#define KEY_FILE_HEX ((size_t)2 * CRYPTO_SEED_BYTES)

enum status crypto_init(struct fault *f)
{
    if (sodium_init() < 0)
        return fault_set(f, ST_SYSTEM, "crypto",
                         "the cryptography library could not start; is there a source of random bytes?");
    return ST_OK;
}

/* ---- SHA-256 ------------------------------------------------------------------------ */

static crypto_hash_sha256_state *hash_state(struct crypto_hash *hash)
{
    return (crypto_hash_sha256_state *)(void *)hash->state;
}

void crypto_hash_init(struct crypto_hash *hash)
{
    (void)crypto_hash_sha256_init(hash_state(hash));
}

void crypto_hash_add(struct crypto_hash *hash, const void *data, size_t length)
{
    if (length > 0)
        (void)crypto_hash_sha256_update(hash_state(hash), data, length);
}

void crypto_hash_end(struct crypto_hash *hash, unsigned char digest[CRYPTO_HASH_BYTES])
{
    (void)crypto_hash_sha256_final(hash_state(hash), digest);
}

void crypto_hash_end_hex(struct crypto_hash *hash, char hex[CRYPTO_HASH_HEX])
{
    unsigned char digest[CRYPTO_HASH_BYTES];

    crypto_hash_end(hash, digest);
    crypto_hex(digest, sizeof digest, hex);
}

void crypto_sha256_hex(const void *data, size_t length, char hex[CRYPTO_HASH_HEX])
{
    struct crypto_hash hash;

    crypto_hash_init(&hash);
    crypto_hash_add(&hash, data, length);
    crypto_hash_end_hex(&hash, hex);
}

/* ---- Ed25519 ------------------------------------------------------------------------ */

void crypto_key_from_seed(const unsigned char seed[CRYPTO_SEED_BYTES], struct crypto_key *key)
{
    (void)crypto_sign_seed_keypair(key->public_key, key->secret, seed);
}

void crypto_key_create(struct crypto_key *key)
{
    unsigned char seed[CRYPTO_SEED_BYTES];

    crypto_random(seed, sizeof seed);
    crypto_key_from_seed(seed, key);
    sodium_memzero(seed, sizeof seed);
}

void crypto_key_wipe(struct crypto_key *key)
{
    sodium_memzero(key, sizeof *key);
}

static enum status key_parse(const char *path, const char *text, size_t length, struct crypto_key *key,
                             struct fault *f)
{
    char hex[KEY_FILE_HEX + 1] = "";
    unsigned char seed[CRYPTO_SEED_BYTES];
    bool is_line = length == KEY_FILE_HEX + 1 && text[KEY_FILE_HEX] == '\n';
    bool is_key = false;

    if (is_line) {
        memcpy(hex, text, KEY_FILE_HEX);
        is_key = crypto_unhex(hex, seed, sizeof seed);
    }
    if (is_key)
        crypto_key_from_seed(seed, key);
    sodium_memzero(hex, sizeof hex);
    sodium_memzero(seed, sizeof seed);
    if (!is_key)
        return fault_set(f, ST_BAD_REPLY, path,
                         "this is not a key file (64 hex digits on one line); restore it from a backup, or "
                         "move it away and a new key is made");
    return ST_OK;
}

enum status crypto_key_load(const char *path, struct crypto_key *key, struct fault *f)
{
    char text[KEY_FILE_HEX + 8];
    size_t length = 0;
    enum status code;

    crypto_key_wipe(key);
    code = file_read(path, text, sizeof text, &length, f);
    if (code == ST_OK)
        code = file_check_private(path, f);
    if (code == ST_OK || code == ST_FULL)
        code = key_parse(path, text, length, key, f);
    sodium_memzero(text, sizeof text);
    return code;
}

enum status crypto_key_save(const char *path, const struct crypto_key *key, struct fault *f)
{
    char text[KEY_FILE_HEX + 2];
    unsigned char seed[CRYPTO_SEED_BYTES];
    enum status code;

    (void)crypto_sign_ed25519_sk_to_seed(seed, key->secret);
    crypto_hex(seed, sizeof seed, text);
    text[KEY_FILE_HEX] = '\n';
    code = file_write_atomic(path, text, KEY_FILE_HEX + 1, 0600, false, f);
    sodium_memzero(seed, sizeof seed);
    sodium_memzero(text, sizeof text);
    return code;
}

enum status crypto_key_open(const char *path, struct crypto_key *key, bool *created, struct fault *f)
{
    enum status code = crypto_key_load(path, key, f);

    if (created != NULL)
        *created = false;
    if (code != ST_NOT_FOUND)
        return code;
    crypto_key_create(key);
    code = crypto_key_save(path, key, f);
    if (code != ST_OK)
        crypto_key_wipe(key);
    else if (created != NULL)
        *created = true;
    return code;
}

void crypto_key_sign(const struct crypto_key *key, const void *message, size_t length,
                     unsigned char signature[CRYPTO_SIGNATURE_BYTES])
{
    (void)crypto_sign_detached(signature, NULL, message, length, key->secret);
}

bool crypto_verify(const unsigned char public_key[CRYPTO_PUBLIC_BYTES], const void *message, size_t length,
                   const unsigned char signature[CRYPTO_SIGNATURE_BYTES])
{
    return crypto_sign_verify_detached(signature, message, length, public_key) == 0;
}

/* ---- bytes --------------------------------------------------------------------------- */

void crypto_random(void *to, size_t length)
{
    randombytes_buf(to, length);
}

void crypto_hex(const void *data, size_t length, char *hex)
{
    (void)sodium_bin2hex(hex, 2 * length + 1, data, length);
}

bool crypto_unhex(const char *hex, void *to, size_t length)
{
    size_t written = 0;
    const char *end = NULL;

    assert(hex != NULL);
    if (strlen(hex) != 2 * length)
        return false;
    return sodium_hex2bin(to, length, hex, 2 * length, NULL, &written, &end) == 0 && written == length &&
           *end == '\0';
}
