#include "client/arguments.h"

#include "client/numbers.h"
#include "science/ratio.h"
#include "settings/nearest.h"

#include <getopt.h>
#include <stdlib.h>
#include <string.h>

#define MG_CACO3_PER_MEQ 50.04 /* half the molar mass of calcium carbonate, 100.09 g/mol */

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
    batch_take, limit_take, every_take, prompt_take;

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
    enum status status = number_parse(row->name, value, &number, f);

    /* The plan's own refusal would name the other option of this key. */
    if (status == ST_OK && number < 0)
        return fault_set(f, ST_RANGE, row->name, "%s cannot be below 0", row->name);
    return status == ST_OK ? request_put(row, json_real(number / MG_CACO3_PER_MEQ), a, f) : status;
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

/* ---- the words ---------------------------------------------------------------------------------- */

static enum status unknown_refuse(const char *word, struct fault *f)
{
    char name[64];
    struct nearest nearest = {.word = name};

    (void)snprintf(name, sizeof name, "%.*s", (int)strcspn(word, "="), word);
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

static enum status operands_take(int argc, char *const argv[], int first, struct arguments *a,
                                 struct fault *f)
{
    if (first < argc)
        a->command = argv[first++];
    for (; first < argc; first++) {
        if (a->operand_count == ARGUMENTS_OPERANDS_MAX)
            return fault_set(f, ST_REFUSED, "",
                             "\"%.60s\" is one word too many; a text with spaces needs quotes", argv[first]);
        a->operands[a->operand_count++] = argv[first];
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
    a->request = json_object();
    return a->request != NULL ? ST_OK : fault_set(f, ST_SYSTEM, "", "memory is short");
}

enum status arguments_parse(int argc, char *const argv[], struct arguments *a, struct fault *f)
{
    struct option long_options[OPTION_COUNT + 1] = {{0}};
    enum status status = defaults_set(a, f);

    for (size_t i = 0; i < OPTION_COUNT; i++)
        long_options[i] = (struct option){OPTIONS[i].name + 2,
                                          OPTIONS[i].value == NULL ? no_argument : required_argument, NULL,
                                          256 + (int)i};
    optind = 0; /* glibc: begin anew, the tests parse many lines */
    opterr = 0;
    while (status == ST_OK) {
        int found = getopt_long(argc, argv, ":h", long_options, NULL);
        if (found == -1)
            return operands_take(argc, argv, optind, a, f);
        if (found == 'h')
            a->wants_help = true;
        else if (found == ':')
            status = fault_set(f, ST_REFUSED, "", "%s needs a value behind it", argv[optind - 1]);
        else if (found == '?')
            status = unknown_refuse(argv[optind - 1], f);
        else
            status = option_take(found - 256, optarg, a, f);
    }
    return status;
}

void arguments_free(struct arguments *a)
{
    json_decref(a->request);
    a->request = NULL;
}

/* ---- checks across --------------------------------------------------------------------------------- */

enum status arguments_check_uses(const struct arguments *a, unsigned allowed, struct fault *f)
{
    for (size_t bit = 0; bit < sizeof a->last_use / sizeof a->last_use[0]; bit++)
        if ((a->uses & ~(allowed | USE_ALL) & 1u << bit) != 0)
            return fault_set(f, ST_REFUSED, "",
                             "%s does not belong to \"%s\"; \"syrupwright %s --help\" lists "
                             "what does",
                             a->last_use[bit], a->command, a->command);
    return ST_OK;
}

enum status arguments_check_request(const struct arguments *a, struct fault *f)
{
    bool has_strength = json_object_get(a->request, "strength_pct") != NULL;
    bool has_ratio = json_object_get(a->request, "ratio") != NULL;
    bool has_volume = json_object_get(a->request, "volume_l") != NULL;
    bool has_mass = json_object_get(a->request, "mass_kg") != NULL;
    const char *acid = json_string_value(json_object_get(a->request, "acid"));
    bool has_acid = acid != NULL && strcmp(acid, "none") != 0;
    bool has_ph = json_object_get(a->request, "target_ph") != NULL;

    if (has_strength == has_ratio)
        return fault_set(
            f, ST_REFUSED, "",
            "say how strong in one way: --strength 62.5 (%% by weight) or --ratio \"5:3 by weight\"");
    if (has_volume == has_mass)
        return fault_set(f, ST_REFUSED, "", "say how much in one way: --litres 600 or --kg 750");
    if (has_acid && !has_ph)
        return fault_set(f, ST_REFUSED, "", "--acid %.20s needs the acidity wanted in the water: --ph 4.3",
                         acid);
    if (acid != NULL && !has_acid && has_ph)
        return fault_set(f, ST_REFUSED, "", "--ph needs an acid; name one with --acid, or leave --ph out");
    return ST_OK;
}

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
