/* Whole small files. */
#include "runtime/file.h"
#include "support/folder.h"
#include "support/support.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static char folder[TEST_FOLDER_MAX];
static char path[96];

static void set_up(void)
{
    (void)test_folder_template(folder, "sw-file");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    (void)snprintf(path, sizeof path, "%s/file", folder);
}

static void tear_down(void)
{
    (void)unlink(path);
    ck_assert_int_eq(rmdir(folder), 0); /* no temporary file may be left */
}

START_TEST(a_file_is_written_whole_with_its_mode_and_read_back)
{
    char text[16];
    size_t length = 0;
    struct stat facts;

    ck_assert_int_eq(file_write_atomic(path, "syrup", 5, 0640, false, NULL), ST_OK);
    ck_assert_int_eq(stat(path, &facts), 0);
    ck_assert_int_eq(facts.st_mode & 0777, 0640);
    ck_assert_int_eq(file_read(path, text, sizeof text, &length, NULL), ST_OK);
    ck_assert_uint_eq(length, 5);
    ck_assert_str_eq(text, "syrup");
}
END_TEST

START_TEST(a_file_is_replaced_only_when_that_is_asked)
{
    char text[16];
    size_t length = 0;

    ck_assert_int_eq(file_write_atomic(path, "one", 3, 0600, false, NULL), ST_OK);
    ck_assert_int_eq(file_write_atomic(path, "two", 3, 0600, false, NULL), ST_REFUSED);
    ck_assert_int_eq(file_read(path, text, sizeof text, &length, NULL), ST_OK);
    ck_assert_str_eq(text, "one");
    ck_assert_int_eq(file_write_atomic(path, "two", 3, 0600, true, NULL), ST_OK);
    ck_assert_int_eq(file_read(path, text, sizeof text, &length, NULL), ST_OK);
    ck_assert_str_eq(text, "two");
}
END_TEST

START_TEST(what_cannot_be_done_is_said)
{
    char text[4];
    size_t length = 0;
    struct fault f = {0};

    ck_assert_int_eq(file_read(path, text, sizeof text, &length, &f), ST_NOT_FOUND);
    ck_assert_str_eq(f.where, path);
    ck_assert_int_eq(file_write_atomic(path, "four", 4, 0600, false, NULL), ST_OK);
    ck_assert_int_eq(file_read(path, text, sizeof text, &length, &f), ST_FULL);
    ck_assert_int_eq(file_read(folder, text, sizeof text, &length, &f), ST_SYSTEM);
    ck_assert_int_eq(file_write_atomic("/no/such/folder/file", "x", 1, 0600, true, &f), ST_SYSTEM);
    ck_assert_str_ne(f.text, "");
}
END_TEST

START_TEST(a_private_file_is_told_from_a_readable_one)
{
    ck_assert_int_eq(file_write_atomic(path, "x", 1, 0600, false, NULL), ST_OK);
    ck_assert_int_eq(file_check_private(path, NULL), ST_OK);
    ck_assert_int_eq(chmod(path, 0604), 0);
    ck_assert_int_eq(file_check_private(path, NULL), ST_REFUSED);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("file");
    TCase *tcase = tcase_create("all");

    tcase_add_checked_fixture(tcase, set_up, tear_down);
    tcase_add_test(tcase, a_file_is_written_whole_with_its_mode_and_read_back);
    tcase_add_test(tcase, a_file_is_replaced_only_when_that_is_asked);
    tcase_add_test(tcase, what_cannot_be_done_is_said);
    tcase_add_test(tcase, a_private_file_is_told_from_a_readable_one);
    suite_add_tcase(suite, tcase);
    return suite;
}
