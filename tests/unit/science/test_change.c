#include "random_input.h"
#include "science/change.h"
#include "science/hmf.h"
#include "science/inversion.h"
#include "support/support.h"

#include <math.h>

static struct change_record fresh(void)
{
    struct change_record record;

    ck_assert_int_eq(change_start_eval(0, 0, &record), ST_OK);
    return record;
}

static void advance(struct change_record *record, double hours, double from_c, double to_c, double ph,
                    double strength_pct)
{
    const struct change_step step = {hours, from_c, to_c, ph, strength_pct};

    ck_assert_int_eq(change_advance_eval(record, &step, record), ST_OK);
}

static void span_near(const struct span *seen, const struct span *expected, double relative)
{
    ck_near(seen->low, expected->low, relative * expected->low);
    ck_near(seen->best, expected->best, relative * expected->best);
    ck_near(seen->high, expected->high, relative * expected->high);
}

static void record_near(const struct change_record *seen, const struct change_record *expected,
                        double relative)
{
    span_near(&seen->inverted, &expected->inverted, relative);
    span_near(&seen->hmf_mg_kg, &expected->hmf_mg_kg, relative);
    ck_near(seen->hours, expected->hours, 1e-9 * (1 + expected->hours));
    for (int i = 0; i < CHANGE_WARM_COUNT; i++)
        ck_near(seen->warm_min[i], expected->warm_min[i], 1e-9 * (1 + expected->warm_min[i]));
}

START_TEST(a_constant_temperature_is_the_closed_form)
{
    struct change_record record = fresh();
    struct span share, formed, hmf;

    advance(&record, 12, 60, 60, 4, 62);
    ck_assert_int_eq(inversion_share_eval(60, 4, 62, 12, &share), ST_OK);
    ck_assert_int_eq(hmf_formed_eval(60, 4, 62, 12, &formed), ST_OK);
    ck_assert_int_eq(change_hmf_eval(&record, 62, &hmf), ST_OK);
    span_near(&hmf, &formed, 1e-12);
    share = (struct span){share.low / 100, share.best / 100, share.high / 100};
    span_near(&record.inverted, &share, 1e-12);
}
END_TEST

START_TEST(a_step_cut_in_two_at_a_constant_temperature_is_the_same)
{
    uint64_t seed = 31;

    for (int i = 0; i < 500; i++) {
        double hours = pow(10, random_between(&seed, -6, 2));
        double temp_c = random_between(&seed, 0, 90);
        double ph = random_between(&seed, 2, 8);
        double cut = random_between(&seed, 0, 1);
        struct change_record whole = fresh();
        struct change_record halves = fresh();

        advance(&whole, hours, temp_c, temp_c, ph, 62);
        advance(&halves, hours * cut, temp_c, temp_c, ph, 62);
        advance(&halves, hours * (1 - cut), temp_c, temp_c, ph, 62);
        record_near(&halves, &whole, 1e-9);
    }
}
END_TEST

/* One step against 2000 short ones; the short ones' own error is far below 1e-9. */
static void ramp_check(double hours, double from_c, double to_c, double ph, double strength_pct)
{
    struct change_record whole = fresh();
    struct change_record fine = fresh();
    int pieces = 2000;

    advance(&whole, hours, from_c, to_c, ph, strength_pct);
    for (int i = 0; i < pieces; i++)
        advance(&fine, hours / pieces, from_c + (to_c - from_c) * i / pieces,
                from_c + (to_c - from_c) * (i + 1) / pieces, ph, strength_pct);
    record_near(&whole, &fine, 1e-6);
}

START_TEST(a_ramp_in_one_step_is_as_good_as_in_two_thousand)
{
    uint64_t seed = 32;

    ramp_check(1, 20, 80, 4, 62);
    ramp_check(1, 80, 20, 4, 62);
    ramp_check(1, 0, 105, 2, 85); /* nearly all inverted on the way */
    ramp_check(1, 105, 0, 2, 85);
    ramp_check(1e-9, 0, 60, 2, 0);
    ramp_check(1, 60, 60 + 1e-9, 3, 62);
    for (int i = 0; i < 60; i++) {
        double from_c = random_between(&seed, 0, 105);
        double to_c = fmin(fmax(from_c + random_between(&seed, -60, 60), 0), 105);

        ramp_check(random_between(&seed, 0, 1), from_c, to_c, random_between(&seed, 2, 8),
                   random_between(&seed, 0, 85));
    }
}
END_TEST

/* 20 to 80 degC in an hour, pH 4, 62 %: summed in 400000 steps outside this program. */
START_TEST(a_ramp_is_what_a_sum_in_very_many_steps_gives)
{
    struct change_record record = fresh();
    struct span hmf;

    advance(&record, 1, 20, 80, 4, 62);
    ck_assert_int_eq(change_hmf_eval(&record, 62, &hmf), ST_OK);
    ck_near(hmf.best / 0.0150621102, 1, 1e-6);
    ck_near(record.inverted.best / 0.0117176432, 1, 1e-6);
}
END_TEST

START_TEST(water_between_two_steps_changes_nothing_but_the_concentration)
{
    struct change_record record = fresh();
    struct span thick, thin;

    advance(&record, 5, 70, 70, 4, 70);
    ck_assert_int_eq(change_hmf_eval(&record, 70, &thick), ST_OK);
    ck_assert_int_eq(change_hmf_eval(&record, 35, &thin), ST_OK);
    ck_near(thin.best, thick.best / 2, 1e-12);
}
END_TEST

