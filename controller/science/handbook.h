/* handbook.h - the functions of this folder as one table that can be read, searched and called.
 *
 * Does:      say of each function what it takes and gives, with units and ranges, from which source
 *            and how far it may be wrong; and call it by name. The command line prints it, the tests
 *            walk it, the published tables beside the tests name its rows.
 * Does not:  calculate anything itself, allocate, or keep state. Any thread.
 * The rows stand in handbook_<section>.c, one file a section.
 */
#ifndef SCIENCE_HANDBOOK_H
#define SCIENCE_HANDBOOK_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>

#define HANDBOOK_INPUTS_MAX 6
#define HANDBOOK_OUTPUTS_MAX 4

struct handbook_quantity {
    const char *name; /* ends in its unit: "temp_c"; NULL ends a list */
    const char *unit; /* as unit_find() knows it: "degC"; "" for a pure number or a choice */
    double min;       /* an input outside min..max is ST_RANGE; an output always lies within */
    double max;
    const char *(*choice)(int index); /* names of whole values min..max; NULL for a number */
};

struct handbook_entry {
    const char *name;  /* "sucrose_density"; NULL ends a section */
    const char *words; /* "Density of a sugar solution" */
    struct handbook_quantity inputs[HANDBOOK_INPUTS_MAX + 1];
    struct handbook_quantity outputs[HANDBOOK_OUTPUTS_MAX + 1];
    const char *range;  /* what else limits the inputs, together; "" for nothing */
    const char *source; /* author, year, table or equation */
    const char *error;  /* how far the result may be from the truth, or from published tables */
    /* Call through handbook_eval. */
    enum status (*eval)(const double in[], double out[]);
};

struct handbook_section {
    const char *title; /* "Sugar and water" */
    const struct handbook_entry *entries;
};

/* All sections in reading order; the title of the last is NULL. */
extern const struct handbook_section HANDBOOK[];

/* By exact name; NULL when there is none. */
const struct handbook_entry *handbook_find(const char *name);

/* One number for each input and output, in order. ST_OK, or ST_RANGE with out untouched: also for a
 * choice that is not a whole number of its quantity. */
enum status handbook_eval(const struct handbook_entry *entry, const double in[], double out[]) MUST_USE;

size_t handbook_count(const struct handbook_quantity *quantities);

/* The value of a choice by its name; -1 when it is none of this quantity's. */
int handbook_choice_find(const struct handbook_quantity *quantity, const char *name);

/* The sections. */
extern const struct handbook_entry HANDBOOK_SUGAR[];  /* density and refraction */
extern const struct handbook_entry HANDBOOK_HEAT[];   /* solubility, flow, heat, boiling */
extern const struct handbook_entry HANDBOOK_MIX[];    /* volumes, dilution, blends */
extern const struct handbook_entry HANDBOOK_RATIO[];  /* ratios and units */
extern const struct handbook_entry HANDBOOK_ACID[];   /* water and acid */
extern const struct handbook_entry HANDBOOK_PROBE[];  /* electrode and buffers */
extern const struct handbook_entry HANDBOOK_CHANGE[]; /* inversion and HMF */
extern const struct handbook_entry HANDBOOK_SKIN[];   /* burns */
extern const struct handbook_entry HANDBOOK_PROOF[];  /* uncertainty, decisions, charts */

#endif
