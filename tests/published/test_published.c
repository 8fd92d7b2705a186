/* The science functions against values of others, read from the tables beside this file. Prints
 * per function: cases, worst deviation and the tolerance that went with it. */
#include "science/acid.h"
#include "science/ratio.h"
#include "science/sucrose.h"
#include "support/support.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define ARGUMENTS_MAX 4

struct arguments {
    double number[ARGUMENTS_MAX]; /* an acid counts as its number */
    const char *text;             /* all of them as written */
};

typedef enum status (*call_fn)(const struct arguments *a, double *seen);

static enum status density(const struct arguments *a, double *seen)
{
    return sucrose_density_eval(a->number[0], a->number[1], seen);
}
static enum status solubility(const struct arguments *a, double *seen)
{
    return sucrose_solubility_eval(a->number[0], seen);
}
static enum status saturation(const struct arguments *a, double *seen)
{
    return sucrose_saturation_temp_eval(a->number[0], seen);
}
static enum status heat_capacity(const struct arguments *a, double *seen)
{
    return sucrose_heat_capacity_eval(a->number[0], a->number[1], seen);
}
static enum status crystal(const struct arguments *a, double *seen)
{
    return sucrose_crystal_heat_capacity_eval(a->number[0], seen);
}
static enum status viscosity(const struct arguments *a, double *seen)
{
    return sucrose_viscosity_eval(a->number[0], a->number[1], seen);
}
static enum status pressure(const struct arguments *a, double *seen)
{
    return air_pressure_eval(a->number[0], seen);
}
static enum status boiling(const struct arguments *a, double *seen)
{
    return sucrose_boiling_point_eval(a->number[0], a->number[1], seen);
}
static enum status activity(const struct arguments *a, double *seen)
{
    return sucrose_water_activity_eval(a->number[0], seen);
}
static enum status mix_volume(const struct arguments *a, double *seen)
{
    return sucrose_mix_volume_eval(a->number[0], a->number[1], a->number[2], seen);
}
static enum status mix_temp(const struct arguments *a, double *seen)
{
    return sucrose_mix_temp_eval(a->number[0], a->number[1], a->number[2], a->number[3], seen);
}
static enum status water_temp(const struct arguments *a, double *seen)
{
    return sucrose_water_temp_for_mix(a->number[0], a->number[1], a->number[2], a->number[3], seen);
}
static enum status molar_mass(const struct arguments *a, double *seen)
{
    return acid_molar_mass_eval((enum acid)a->number[0], seen);
}
static enum status stock_density(const struct arguments *a, double *seen)
{
    return acid_stock_density_eval((enum acid)a->number[0], a->number[1], seen);
}
static enum status water_ph(const struct arguments *a, double *seen)
{
    return acid_water_ph_eval(a->number[0], (enum acid)a->number[1], a->number[2], a->number[3], seen);
}

static enum status grams_for_ph(const struct arguments *a, double *seen)
{
    double g_mol = 0;
    enum acid acid = (enum acid)a->number[1];
    enum status status = acid_molar_mass_eval(acid, &g_mol);

    if (status == ST_OK)
        status = acid_for_ph_eval(a->number[0], acid, a->number[2], a->number[3], seen);
    *seen *= 100 * g_mol;
    return status;
}

static enum status alkalinity(const struct arguments *a, double *seen)
{
    double g_mol = 0;
    enum acid acid = (enum acid)a->number[0];
    enum status status = acid_molar_mass_eval(acid, &g_mol);

    return status != ST_OK
               ? status
               : acid_alkalinity_eval(acid, a->number[1] / 100 / g_mol, a->number[2], a->number[3], seen);
}

static enum status ratio(const struct arguments *a, double *seen)
{
    struct ratio r;
    enum status status = ratio_parse(a->text, &r, NULL);

    return status == ST_OK ? ratio_strength_eval(&r, seen) : status;
}

static const struct {
    const char *name;
    call_fn call;
} CALLS[] = {
    {"sucrose_density", density},
    {"sucrose_solubility", solubility},
    {"sucrose_saturation_temp", saturation},
    {"sucrose_heat_capacity", heat_capacity},
    {"sucrose_crystal_heat_capacity", crystal},
    {"sucrose_viscosity", viscosity},
    {"air_pressure", pressure},
    {"sucrose_boiling_point", boiling},
    {"sucrose_water_activity", activity},
    {"sucrose_mix_volume", mix_volume},
    {"sucrose_mix_temp", mix_temp},
    {"sucrose_water_temp_for_mix", water_temp},
    {"acid_molar_mass", molar_mass},
    {"acid_stock_density", stock_density},
    {"acid_water_ph", water_ph},
    {"acid_for_ph", grams_for_ph},
    {"acid_alkalinity", alkalinity},
    {"ratio", ratio},
};
#define CALL_COUNT (sizeof CALLS / sizeof CALLS[0])

/* What holds for the rows being read, and what has been seen of the current function and kind. */
struct table {
    const char *file;
    int line;
    size_t call;
    const char *kind; /* NULL: not said yet */
    double tolerance;
    bool has_source;
    int cases;
    double worst;
    double worst_tolerance;
};

