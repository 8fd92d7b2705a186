#include "client/commands.h"

#include "settings/nearest.h"

#include <string.h>

/* The order is that of --help: a batch from its plan to its proof, then the files. */
static const struct task TASKS[] = {
    {"plan", "", 0, 0, USE_REQUEST | USE_TANK, "what to have ready for a batch, and how long it takes",
     run_plan},
    {"start", "", 0, 0, USE_REQUEST, "start a batch", run_start},
    {"state", "", 0, 0, 0, "what is happening, and what you must do now", run_state},
    {"watch", "", 0, 0, USE_EVERY, "the same, kept up to date until the batch ends", run_watch},
    {"answer", "done|cannot|NUMBER", 1, 1, USE_PROMPT, "answer the open question", run_answer},
    {"compare", "strength|ph|temp READING", 2, 2, USE_WITHIN,
     "put a hand instrument's reading beside the tank's own", run_compare},
    {"hold", "", 0, 0, 0, "everything off, keep the batch", run_simple},
    {"restart", "", 0, 0, 0, "go on after hold", run_simple},
    {"pause", "", 0, 0, 0, "come to rest at the next good moment", run_simple},
    {"resume", "", 0, 0, 0, "go on after pause", run_simple},
    {"stop", "", 0, 0, 0, "end the batch unfinished", run_simple},
    {"abort", "", 0, 0, 0, "end the batch at once", run_simple},
    {"reset", "", 0, 0, 0, "put an ended batch away, ready for the next", run_simple},
    {"release", "", 0, 0, 0, "clear what has tripped, once its cause is gone", run_simple},
    {"batches", "", 0, 0, USE_LIMIT, "the batches on record, newest first", run_batches},
    {"certificate", "[BATCH]", 0, 1, USE_BATCH, "the certificate of a batch", run_certificate},
    {"journal", "[BATCH]", 0, 1, USE_BATCH | USE_LIMIT, "what happened in a batch", run_journal},
    {"hello", "", 0, 0, 0, "who you are to the daemon", run_hello},
    {"verify", "FILE [PUBLIC_KEY]", 1, 2, 0, "has this certificate been changed since it was signed?",
     run_verify},
    {"check", "FILE", 1, 1, 0, "look for errors in a tank file", run_check},
    {"settings", "FILE", 1, 1, 0, "a tank file as the daemon understands it", run_settings},
    {"handbook", "[NAME [INPUT...]]", 0, ARGUMENTS_OPERANDS_MAX, USE_MARKDOWN,
     "the functions the program calculates with, and their results", run_handbook},
};

#define TASK_COUNT (sizeof TASKS / sizeof TASKS[0])

const struct task *task_find(const char *name)
{
    for (size_t i = 0; i < TASK_COUNT; i++)
        if (strcmp(TASKS[i].name, name) == 0)
            return &TASKS[i];
    return NULL;
}

const char *task_nearest(const char *name)
{
    struct nearest nearest = {.word = name};

    for (size_t i = 0; i < TASK_COUNT; i++)
        nearest_offer(&nearest, TASKS[i].name);
    return nearest.best;
}

void task_print_all(FILE *to)
{
    (void)fprintf(to, "syrupwright makes sugar syrup for bees in a heated stirred tank.\n\n"
                      "Usage: syrupwright COMMAND [OPTION]...\n\nCommands:\n");
    for (size_t i = 0; i < TASK_COUNT; i++) {
        char left[40];
        (void)snprintf(left, sizeof left, "%s%s%s", TASKS[i].name, TASKS[i].operands[0] ? " " : "",
                       TASKS[i].operands);
        (void)fprintf(to, "  %-28s %s\n", left, TASKS[i].help);
    }
    (void)fprintf(to, "\nOptions of every command:\n");
    arguments_print_options(0, to);
    (void)fprintf(to, "\n\"syrupwright COMMAND --help\" explains one; the manual is syrupwright(1).\n");
}

void task_print_one(const struct task *task, FILE *to)
{
    (void)fprintf(to, "syrupwright %s: %s\n\nUsage: syrupwright %s%s%s [OPTION]...\n\nOptions:\n", task->name,
                  task->help, task->name, task->operands[0] ? " " : "", task->operands);
    arguments_print_options(task->uses, to);
    if ((task->uses & USE_REQUEST) != 0)
        (void)fprintf(to, "\nExample: syrupwright %s --litres 600 --strength 62.5\n", task->name);
    if (task->run == run_handbook)
        (void)fprintf(to,
                      "\nExamples: syrupwright handbook                  all functions\n"
                      "          syrupwright handbook NAME             one of them, with an example\n"
                      "          syrupwright handbook WORD             search: brix, boiling, citric\n"
                      "          syrupwright handbook sucrose_density strength_pct=62.5 temp=68degF\n"
                      "          syrupwright handbook sucrose_density strength_pct=62.5 temp_c=0..100/10\n"
                      "          syrupwright handbook convert 10 US_gal L\n");
}
