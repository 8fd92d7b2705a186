/* The smallest tank: a thermometer, a contactor, a stirrer. Water, acid, sugar and the readings of
 * strength and acidity are questions to the person, who has a hand refractometer and a pH meter.
 * Wider bars than with instruments: a hand refractometer is good to about 0.2 % and a hand meter to
 * about 0.05 (common practice, no source). */
#include "support/batch_run.h"
#include "support/support.h"

#include <math.h>
#include <stdio.h>

static struct batch_run RUN;

START_TEST(the_same_sequence_serves_the_smallest_tank)
{
    static const struct plan_request wish = {
        .volume_l = 600, .strength_pct = 62.5, .acid = ACID_CITRIC, .target_ph = 4.3};
    enum batch_state state;
    struct plant_truth truth;

    batch_run_init_smallest(&RUN, 21 + (uint64_t)_i, &wish);
    state = batch_run_to_end(&RUN, 12);
    truth = batch_run_truth(&RUN);
    printf(
        "seed %d: %.0f min, peak %.1f C, strength true %.2f %% stated %.2f, water pH true %.3f stated %.3f\n",
        21 + _i, RUN.seconds / 60, RUN.scan.memory.peak_temp_c, truth.final_strength_pct,
        RUN.scan.memory.strength_pct, RUN.water_ph_true, RUN.scan.memory.water_ph);
    ck_assert_msg(RUN.broken == NULL, "%s", RUN.broken);
    ck_assert_int_eq(state, STATE_COMPLETE);
    ck_near(truth.final_strength_pct, 62.5, 0.7);
    ck_near(RUN.water_ph_true, 4.3, 0.2);
    ck_assert_double_lt(truth.solid_kg, 2);
    ck_assert(RUN.scan.memory.strength_typed);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("small tank");
    TCase *tc = tcase_create("seeds");

    tcase_set_timeout(tc, 60);
    tcase_add_loop_test(tc, the_same_sequence_serves_the_smallest_tank, 0, 5);
    suite_add_tcase(suite, tc);
    return suite;
}
