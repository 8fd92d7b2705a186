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

/* Does the text stand in the name or the words of a function, among its inputs, results or choices, or is it
 * another word for that? Each word of several may stand elsewhere. Capitals do not matter; an underscore is
 * a blank. */
bool handbook_is_about(const struct handbook_entry *entry, const char *text);

/* Is any function about it, or does a title have it? */
bool handbook_is_found(const char *text);

/* Does a list about the text have this function: being about it, or by the title of its section, where
 * that has several words of it, or none is about it? text NULL: every one. */
bool handbook_is_listed(const struct handbook_section *section, const struct handbook_entry *entry,
                        const char *text);

/* All sections with their functions; with a text only those listed for it, and no empty section. */
void handbook_list_print(const char *text, FILE *to);
json_t *handbook_list_json(const char *text);

/* What a function takes and gives, its range, source and error, and a line to try. */
void handbook_entry_print(const struct handbook_entry *entry, FILE *to);
json_t *handbook_entry_json(const struct handbook_entry *entry);

/* One result for people: a choice by its name; low, best and high of a span with 3 digits, as more are not
 * known of them; another number with 7, as tables print them. Returns out. */
const char *handbook_result_print(const struct handbook_entry *entry, size_t output, double value,
                                  char out[HANDBOOK_WORD_NAME_MAX]);

/* An input with its value, and what else is printed above and below results. */
void handbook_head_print(const struct handbook_entry *entry, FILE *to);
void handbook_input_print(const struct handbook_input *input, double value, FILE *to);
void handbook_notes_print(const struct handbook_entry *entry, FILE *to);

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
