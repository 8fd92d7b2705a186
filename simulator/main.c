/* syrupwright-sim - the physical tank and its instruments, on real protocols. */
#include "simulator/acts.h"
#include "simulator/line_client.h"
#include "simulator/person_client.h"
#include "simulator/run.h"

#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define EXIT_USAGE 64
#define ACT_WAIT_MS 10000

static void help_print(void)
{
    (void)printf("syrupwright-sim: a simulated syrup tank for trying and testing syrupwrightd\n\n"
                 "syrupwright-sim run [options]     the tank: Modbus devices, tank time, acts\n%s\n"
                 "syrupwright-sim act --acts PATH WORDS...    do one thing to the tank\n%s\n"
                 "syrupwright-sim person --control PATH --acts PATH [--seed N] [--delay-s N]\n"
                 "  answers the daemon's questions as a helper would, after about N s of tank time (20)\n"
                 "  ends with 0: batch complete, 1: stopped or aborted, 2: connection lost\n\n"
                 "syrupwright-sim --help | --version\n\n"
                 "The tank is a model; what it shows is not evidence about a real one.\n",
                 scenario_help(), acts_help());
}

static int usage(const char *sentence, const char *what)
{
    (void)fprintf(stderr, "syrupwright-sim: %s%s; see syrupwright-sim --help\n", sentence, what);
    return EXIT_USAGE;
}

static int command_run(int argc, char **argv)
{
    static struct scenario scenario;
    struct fault f = {0};

    if (scenario_options(argc, argv, &scenario, &f) != ST_OK) {
        (void)fprintf(stderr, "syrupwright-sim: %s\n", f.text);
        return EXIT_USAGE;
    }
    if (run_simulator(&scenario, &f) != ST_OK) {
        (void)fprintf(stderr, "syrupwright-sim: %s: %s\n", f.where, f.text);
        return EXIT_FAILURE;
    }
    return EXIT_SUCCESS;
}

/* Words after the options become one line. */
static bool words_join(int count, char **words, char *line, size_t size)
{
    size_t used = 0;

    for (int i = 0; i < count; i++) {
        int added = snprintf(line + used, size - used, "%s%s", words[i], i + 1 < count ? " " : "\n");

        if (added < 0 || (size_t)added >= size - used)
            return false;
        used += (size_t)added;
    }
    return count > 0;
}

static int act_ask(const char *path, const char *line)
{
    static struct line_client client;
    struct fault f = {0};
    const char *reply;
    int status = EXIT_FAILURE;

    if (line_client_open(&client, path, &f) != ST_OK) {
        (void)fprintf(stderr, "syrupwright-sim: %s: %s\n", f.where, f.text);
        return EXIT_FAILURE;
    }
    reply = line_client_send(&client, line) ? line_client_next(&client, ACT_WAIT_MS) : NULL;
    if (reply == NULL)
        (void)fprintf(stderr, "syrupwright-sim: %s: no answer within %d s\n", path, ACT_WAIT_MS / 1000);
    else {
        (void)puts(reply);
        status = strncmp(reply, "error", 5) == 0 ? EXIT_FAILURE : EXIT_SUCCESS;
    }
    line_client_close(&client);
    return status;
}

static int command_act(int argc, char **argv)
{
    static const struct option known[] = {{"acts", required_argument, NULL, 'a'}, {0}};
    const char *path = NULL;
    char line[ACTS_LINE_MAX + 2];
    int found;

    while ((found = getopt_long(argc, argv, "+", known, NULL)) != -1) {
        if (found != 'a')
            return usage("act: unknown option or missing value: ", argv[optind - 1]);
        path = optarg;
    }
    if (path == NULL)
        return usage("act: --acts PATH is missing", "");
    if (!words_join(argc - optind, argv + optind, line, sizeof line))
        return usage("act: say what to do, for instance \"lid open\"", "");
    return act_ask(path, line);
}

static bool number_of(const char *text, double low, double high, double *value)
{
    char *end;

    *value = strtod(text, &end);
    return end != text && *end == '\0' && *value >= low && *value <= high;
}

static int command_person(int argc, char **argv)
{
    static const struct option known[] = {{"control", required_argument, NULL, 'c'},
                                          {"acts", required_argument, NULL, 'a'},
                                          {"seed", required_argument, NULL, 's'},
                                          {"delay-s", required_argument, NULL, 'd'},
                                          {0}};
    struct person_options options = {.seed = 1, .delay_s = 20};
    double seed = 1;
    int found;

    while ((found = getopt_long(argc, argv, "", known, NULL)) != -1) {
        if (found == 'c')
            options.control_path = optarg;
        else if (found == 'a')
            options.acts_path = optarg;
        else if (found == 's' && number_of(optarg, 0, 1e15, &seed))
            options.seed = (uint64_t)seed;
        else if (found != 'd' || !number_of(optarg, 0, 86400, &options.delay_s))
            return usage("person: unknown option or unusable value: ", argv[optind - 1]);
    }
    if (options.control_path == NULL || options.acts_path == NULL || optind < argc)
        return usage("person: needs --control PATH and --acts PATH and no other words", "");
    return person_client_run(&options);
}

int main(int argc, char **argv)
{
    const char *command = argc > 1 ? argv[1] : "";

    opterr = 0;
    for (int i = 1; i < argc && i < 3; i++)
        if (strcmp(argv[i], "--help") == 0) {
            help_print();
            return EXIT_SUCCESS;
        }
    if (strcmp(command, "--version") == 0) {
        (void)printf("syrupwright-sim %s\n", SYRUPWRIGHT_VERSION);
        return EXIT_SUCCESS;
    }
    if (strcmp(command, "run") == 0)
        return command_run(argc - 1, argv + 1);
    if (strcmp(command, "act") == 0)
        return command_act(argc - 1, argv + 1);
    if (strcmp(command, "person") == 0)
        return command_person(argc - 1, argv + 1);
    return usage(argc > 1 ? "no such command: " : "a command is missing: run, act or person", command);
}
