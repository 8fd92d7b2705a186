/* The commands that work on a file, with or without a daemon: verify, check, settings. */
#include "client/commands.h"
#include "records/certificate.h"
#include "runtime/crypto.h"
#include "runtime/file.h"
#include "settings/settings.h"

#include <stdlib.h>

#define CERTIFICATE_FILE_MAX 4194304

/* ---- certificates ------------------------------------------------------------------------------- */

/* What a whole certificate says about itself; the fingerprint is worked out from its key. */
static void whole_print(const char *path, const char *text, bool is_key_given)
{
    json_t *json = json_loads(text, 0, NULL);
    const char *hex = show_text(json_object_get(json, "evidence"), "public_key");
    unsigned char key[CRYPTO_PUBLIC_BYTES];
    char fingerprint[CERTIFICATE_FINGERPRINT_MAX] = "unknown";
    char batch[SHOW_LINE_MAX];

    if (crypto_unhex(hex, key, sizeof key))
        certificate_fingerprint(key, fingerprint);
    show_clean(show_text(json, "batch"), batch);
    if (json_is_true(json_object_get(json, "simulated")))
        (void)printf("SIMULATED: no real syrup was made.\n");
    (void)printf("%s: batch %s, unchanged since it was signed with the key %s.\n", path, batch, fingerprint);
    if (!is_key_given)
        (void)printf("That does not show whose key it is: compare it with the key of the tank.\n");
    json_decref(json);
}

static int file_fault_exit(const struct arguments *arguments, const struct fault *f)
{
    const char *path = arguments->operands[0];
    struct fault named;

    (void)fault_set(&named, f->code, path, "%s: %s", path, f->text);
    return fault_exit(arguments, &named);
}

static int verdict_print(const struct arguments *arguments, const char *text, enum status verdict,
                         const struct fault *f)
{
    const char *path = arguments->operands[0];
    json_t *object;
    int status;

    if (verdict != ST_OK) {
        (void)file_fault_exit(arguments, f);
        return EX_DATAERR;
    }
    if (!arguments->wants_json) {
        whole_print(path, text, arguments->operand_count > 1);
        return EX_OK;
    }
    object = json_pack("{s:b,s:o,s:b,s:s}", "ok", 1, "file", json_text(path), "unchanged", 1, "sentence",
                       "unchanged since it was signed");
    status = json_print(object);
    json_decref(object);
    return status;
}

/* The second operand, where there is one: the public key that must have signed. */
static enum status key_read(const struct arguments *arguments, unsigned char key[CRYPTO_PUBLIC_BYTES],
                            struct fault *f)
{
    if (arguments->operand_count < 2 || crypto_unhex(arguments->operands[1], key, CRYPTO_PUBLIC_BYTES))
        return ST_OK;
    return fault_set(f, ST_RANGE, "", "\"%.20s\" is no public key; it has %d hexadecimal digits",
                     arguments->operands[1], 2 * CRYPTO_PUBLIC_BYTES);
}

int run_verify(const struct arguments *arguments)
{
    char *text = malloc(CERTIFICATE_FILE_MAX);
    unsigned char key[CRYPTO_PUBLIC_BYTES];
    struct fault f = {.code = ST_SYSTEM, .text = "memory is short"};
    size_t length;
    int status;

    if (text == NULL)
        return fault_exit(arguments, &f);
    if (crypto_init(&f) != ST_OK || key_read(arguments, key, &f) != ST_OK ||
        file_read(arguments->operands[0], text, CERTIFICATE_FILE_MAX, &length, &f) != ST_OK)
        status = file_fault_exit(arguments, &f);
    else
        status = verdict_print(arguments, text,
                               certificate_verify(text, arguments->operand_count > 1 ? key : NULL, &f), &f);
    free(text);
    return status;
}

/* ---- tank files ---------------------------------------------------------------------------------- */

static int errors_print_json(const char *path, const struct settings_errors *errors)
{
    json_t *list = json_array();
    json_t *object;
    int status;

    for (int i = 0; i < errors->count && i < SETTINGS_ERRORS_MAX; i++)
        if (json_array_append_new(list, json_pack("{s:o,s:o}", "where", json_text(errors->errors[i].where),
                                                  "sentence", json_text(errors->errors[i].text))) != 0)
            break;
    object = json_pack("{s:b,s:o,s:i,s:o}", "ok", (int)(errors->count == 0), "file", json_text(path), "count",
                       errors->count, "errors", list);
    status = json_print(object);
    json_decref(object);
    return status;
}

static void errors_print(const struct settings_errors *errors)
{
    char where[SHOW_LINE_MAX];
    char text[SHOW_LINE_MAX];

    for (int i = 0; i < errors->count && i < SETTINGS_ERRORS_MAX; i++) {
        show_clean(errors->errors[i].where, where);
        show_clean(errors->errors[i].text, text);
        (void)fprintf(stderr, "%s: %s\n", where, text);
    }
    if (errors->count > SETTINGS_ERRORS_MAX)
        (void)fprintf(stderr, "and %d more; mend these first\n", errors->count - SETTINGS_ERRORS_MAX);
}

/* All errors, on standard error and with --json also as an object. */
static int errors_exit(const struct arguments *arguments, const struct settings_errors *errors)
{
    errors_print(errors);
    if (arguments->wants_json && errors_print_json(arguments->operands[0], errors) != EX_OK)
        return EX_IOERR;
    return EX_CONFIG;
}

/* Read a tank file. NULL: what is wrong has been said, and *status goes with it. */
static struct settings *tank_read(const struct arguments *arguments, int *status)
{
    struct settings *settings = calloc(1, sizeof *settings);
    struct settings_errors *errors = calloc(1, sizeof *errors);
    struct fault f = {.code = ST_SYSTEM, .text = "memory is short"};

    *status = EX_OK;
    if (settings == NULL || errors == NULL || tank_file_find(arguments->operands[0], &f) != ST_OK)
        *status = fault_exit(arguments, &f);
    else if (settings_read(arguments->operands[0], settings, errors) != ST_OK)
        *status = errors_exit(arguments, errors);
    free(errors);
    if (*status == EX_OK)
        return settings;
    free(settings);
    return NULL;
}

int run_check(const struct arguments *arguments)
{
    const struct settings_errors none = {0};
    int status;
    struct settings *settings = tank_read(arguments, &status);

    free(settings);
    if (status != EX_OK)
        return status;
    if (arguments->wants_json)
        return errors_print_json(arguments->operands[0], &none);
    (void)printf("%s: no errors\n", arguments->operands[0]);
    return EX_OK;
}

static int settings_print_json(const struct arguments *arguments, const struct settings *settings)
{
    struct fault f = {.code = ST_SYSTEM, .text = "memory is short"};
    char *text = NULL;
    size_t length = 0;
    FILE *to = open_memstream(&text, &length);
    json_t *object = NULL;
    int status;

    if (to != NULL) {
        settings_print(settings, to);
        if (fclose(to) == 0)
            object = json_pack("{s:b,s:s}", "ok", 1, "yaml", text);
    }
    status = object == NULL ? fault_exit(arguments, &f) : json_print(object);
    json_decref(object);
    free(text);
    return status;
}

int run_settings(const struct arguments *arguments)
{
    int status;
    struct settings *settings = tank_read(arguments, &status);

    if (settings == NULL)
        return status;
    if (arguments->wants_json) {
        status = settings_print_json(arguments, settings);
    } else {
        settings_print(settings, stdout);
        status = fflush(stdout) == 0 ? EX_OK : EX_IOERR;
    }
    free(settings);
    return status;
}
