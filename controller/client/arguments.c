#include "client/arguments.h"

#include "client/numbers.h"
#include "science/ratio.h"
#include "science/units.h"
#include "settings/nearest.h"

#include <getopt.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

struct option_row;
typedef enum status take_fn(const struct option_row *row, const char *value, struct arguments *a,
                            struct fault *f);

struct option_row {
    const char *name;  /* with its dashes, as people type it */
    const char *value; /* what stands behind it; NULL for nothing */
    unsigned use;
    take_fn *take;
    const char *key; /* of the request */
    const char *help;
};

static take_fn socket_take, flag_take, number_take, alkalinity_take, text_take, ratio_take, tank_take,
    batch_take, limit_take, every_take, prompt_take, within_take;

static const struct option_row OPTIONS[] = {
    {"--litres", "L", USE_REQUEST, number_take, "volume_l", "how much syrup, litres at 20 °C"},
    {"--kg", "KG", USE_REQUEST, number_take, "mass_kg", "or how much by weight"},
    {"--strength", "PCT", USE_REQUEST, number_take, "strength_pct", "how strong, % sugar by weight"},
    {"--ratio", "TEXT", USE_REQUEST, ratio_take, "ratio", "or as a ratio with its basis: \"5:3 by weight\""},
    {"--acid", "NAME", USE_REQUEST, text_take, "acid", "acid to use; without it none is used"},
    {"--ph", "PH", USE_REQUEST, number_take, "target_ph", "acidity wanted in the water, before the sugar"},
    {"--alkalinity-meq-kg", "N", USE_REQUEST, number_take, "alkalinity_meq_kg", "of the water"},
    {"--alkalinity-mg-l-caco3", "N", USE_REQUEST, alkalinity_take, "alkalinity_meq_kg",
     "the same as water reports give it"},
    {"--water-c", "C", USE_REQUEST, number_take, "water_temp_c", "temperature of the water as it comes"},
    {"--sugar-c", "C", USE_REQUEST, number_take, "sugar_temp_c", "temperature of the sugar"},
    {"--room-c", "C", USE_REQUEST, number_take, "room_temp_c", "temperature of the room"},
    {"--storage-min-c", "C", USE_REQUEST, number_take, "storage_min_temp_c",
     "coldest the syrup will be kept"},
    {"--bag-kg", "KG", USE_REQUEST, number_take, "bag_kg", "weight of one bag of sugar"},
    {"--sugar-lot", "TEXT", USE_REQUEST, text_take, "sugar_lot", "lot of the sugar, for the record"},
    {"--acid-lot", "TEXT", USE_REQUEST, text_take, "acid_lot", "lot of the acid, for the record"},
    {"--water-source", "TEXT", USE_REQUEST, text_take, "water_source", "where the water is from"},
    {"--tank", "FILE", USE_TANK, tank_take, NULL, "plan from this tank file, without the daemon"},
    {"--batch", "NUMBER", USE_BATCH, batch_take, NULL, "which batch; the newest without it"},
    {"--limit", "N", USE_LIMIT, limit_take, NULL, "at most so many, 1 to 1000"},
    {"--every", "S", USE_EVERY, every_take, NULL, "a line at least every S seconds, 1 to 3600 (60)"},
    {"--prompt", "ID", USE_PROMPT, prompt_take, NULL, "which question; the open one without it"},
    {"--markdown", NULL, USE_MARKDOWN, flag_take, NULL, "print all functions as the table of DEVELOPERS.md"},
    {"--within", "U", USE_WITHIN, within_take, NULL, "how far the hand instrument may be wrong (k = 2)"},
    {"--socket", "PATH", USE_ALL, socket_take, NULL, "the daemon's control socket"},
    {"--json", NULL, USE_ALL, flag_take, NULL, "print what a program can read"},
    {"--help", NULL, USE_ALL, flag_take, NULL, "explain the program or the command"},
    {"--version", NULL, USE_ALL, flag_take, NULL, "print the version"},
};

#define OPTION_COUNT (sizeof OPTIONS / sizeof OPTIONS[0])

/* ---- one taker a kind ------------------------------------------------------------------------- */

static enum status socket_take(const struct option_row *row, const char *value, struct arguments *a,
                               struct fault *f)
{
    (void)row;
    (void)f;
    a->control_path = value;
    return ST_OK;
}

static enum status flag_take(const struct option_row *row, const char *value, struct arguments *a,
                             struct fault *f)
{
    (void)value;
    (void)f;
    if (strcmp(row->name, "--json") == 0)
        a->wants_json = true;
    else if (strcmp(row->name, "--help") == 0)
        a->wants_help = true;
    else if (strcmp(row->name, "--markdown") == 0)
        a->wants_markdown = true;
    else
        a->wants_version = true;
    return ST_OK;
}

static enum status request_put(const struct option_row *row, json_t *value, struct arguments *a,
                               struct fault *f)
{
    if (json_object_get(a->request, row->key) != NULL) {
        json_decref(value);
        return fault_set(f, ST_REFUSED, row->name, "%s: this has been said already; say it once", row->name);
    }
    if (value == NULL || json_object_set_new(a->request, row->key, value) != 0)
        return fault_set(f, ST_RANGE, row->name, "%s: the text is not UTF-8", row->name);
    return ST_OK;
}

