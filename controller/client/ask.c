#include "client/commands.h"
#include "remote/protocol.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>

#define READY_TRIES 100 /* ten seconds */

static const int STATUS_EXITS[] = {
    [ST_OK] = EX_OK,
    [ST_TIMEOUT] = EX_TEMPFAIL,
    [ST_LINK_DOWN] = EX_UNAVAILABLE,
    [ST_BAD_REPLY] = EX_PROTOCOL,
    [ST_EXCEPTION] = EX_SOFTWARE,
    [ST_REFUSED] = EXIT_NOT_MET,
    [ST_STALE] = EXIT_NOT_MET,
    [ST_RANGE] = EX_DATAERR,
    [ST_SETTINGS] = EX_CONFIG,
    [ST_NOT_FOUND] = EX_NOINPUT,
    [ST_BUSY] = EX_TEMPFAIL,
    [ST_FULL] = EX_DATAERR,
    [ST_SYSTEM] = EX_OSERR,
};

/* Codes of a reply that are no name of an enum status. */
static const struct code_exit {
    const char *code;
    int status;
} CODE_EXITS[] = {
    {"role", EX_NOPERM},   {"garbage", EX_PROTOCOL}, {"version", EX_PROTOCOL},
    {"verb", EX_PROTOCOL}, {"key", EX_DATAERR},
};

static void sentence_print(const char *sentence)
{
    char clean[SHOW_LINE_MAX];

    show_clean(sentence, clean);
    (void)fprintf(stderr, "syrupwright: %s\n", clean);
}

json_t *json_text(const char *text)
{
    json_t *value = json_string(text);
    char plain[SHOW_LINE_MAX];
    size_t i;

    if (value != NULL)
        return value;
    for (i = 0; text[i] != '\0' && i < sizeof plain - 1; i++)
        plain[i] = (char)((unsigned char)text[i] >= 0x80 ? '?' : text[i]);
    plain[i] = '\0';
    return json_string(plain);
}

static int failure_print(const struct arguments *arguments, const char *code, const char *sentence)
{
    char spoken[SHOW_LINE_MAX];
    json_t *object;
    int status;

    arguments_speak(arguments, sentence, spoken, sizeof spoken);
    sentence_print(spoken);
    if (arguments == NULL || !arguments->wants_json)
        return EX_OK;
    object = json_pack("{s:b,s:{s:s,s:o}}", "ok", 0, "error", "code", code, "sentence", json_text(spoken));
    status = json_print(object);
    json_decref(object);
    return status;
}

int fault_exit(const struct arguments *arguments, const struct fault *f)
{
    size_t index = (size_t)f->code;

    if (failure_print(arguments, status_name(f->code), f->text) != EX_OK)
        return EX_IOERR;
    return index < sizeof STATUS_EXITS / sizeof STATUS_EXITS[0] ? STATUS_EXITS[index] : EX_SOFTWARE;
}

int usage_exit(const struct arguments *arguments, const struct fault *f)
{
    return failure_print(arguments, "usage", f->text) == EX_OK ? EX_USAGE : EX_IOERR;
}

enum status tank_file_find(const char *path, struct fault *f)
{
    struct stat facts;

    if (stat(path, &facts) != 0 && (errno == ENOENT || errno == ENOTDIR))
        return fault_set(f, ST_NOT_FOUND, path, "%s: there is no such file", path);
    return ST_OK;
}

static int code_exit(const char *code)
{
    for (size_t i = 0; i < sizeof CODE_EXITS / sizeof CODE_EXITS[0]; i++)
        if (strcmp(CODE_EXITS[i].code, code) == 0)
            return CODE_EXITS[i].status;
    for (size_t i = ST_OK + 1; i < sizeof STATUS_EXITS / sizeof STATUS_EXITS[0]; i++)
        if (strcmp(status_name((enum status)i), code) == 0)
            return STATUS_EXITS[i];
    return EX_SOFTWARE;
}

int refusal_exit(const struct arguments *arguments, const json_t *reply)
{
    const json_t *error = json_object_get(reply, "error");
    const char *sentence = show_text(error, "sentence");
    char spoken[SHOW_LINE_MAX];

    arguments_speak(arguments, sentence[0] == '\0' ? "the daemon said no without a reason" : sentence, spoken,
                    sizeof spoken);
    sentence_print(spoken);
    if (arguments->wants_json && json_print(reply) != EX_OK)
        return EX_IOERR;
    return code_exit(show_text(error, "code"));
}

/* One request on a connection of its own. ST_OK: *reply is there, whatever it says. */
static enum status ask_once(const struct arguments *arguments, json_t *request, json_t **reply,
                            struct fault *f)
{
    struct link *link = NULL;
    enum status status = link_open(arguments->control_path, &link, f);

    *reply = NULL;
    if (status == ST_OK)
        status = link_ask(link, request, reply, f);
    else
        json_decref(request);
    link_close(link);
    return status;
}

static int ask_report(const struct arguments *arguments, enum status status, const struct fault *f,
                      json_t **reply)
{
    int exit_status;

    if (status != ST_OK)
        return status == ST_REFUSED ? (fault_exit(arguments, f), EX_NOPERM) : fault_exit(arguments, f);
    if (json_is_true(json_object_get(*reply, "ok")))
        return EX_OK;
    exit_status = refusal_exit(arguments, *reply);
    json_decref(*reply);
    *reply = NULL;
    return exit_status;
}

int ask(const struct arguments *arguments, json_t *request, json_t **reply)
{
    struct fault f = {0};
    enum status status = ask_once(arguments, request, reply, &f);

    return ask_report(arguments, status, &f, reply);
}

int ask_when_ready(const struct arguments *arguments, json_t *request, json_t **reply)
{
    const struct timespec pause = {.tv_nsec = 100000000};
    struct fault f = {0};
    enum status status;
    int tries = 0;

    do {
        *reply = NULL;
        if (tries > 0)
            (void)nanosleep(&pause, NULL);
        status = ask_once(arguments, json_incref(request), reply, &f);
        if (status != ST_OK || strcmp(show_text(json_object_get(*reply, "error"), "code"), "busy") != 0)
            break;
        if (++tries < READY_TRIES)
            json_decref(*reply);
    } while (tries < READY_TRIES);
    json_decref(request);
    return ask_report(arguments, status, &f, reply);
}

json_t *request_new(const char *verb)
{
    return json_pack("{s:i,s:s}", "v", PROTOCOL_VERSION, "verb", verb);
}

int json_print(const json_t *value)
{
    if (json_dumpf(value, stdout, JSON_COMPACT | JSON_REAL_PRECISION(12)) == 0 && putchar('\n') != EOF &&
        fflush(stdout) == 0)
        return EX_OK;
    sentence_print("the result cannot be written to standard output");
    return EX_IOERR;
}
