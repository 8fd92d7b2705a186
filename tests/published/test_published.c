/* The functions of controller/science against values of others, read from the tables beside this file.
 *
 * A table is a text file:
 *   function NAME      a row of the handbook; what follows belongs to it
 *   least N            so many independent cases there must be at least
 *   contested TEXT     why more than a tenth of its cases are not right to their last digit
 *   kind KIND          published: seen in a source of others; memory: published, but recalled;
 *                      calculated: worked out by others; practice: a rule of thumb, no source.
 *                      Not independent: fitted: the function was fitted to it; entry: it stands in the
 *                      function's own table; regression: our own value, kept so that a change is noticed
 *   source TEXT        author, year, table or page; confidence, spread and digit begin anew
 *   confidence X [%]   how far the reference itself says it may be trusted, absolute or relative
 *   spread X [%]       instead: nobody says how far; so far we have seen them apart, and no further
 *   output NAME        which result is meant (else the first); A..B: the value lies between the two
 *   digit X            what one step of the last digit is, where the text does not show it
 *   VALUE INPUTS...    one case; underscores stand for blanks in a choice;
 *                      "! REASON" behind it lists a case that is off by more than its last digit,
 *                      "!! REASON" one that is also off by more than the confidence
 * A case is right when it is within half a step of the value's own last digit. A listed case must be
 * wrong by more than that, and no mark may stand without need. At most a tenth may be listed.
 * PUBLISHED_FILE=sugar.txt in the environment reads only that one. */
#include "science/handbook.h"
#include "support/support.h"

#include <dirent.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define WORDS_MAX 16
#define FUNCTIONS_MAX 256

enum kind { PUBLISHED, MEMORY, CALCULATED, PRACTICE, FITTED, ENTRY, REGRESSION, KIND_COUNT };
static const char *const KINDS[KIND_COUNT] = {"published", "memory", "calculated", "practice",
                                              "fitted",    "entry",  "regression"};

/* What has been seen of one function, over all files. */
struct tally {
    const struct handbook_entry *entry;
    int cases[KIND_COUNT];
    int right;  /* independent cases right to the digit, */
    int inside; /* those within a span, */
    int listed; /* those listed by name, and those of them beyond the reference's own confidence */
    int beyond;
    int least;
    bool is_contested;
    double worst; /* largest deviation in steps of its own last digit, with its deviation */
    double worst_deviation;
};

static struct tally tallies[FUNCTIONS_MAX];
static int tally_count;

/* What holds for the rows being read. */
struct table {
    const char *file;
    int line;
    struct tally *tally;
    enum kind kind;
    bool has_source;
    double limit; /* confidence or spread; below 0: none said */
    bool is_relative;
    bool is_spread;
    double digit; /* 0: read off the text */
    int output;
    int output_to; /* the other end of A..B; -1 for none */
};

/* ---- directives ---------------------------------------------------------------------- */

static void kind_begin(struct table *t)
{
    t->kind = KIND_COUNT;
    t->has_source = false;
    t->limit = -1;
    t->digit = 0;
    t->output = 0;
    t->output_to = -1;
}

static void function_take(struct table *t, const char *name)
{
    const struct handbook_entry *entry = handbook_find(name);

    ck_assert_msg(entry != NULL, "%s:%d: no such function: %s", t->file, t->line, name);
    for (t->tally = tallies; t->tally < tallies + tally_count && t->tally->entry != entry;)
        t->tally++;
    if (t->tally == tallies + tally_count) {
        ck_assert_int_lt(tally_count, FUNCTIONS_MAX);
        tally_count++;
    }
    t->tally->entry = entry;
    kind_begin(t);
}

static void kind_take(struct table *t, const char *text)
{
    kind_begin(t);
    for (int i = 0; i < KIND_COUNT; i++)
        if (strcmp(text, KINDS[i]) == 0)
            t->kind = (enum kind)i;
    ck_assert_msg(t->kind != KIND_COUNT, "%s:%d: no such kind: %s", t->file, t->line, text);
}

