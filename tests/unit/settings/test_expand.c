#include "settings/expand.h"
#include "support/support.h"

#include <stdlib.h>
#include <string.h>

static char out[64];
static char why[EXPAND_WHY_MAX];

static void environment_set(void)
{
    ck_assert_int_eq(setenv("TANK_DIR", "/srv/tank", 1), 0);
    ck_assert_int_eq(setenv("TANK_EMPTY", "", 1), 0);
    ck_assert_int_eq(setenv("TANK_AGAIN", "${TANK_DIR}", 1), 0);
    ck_assert_int_eq(unsetenv("TANK_UNSET"), 0);
}

START_TEST(a_name_is_replaced_wherever_it_stands)
{
    ck_assert(expand_environment("${TANK_DIR}/control", out, sizeof out, why));
    ck_assert_str_eq(out, "/srv/tank/control");
    ck_assert(expand_environment("a${TANK_DIR}b${TANK_DIR}", out, sizeof out, why));
    ck_assert_str_eq(out, "a/srv/tankb/srv/tank");
    ck_assert(expand_environment("plain $HOME", out, sizeof out, why));
    ck_assert_str_eq(out, "plain $HOME");
}
END_TEST

START_TEST(an_unset_or_empty_name_takes_its_default)
{
    ck_assert(expand_environment("${TANK_UNSET:-1502}", out, sizeof out, why));
    ck_assert_str_eq(out, "1502");
    ck_assert(expand_environment("${TANK_EMPTY:-x}", out, sizeof out, why));
    ck_assert_str_eq(out, "x");
    ck_assert(expand_environment("${TANK_DIR:-x}", out, sizeof out, why));
    ck_assert_str_eq(out, "/srv/tank");
    ck_assert(expand_environment("${TANK_UNSET:-}", out, sizeof out, why));
    ck_assert_str_eq(out, "");
}
END_TEST

static const struct {
    const char *text;
    const char *says;
} REFUSED[] = {
    {"${TANK_UNSET}", "TANK_UNSET is not set"},
    {"${TANK_EMPTY}", "is not set"},
    {"${TANK_DIR", "closing }"},
    {"${}", "capital letters"},
    {"${tank}", "capital letters"},
    {"${1A}", "capital letters"},
    {"${TANK_DIR-x}", "capital letters"},
    {"${TANK_AGAIN}", "again"},
    {"${TANK_UNSET:-${TANK_DIR}}", "again"},
    {"${TANK_DIR}${TANK_DIR}${TANK_DIR}${TANK_DIR}${TANK_DIR}${TANK_DIR}${TANK_DIR}${TANK_DIR}", "too long"},
};

START_TEST(what_cannot_be_filled_in_is_refused)
{
    ck_assert_msg(!expand_environment(REFUSED[_i].text, out, sizeof out, why), "%s", REFUSED[_i].text);
    ck_assert_msg(strstr(why, REFUSED[_i].says) != NULL, "%s: %s", REFUSED[_i].text, why);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("expand");
    TCase *tests = tcase_create("names");

    tcase_add_checked_fixture(tests, environment_set, NULL);
    tcase_add_test(tests, a_name_is_replaced_wherever_it_stands);
    tcase_add_test(tests, an_unset_or_empty_name_takes_its_default);
    tcase_add_loop_test(tests, what_cannot_be_filled_in_is_refused, 0,
                        (int)(sizeof REFUSED / sizeof REFUSED[0]));
    suite_add_tcase(suite, tests);
    return suite;
}
