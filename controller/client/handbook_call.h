/* handbook_call.h - a function of the handbook with the inputs of a command line: one point or a table.
 *
 * Does:      match words to inputs by name, or by a name without its unit and a unit of one's own, in
 *            capitals or not; check units, ranges, completeness; then give row after row.
 * Does not:  print, or allocate. The words must live as long as the call.
 */
#ifndef CLIENT_HANDBOOK_CALL_H
#define CLIENT_HANDBOOK_CALL_H

#include "client/handbook_value.h"
#include "science/handbook.h"
#include "science/units.h"

#define HANDBOOK_RANGES_MAX 2
#define HANDBOOK_NAMES_MAX 256

struct handbook_input {
    const struct handbook_quantity *quantity;
    bool is_given;
    struct handbook_value value; /* in the unit below; of a choice its number */
    const struct unit *unit;     /* the person's own; NULL: that of the handbook, or none */
    bool is_left_out;            /* the usual value stands for it */
};

struct handbook_call {
    const struct handbook_entry *entry;
    size_t input_count;
    struct handbook_input inputs[HANDBOOK_INPUTS_MAX];
    int range_count;
    size_t ranges[HANDBOOK_RANGES_MAX]; /* which inputs run; the last one fastest */
    int rows;
};

/* A litre of water at 20 degC: water may be given by its volume, where its mass is asked. */
#define HANDBOOK_WATER_KG_L 0.9982

/* "NAME=VALUE" words into a call; for ratio_strength also "2:1 by weight", in one word or several.
 * ST_REFUSED (the command line is wrong: an unknown, repeated or missing input) or ST_RANGE (a value or
 * unit is wrong, or outside the range) with the sentence; a range is not checked here but row by row. */
enum status handbook_call_make(const struct handbook_entry *entry, const char *const words[], int count,
                               struct handbook_call *call, struct fault *f) MUST_USE;

/* An input in row 0 to rows - 1, as the person wrote it. */
double handbook_call_value(const struct handbook_call *call, size_t input, int row);

/* The inputs of a row in the handbook's units; not finite where the unit has no such value. */
void handbook_call_inputs(const struct handbook_call *call, int row, double in[HANDBOOK_INPUTS_MAX]);

/* The same, and the results; ST_RANGE leaves out as it was. */
enum status handbook_call_row(const struct handbook_call *call, int row, double in[HANDBOOK_INPUTS_MAX],
                              double out[HANDBOOK_OUTPUTS_MAX]) MUST_USE;

/* A value as it was written into the handbook's unit; ST_RANGE where the unit has no such value. */
enum status handbook_input_convert(const struct handbook_input *input, double value,
                                   double *converted) MUST_USE;

/* Is it given by a volume of water, though it is a mass? */
bool handbook_is_water(const struct handbook_input *input);

/* One "NAME=VALUE" into its input: handbook_take.c. */
enum status handbook_word_take(struct handbook_call *call, const char *word, struct fault *f) MUST_USE;

/* The input of that name; capitals do not matter; NULL when there is none. */
const struct handbook_input *handbook_input_find(const struct handbook_call *call, const char *name);

/* The number of a choice by what a person writes: its name in any capitals, with blanks, underscores or
 * neither, its beginning where that is clear, the pH on the bottle of a buffer. ST_RANGE with the sentence.
 */
enum status handbook_choice_take(const struct handbook_quantity *quantity, const char *text, double *value,
                                 struct fault *f) MUST_USE;

/* How this input could be given: with usual values where they are known. */
void handbook_hint_make(const struct handbook_entry *entry, const struct handbook_quantity *quantity,
                        struct handbook_hint *hint);

/* The name without the unit at its end ("temp" of temp_c); a name without one stays whole. */
void handbook_stem(const struct handbook_quantity *quantity, char stem[HANDBOOK_WORD_NAME_MAX]);

/* Smallest and largest value of a quantity, in one of its units, rounded inwards to 7 digits, so that
 * what is printed is also taken. unit NULL: its own. */
void handbook_limits(const struct handbook_quantity *quantity, const struct unit *unit, double *min,
                     double *max);

/* "strength_pct, temp_c". Cut at its end when it is too long. */
void handbook_names(const struct handbook_quantity *quantities, char out[HANDBOOK_NAMES_MAX]);

/* The name of a choice as it is typed, with underscores for blanks: "by_weight". */
const char *handbook_choice_print(const char *name, char out[HANDBOOK_WORD_NAME_MAX]);

/* "citric, lactic or none", as they are typed; "" when they are too many to say. */
void handbook_choices(const struct handbook_quantity *quantity, char out[HANDBOOK_NAMES_MAX]);

#endif
