/* Ed25519 against RFC 8032, section 7.1 (Josefsson and Liusvaara, 2017); SHA-256 of the empty
 * message and of "abc" against FIPS 180-4 (NIST, 2015), examples. */
#include "runtime/crypto.h"
#include "runtime/file.h"
#include "support/folder.h"
#include "support/support.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

struct vector {
    const char *seed, *public_key, *message, *signature;
};

/* RFC 8032, 7.1: TEST 1, TEST 2, TEST 3, TEST SHA(abc) */
static const struct vector VECTORS[] = {
    {"9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
     "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a", "",
     "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e06522490155"
     "5fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b"},
    {"4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
     "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c", "72",
     "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da"
     "085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00"},
    {"c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
     "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025", "af82",
     "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac"
     "18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a"},
    {"833fe62409237b9d62ec77587520911e9a759cec1d19755b7da901b96dca3d42",
     "ec172b93ad5e563bf4932c70e1245034c35467ef2efd4d64ebf819683467e2bf",
     "ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a"
     "2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f",
     "dc2a4459e7369633a52b1bf277839a00201009a3efbf3ecb69bea2186c26b589"
     "09351fc9ac90b3ecfdfbc7c66431e0303dca179c138ac17ad9bef1177331a704"},
};

static char folder[TEST_FOLDER_MAX];
static char path[96];

static void set_up(void)
{
    ck_assert_int_eq(crypto_init(NULL), ST_OK);
    (void)test_folder_template(folder, "sw-crypto");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/key", folder);
}

static void tear_down(void)
{
    (void)unlink(path);
    ck_assert_int_eq(rmdir(folder), 0); /* no temporary file may be left */
}

START_TEST(signatures_are_those_of_the_standard)
{
    const struct vector *v = &VECTORS[_i];
    unsigned char seed[CRYPTO_SEED_BYTES], message[64], signature[CRYPTO_SIGNATURE_BYTES];
    size_t length = strlen(v->message) / 2;
    struct crypto_key key;
    char hex[CRYPTO_SIGNATURE_HEX];

    ck_assert(crypto_unhex(v->seed, seed, sizeof seed));
    ck_assert(crypto_unhex(v->message, message, length));
    crypto_key_from_seed(seed, &key);
    crypto_hex(key.public_key, sizeof key.public_key, hex);
    ck_assert_str_eq(hex, v->public_key);
    crypto_key_sign(&key, message, length, signature);
    crypto_hex(signature, sizeof signature, hex);
    ck_assert_str_eq(hex, v->signature);
    ck_assert(crypto_verify(key.public_key, message, length, signature));
}
END_TEST

START_TEST(any_flipped_bit_is_noticed)
{
    unsigned char key[CRYPTO_PUBLIC_BYTES], signature[CRYPTO_SIGNATURE_BYTES], message[2];

    ck_assert(crypto_unhex(VECTORS[2].public_key, key, sizeof key));
    ck_assert(crypto_unhex(VECTORS[2].signature, signature, sizeof signature));
    ck_assert(crypto_unhex(VECTORS[2].message, message, sizeof message));
    for (int bit = 0; bit < 8 * CRYPTO_SIGNATURE_BYTES; bit++) {
        signature[bit / 8] ^= (unsigned char)(1 << bit % 8);
        ck_assert(!crypto_verify(key, message, sizeof message, signature));
        signature[bit / 8] ^= (unsigned char)(1 << bit % 8);
    }
    for (int bit = 0; bit < 16; bit++) {
        message[bit / 8] ^= (unsigned char)(1 << bit % 8);
        ck_assert(!crypto_verify(key, message, sizeof message, signature));
        message[bit / 8] ^= (unsigned char)(1 << bit % 8);
    }
    ck_assert(!crypto_verify(key, message, 1, signature));
    ck_assert(crypto_verify(key, message, sizeof message, signature));
}
END_TEST

START_TEST(a_signature_with_the_group_order_added_is_refused)
{
    /* TEST 2 with S + L in place of S (RFC 8032, 5.1.7: S must be below L) */
    unsigned char key[CRYPTO_PUBLIC_BYTES], signature[CRYPTO_SIGNATURE_BYTES];

    ck_assert(crypto_unhex(VECTORS[1].public_key, key, sizeof key));
    ck_assert(crypto_unhex("92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da"
                           "f52db7415978abc61b2c2eb6aeebfca0387b2eaeb4302aeeb00d291612bb0c10",
                           signature, sizeof signature));
    ck_assert(!crypto_verify(key, "\x72", 1, signature));
}
END_TEST

