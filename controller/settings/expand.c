#include "settings/expand.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define NAME_MAX_BYTES 48

static bool say(char *why, const char *clause)
{
    (void)snprintf(why, EXPAND_WHY_MAX, "%s", clause);
    return false;
}

bool expand_is_needed(const char *text)
{
    return strstr(text, "${") != NULL;
}

/* The value of what stands between ${ and }: a name, or a name, ":-" and a default. */
static bool name_eval(const char *inner, size_t length, const char **value, size_t *value_length, char *why)
{
    static const char LETTERS[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZ_0123456789";
    size_t name_length = strspn(inner, LETTERS);
    bool has_default = strncmp(inner + name_length, ":-", 2) == 0;
    char name[NAME_MAX_BYTES];
    const char *set;

    if (name_length == 0 || name_length >= sizeof name || inner[0] <= '9' ||
        (!has_default && name_length != length))
        return say(why, "write ${NAME} or ${NAME:-default}, the name in capital letters");
    (void)snprintf(name, sizeof name, "%.*s", (int)name_length, inner);
    set = getenv(name);
    if (set != NULL && set[0] != '\0') {
        *value = set;
        *value_length = strlen(set);
        return true;
    }
    if (!has_default) {
        (void)snprintf(why, EXPAND_WHY_MAX,
                       "the environment variable %s is not set; set it, or write ${%s:-default}", name, name);
        return false;
    }
    *value = inner + name_length + 2;
    *value_length = length - name_length - 2;
    return true;
}

bool expand_environment(const char *text, char *out, size_t size, char why[EXPAND_WHY_MAX])
{
    size_t used = 0;

    while (*text != '\0') {
        const char *piece = text;
        size_t length = 1;

        if (strncmp(text, "${", 2) == 0) {
            const char *end = strchr(text, '}');

            if (end == NULL)
                return say(why, "the closing } of ${ is missing");
            if (!name_eval(text + 2, (size_t)(end - text - 2), &piece, &length, why))
                return false;
            text = end;
        }
        if (length >= size - used)
            return say(why, "the text is too long once its variables are filled in");
        memcpy(out + used, piece, length);
        used += length;
        text++;
    }
    out[used] = '\0';
    if (expand_is_needed(out))
        return say(why, "the value that was filled in contains ${ again; that is not looked at");
    return true;
}
