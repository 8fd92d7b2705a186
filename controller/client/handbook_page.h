/* handbook_page.h - text in lines as wide as the page. Prints to a stream; no allocation. */
#ifndef CLIENT_HANDBOOK_PAGE_H
#define CLIENT_HANDBOOK_PAGE_H

#include <stdio.h>

/* Columns of the page: of COLUMNS in the environment, else of the terminal on standard output, else 80;
 * at least 40. */
int handbook_page_width(void);

/* Words on a line that has begun and reaches to column *at; the lines after it are indented. */
void handbook_words_print(const char *text, int indent, int *at, FILE *to);

/* A label, and the text beside it in lines that begin below each other. */
void handbook_wrapped_print(const char *label, int indent, const char *text, FILE *to);

#endif
