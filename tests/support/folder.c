#include "support/folder.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A socket's path has 107 bytes at most, and the names below this folder need most of them. */
#define BASE_MAX 34

const char *test_folder(char out[TEST_FOLDER_MAX])
{
    const char *base = getenv("TMPDIR");

    if (base == NULL || base[0] != '/' || strlen(base) > BASE_MAX)
        base = "/tmp";
    (void)snprintf(out, TEST_FOLDER_MAX, "%s", base);
    return out;
}

const char *test_folder_template(char out[TEST_FOLDER_MAX], const char *name)
{
    char base[TEST_FOLDER_MAX];

    (void)snprintf(out, TEST_FOLDER_MAX, "%.34s/%.20s-XXXXXX", test_folder(base), name);
    return out;
}