static int output_find(const struct table *t, const char *name, size_t length)
{
    const struct handbook_quantity *outputs = t->tally->entry->outputs;

    for (int i = 0; outputs[i].name != NULL; i++)
        if (strlen(outputs[i].name) == length && strncmp(outputs[i].name, name, length) == 0)
            return i;
    ck_abort_msg("%s:%d: no such result: %s", t->file, t->line, name);
    return 0;
}

static void output_take(struct table *t, const char *text)
{
    const char *dots = strstr(text, "..");

    t->output = output_find(t, text, dots == NULL ? strlen(text) : (size_t)(dots - text));
    t->output_to = dots == NULL ? -1 : output_find(t, dots + 2, strlen(dots + 2));
}

static bool directive_take(struct table *t, const char *line)
{
    size_t length = strcspn(line, " ");
    const char *text = line[length] == '\0' ? "" : line + length + 1;
    char *end = NULL;

#define IS(word) (length == sizeof word - 1 && strncmp(line, word, length) == 0)
    if (IS("function")) {
        function_take(t, text);
        return true;
    }
    ck_assert_msg(t->tally != NULL, "%s:%d: a function must come first", t->file, t->line);
    if (IS("kind"))
        kind_take(t, text);
    else if (IS("source")) {
        t->has_source = *text != '\0';
        t->digit = 0; /* of one source alone */
        t->limit = -1;
    } else if (IS("confidence") || IS("spread")) {
        t->limit = strtod(text, &end);
        t->is_relative = strcmp(end, " %") == 0;
        t->is_spread = IS("spread");
    } else if (IS("output"))
        output_take(t, text);
    else if (IS("digit"))
        t->digit = strtod(text, NULL);
    else if (IS("least"))
        t->tally->least = (int)strtol(text, NULL, 10);
    else if (IS("contested"))
        t->tally->is_contested = true;
    else
        return false;
#undef IS
    return true;
}

/* ---- rows ------------------------------------------------------------------------------ */

/* One step of the last digit of "1.336" is 0.001, of "238" is 1, of "2e-6" 1e-6. */
static double last_digit(const char *text)
{
    const char *point = strchr(text, '.');
    const char *e = strpbrk(text, "eE");
    size_t digits = point == NULL ? 0 : strspn(point + 1, "0123456789");

    return pow(10, (e == NULL ? 0 : strtod(e + 1, NULL)) - (double)digits);
}

static void inputs_read(const struct table *t, char *words[], int count, double in[])
{
    const struct handbook_entry *entry = t->tally->entry;
    char *end = NULL;

    ck_assert_msg((size_t)count == handbook_count(entry->inputs), "%s:%d: %s takes %zu values, not %d",
                  t->file, t->line, entry->name, handbook_count(entry->inputs), count);
    for (int i = 0; i < count; i++) {
        if (entry->inputs[i].choice != NULL) {
            for (char *c = words[i]; *c != '\0'; c++)
                if (*c == '_')
                    *c = ' ';
            in[i] = handbook_choice_find(&entry->inputs[i], words[i]);
            ck_assert_msg(in[i] >= 0, "%s:%d: no such %s: %s", t->file, t->line, entry->inputs[i].name,
                          words[i]);
            continue;
        }
        in[i] = strtod(words[i], &end);
        ck_assert_msg(*end == '\0', "%s:%d: not a number: %s", t->file, t->line, words[i]);
    }
}