START_TEST(hashes_are_those_of_the_standard)
{
    char hex[CRYPTO_HASH_HEX];
    struct crypto_hash hash;

    crypto_sha256_hex(NULL, 0, hex);
    ck_assert_str_eq(hex, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    crypto_sha256_hex("abc", 3, hex);
    ck_assert_str_eq(hex, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    crypto_hash_init(&hash);
    crypto_hash_add(&hash, "a", 1);
    crypto_hash_add(&hash, NULL, 0);
    crypto_hash_add(&hash, "bc", 2);
    crypto_hash_end_hex(&hash, hex);
    ck_assert_str_eq(hex, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}
END_TEST

START_TEST(hex_is_read_strictly)
{
    unsigned char bytes[2];

    ck_assert(crypto_unhex("aF09", bytes, 2));
    ck_assert_uint_eq(bytes[0], 0xaf);
    ck_assert(!crypto_unhex("aF0", bytes, 2));
    ck_assert(!crypto_unhex("aF090", bytes, 2));
    ck_assert(!crypto_unhex("aF0g", bytes, 2));
    ck_assert(!crypto_unhex(" F09", bytes, 2));
}
END_TEST

START_TEST(a_key_is_created_once_private_and_read_back)
{
    struct crypto_key first, second;
    struct stat facts;
    bool created = false;

    ck_assert_int_eq(crypto_key_load(path, &first, NULL), ST_NOT_FOUND);
    ck_assert_int_eq(crypto_key_open(path, &first, &created, NULL), ST_OK);
    ck_assert(created);
    ck_assert_int_eq(stat(path, &facts), 0);
    ck_assert_int_eq(facts.st_mode & 0777, 0600);
    ck_assert_int_eq(crypto_key_open(path, &second, &created, NULL), ST_OK);
    ck_assert(!created);
    ck_assert_mem_eq(&first, &second, sizeof first);
    ck_assert_int_eq(crypto_key_save(path, &first, NULL), ST_REFUSED); /* never replaced */
}
END_TEST

START_TEST(a_key_that_others_may_read_is_refused)
{
    struct crypto_key key, zero = {0};
    struct fault f = {0};

    ck_assert_int_eq(crypto_key_open(path, &key, NULL, NULL), ST_OK);
    ck_assert_int_eq(chmod(path, 0640), 0);
    ck_assert_int_eq(crypto_key_load(path, &key, &f), ST_REFUSED);
    ck_assert_ptr_nonnull(strstr(f.text, "chmod 600"));
    ck_assert_mem_eq(&key, &zero, sizeof key);
}
END_TEST

START_TEST(a_file_that_is_no_key_is_refused)
{
    static const char *const TEXTS[] = {
        "",
        "key\n",
        "9d61b19deffd5a60ba844af492ec2cc4\n",
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f6x\n",
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
        "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60\n\n\n\nand more\n"};
    struct crypto_key key;
    struct fault f = {0};

    ck_assert_int_eq(file_write_atomic(path, TEXTS[_i], strlen(TEXTS[_i]), 0600, true, NULL), ST_OK);
    ck_assert_int_eq(crypto_key_load(path, &key, &f), ST_BAD_REPLY);
    ck_assert_str_eq(f.where, path);
}
END_TEST

START_TEST(random_bytes_differ)
{
    unsigned char a[32] = {0}, b[32] = {0};

    crypto_random(a, sizeof a);
    crypto_random(b, sizeof b);
    ck_assert_mem_ne(a, b, sizeof a);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("crypto");
    TCase *tcase = tcase_create("all");

    tcase_add_checked_fixture(tcase, set_up, tear_down);
    tcase_add_loop_test(tcase, signatures_are_those_of_the_standard, 0, 4);
    tcase_add_test(tcase, any_flipped_bit_is_noticed);
    tcase_add_test(tcase, a_signature_with_the_group_order_added_is_refused);
    tcase_add_test(tcase, hashes_are_those_of_the_standard);
    tcase_add_test(tcase, hex_is_read_strictly);
    tcase_add_test(tcase, a_key_is_created_once_private_and_read_back);
    tcase_add_test(tcase, a_key_that_others_may_read_is_refused);
    tcase_add_loop_test(tcase, a_file_that_is_no_key_is_refused, 0, 6);
    tcase_add_test(tcase, random_bytes_differ);
    suite_add_tcase(suite, tcase);
    return suite;
}
