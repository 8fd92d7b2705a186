/* folder.h - where a test puts its temporary files.
 *
 * Makes nothing and removes nothing: the test calls mkdtemp or mkstemp and removes what it made.
 */
#ifndef TESTS_FOLDER_H
#define TESTS_FOLDER_H

#define TEST_FOLDER_MAX 64

/* TMPDIR when it is absolute and short enough for out, otherwise /tmp. Returns out. */
const char *test_folder(char out[TEST_FOLDER_MAX]);

/* "<test_folder>/<name>-XXXXXX", for mkdtemp or mkstemp; name has at most 20 bytes. Returns out. */
const char *test_folder_template(char out[TEST_FOLDER_MAX], const char *name);

#endif
