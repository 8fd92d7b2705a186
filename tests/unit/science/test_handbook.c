/* What must hold of every function in the handbook, whatever it calculates. */
#include "random_input.h"
#include "science/handbook.h"
#include "science/units.h"
#include "support/support.h"

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#define DRAWS 4000
#define FACE_DRAWS 100
#define UNTOUCHED -77.125

static const struct handbook_entry *entries[256];
static int entry_count;

static void entries_collect(void)
{
    entry_count = 0;
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++)
            entries[entry_count++] = e;
}

static void quantity_check(const struct handbook_entry *e, const struct handbook_quantity *q)
{
    ck_assert_msg(q->unit != NULL && q->min < q->max, "%s, %s: no unit or no range", e->name, q->name);
    ck_assert_msg(q->unit[0] == '\0' || unit_find(q->unit) != NULL, "%s, %s: \"%s\" is no unit", e->name,
                  q->name, q->unit);
    if (q->choice == NULL)
        return;
    for (int i = (int)q->min; i <= (int)q->max; i++)
        ck_assert_msg(handbook_choice_find(q, q->choice(i)) == i, "%s, %s: choice %d has no name of its own",
                      e->name, q->name, i);
}

START_TEST(every_row_says_what_it_takes_and_gives_and_from_where)
{
    ck_assert_int_gt(entry_count, 0);
    for (int i = 0; i < entry_count; i++) {
        const struct handbook_entry *e = entries[i];

        ck_assert_ptr_eq(handbook_find(e->name), e); /* also: no name twice */
        ck_assert_msg(e->words[0] != '\0' && e->source[0] != '\0' && e->error[0] != '\0' && e->range != NULL,
                      "%s says too little", e->name);
        ck_assert_uint_gt(handbook_count(e->inputs), 0);
        ck_assert_uint_gt(handbook_count(e->outputs), 0);
        for (size_t q = 0; e->inputs[q].name != NULL; q++)
            quantity_check(e, &e->inputs[q]);
        for (size_t q = 0; e->outputs[q].name != NULL; q++)
            quantity_check(e, &e->outputs[q]);
    }
}
END_TEST

static void inputs_draw(const struct handbook_entry *e, uint64_t *seed, double in[])
{
    for (size_t i = 0; e->inputs[i].name != NULL; i++) {
        const struct handbook_quantity *q = &e->inputs[i];

        in[i] = random_between(seed, q->min, q->max);
        if (q->choice != NULL)
            in[i] = q->min + (double)(random_next(seed) % (uint64_t)(q->max - q->min + 1));
        else if (q->min > 0 && q->max / q->min > 1e3 && random_next(seed) % 2 == 0) /* over all sizes */
            in[i] = fmin(fmax(exp(random_between(seed, log(q->min), log(q->max))), q->min), q->max);
        else if (random_next(seed) % 16 == 0)
            in[i] = random_next(seed) % 2 == 0 ? q->min : q->max;
    }
}

static void outputs_clear(double out[HANDBOOK_OUTPUTS_MAX])
{
    for (int i = 0; i < HANDBOOK_OUTPUTS_MAX; i++)
        out[i] = UNTOUCHED;
}

static bool is_untouched(const double out[HANDBOOK_OUTPUTS_MAX])
{
    for (int i = 0; i < HANDBOOK_OUTPUTS_MAX; i++)
        if (out[i] != UNTOUCHED)
            return false;
    return true;
}

static void inputs_print(const struct handbook_entry *e, const double in[], char text[256])
{
    int used = 0;

    text[0] = '\0';
    for (size_t i = 0; e->inputs[i].name != NULL && used < 200; i++)
        used += snprintf(text + used, 256 - (size_t)used, "%s=%.17g ", e->inputs[i].name, in[i]);
}

static void outputs_check(const struct handbook_entry *e, const double in[], const double out[])
{
    char at[256];

    inputs_print(e, in, at);
    for (size_t i = 0; e->outputs[i].name != NULL; i++) {
        const struct handbook_quantity *q = &e->outputs[i];

        ck_assert_msg(out[i] >= q->min && out[i] <= q->max, "%s(%s): %s = %.17g is not within %g..%g",
                      e->name, at, q->name, out[i], q->min, q->max);
        ck_assert_msg(i == 0 || strncmp(e->outputs[i - 1].name, "low", 3) != 0 || out[i - 1] <= out[i],
                      "%s(%s): low is above best", e->name, at);
        ck_assert_msg(i == 0 || strncmp(q->name, "high", 4) != 0 || out[i - 1] <= out[i],
                      "%s(%s): best is above high", e->name, at);
    }
}

/* Whatever a row says to these inputs: an answer within its range, or a refusal that its words explain. */
static bool row_check(const struct handbook_entry *e, const double in[])
{
    double out[HANDBOOK_OUTPUTS_MAX];
    enum status status;

    outputs_clear(out);
    status = handbook_eval(e, in, out);
    if (status == ST_OK) {
        outputs_check(e, in, out);
        return true;
    }
    ck_assert_msg(status == ST_RANGE && is_untouched(out), "%s: %s, or wrote a number all the same", e->name,
                  status_name(status));
    ck_assert_msg(e->range[0] != '\0', "%s refuses what its ranges allow and does not say why", e->name);
    return false;
}

