/* Who is at the other end, and which role that gives. */
#include "remote/peer.h"
#include "support/support.h"

#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

START_TEST(nobody_in_particular_may_only_look)
{
    struct peer_facts facts = {.owner_role = ROLE_SUPERVISOR};

    ck_assert_int_eq(peer_role_decide(&facts), ROLE_LOOKER);
}
END_TEST

START_TEST(the_highest_group_counts)
{
    struct peer_facts facts = {.is_in_group = {[ROLE_HELPER] = true, [ROLE_OPERATOR] = true}};

    ck_assert_int_eq(peer_role_decide(&facts), ROLE_OPERATOR);
    facts.is_in_group[ROLE_SUPERVISOR] = true;
    ck_assert_int_eq(peer_role_decide(&facts), ROLE_SUPERVISOR);
    facts = (struct peer_facts){.is_in_group = {[ROLE_HELPER] = true}};
    ck_assert_int_eq(peer_role_decide(&facts), ROLE_HELPER);
}
END_TEST

START_TEST(the_owner_gets_the_role_of_the_settings_and_not_less_than_a_group_gives)
{
    struct peer_facts facts = {.is_owner = true, .owner_role = ROLE_OPERATOR};

    ck_assert_int_eq(peer_role_decide(&facts), ROLE_OPERATOR);
    facts.owner_role = ROLE_LOOKER;
    ck_assert_int_eq(peer_role_decide(&facts), ROLE_LOOKER);
    facts.is_in_group[ROLE_HELPER] = true;
    ck_assert_int_eq(peer_role_decide(&facts), ROLE_HELPER);
    facts.owner_role = ROLE_COUNT;
    ck_assert_int_eq(peer_role_decide(&facts), ROLE_HELPER);
}
END_TEST

START_TEST(root_is_supervisor)
{
    struct peer_facts facts = {.is_root = true};

    ck_assert_int_eq(peer_role_decide(&facts), ROLE_SUPERVISOR);
}
END_TEST

START_TEST(a_uid_without_a_name_may_only_look)
{
    struct settings *settings = calloc(1, sizeof *settings);
    struct who who;

    settings->owner_role = ROLE_SUPERVISOR;
    peer_describe(3999999998u, settings, &who);
    ck_assert_str_eq(who.name, "uid 3999999998");
    ck_assert_uint_eq(who.uid, 3999999998u);
    ck_assert_int_eq(who.role, ROLE_LOOKER);
    ck_assert_int_eq(who.door, DOOR_SHELL);
    free(settings);
}
END_TEST

START_TEST(a_group_gives_its_role_and_a_missing_group_none)
{
    struct settings *settings = calloc(1, sizeof *settings);
    struct who who;

    /* "daemon" is user and group 1 of every Debian: its own primary group. */
    (void)snprintf(settings->operator_group, sizeof settings->operator_group, "daemon");
    (void)snprintf(settings->supervisor_group, sizeof settings->supervisor_group, "no-such-group-here");
    peer_describe(1, settings, &who);
    ck_assert_str_eq(who.name, "daemon");
    ck_assert_int_eq(who.role, ROLE_OPERATOR);
    ck_assert_str_eq(peer_role_group(ROLE_OPERATOR, settings), "daemon");
    ck_assert_str_eq(peer_role_group(ROLE_HELPER, settings), "");
    ck_assert_str_eq(peer_role_group(ROLE_LOOKER, settings), "");
    free(settings);
}
END_TEST

START_TEST(the_kernel_says_who_is_connected)
{
    struct settings *settings = calloc(1, sizeof *settings);
    struct fault f = {0};
    struct who who;
    int ends[2];

    settings->owner_role = ROLE_HELPER;
    ck_assert_int_eq(socketpair(AF_UNIX, SOCK_STREAM, 0, ends), 0);
    ck_assert_int_eq(peer_identify(ends[0], settings, &who, &f), ST_OK);
    ck_assert_uint_eq(who.uid, getuid());
    ck_assert_int_eq(who.role, getuid() == 0 ? ROLE_SUPERVISOR : ROLE_HELPER);
    close(ends[0]);
    close(ends[1]);
    ck_assert_int_eq(peer_identify(ends[0], settings, &who, &f), ST_SYSTEM);
    free(settings);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("peer");
    TCase *tests = tcase_create("roles");

    tcase_add_test(tests, nobody_in_particular_may_only_look);
    tcase_add_test(tests, the_highest_group_counts);
    tcase_add_test(tests, the_owner_gets_the_role_of_the_settings_and_not_less_than_a_group_gives);
    tcase_add_test(tests, root_is_supervisor);
    tcase_add_test(tests, a_uid_without_a_name_may_only_look);
    tcase_add_test(tests, a_group_gives_its_role_and_a_missing_group_none);
    tcase_add_test(tests, the_kernel_says_who_is_connected);
    suite_add_tcase(suite, tests);
    return suite;
}
