/* handbook_call.h - a function of the handbook with the inputs of a command line: one point or a table.
 *
 * Does:      match words to inputs by name, or by a name without its unit and a unit of one's own;
 *            check units, ranges, completeness; then give row after row.
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
};

struct handbook_call {
    const struct handbook_entry *entry;
    size_t input_count;
    struct handbook_input inputs[HANDBOOK_INPUTS_MAX];
    int range_count;
    size_t ranges[HANDBOOK_RANGES_MAX]; /* which inputs run; the last one fastest */
    int rows;
};

/* "NAME=VALUE" words into a call. ST_REFUSED (the command line is wrong: an unknown, repeated or
 * missing input) or ST_RANGE (a value or unit is wrong, or outside the range) with the sentence; a
 * range is not checked here but row by row. */
enum status handbook_call_make(const struct handbook_entry *entry, const char *const words[], int count,
                               struct handbook_call *call, struct fault *f) MUST_USE;

/* An input in row 0 to rows - 1, as the person wrote it. */
double handbook_call_value(const struct handbook_call *call, size_t input, int row);

/* The inputs of a row in the handbook's units; not finite where the unit has no such value. */
void handbook_call_inputs(const struct handbook_call *call, int row, double in[HANDBOOK_INPUTS_MAX]);

/* The same, and the results; ST_RANGE leaves out as it was. */
enum status handbook_call_row(const struct handbook_call *call, int row, double in[HANDBOOK_INPUTS_MAX],
                              double out[HANDBOOK_OUTPUTS_MAX]) MUST_USE;

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
