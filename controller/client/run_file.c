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

static int file_fault_exit(const char *path, const struct fault *f)
{
    struct fault named;

    (void)fault_set(&named, f->code, path, "%s: %s", path, f->text);
    return fault_exit(&named);
}

static int verdict_print(const struct arguments *arguments, const char *text, enum status verdict,
                         const struct fault *f)
{
    const char *path = arguments->operands[0];
    bool is_whole = verdict == ST_OK;
    json_t *object;
    int status;

    if (!is_whole)
        (void)file_fault_exit(path, f);
    if (is_whole && !arguments->wants_json)
        whole_print(path, text, arguments->operand_count > 1);
    if (!arguments->wants_json)
        return is_whole ? EX_OK : EX_DATAERR;
    object = json_pack("{s:s,s:b,s:s}", "file", path, "unchanged", (int)is_whole, "sentence",
                       is_whole ? "unchanged since it was signed" : f->text);
    status = json_print(object);
    json_decref(object);
    return status == EX_OK && !is_whole ? EX_DATAERR : status;
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
        return fault_exit(&f);
    if (crypto_init(&f) != ST_OK || key_read(arguments, key, &f) != ST_OK ||
        file_read(arguments->operands[0], text, CERTIFICATE_FILE_MAX, &length, &f) != ST_OK)
        status = file_fault_exit(arguments->operands[0], &f);
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
        if (json_array_append_new(list, json_pack("{s:s,s:s}", "where", errors->errors[i].where, "sentence",
                                                  errors->errors[i].text)) != 0)
            break;
    object = json_pack("{s:s,s:b,s:i,s:o}", "file", path, "ok", (int)(errors->count == 0), "count",
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

/* Read a tank file; errors are printed unless as JSON. NULL: *status says why. */
static struct settings *tank_read(const struct arguments *arguments, struct settings_errors *errors,
                                  int *status)
{
    struct settings *settings = calloc(1, sizeof *settings);
    struct fault f = {.code = ST_SYSTEM, .text = "memory is short"};

    if (settings == NULL) {
        *status = fault_exit(&f);
        return NULL;
    }
    *status = settings_read(arguments->operands[0], settings, errors) == ST_OK ? EX_OK : EX_CONFIG;
    if (*status == EX_OK)
        return settings;
    if (!arguments->wants_json)
        errors_print(errors);
    free(settings);
    return NULL;
}

int run_check(const struct arguments *arguments)
{
    struct settings_errors errors = {0};
    int status;
    struct settings *settings = tank_read(arguments, &errors, &status);

    free(settings);
    if (arguments->wants_json) {
        int printed = status == EX_OK || status == EX_CONFIG
                          ? errors_print_json(arguments->operands[0], &errors)
                          : status;
        return printed == EX_OK ? status : printed;
    }
    if (status == EX_OK)
        (void)printf("%s: no errors\n", arguments->operands[0]);
    return status;
}

int run_settings(const struct arguments *arguments)
{
    struct settings_errors errors = {0};
    int status;
    struct settings *settings = tank_read(arguments, &errors, &status);

    if (settings == NULL) {
        if (arguments->wants_json && status == EX_CONFIG &&
            errors_print_json(arguments->operands[0], &errors))
            return EX_IOERR;
        return status;
    }
    settings_print(settings, stdout);
    free(settings);
    return fflush(stdout) == 0 ? EX_OK : EX_IOERR;
}
