/* show.h - replies of the daemon, laid out for people.
 *
 * Does:      print JSON of the protocol as plain lines; a missing or null number reads "unknown".
 * Does not:  decide anything, or trust a reply to be complete.
 * Control characters in texts from the daemon are printed as '?', so no record can steer a
 * terminal.
 */
#ifndef CLIENT_SHOW_H
#define CLIENT_SHOW_H

#include <jansson.h>
#include <stdbool.h>
#include <stdio.h>

#define SHOW_LINE_MAX 512

/* How to print: bold and colour only on a terminal, and not with NO_COLOR set. */
struct show {
    FILE *to;
    bool is_styled;
};
struct show show_open(FILE *to);

/* Tools for the pages below. */
double show_number(const json_t *object, const char *key);    /* NAN when there is none */
const char *show_text(const json_t *object, const char *key); /* "" when there is none */
void show_clean(const char *text, char out[SHOW_LINE_MAX]);   /* without control characters */
void show_row(const struct show *show, const char *label, const char *text);
void show_strong(const struct show *show, const char *label, const char *text);
void show_danger(const struct show *show, const char *label, const char *text);

/* The shopping list and the course of a batch: "plan" and "notes" of a reply. */
void show_plan(const struct show *show, const json_t *plan, const json_t *notes);

/* What is happening, what you must do now, may I touch it, how far, when ready. */
void show_state(const struct show *show, const json_t *state);

/* The same in one line, without its end; for watch where there is no terminal. */
void show_state_line(const json_t *state, char out[SHOW_LINE_MAX]);

/* "batches", "journal" and "you" of replies. */
void show_batches(const struct show *show, const json_t *batches);
void show_journal(const struct show *show, const json_t *journal);
void show_hello(const struct show *show, const json_t *reply);

#endif
