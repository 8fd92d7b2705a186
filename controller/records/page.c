#include "records/page.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define LABEL_COLUMN 26
#define FIELD_MAX 2048

void page_init(struct page *page, bool is_simulated)
{
    memset(page, 0, sizeof *page);
    page->is_simulated = is_simulated;
}

static void append(struct page *page, const char *text, size_t length)
{
    if (page->used + length + 1 > page->room) {
        size_t room = (page->used + length + 1) * 2;
        char *grown = realloc(page->text, room);

        if (grown == NULL) {
            page->is_short = true;
            return;
        }
        page->text = grown;
        page->room = room;
    }
    memcpy(page->text + page->used, text, length);
    page->used += length;
    page->text[page->used] = '\0';
}

char *page_take(struct page *page)
{
    char *text = page->text;

    if (page->is_short) {
        free(text);
        text = NULL;
    }
    memset(page, 0, sizeof *page);
    return text;
}

static void spaces(struct page *page, size_t count)
{
    while (count-- > 0)
        append(page, " ", 1);
}

/* Columns a text takes: UTF-8 continuation bytes take none. */
static size_t width(const char *text, size_t length)
{
    size_t columns = 0;

    for (size_t i = 0; i < length; i++)
        columns += ((unsigned char)text[i] & 0xc0) != 0x80;
    return columns;
}

/* Words from column `at` on; further lines begin at indent. A word is never broken: hashes stay whole. */
static void wrap(struct page *page, size_t at, size_t indent, const char *text)
{
    bool is_first = true;

    while (*text != '\0') {
        size_t length = strcspn(text, " ");
        size_t columns = width(text, length);

        if (!is_first && at + 1 + columns > PAGE_WIDTH) {
            append(page, "\n", 1);
            spaces(page, indent);
            at = indent;
        } else if (!is_first) {
            append(page, " ", 1);
            at++;
        }
        append(page, text, length);
        at += columns;
        text += length;
        text += strspn(text, " ");
        is_first = false;
    }
    append(page, "\n", 1);
}

void page_rule(struct page *page, char mark)
{
    char line[PAGE_WIDTH + 1];

    memset(line, mark, PAGE_WIDTH);
    line[PAGE_WIDTH] = '\n';
    append(page, line, sizeof line);
}

void page_heading(struct page *page, const char *text)
{
    append(page, "\n", 1);
    if (page->is_simulated)
        append(page, "[SIMULATED] ", 12);
    append(page, text, strlen(text));
    append(page, "\n", 1);
    page_rule(page, '-');
}

void page_paragraph(struct page *page, size_t indent, const char *text)
{
    spaces(page, indent);
    wrap(page, indent, indent, text);
}

void page_field(struct page *page, const char *label, const char *format, ...)
{
    char text[FIELD_MAX];
    size_t columns = 3 + width(label, strlen(label));
    va_list args;

    va_start(args, format);
    (void)vsnprintf(text, sizeof text, format, args);
    va_end(args);
    append(page, "  ", 2);
    append(page, label, strlen(label));
    append(page, ":", 1);
    spaces(page, columns < LABEL_COLUMN ? LABEL_COLUMN - columns : 1);
    wrap(page, columns < LABEL_COLUMN ? LABEL_COLUMN : columns + 1, LABEL_COLUMN, text);
}
