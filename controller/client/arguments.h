/* arguments.h - the command line, read through one table of options.
 *
 * Does:      turn words into a checked struct; options may stand anywhere.
 * Does not:  print, exit, or ask the daemon.
 * Memory:    arguments_free releases what arguments_parse made, also after a failure.
 */
#ifndef CLIENT_ARGUMENTS_H
#define CLIENT_ARGUMENTS_H

#include "base/status.h"

#include <jansson.h>
#include <stdbool.h>
#include <stdio.h>

#define ARGUMENTS_OPERANDS_MAX 16 /* a command says in its row how many it takes */
#define CONTROL_PATH_DEFAULT "/run/syrupwright/control"

/* Which commands an option belongs to; bits. */
#define USE_ALL 1u        /* every command */
#define USE_REQUEST 2u    /* what a batch shall be */
#define USE_TANK 4u       /* work from a tank file, without the daemon */
#define USE_LIMIT 8u      /* how many lines */
#define USE_BATCH 16u     /* which batch */
#define USE_EVERY 32u     /* how often */
#define USE_PROMPT 64u    /* which question */
#define USE_MARKDOWN 128u /* how to print */
#define USE_WITHIN 256u   /* how far a hand instrument may be wrong */

struct arguments {
    const char *command; /* NULL: none was given */
    unsigned uses;       /* USE_ bits of the options that were given */
    const char *control_path;
    bool wants_json;
    bool wants_help;
    bool wants_version;
    bool wants_markdown;
    json_t *request; /* the "request" of plan and start, in the protocol's keys */
    const char *tank_file;
    const char *batch;
    int limit;
    int every_s;
    int prompt;    /* -1: the open one */
    double within; /* NAN: not said */
    int operand_count;
    const char *operands[ARGUMENTS_OPERANDS_MAX];
    const char *last_use[9]; /* the option that set the bit 1 << index, for sentences */
};

/* argv as main gets it; a negative number is an operand, or the value of the option before it, and no
 * option. ST_REFUSED or ST_RANGE with the sentence in *f. */
enum status arguments_parse(int argc, char *const argv[], struct arguments *arguments,
                            struct fault *f) MUST_USE;
void arguments_free(struct arguments *arguments);

/* The options given must be among those of the command (USE_ bits); ST_REFUSED names the first
 * that is not. */
enum status arguments_check_uses(const struct arguments *arguments, unsigned allowed,
                                 struct fault *f) MUST_USE;

/* What plan and start cannot do without: strength, amount, and a pH with an acid. */
enum status arguments_check_request(const struct arguments *arguments, struct fault *f) MUST_USE;

/* A sentence of the plan in the words of the command line: where options of a batch were given,
 * "volume_l" with its quotes becomes --litres. Cut at size. */
void arguments_speak(const struct arguments *arguments, const char *sentence, char *out, size_t size);

/* The lines of --help about options. */
void arguments_print_options(unsigned allowed, FILE *to);

#endif
