/* Modbus frames as bytes. The read of holding registers 108-110 of unit 17 and its reply, and the
 * write of register 1 are the examples of Modbus Application Protocol V1.1b, 6.3 and 6.6. */
#include "drivers/modbus_frame.h"
#include "support/support.h"

#include <string.h>

static const struct frame_request READ = {17, FRAME_READ_HOLDING, 107, 3, {0, 0}};
static const uint8_t READ_REPLY[] = {17, 3, 6, 0x02, 0x2b, 0x00, 0x00, 0x00, 0x64};
static const struct frame_request WRITE = {17, FRAME_WRITE_REGISTER, 1, 1, {3, 0}};
static const uint8_t WRITE_FRAME[] = {17, 6, 0, 1, 0, 3};

START_TEST(requests_have_the_bytes_of_the_specification)
{
    static const uint8_t READ_FRAME[] = {17, 3, 0x00, 0x6b, 0x00, 0x03};
    static const uint8_t COIL_FRAME[] = {17, 5, 0x00, 0xac, 0xff, 0x00};
    static const uint8_t LONG_FRAME[] = {17, 16, 0x00, 0x01, 0x00, 0x02, 0x04, 0x00, 0x0a, 0x01, 0x02};
    struct frame_request coil = {17, FRAME_WRITE_COIL, 0xac, 1, {1, 0}};
    struct frame_request words = {17, FRAME_WRITE_REGISTERS, 1, 2, {0x000a, 0x0102}};
    uint8_t frame[FRAME_MAX];

    ck_assert_uint_eq(modbus_frame_build(&READ, frame), 6);
    ck_assert_mem_eq(frame, READ_FRAME, 6);
    ck_assert_uint_eq(modbus_frame_build(&WRITE, frame), 6);
    ck_assert_mem_eq(frame, WRITE_FRAME, 6);
    ck_assert_uint_eq(modbus_frame_build(&coil, frame), 6);
    ck_assert_mem_eq(frame, COIL_FRAME, 6);
    ck_assert_uint_eq(modbus_frame_build(&words, frame), 11);
    ck_assert_mem_eq(frame, LONG_FRAME, 11);
}
END_TEST

START_TEST(the_tcp_header_counts_what_follows)
{
    static const uint8_t FRAME[] = {0x12, 0x34, 0, 0, 0, 6, 17, 3, 0x00, 0x6b, 0x00, 0x03};
    uint8_t frame[FRAME_MAX];

    ck_assert_uint_eq(modbus_frame_build_tcp(&READ, 0x1234, frame), 12);
    ck_assert_mem_eq(frame, FRAME, 12);
}
END_TEST

static enum status check(const struct frame_request *request, const uint8_t *frame, size_t length)
{
    uint16_t words[FRAME_BITS_MAX];
    const char *why = "";
    int exception = 0;

    return modbus_frame_check(request, frame, length, words, &exception, &why);
}

START_TEST(a_right_reply_gives_its_words)
{
    uint16_t words[3] = {0};
    const char *why = "";
    int exception = 0;

    ck_assert_int_eq(modbus_frame_check(&READ, READ_REPLY, sizeof READ_REPLY, words, &exception, &why),
                     ST_OK);
    ck_assert_uint_eq(words[0], 555);
    ck_assert_uint_eq(words[1], 0);
    ck_assert_uint_eq(words[2], 100);
    ck_assert_int_eq(check(&WRITE, WRITE_FRAME, sizeof WRITE_FRAME), ST_OK);
}
END_TEST

START_TEST(bits_come_lowest_first)
{
    /* Modbus Application Protocol V1.1b, 6.1: coils 20-38 of 19 */
    static const uint8_t REPLY[] = {17, 1, 3, 0xcd, 0x6b, 0x05};
    static const uint8_t BITS[19] = {1, 0, 1, 1, 0, 0, 1, 1, 1, 1, 0, 1, 0, 1, 1, 0, 1, 0, 1};
    struct frame_request request = {17, FRAME_READ_COILS, 19, 19, {0, 0}};
    uint16_t words[19];
    const char *why = "";
    int exception = 0;

    ck_assert_int_eq(modbus_frame_check(&request, REPLY, sizeof REPLY, words, &exception, &why), ST_OK);
    for (int i = 0; i < 19; i++)
        ck_assert_uint_eq(words[i], BITS[i]);
}
END_TEST