START_TEST(invert_syrup_forms_hmf_at_once_and_fresh_sugar_does_not)
{
    struct change_record invert, sugar = fresh();
    struct span rate;

    ck_assert_int_eq(change_start_eval(100, 3, &invert), ST_OK);
    advance(&invert, 1, 50, 50, 4, 70);
    advance(&sugar, 1, 50, 50, 4, 70);
    ck_assert_int_eq(hmf_rate_eval(50, 4, 70 * INVERSION_FRUCTOSE_KG_KG, &rate), ST_OK);
    ck_near(invert.hmf_mg_kg.best, 3 + rate.best / 0.70, 1e-9); /* the start's HMF is kept */
    ck_near(invert.inverted.best, 1, 0);
    ck_assert_double_lt(sugar.hmf_mg_kg.high, rate.best / 0.70 / 10);
}
END_TEST

START_TEST(warm_minutes_count_the_part_of_a_ramp_above_each_temperature)
{
    struct change_record record = fresh();

    advance(&record, 1, 30, 60, 7, 62); /* above 40: two thirds, above 50: one third */
    ck_near(record.warm_min[CHANGE_WARM_40], 40, 1e-9);
    ck_near(record.warm_min[CHANGE_WARM_50], 20, 1e-9);
    ck_near(record.warm_min[CHANGE_WARM_60], 0, 0);
    advance(&record, 0.5, 60, 60, 7, 62); /* at 60 is not above 60 */
    ck_near(record.warm_min[CHANGE_WARM_50], 50, 1e-9);
    ck_near(record.warm_min[CHANGE_WARM_60], 0, 0);
    advance(&record, 1, 70, 20, 7, 62);
    ck_near(record.warm_min[CHANGE_WARM_60], 12, 1e-9);
    ck_near(record.hours, 2.5, 1e-12);
}
END_TEST

START_TEST(nothing_is_ever_taken_back_and_the_ends_keep_their_order)
{
    struct change_record record = fresh();
    uint64_t seed = 33;
    double temp_c = 20;

    for (int i = 0; i < 2000; i++) {
        struct change_record before = record;
        double next_c = random_between(&seed, 0, 90);

        advance(&record, random_between(&seed, 0, 0.2), temp_c, next_c, random_between(&seed, 2, 8),
                random_between(&seed, 0, 85));
        temp_c = next_c;
        ck_assert(record.inverted.low >= before.inverted.low && record.inverted.high >= before.inverted.high);
        ck_assert(record.hmf_mg_kg.low >= before.hmf_mg_kg.low);
        ck_assert(record.inverted.low <= record.inverted.best &&
                  record.inverted.best <= record.inverted.high && record.inverted.high <= 1);
        ck_assert(record.hmf_mg_kg.low <= record.hmf_mg_kg.best &&
                  record.hmf_mg_kg.best <= record.hmf_mg_kg.high);
    }
}
END_TEST

START_TEST(a_step_of_no_length_changes_nothing)
{
    struct change_record record = fresh();
    struct change_record before;

    advance(&record, 3, 60, 70, 4, 62);
    before = record;
    advance(&record, 0, 60, 70, 4, 62);
    advance(&record, 0, 60, 60, 4, 62);
    record_near(&record, &before, 0);
}
END_TEST

START_TEST(a_step_outside_its_range_leaves_the_record_alone)
{
    static const double ABSURD[] = {-1e300, 1e300, -1, 1e9, INFINITY, -INFINITY, (double)NAN};

    for (size_t i = 0; i < sizeof ABSURD / sizeof ABSURD[0]; i++)
        for (int which = 0; which < 5; which++) {
            double values[5] = {1, 50, 60, 4, 62};
            struct change_record before = fresh();
            struct change_record after = before;

            values[which] = ABSURD[i];
            after.hours = -1;
            const struct change_step step = {values[0], values[1], values[2], values[3], values[4]};
            ck_assert_int_eq(change_advance_eval(&before, &step, &after), ST_RANGE);
            ck_near(after.hours, -1, 0);
        }
}
END_TEST

START_TEST(more_hmf_than_an_estimate_can_mean_is_refused)
{
    struct change_record record = fresh();
    struct change_record after = {.hours = -1};
    const struct change_step step = {1e6, 105, 104, 2, 85};

    ck_assert_int_eq(change_advance_eval(&record, &step, &after), ST_RANGE);
    ck_near(after.hours, -1, 0);
    ck_assert_int_eq(change_start_eval(100.1, 0, &record), ST_RANGE);
    ck_assert_int_eq(change_start_eval(0, (double)NAN, &record), ST_RANGE);
    ck_near(record.inverted.best, 0, 0);
    ck_assert_int_eq(change_hmf_eval(&record, 85.1, &after.inverted), ST_RANGE);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("change");
    TCase *all = tcase_create("all");

    tcase_set_timeout(all, 30);
    tcase_add_test(all, a_constant_temperature_is_the_closed_form);
    tcase_add_test(all, a_step_cut_in_two_at_a_constant_temperature_is_the_same);
    tcase_add_test(all, a_ramp_in_one_step_is_as_good_as_in_two_thousand);
    tcase_add_test(all, a_ramp_is_what_a_sum_in_very_many_steps_gives);
    tcase_add_test(all, water_between_two_steps_changes_nothing_but_the_concentration);
    tcase_add_test(all, invert_syrup_forms_hmf_at_once_and_fresh_sugar_does_not);
    tcase_add_test(all, warm_minutes_count_the_part_of_a_ramp_above_each_temperature);
    tcase_add_test(all, nothing_is_ever_taken_back_and_the_ends_keep_their_order);
    tcase_add_test(all, a_step_of_no_length_changes_nothing);
    tcase_add_test(all, a_step_outside_its_range_leaves_the_record_alone);
    tcase_add_test(all, more_hmf_than_an_estimate_can_mean_is_refused);
    suite_add_tcase(suite, all);
    return suite;
}
