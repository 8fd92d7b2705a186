/* commands.h - the table of commands and what they share.
 *
 * Every run function prints its result to standard output and returns an exit status below;
 * anything wrong is one sentence on standard error.
 */
#ifndef CLIENT_COMMANDS_H
#define CLIENT_COMMANDS_H

#include "client/arguments.h"
#include "client/link.h"
#include "client/show.h"

#include <sysexits.h>

#define EXIT_NOT_MET 1 /* refused by the controller, or a batch did not meet its targets */

struct task {
    const char *name;
    const char *operands; /* "FILE", "" */
    int operands_min;
    int operands_max;
    unsigned uses; /* USE_ bits of arguments.h */
    const char *help;
    int (*run)(const struct arguments *arguments);
};

/* By name; NULL when there is none. */
const struct task *task_find(const char *name);

/* What was probably meant; NULL when nothing is near. */
const char *task_nearest(const char *name);

void task_print_all(FILE *to);
void task_print_one(const struct task *task, FILE *to);

/* client/ask.c: sentences, exit statuses, one request. */

/* Print the sentence of a fault, with --json also {"ok":false,"error":{...}} on standard output;
 * returns the exit status that goes with it. arguments NULL: the sentence alone. */
int fault_exit(const struct arguments *arguments, const struct fault *f);

/* The same for a wrong command line: code "usage", EX_USAGE. */
int usage_exit(const struct arguments *arguments, const struct fault *f);

/* ST_NOT_FOUND when there is no such tank file; what else may be wrong, its reader finds. */
enum status tank_file_find(const char *path, struct fault *f) MUST_USE;

/* A reply that says no: print its sentence (with --json also the reply); returns the status. */
int refusal_exit(const struct arguments *arguments, const json_t *reply);

/* Connect, ask (takes the request), close. EX_OK: *reply is one that says yes, the caller's.
 * Otherwise everything has been said already. */
int ask(const struct arguments *arguments, json_t *request, json_t **reply);

/* The same, but while the daemon answers "busy" it is asked again for up to ten seconds. */
int ask_when_ready(const struct arguments *arguments, json_t *request, json_t **reply);

/* {"v":1,"verb":name}. */
json_t *request_new(const char *verb);

/* A string of any bytes; where they are not UTF-8, '?' stands for each above 127. */
json_t *json_text(const char *text);

/* Print a reply or another object as one line. */
int json_print(const json_t *value);

/* The commands. */
int run_plan(const struct arguments *arguments);
int run_start(const struct arguments *arguments);
int run_state(const struct arguments *arguments);
int run_watch(const struct arguments *arguments);
int run_answer(const struct arguments *arguments);
int run_compare(const struct arguments *arguments);
int run_simple(const struct arguments *arguments);
int run_hello(const struct arguments *arguments);
int run_batches(const struct arguments *arguments);
int run_certificate(const struct arguments *arguments);
int run_journal(const struct arguments *arguments);
int run_verify(const struct arguments *arguments);
int run_check(const struct arguments *arguments);
int run_handbook(const struct arguments *arguments);
int run_settings(const struct arguments *arguments);

#endif
