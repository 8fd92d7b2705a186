#include "settings/settings_errors.h"

#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

static void where_print(char *out, size_t size, const char *file, int line)
{
    char number[16];
    int digits = snprintf(number, sizeof number, ":%d", line);
    size_t room = size - 1 - (size_t)digits;
    size_t length = strlen(file);

    if (length <= room)
        (void)snprintf(out, size, "%s%s", file, number);
    else
        (void)snprintf(out, size, "...%s%s", file + (length - (room - 3)), number);
}

void settings_errors_add(struct settings_errors *errors, const char *file, int line, const char *format, ...)
{
    struct fault *f;
    va_list args;

    if (errors->count++ >= SETTINGS_ERRORS_MAX)
        return;
    f = &errors->errors[errors->count - 1];
    f->code = ST_SETTINGS;
    where_print(f->where, sizeof f->where, file, line);
    va_start(args, format);
    (void)vsnprintf(f->text, sizeof f->text, format, args);
    va_end(args);
}

static int fault_compare(const void *left, const void *right)
{
    const struct fault *a = left;
    const struct fault *b = right;
    const char *a_line = strrchr(a->where, ':');
    const char *b_line = strrchr(b->where, ':');
    size_t length = (size_t)(a_line - a->where);
    int order;

    if (length != (size_t)(b_line - b->where))
        return strcmp(a->where, b->where);
    order = strncmp(a->where, b->where, length);
    if (order == 0)
        order = atoi(a_line + 1) - atoi(b_line + 1);
    return order != 0 ? order : strcmp(a->text, b->text);
}

void settings_errors_sort(struct settings_errors *errors)
{
    int kept = errors->count < SETTINGS_ERRORS_MAX ? errors->count : SETTINGS_ERRORS_MAX;

    qsort(errors->errors, (size_t)kept, sizeof errors->errors[0], fault_compare);
}
