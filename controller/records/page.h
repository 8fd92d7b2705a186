/* page.h - plain text for people: wrapped lines, labels, headings, into a growing buffer.
 *
 * A simulated page repeats its mark in every heading. Thread: the caller's. Memory: grows; a
 * shortage is remembered and page_take then gives NULL.
 */
#ifndef RECORDS_PAGE_H
#define RECORDS_PAGE_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>

#define PAGE_WIDTH 78

struct page {
    char *text;
    size_t used;
    size_t room;
    bool is_short; /* of memory */
    bool is_simulated;
};

void page_init(struct page *page, bool is_simulated);
char *page_take(struct page *page); /* malloc'ed, the caller's; NULL: memory was short */

void page_rule(struct page *page, char mark);                            /* a line of marks */
void page_heading(struct page *page, const char *text);                  /* blank line, heading */
void page_paragraph(struct page *page, size_t indent, const char *text); /* wrapped at spaces only */
/* "  label:   text", the text wrapped beside the label. */
void page_field(struct page *page, const char *label, const char *format, ...) PRINTF_LIKE(3, 4);

#endif