static void report(struct table *t)
{
    if (t->cases > 0)
        printf("%-30s %-10s %3d cases, worst deviation %+.3g (tolerance %.3g)\n", CALLS[t->call].name,
               t->kind, t->cases, t->worst, t->worst_tolerance);
    t->cases = 0;
    t->worst = 0;
    t->worst_tolerance = 1;
}

static void choose_function(struct table *t, const char *text)
{
    size_t length = strcspn(text, " ");

    report(t);
    for (t->call = 0; t->call < CALL_COUNT; t->call++)
        if (strlen(CALLS[t->call].name) == length && strncmp(CALLS[t->call].name, text, length) == 0)
            break;
    ck_assert_msg(t->call < CALL_COUNT, "%s:%d: no such function: %s", t->file, t->line, text);
    t->has_source = false;
    t->tolerance = -1;
    t->kind = NULL;
}

static void choose_kind(struct table *t, const char *text)
{
    static const char *const KINDS[] = {"published", "calculated", "regression"};

    report(t);
    t->kind = NULL;
    for (size_t i = 0; i < 3; i++)
        if (strcmp(text, KINDS[i]) == 0)
            t->kind = KINDS[i];
    ck_assert_msg(t->kind != NULL, "%s:%d: no such kind: %s", t->file, t->line, text);
}

static bool read_directive(struct table *t, const char *line)
{
    if (strncmp(line, "function ", 9) == 0)
        choose_function(t, line + 9);
    else if (strncmp(line, "source ", 7) == 0)
        t->has_source = true;
    else if (strncmp(line, "tolerance ", 10) == 0)
        t->tolerance = strtod(line + 10, NULL);
    else if (strncmp(line, "kind ", 5) == 0) {
        choose_kind(t, line + 5);
    } else
        return false;
    return true;
}

static void read_arguments(struct arguments *a, char *copy)
{
    char *rest = NULL;
    int n = 0;

    for (char *word = strtok_r(copy, " ", &rest); word != NULL && n < ARGUMENTS_MAX;
         word = strtok_r(NULL, " ", &rest)) {
        enum acid acid = acid_find(word);

        a->number[n++] = acid == ACID_COUNT ? strtod(word, NULL) : (double)acid;
    }
}

static void check_row(struct table *t, const char *line)
{
    struct arguments a = {.text = strchr(line, ' ')};
    char copy[256];
    double expected = strtod(line, NULL);
    double seen = 0;
    enum status status;

    ck_assert_msg(a.text != NULL && t->call < CALL_COUNT && t->has_source && t->tolerance >= 0 &&
                      t->kind != NULL,
                  "%s:%d: a row needs function, kind, source and tolerance above it", t->file, t->line);
    (void)snprintf(copy, sizeof copy, "%s", a.text);
    read_arguments(&a, copy);
    status = CALLS[t->call].call(&a, &seen);
    ck_assert_msg(status == ST_OK, "%s:%d: %s answers %s", t->file, t->line, CALLS[t->call].name,
                  status_name(status));
    ck_assert_msg(fabs(seen - expected) <= t->tolerance, "%s:%d: %s is %.8g, expected %.8g within %g",
                  t->file, t->line, CALLS[t->call].name, seen, expected, t->tolerance);
    t->cases++;
    if (fabs(seen - expected) / t->tolerance >= fabs(t->worst) / t->worst_tolerance) {
        t->worst = seen - expected;
        t->worst_tolerance = t->tolerance;
    }
}

static void check_file(const char *name)
{
    struct table t = {.file = name, .call = CALL_COUNT, .worst_tolerance = 1};
    char path[512];
    char line[512];
    FILE *file;

    (void)snprintf(path, sizeof path, "%s/tests/published/%s", SOURCE_DIR, name);
    file = fopen(path, "r");
    ck_assert_msg(file != NULL, "cannot open %s", path);
    while (fgets(line, sizeof line, file) != NULL) {
        t.line++;
        ck_assert_msg(strchr(line, '\n') != NULL, "%s:%d: line too long", name, t.line);
        line[strcspn(line, "\n")] = '\0';
        if (line[0] != '\0' && line[0] != '#' && !read_directive(&t, line))
            check_row(&t, line);
    }
    (void)fclose(file);
    report(&t);
    (void)fflush(stdout);
}

START_TEST(sucrose_agrees_with_published_tables)
{
    check_file("sucrose.txt");
}
END_TEST

START_TEST(acid_agrees_with_published_tables)
{
    check_file("acid.txt");
}
END_TEST

START_TEST(ratios_agree_with_published_tables)
{
    check_file("ratio.txt");
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("published");
    TCase *tables = tcase_create("tables");

    tcase_add_test(tables, sucrose_agrees_with_published_tables);
    tcase_add_test(tables, acid_agrees_with_published_tables);
    tcase_add_test(tables, ratios_agree_with_published_tables);
    suite_add_tcase(suite, tables);
    return suite;
}