START_TEST(any_changed_byte_of_the_frame_is_refused)
{
    uint8_t frame[sizeof READ_REPLY];

    for (size_t i = 0; i < 3; i++)
        for (int bit = 0; bit < 8; bit++) {
            memcpy(frame, READ_REPLY, sizeof frame);
            frame[i] ^= (uint8_t)(1 << bit);
            ck_assert_int_eq(check(&READ, frame, sizeof frame), ST_BAD_REPLY);
        }
    for (size_t i = 0; i < 6; i++)
        for (int bit = 0; bit < 8; bit++) {
            memcpy(frame, WRITE_FRAME, 6);
            frame[i] ^= (uint8_t)(1 << bit);
            ck_assert_int_eq(check(&WRITE, frame, 6), ST_BAD_REPLY);
        }
}
END_TEST

START_TEST(any_other_length_is_refused)
{
    uint8_t frame[sizeof READ_REPLY + 8] = {0};

    memcpy(frame, READ_REPLY, sizeof READ_REPLY);
    for (size_t length = 0; length < sizeof frame; length++)
        ck_assert_int_eq(check(&READ, frame, length), length == sizeof READ_REPLY ? ST_OK : ST_BAD_REPLY);
}
END_TEST

START_TEST(an_exception_is_told_apart)
{
    static const uint8_t FRAME[] = {17, 0x83, 2, 0};
    uint16_t words[3];
    const char *why = "";
    int exception = 0;

    ck_assert_int_eq(modbus_frame_check(&READ, FRAME, 3, words, &exception, &why), ST_EXCEPTION);
    ck_assert_int_eq(exception, 2);
    ck_assert_str_eq(modbus_frame_exception(2), "it has no such register");
    ck_assert_str_eq(modbus_frame_exception(7), "for an unknown reason");
    ck_assert_int_eq(check(&READ, FRAME, 4), ST_BAD_REPLY);
    ck_assert_int_eq(check(&WRITE, FRAME, 3), ST_BAD_REPLY);
}
END_TEST

START_TEST(a_tcp_reply_must_fit_the_request_and_its_own_length)
{
    uint8_t frame[16] = {0x12, 0x34, 0, 0, 0, 9};
    uint16_t words[3];
    const char *why = "";
    int exception = 0;

    memcpy(frame + 6, READ_REPLY, sizeof READ_REPLY);
    ck_assert_int_eq(modbus_frame_check_tcp(&READ, 0x1234, frame, 15, words, &exception, &why), ST_OK);
    ck_assert_int_eq(modbus_frame_check_tcp(&READ, 0x1235, frame, 15, words, &exception, &why), ST_BAD_REPLY);
    ck_assert_int_eq(modbus_frame_check_tcp(&READ, 0x1234, frame, 5, words, &exception, &why), ST_BAD_REPLY);
    frame[5] = 10;
    ck_assert_int_eq(modbus_frame_check_tcp(&READ, 0x1234, frame, 15, words, &exception, &why), ST_BAD_REPLY);
    frame[5] = 9;
    frame[3] = 1;
    ck_assert_int_eq(modbus_frame_check_tcp(&READ, 0x1234, frame, 15, words, &exception, &why), ST_BAD_REPLY);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("modbus_frame");
    TCase *tcase = tcase_create("all");

    tcase_add_test(tcase, requests_have_the_bytes_of_the_specification);
    tcase_add_test(tcase, the_tcp_header_counts_what_follows);
    tcase_add_test(tcase, a_right_reply_gives_its_words);
    tcase_add_test(tcase, bits_come_lowest_first);
    tcase_add_test(tcase, any_changed_byte_of_the_frame_is_refused);
    tcase_add_test(tcase, any_other_length_is_refused);
    tcase_add_test(tcase, an_exception_is_told_apart);
    tcase_add_test(tcase, a_tcp_reply_must_fit_the_request_and_its_own_length);
    suite_add_tcase(suite, tcase);
    return suite;
}