START_TEST(any_input_within_range_gives_a_number_within_the_stated_range_or_is_refused)
{
    for (int i = 0; i < entry_count; i++) {
        const struct handbook_entry *e = entries[i];
        uint64_t seed = 20261125;
        int answered = 0;

        for (int n = 0; n < DRAWS; n++) {
            double in[HANDBOOK_INPUTS_MAX] = {0};

            inputs_draw(e, &seed, in);
            answered += row_check(e, in);
        }
        ck_assert_msg(answered * 50 >= DRAWS, "%s answers only %d of %d: its ranges say too much", e->name,
                      answered, DRAWS);
    }
}
END_TEST

/* Every choice and both ends of every number. */
static size_t ends_count(const struct handbook_quantity *q)
{
    return q->choice == NULL ? 2 : (size_t)(q->max - q->min) + 1;
}

static double end_at(const struct handbook_quantity *q, size_t i)
{
    if (q->choice != NULL)
        return q->min + (double)i;
    return i == 0 ? q->min : q->max;
}

START_TEST(so_does_every_corner_of_the_ranges)
{
    for (int i = 0; i < entry_count; i++) {
        const struct handbook_entry *e = entries[i];
        size_t corners = 1;

        for (size_t q = 0; e->inputs[q].name != NULL; q++)
            corners *= ends_count(&e->inputs[q]);
        for (size_t corner = 0; corner < corners; corner++) {
            double in[HANDBOOK_INPUTS_MAX] = {0};
            size_t left = corner;

            for (size_t q = 0; e->inputs[q].name != NULL; q++) {
                size_t ends = ends_count(&e->inputs[q]);

                in[q] = end_at(&e->inputs[q], left % ends);
                left /= ends;
            }
            (void)row_check(e, in);
        }
    }
}
END_TEST

/* One input at an end of its range, the others anywhere. */
START_TEST(so_does_every_face_of_the_ranges)
{
    for (int i = 0; i < entry_count; i++) {
        const struct handbook_entry *e = entries[i];
        uint64_t seed = 20261126;

        for (size_t q = 0; e->inputs[q].name != NULL; q++)
            for (size_t end = 0; end < ends_count(&e->inputs[q]); end++)
                for (int n = 0; n < FACE_DRAWS; n++) {
                    double in[HANDBOOK_INPUTS_MAX] = {0};

                    inputs_draw(e, &seed, in);
                    in[q] = end_at(&e->inputs[q], end);
                    (void)row_check(e, in);
                }
    }
}
END_TEST

/* A valid set of inputs to spoil one by one. */
static bool valid_find(const struct handbook_entry *e, double in[])
{
    double out[HANDBOOK_OUTPUTS_MAX];
    uint64_t seed = 7;

    for (int n = 0; n < DRAWS; n++) {
        inputs_draw(e, &seed, in);
        if (handbook_eval(e, in, out) == ST_OK)
            return true;
    }
    return false;
}

START_TEST(what_is_outside_a_range_is_refused_and_never_answered_by_a_number)
{
    for (int i = 0; i < entry_count; i++) {
        const struct handbook_entry *e = entries[i];
        double valid[HANDBOOK_INPUTS_MAX] = {0};

        ck_assert_msg(valid_find(e, valid), "%s answers nothing", e->name);
        for (size_t q = 0; e->inputs[q].name != NULL; q++) {
            double min = e->inputs[q].min;
            double max = e->inputs[q].max;
            double step = 1e-6 * (max - min);
            const double outside[] = {min - step,
                                      max + step,
                                      min - 1e3 * (max - min),
                                      1e300,
                                      -1e300,
                                      INFINITY,
                                      -INFINITY,
                                      (double)NAN,
                                      nextafter(min, -INFINITY),
                                      nextafter(max, INFINITY)};

            for (size_t n = 0; n < sizeof outside / sizeof outside[0]; n++) {
                double in[HANDBOOK_INPUTS_MAX];
                double out[HANDBOOK_OUTPUTS_MAX];

                memcpy(in, valid, sizeof in);
                in[q] = outside[n];
                outputs_clear(out);
                ck_assert_msg(handbook_eval(e, in, out) == ST_RANGE && is_untouched(out),
                              "%s takes %s = %.17g, outside %g..%g", e->name, e->inputs[q].name, in[q], min,
                              max);
            }
        }
    }
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("handbook");
    TCase *rows = tcase_create("rows");

    tcase_set_timeout(rows, 60);
    tcase_add_unchecked_fixture(rows, entries_collect, NULL);
    tcase_add_test(rows, every_row_says_what_it_takes_and_gives_and_from_where);
    tcase_add_test(rows, any_input_within_range_gives_a_number_within_the_stated_range_or_is_refused);
    tcase_add_test(rows, so_does_every_corner_of_the_ranges);
    tcase_add_test(rows, so_does_every_face_of_the_ranges);
    tcase_add_test(rows, what_is_outside_a_range_is_refused_and_never_answered_by_a_number);
    suite_add_tcase(suite, rows);
    return suite;
}
