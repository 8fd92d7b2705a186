/* crypto.h - hashes, signatures and random bytes; the only door to the cryptography library.
 *
 * Does:      SHA-256, Ed25519 (RFC 8032) keys, signatures and their check, random bytes.
 * Does not:  invent anything; encrypt; talk to a network.
 * Thread:    any, after crypto_init has returned ST_OK once.   Memory: none is kept.
 */
#ifndef RUNTIME_CRYPTO_H
#define RUNTIME_CRYPTO_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define CRYPTO_HASH_BYTES 32
#define CRYPTO_HASH_HEX 65 /* 64 digits and the closing zero */
#define CRYPTO_PUBLIC_BYTES 32
#define CRYPTO_PUBLIC_HEX 65
#define CRYPTO_SEED_BYTES 32
#define CRYPTO_SECRET_BYTES 64
#define CRYPTO_SIGNATURE_BYTES 64
#define CRYPTO_SIGNATURE_HEX 129

/* Must be called once, before anything else here. ST_SYSTEM when the library cannot start. */
enum status crypto_init(struct fault *f) MUST_USE;

/* ---- SHA-256 ------------------------------------------------------------------------ */

/* The hash of length bytes as 64 lower-case hex digits. data may be NULL when length is 0. */
void crypto_sha256_hex(const void *data, size_t length, char hex[CRYPTO_HASH_HEX]);

/* The same in pieces: init, any number of adds, then one end. */
struct crypto_hash {
    _Alignas(8) unsigned char state[104]; /* the library's, opaque here */
};
void crypto_hash_init(struct crypto_hash *hash);
void crypto_hash_add(struct crypto_hash *hash, const void *data, size_t length);
void crypto_hash_end(struct crypto_hash *hash, unsigned char digest[CRYPTO_HASH_BYTES]);
void crypto_hash_end_hex(struct crypto_hash *hash, char hex[CRYPTO_HASH_HEX]);

/* ---- Ed25519 ------------------------------------------------------------------------ */

struct crypto_key {
    unsigned char public_key[CRYPTO_PUBLIC_BYTES];
    unsigned char secret[CRYPTO_SECRET_BYTES]; /* wipe with crypto_key_wipe when done */
};

/* A new key from random bytes, and the key that belongs to a seed (always the same one). */
void crypto_key_create(struct crypto_key *key);
void crypto_key_from_seed(const unsigned char seed[CRYPTO_SEED_BYTES], struct crypto_key *key);
void crypto_key_wipe(struct crypto_key *key);

/* Read a key file: the seed as 64 hex digits on one line. ST_NOT_FOUND: there is no such file;
 * ST_REFUSED: others than the owner may read or write it; ST_BAD_REPLY: it is not a key file;
 * ST_SYSTEM: the system refused. After any failure *key is all zero. */
enum status crypto_key_load(const char *path, struct crypto_key *key, struct fault *f) MUST_USE;

/* Write a key file with mode 0600 so that a power cut leaves either no file or the whole one.
 * An existing file is never replaced: ST_REFUSED. */
enum status crypto_key_save(const char *path, const struct crypto_key *key, struct fault *f) MUST_USE;

/* Load, or create and save when there is no file yet; *created (may be NULL) says which. */
enum status crypto_key_open(const char *path, struct crypto_key *key, bool *created,
                            struct fault *f) MUST_USE;

void crypto_key_sign(const struct crypto_key *key, const void *message, size_t length,
                     unsigned char signature[CRYPTO_SIGNATURE_BYTES]);

/* True only when the signature was made over exactly this message by the owner of the key. */
bool crypto_verify(const unsigned char public_key[CRYPTO_PUBLIC_BYTES], const void *message, size_t length,
                   const unsigned char signature[CRYPTO_SIGNATURE_BYTES]) MUST_USE;

/* ---- bytes --------------------------------------------------------------------------- */

void crypto_random(void *to, size_t length);

/* hex must hold 2 * length + 1 characters. */
void crypto_hex(const void *data, size_t length, char *hex);

/* Exactly 2 * length hex digits (either case), nothing else; false: *to must not be used. */
bool crypto_unhex(const char *hex, void *to, size_t length) MUST_USE;

#endif