/* A case that is off by more than its last digit: does its mark say how it is? */
static void listed_judge(struct table *t, double expected, double deviation, const char *mark)
{
    double limit = t->is_relative ? t->limit / 100 * fabs(expected) : t->limit;
    bool is_beyond = fabs(deviation) > limit * (1 + 1e-9);
    const char *name = t->tally->entry->name;

    ck_assert_msg(mark != NULL,
                  "%s:%d: %s: %.8g is off by %.4g, more than half its last digit, and not listed", t->file,
                  t->line, name, expected, deviation);
    ck_assert_msg(t->limit >= 0, "%s:%d: %s: neither confidence nor spread is said", t->file, t->line, name);
    ck_assert_msg(!is_beyond || (mark[1] == '!' && !t->is_spread),
                  "%s:%d: %s is off by %.4g, more than %s %.3g", t->file, t->line, name, deviation,
                  t->is_spread ? "the spread seen so far," : "the stated confidence", limit);
    ck_assert_msg(is_beyond || mark[1] != '!',
                  "%s:%d: %s is off by %.4g, within the confidence: one ! will do", t->file, t->line, name,
                  deviation);
    if (t->kind == FITTED)
        return;
    t->tally->listed++;
    t->tally->beyond += is_beyond;
}

static void practice_judge(const struct table *t, double expected, double deviation)
{
    double limit = t->is_relative ? t->limit / 100 * fabs(expected) : t->limit;

    ck_assert_msg(fabs(deviation) <= limit * (1 + 1e-9), "%s:%d: %s is off by %.4g, more than %.3g", t->file,
                  t->line, t->tally->entry->name, deviation, limit);
}

static void judge(struct table *t, double expected, double deviation, double step, const char *mark)
{
    struct tally *tally = t->tally;
    bool is_right = fabs(deviation) <= 0.5 * step * (1 + 1e-9);

    tally->cases[t->kind]++;
    if (t->kind == PRACTICE) {
        practice_judge(t, expected, deviation);
        return;
    }
    ck_assert_msg(!is_right || mark == NULL, "%s:%d: right to the digit (%.3g off): it need not be listed",
                  t->file, t->line, deviation);
    ck_assert_msg(is_right || (t->kind != REGRESSION && t->kind != ENTRY),
                  "%s:%d: our own value has changed by %.3g", t->file, t->line, deviation);
    if (!is_right)
        listed_judge(t, expected, deviation, mark);
    if (t->kind > PRACTICE)
        return;
    if (is_right && t->output_to < 0)
        tally->right++;
    else if (is_right)
        tally->inside++;
    if (fabs(deviation) / step >= tally->worst) {
        tally->worst = fabs(deviation) / step;
        tally->worst_deviation = deviation;
    }
}

static void row_check(struct table *t, char *line)
{
    const char *mark = strchr(line, '!');
    char *words[WORDS_MAX];
    double in[HANDBOOK_INPUTS_MAX] = {0};
    double out[HANDBOOK_OUTPUTS_MAX] = {0};
    double expected, seen, step;
    char *rest = NULL;
    int count = 0;
    enum status status;

    ck_assert_msg(t->kind != KIND_COUNT && t->has_source, "%s:%d: a row needs kind and source above it",
                  t->file, t->line);
    for (char *w = strtok_r(line, " \t", &rest); w != NULL && *w != '!' && count < WORDS_MAX;
         w = strtok_r(NULL, " \t", &rest))
        words[count++] = w;
    expected = strtod(words[0], &rest);
    ck_assert_msg(*rest == '\0', "%s:%d: neither a directive nor a number: %s", t->file, t->line, words[0]);
    step = t->digit > 0 ? t->digit : last_digit(words[0]);
    inputs_read(t, words + 1, count - 1, in);
    status = handbook_eval(t->tally->entry, in, out);
    ck_assert_msg(status == ST_OK, "%s:%d: %s answers %s", t->file, t->line, t->tally->entry->name,
                  status_name(status));
    seen = out[t->output];
    if (t->output_to >= 0) /* inside: no deviation; outside: from the nearer end */
        seen = fmin(fmax(expected, fmin(seen, out[t->output_to])), fmax(seen, out[t->output_to]));
    judge(t, expected, seen - expected, step, mark);
}

