/* handbook_value.h - one word of "syrupwright handbook", read apart: "temp=68degF", "temp_c=0..100/10".
 *
 * Pure; no allocation. It knows neither functions nor units: what stands behind the numbers is handed
 * on as it is. The decimal sign is the point; unlike an option, a number here may have an exponent,
 * because those that are printed have one where they are very small or large.
 */
#ifndef CLIENT_HANDBOOK_VALUE_H
#define CLIENT_HANDBOOK_VALUE_H

#include "base/status.h"

#define HANDBOOK_WORD_NAME_MAX 48
#define HANDBOOK_POINTS_MAX 10000
#define HANDBOOK_NUMBER_MAX 40
#define HANDBOOK_HINT_MAX 128

/* One value, or all from one to another by steps, up or down. */
struct handbook_value {
    double from;
    double to;
    double step;      /* above 0; 0 for one value, and then to is from */
    const char *unit; /* what stands behind the numbers, within the text that was read; "" for nothing */
};

/* How an input could be given, for the sentences of refusals. */
struct handbook_hint {
    char value[HANDBOOK_HINT_MAX]; /* "strength_pct=62.5" */
    char range[HANDBOOK_HINT_MAX]; /* "strength_pct=40..80/10" */
};

/* "NAME=TEXT": the name is copied, *text points behind the sign. ST_REFUSED with the sentence for
 * anything else; nothing is written then. example: such a word, for the sentence. */
enum status handbook_word_split(const char *word, const char *example, char name[HANDBOOK_WORD_NAME_MAX],
                                const char **text, struct fault *f) MUST_USE;

/* "62.5", "68degF", "68 degF", "0..100/10", "32..212/20degF"; name and hint are for the sentence. ST_RANGE
 * with the sentence, and *value as it was, for what is no number, has a comma or three dots, lacks its step,
 * or makes more than HANDBOOK_POINTS_MAX points. */
enum status handbook_value_parse(const char *name, const char *text, const struct handbook_hint *hint,
                                 struct handbook_value *value, struct fault *f) MUST_USE;

/* A comma in a number parts thousands for one reader and is the decimal sign for the next: the sentence
 * says how to write either. ST_OK when there is none. name "" where there is no name. */
enum status handbook_comma_refuse(const char *name, const char *text, struct fault *f) MUST_USE;

/* How many points, 1 to HANDBOOK_POINTS_MAX, and each of them from 0 on. The end belongs to a range
 * when a step meets it. */
int handbook_value_count(const struct handbook_value *value);
double handbook_value_at(const struct handbook_value *value, int index);

/* The number at the start of text; returns what is behind it, NULL where there is none or one too
 * large for a double. */
const char *handbook_number_read(const char *text, double *value);

/* With 7 significant digits, as it can be read back. Returns out. */
const char *handbook_number_print(double value, char out[HANDBOOK_NUMBER_MAX]);

#endif
