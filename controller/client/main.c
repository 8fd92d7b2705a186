/* syrupwright - the command line: read the words, find the command, run it. */
#include "client/commands.h"

#include <stdio.h>
#include <string.h>

static int unknown_exit(const struct arguments *arguments)
{
    const char *name = arguments->command;
    const char *nearest = task_nearest(name);
    struct fault f;

    if (nearest != NULL)
        (void)fault_set(&f, ST_REFUSED, "", "there is no command \"%.60s\"; did you mean %s?", name, nearest);
    else
        (void)fault_set(&f, ST_REFUSED, "",
                        "there is no command \"%.60s\"; \"syrupwright --help\" lists them", name);
    return usage_exit(arguments, &f);
}

static int task_run(const struct task *task, const struct arguments *arguments)
{
    struct fault f = {0};

    if (arguments->wants_help) {
        task_print_one(task, stdout);
        return EX_OK;
    }
    if (arguments_check_uses(arguments, task->uses, &f) != ST_OK)
        return usage_exit(arguments, &f);
    if (arguments->operand_count < task->operands_min) {
        (void)fault_set(&f, ST_REFUSED, "", "\"%s\" needs %s; \"syrupwright %s --help\" explains it",
                        task->name, task->operands, task->name);
        return usage_exit(arguments, &f);
    }
    if (arguments->operand_count > task->operands_max) {
        (void)fault_set(&f, ST_REFUSED, "",
                        "\"%s\" does not know what to do with \"%.60s\"; a text with spaces needs quotes",
                        task->name, arguments->operands[task->operands_max]);
        return usage_exit(arguments, &f);
    }
    return task->run(arguments);
}

static int words_run(const struct arguments *arguments)
{
    struct fault f = {0};

    if (arguments->wants_version) {
        (void)printf("syrupwright %s\n", SYRUPWRIGHT_VERSION);
        return EX_OK;
    }
    if (arguments->command == NULL && arguments->wants_help) {
        task_print_all(stdout);
        return EX_OK;
    }
    if (arguments->command == NULL) {
        (void)fault_set(&f, ST_REFUSED, "", "say what to do; \"syrupwright --help\" lists the commands");
        return usage_exit(arguments, &f);
    }
    if (task_find(arguments->command) == NULL)
        return unknown_exit(arguments);
    return task_run(task_find(arguments->command), arguments);
}

/* The parser stops at the first fault; a "--json" behind it counts all the same. */
static int parse_exit(int argc, char *argv[], struct arguments *arguments, const struct fault *f)
{
    for (int i = 1; i < argc; i++)
        if (strcmp(argv[i], "--json") == 0)
            arguments->wants_json = true;
    return f->code == ST_REFUSED ? usage_exit(arguments, f) : fault_exit(arguments, f);
}

int main(int argc, char *argv[])
{
    struct arguments arguments;
    struct fault f = {0};
    int status;

    if (arguments_parse(argc, argv, &arguments, &f) != ST_OK)
        status = parse_exit(argc, argv, &arguments, &f);
    else
        status = words_run(&arguments);
    arguments_free(&arguments);
    return status;
}