static enum status number_take(const struct option_row *row, const char *value, struct arguments *a,
                               struct fault *f)
{
    double number;
    enum status status = number_parse(row->name, value, &number, f);

    return status == ST_OK ? request_put(row, json_real(number), a, f) : status;
}

static enum status alkalinity_take(const struct option_row *row, const char *value, struct arguments *a,
                                   struct fault *f)
{
    double number;
    double meq_kg = 0;
    enum status status = number_parse(row->name, value, &number, f);

    /* The plan's own refusal would name the other option of this key. */
    if (status == ST_OK && number < 0)
        return fault_set(f, ST_RANGE, row->name, "%s cannot be below 0", row->name);
    if (status == ST_OK)
        status = unit_convert_eval(number, unit_find("mg/L_CaCO3"), unit_find("meq/kg"), &meq_kg);
    return status == ST_OK ? request_put(row, json_real(meq_kg), a, f) : status;
}

static enum status text_take(const struct option_row *row, const char *value, struct arguments *a,
                             struct fault *f)
{
    return request_put(row, json_string(value), a, f);
}

static enum status ratio_take(const struct option_row *row, const char *value, struct arguments *a,
                              struct fault *f)
{
    struct ratio ratio;

    if (ratio_parse(value, &ratio, f) != ST_OK)
        return ST_RANGE;
    return request_put(row, json_string(value), a, f);
}

static enum status tank_take(const struct option_row *row, const char *value, struct arguments *a,
                             struct fault *f)
{
    (void)row;
    (void)f;
    a->tank_file = value;
    return ST_OK;
}

static enum status batch_take(const struct option_row *row, const char *value, struct arguments *a,
                              struct fault *f)
{
    (void)row;
    (void)f;
    a->batch = value;
    return ST_OK;
}

static enum status limit_take(const struct option_row *row, const char *value, struct arguments *a,
                              struct fault *f)
{
    return number_whole_parse(row->name, value, 1, 1000, &a->limit, f);
}

static enum status every_take(const struct option_row *row, const char *value, struct arguments *a,
                              struct fault *f)
{
    return number_whole_parse(row->name, value, 1, 3600, &a->every_s, f);
}

static enum status prompt_take(const struct option_row *row, const char *value, struct arguments *a,
                               struct fault *f)
{
    return number_whole_parse(row->name, value, 0, 999999999, &a->prompt, f);
}

static enum status within_take(const struct option_row *row, const char *value, struct arguments *a,
                               struct fault *f)
{
    enum status status = number_parse(row->name, value, &a->within, f);

    if (status == ST_OK && !(a->within > 0))
        return fault_set(f, ST_RANGE, row->name, "%s must be above 0: no instrument is exact", row->name);
    return status;
}

/* ---- the words ---------------------------------------------------------------------------------- */

static enum status unknown_refuse(const char *word, struct fault *f)
{
    char name[64];
    struct nearest nearest = {.word = name};

    (void)snprintf(name, sizeof name, "%.*s", (int)strcspn(word, "="), word);
    if (strchr(name, '_') != NULL) /* options have none, inputs of the handbook do */
        return fault_set(f, ST_REFUSED, "",
                         "there is no option \"%s\"; inputs are written strength_pct=62.5, without dashes",
                         name);
    for (size_t i = 0; i < OPTION_COUNT; i++)
        nearest_offer(&nearest, OPTIONS[i].name);
    if (nearest.best != NULL)
        return fault_set(f, ST_REFUSED, "", "there is no option \"%s\"; did you mean %s?", name,
                         nearest.best);
    return fault_set(f, ST_REFUSED, "", "there is no option \"%s\"; --help lists them", name);
}

static enum status option_take(int index, const char *value, struct arguments *a, struct fault *f)
{
    const struct option_row *row = &OPTIONS[index];

    a->uses |= row->use;
    for (size_t bit = 0; bit < sizeof a->last_use / sizeof a->last_use[0]; bit++)
        if (row->use == 1u << bit)
            a->last_use[bit] = row->name;
    return row->take(row, value, a, f);
}

