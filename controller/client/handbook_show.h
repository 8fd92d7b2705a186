/* handbook_show.h - functions of the handbook and their results, laid out for people and for programs.
 *
 * Does:      print to a stream, or make JSON (a new reference, NULL when memory is short).
 * Does not:  check anything; calls come checked from handbook_call.h.
 */
#ifndef CLIENT_HANDBOOK_SHOW_H
#define CLIENT_HANDBOOK_SHOW_H

#include "client/handbook_call.h"

#include <jansson.h>
#include <stdio.h>

#define HANDBOOK_EXAMPLE_MAX 320

/* Does the text stand in the name or the words of a function? Capitals do not matter; an underscore is a
 * blank. */
bool handbook_is_about(const struct handbook_entry *entry, const char *text);

/* All sections with their functions; with a text only what is about it, and no empty section. */
void handbook_list_print(const char *text, FILE *to);
json_t *handbook_list_json(const char *text);

/* What a function takes and gives, its range, source and error, and a line to try. */
void handbook_entry_print(const struct handbook_entry *entry, FILE *to);
json_t *handbook_entry_json(const struct handbook_entry *entry);

/* The results of a call of one row; in and out are that row. */
void handbook_point_print(const struct handbook_call *call, const double in[], const double out[], FILE *to);
json_t *handbook_point_json(const struct handbook_call *call, const double in[], const double out[]);

/* A call with ranges: a line or object a row. *outside counts the rows out of range. */
void handbook_table_print(const struct handbook_call *call, FILE *to, int *outside);
json_t *handbook_table_json(const struct handbook_call *call, int *outside);

/* A command line that works; false when no inputs were found that the function takes together. */
bool handbook_example(const struct handbook_entry *entry, char out[HANDBOOK_EXAMPLE_MAX]);

/* All functions as rows of a table of DEVELOPERS.md. */
void handbook_markdown_print(FILE *to);

#endif
