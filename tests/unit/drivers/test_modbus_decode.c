/* Registers to numbers and back. The float patterns are IEEE 754 single precision, worked by hand:
 * 61.9 = 0x4277999a, 4.25 = 0x40880000, -1.5 = 0xbfc00000. */
#include "drivers/modbus_decode.h"
#include "support/support.h"

#include <math.h>

struct decode_case {
    enum register_type type;
    enum word_order order;
    uint16_t words[2];
    double scale, offset, resolution;
    double value;
};

static const struct decode_case DECODES[] = {
    {TYPE_U16, HIGH_WORD_FIRST, {215, 0}, 0.1, 0, 0.1, 21.5},
    {TYPE_U16, HIGH_WORD_FIRST, {65535, 0}, 1, 0, 0, 65535},
    {TYPE_S16, HIGH_WORD_FIRST, {0xffff, 0}, 0.1, 0, 0.1, -0.1},
    {TYPE_S16, HIGH_WORD_FIRST, {0x8000, 0}, 1, 0, 0, -32768},
    {TYPE_U32, HIGH_WORD_FIRST, {0x0001, 0x0002}, 1, 0, 0, 65538},
    {TYPE_U32, LOW_WORD_FIRST, {0x0001, 0x0002}, 1, 0, 0, 131073},
    {TYPE_U32, LOW_WORD_FIRST, {0xffff, 0xffff}, 0.01, 0, 0.01, 42949672.95},
    {TYPE_S32, HIGH_WORD_FIRST, {0xffff, 0xfffe}, 1, 0, 0, -2},
    {TYPE_S32, LOW_WORD_FIRST, {0xfffe, 0xffff}, 1, 0, 0, -2},
    {TYPE_S32, HIGH_WORD_FIRST, {0x8000, 0x0000}, 1, 0, 0, -2147483648.0},
    {TYPE_F32, HIGH_WORD_FIRST, {0x4277, 0x999a}, 1, 0, 0.01, 61.9},
    {TYPE_F32, LOW_WORD_FIRST, {0x0000, 0x4088}, 1, 0, 0.01, 4.25},
    {TYPE_F32, HIGH_WORD_FIRST, {0xbfc0, 0x0000}, 2, 1, 0, -2},
    {TYPE_BIT, HIGH_WORD_FIRST, {1, 0}, 0, 0, 0, 1},
    {TYPE_BIT, HIGH_WORD_FIRST, {0x0100, 0}, 0, 0, 0, 1},
    {TYPE_BIT, HIGH_WORD_FIRST, {0, 0}, 0, 0, 0, 0},
};

static struct channel channel_of(const struct decode_case *c)
{
    return (struct channel){.point = POINT_TANK_TEMP_C,
                            .kind = REGISTER_HOLDING,
                            .type = c->type,
                            .order = c->order,
                            .scale = c->scale,
                            .offset = c->offset,
                            .resolution = c->resolution};
}

START_TEST(registers_become_the_number_they_stand_for)
{
    struct channel channel = channel_of(&DECODES[_i]);
    double value = -1;

    ck_assert(modbus_decode(&channel, DECODES[_i].words, &value));
    ck_near(value, DECODES[_i].value, 1e-9 * fmax(1, fabs(DECODES[_i].value)));
}
END_TEST

START_TEST(numbers_become_the_registers_they_came_from)
{
    struct channel channel = channel_of(&DECODES[_i]);
    uint16_t words[2] = {0xaaaa, 0xaaaa};
    double again = -1;

    ck_assert(modbus_encode(&channel, DECODES[_i].value, words));
    ck_assert(modbus_decode(&channel, words, &again));
    ck_near(again, DECODES[_i].value, 1e-9 * fmax(1, fabs(DECODES[_i].value)));
}
END_TEST

START_TEST(floats_that_are_no_numbers_are_refused)
{
    static const uint16_t WORDS[][2] = {
        {0x7fc0, 0x0000}, {0xffc0, 0x0001}, {0x7f80, 0x0000}, {0xff80, 0x0000}, {0x7f80, 0x0001}};
    struct channel channel = {.type = TYPE_F32, .order = HIGH_WORD_FIRST, .scale = 1, .resolution = 0.01};
    double value = 7;

    ck_assert(!modbus_decode(&channel, WORDS[_i], &value));
    ck_assert(value == 0);
}
END_TEST

START_TEST(rounding_gives_the_double_nearest_to_the_decimal)
{
    ck_assert(modbus_decode_round(61.904999, 0.01) == 61.90);
    ck_assert(modbus_decode_round(61.905001, 0.01) == 61.91);
    ck_assert(modbus_decode_round(0.15, 0.1) == 0.2);
    ck_assert(modbus_decode_round(-0.15, 0.1) == -0.2);
    ck_assert(modbus_decode_round(-0.01, 0.1) == 0);
    ck_assert(!signbit(modbus_decode_round(-0.01, 0.1)));
    ck_assert(modbus_decode_round(7.3, 0.5) == 7.5);
    ck_assert(modbus_decode_round(8, 5) == 10);
    ck_assert(modbus_decode_round(1.23456, 0) == 1.23456);
}
END_TEST

START_TEST(an_inverted_contact_is_turned_over_both_ways)
{
    struct channel channel = {.type = TYPE_BIT, .is_inverted = true};
    uint16_t words[2] = {1, 0};
    double value = -1;

    ck_assert(modbus_decode(&channel, words, &value));
    ck_assert(value == 0);
    ck_assert(modbus_encode(&channel, 1, words));
    ck_assert_uint_eq(words[0], 0);
    ck_assert(modbus_encode(&channel, 0, words));
    ck_assert_uint_eq(words[0], 1);
}
END_TEST

START_TEST(a_number_outside_the_register_is_cut_to_its_limit)
{
    struct channel channel = {.type = TYPE_U16, .scale = 0.1};
    uint16_t words[2];

    ck_assert(modbus_encode(&channel, 1e9, words));
    ck_assert_uint_eq(words[0], 65535);
    ck_assert(modbus_encode(&channel, -5, words));
    ck_assert_uint_eq(words[0], 0);
    channel.type = TYPE_S16;
    ck_assert(modbus_encode(&channel, -1e9, words));
    ck_assert_uint_eq(words[0], 0x8000);
}
END_TEST

START_TEST(what_is_no_number_is_not_written)
{
    struct channel channel = {.type = TYPE_U16, .scale = 0.1};
    uint16_t words[2] = {9, 9};

    ck_assert(!modbus_encode(&channel, nan(""), words));
    ck_assert(!modbus_encode(&channel, HUGE_VAL, words));
    ck_assert_uint_eq(words[0], 0);
    channel.scale = 0;
    ck_assert(!modbus_encode(&channel, 1, words));
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("modbus_decode");
    TCase *tcase = tcase_create("all");
    int cases = (int)(sizeof DECODES / sizeof DECODES[0]);

    tcase_add_loop_test(tcase, registers_become_the_number_they_stand_for, 0, cases);
    tcase_add_loop_test(tcase, numbers_become_the_registers_they_came_from, 0, cases);
    tcase_add_loop_test(tcase, floats_that_are_no_numbers_are_refused, 0, 5);
    tcase_add_test(tcase, rounding_gives_the_double_nearest_to_the_decimal);
    tcase_add_test(tcase, an_inverted_contact_is_turned_over_both_ways);
    tcase_add_test(tcase, a_number_outside_the_register_is_cut_to_its_limit);
    tcase_add_test(tcase, what_is_no_number_is_not_written);
    suite_add_tcase(suite, tcase);
    return suite;
}
