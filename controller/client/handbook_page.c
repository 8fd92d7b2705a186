#include "client/handbook_page.h"

#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

#define WIDTH_MIN 40
#define WIDTH_USUAL 80
#define WIDTH_MAX 1000

int handbook_page_width(void)
{
    const char *columns = getenv("COLUMNS");
    long width = columns == NULL ? 0 : strtol(columns, NULL, 10);
    struct winsize size = {0};

    if (width <= 0 && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0)
        width = size.ws_col;
    if (width <= 0)
        return WIDTH_USUAL;
    return width < WIDTH_MIN ? WIDTH_MIN : (int)(width > WIDTH_MAX ? WIDTH_MAX : width);
}

void handbook_words_print(const char *text, int indent, int *at, FILE *to)
{
    const int width = handbook_page_width();

    while (*text != '\0') {
        int length = (int)strcspn(text, " ");

        if (*at > indent && *at + 1 + length > width)
            *at = fprintf(to, "\n%*s", indent, "") - 1;
        *at += fprintf(to, "%s%.*s", *at > indent ? " " : "", length, text);
        text += length + (text[length] == ' ' ? 1 : 0);
    }
}

void handbook_wrapped_print(const char *label, int indent, const char *text, FILE *to)
{
    int at = fprintf(to, "%-*s", indent, label);

    if (at > indent)
        at = fprintf(to, "\n%*s", indent, "") - 1;
    handbook_words_print(text, indent, &at, to);
    (void)fprintf(to, "\n");
}