static void file_check(const char *folder, const char *name)
{
    struct table t = {.file = name};
    char path[512];
    char line[1024];
    FILE *file;

    (void)snprintf(path, sizeof path, "%s/%s", folder, name);
    file = fopen(path, "r");
    ck_assert_msg(file != NULL, "cannot open %s", path);
    while (fgets(line, sizeof line, file) != NULL) {
        t.line++;
        ck_assert_msg(strchr(line, '\n') != NULL, "%s:%d: line too long", name, t.line);
        line[strcspn(line, "\n")] = '\0';
        if (line[0] != '\0' && line[0] != '#' && !directive_take(&t, line))
            row_check(&t, line);
    }
    (void)fclose(file);
}

/* ---- the report -------------------------------------------------------------------------- */

static void tally_check(const struct tally *t)
{
    int independent = t->cases[PUBLISHED] + t->cases[MEMORY] + t->cases[CALCULATED];
    const char *name = t->entry->name;

    printf("%-34s", name);
    for (int k = 0; k < KIND_COUNT; k++)
        if (t->cases[k] > 0)
            printf(" %d %s,", t->cases[k], KINDS[k]);
    if (independent > 0)
        printf(" %d right to the digit, %d inside a span, %d listed, %d beyond the confidence, worst %+.3g "
               "(%.2g of "
               "its last digit)",
               t->right, t->inside, t->listed, t->beyond, t->worst_deviation, t->worst);
    printf("%s\n", t->is_contested ? "; CONTESTED" : "");
    ck_assert_msg(independent >= t->least, "%s: %d independent cases, at least %d are wanted", name,
                  independent, t->least);
    ck_assert_msg(t->is_contested || 10 * t->listed <= independent,
                  "%s: %d of %d cases are listed, more than a tenth, and it is not said why", name, t->listed,
                  independent);
    ck_assert_msg(!t->is_contested || 10 * t->listed > independent, "%s: contested without need", name);
}

static void totals_print(void)
{
    struct tally sum = {0};
    int contested = 0;

    for (const struct tally *t = tallies; t < tallies + tally_count; t++) {
        for (int k = 0; k < KIND_COUNT; k++)
            sum.cases[k] += t->cases[k];
        sum.right += t->right;
        sum.inside += t->inside;
        sum.listed += t->listed;
        sum.beyond += t->beyond;
        contested += t->is_contested;
    }
    printf("%d functions:", tally_count);
    for (int k = 0; k < KIND_COUNT; k++)
        printf(" %d %s,", sum.cases[k], KINDS[k]);
    printf(" %d right to the digit, %d inside a span, %d listed, %d beyond the confidence; %d functions list "
           "more "
           "than a tenth\n",
           sum.right, sum.inside, sum.listed, sum.beyond, contested);
}

static void every_function_is_here(void)
{
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++) {
            int i = 0;

            while (i < tally_count && tallies[i].entry != e)
                i++;
            ck_assert_msg(i < tally_count, "%s has no case at all in tests/published", e->name);
        }
}

static int is_table(const struct dirent *entry)
{
    size_t length = strlen(entry->d_name);

    return length > 4 && strcmp(entry->d_name + length - 4, ".txt") == 0;
}

START_TEST(every_published_value_is_met_to_its_last_digit_or_listed_with_the_reason)
{
    static const char FOLDER[] = SOURCE_DIR "/tests/published";
    const char *only = getenv("PUBLISHED_FILE");
    struct dirent **names;
    int count = scandir(FOLDER, &names, is_table, alphasort);

    ck_assert_int_gt(count, 0);
    for (int i = 0; i < count; i++) {
        if (only == NULL || strcmp(only, names[i]->d_name) == 0)
            file_check(FOLDER, names[i]->d_name);
        free(names[i]);
    }
    free(names);
    for (int i = 0; i < tally_count; i++)
        tally_check(&tallies[i]);
    totals_print();
    if (only == NULL)
        every_function_is_here();
    (void)fflush(stdout);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("published");
    TCase *tables = tcase_create("tables");

    tcase_add_test(tables, every_published_value_is_met_to_its_last_digit_or_listed_with_the_reason);
    suite_add_tcase(suite, tables);
    return suite;
}