/* Is the word an option whose value is the next word? As getopt, by any beginning of its name. */
static bool takes_value(const char *word)
{
    size_t length = strlen(word);

    if (length < 3 || strncmp(word, "--", 2) != 0 || strchr(word, '=') != NULL)
        return false;
    for (size_t i = 0; i < OPTION_COUNT; i++)
        if (OPTIONS[i].value != NULL && strncmp(OPTIONS[i].name, word, length) == 0)
            return true;
    return false;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* getopt would take "-40" for options. It is shown the number without its sign; here the word as it
 * was typed is found again. */
static bool is_negative_number(const char *word)
{
    return word[0] == '-' && (is_digit(word[1]) || (word[1] == '.' && is_digit(word[2])));
}

static const char *operand_typed(int argc, char *const argv[], const char *shown)
{
    for (int i = 1; i < argc; i++)
        if (shown == argv[i] + 1)
            return argv[i];
    return shown;
}

/* A list of words for getopt, which may reorder it. NULL: memory is short. */
static char **words_for_getopt(int argc, char *const argv[])
{
    char **words = calloc((size_t)argc + 1, sizeof *words);

    for (int i = 0; words != NULL && i < argc; i++) {
        bool is_value = i > 0 && takes_value(argv[i - 1]);

        words[i] = i > 0 && !is_value && is_negative_number(argv[i]) ? argv[i] + 1 : argv[i];
    }
    return words;
}

static enum status operands_take(int argc, char *const argv[], char *const words[], struct arguments *a,
                                 struct fault *f)
{
    int at = optind;

    if (at < argc)
        a->command = operand_typed(argc, argv, words[at++]);
    for (; at < argc; at++) {
        if (a->operand_count == ARGUMENTS_OPERANDS_MAX)
            return fault_set(f, ST_REFUSED, "",
                             "\"%.60s\" is one word too many; a text with spaces needs quotes", words[at]);
        a->operands[a->operand_count++] = operand_typed(argc, argv, words[at]);
    }
    return ST_OK;
}

static enum status defaults_set(struct arguments *a, struct fault *f)
{
    const char *control = getenv("SYRUPWRIGHT_CONTROL");

    memset(a, 0, sizeof *a);
    a->control_path = control != NULL && control[0] != '\0' ? control : CONTROL_PATH_DEFAULT;
    a->limit = 20;
    a->every_s = 60;
    a->prompt = -1;
    a->within = (double)NAN;
    a->request = json_object();
    return a->request != NULL ? ST_OK : fault_set(f, ST_SYSTEM, "", "memory is short");
}

static enum status words_take(int argc, char *const argv[], char *words[], struct arguments *a,
                              struct fault *f)
{
    struct option long_options[OPTION_COUNT + 1] = {{0}};
    enum status status = ST_OK;

    for (size_t i = 0; i < OPTION_COUNT; i++)
        long_options[i] = (struct option){OPTIONS[i].name + 2,
                                          OPTIONS[i].value == NULL ? no_argument : required_argument, NULL,
                                          256 + (int)i};
    optind = 0; /* glibc: begin anew, the tests parse many lines */
    opterr = 0;
    while (status == ST_OK) {
        int found = getopt_long(argc, words, ":h", long_options, NULL);
        if (found == -1)
            return operands_take(argc, argv, words, a, f);
        if (found == 'h')
            a->wants_help = true;
        else if (found == ':')
            status = fault_set(f, ST_REFUSED, "", "%s needs a value behind it", words[optind - 1]);
        else if (found == '?')
            status = unknown_refuse(words[optind - 1], f);
        else
            status = option_take(found - 256, optarg, a, f);
    }
    return status;
}

enum status arguments_parse(int argc, char *const argv[], struct arguments *a, struct fault *f)
{
    enum status status = defaults_set(a, f);
    char **words = words_for_getopt(argc, argv);

    if (status == ST_OK && words == NULL)
        status = fault_set(f, ST_SYSTEM, "", "memory is short");
    if (status == ST_OK)
        status = words_take(argc, argv, words, a, f);
    free(words);
    return status;
}

void arguments_free(struct arguments *a)
{
    json_decref(a->request);
    a->request = NULL;
}

/* ---- back to words ---------------------------------------------------------------------- */

/* The option whose key stands in quotes at the start of text; NULL for none. */
static const struct option_row *key_find(const char *text)
{
    for (size_t i = 0; text[0] == '"' && i < OPTION_COUNT; i++) {
        size_t length = OPTIONS[i].key == NULL ? 0 : strlen(OPTIONS[i].key);
        if (length > 0 && strncmp(text + 1, OPTIONS[i].key, length) == 0 && text[length + 1] == '"')
            return &OPTIONS[i];
    }
    return NULL;
}

void arguments_speak(const struct arguments *arguments, const char *sentence, char *out, size_t size)
{
    bool has_request = arguments != NULL && (arguments->uses & USE_REQUEST) != 0;
    size_t used = 0;

    while (*sentence != '\0' && used < size - 1) {
        const struct option_row *row = has_request ? key_find(sentence) : NULL;
        if (row == NULL) {
            out[used++] = *sentence++;
            continue;
        }
        for (const char *c = row->name; *c != '\0' && used < size - 1; c++)
            out[used++] = *c;
        sentence += strlen(row->key) + 2;
    }
    out[used] = '\0';
}

void arguments_print_options(unsigned allowed, FILE *to)
{
    for (size_t i = 0; i < OPTION_COUNT; i++) {
        const struct option_row *row = &OPTIONS[i];
        char left[40];
        if ((row->use & (allowed | USE_ALL)) == 0)
            continue;
        (void)snprintf(left, sizeof left, "%s%s%s", row->name, row->value == NULL ? "" : " ",
                       row->value == NULL ? "" : row->value);
        (void)fprintf(to, "  %-28s %s\n", left, row->help);
    }
}
