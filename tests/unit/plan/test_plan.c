#include "../science/random_input.h"
#include "plan_fixture.h"
#include "science/sucrose.h"

#include <stdio.h>

/* ---- notes --------------------------------------------------------------------------------- */

START_TEST(a_batch_with_nothing_to_warn_of_has_no_notes)
{
    expect_plan((struct plan_request){.mass_kg = 800, .strength_pct = 62.5});
    ck_assert_int_eq(notes.count, 0);
}
END_TEST

START_TEST(syrup_that_may_crystallise_in_store_says_below_what)
{
    struct plan_request r = plain_request(600, 66.667);

    expect_plan(r);
    ck_near(plan.saturated_below_c, 19.6, 0.1);
    ck_assert(has_note("can crystallise below 19.6 °C"));
    r.storage_min_temp_c = 22;
    expect_plan(r);
    ck_assert(!has_note("crystallise"));
}
END_TEST

START_TEST(acid_brings_its_dispute_once_and_what_the_ph_calls_for)
{
    struct plan_request r = demo_request();

    expect_plan(r);
    ck_assert(has_note("disputed") && has_note("HMF"));
    ck_assert(!has_note("carbon dioxide"));
    r.target_ph = 5;
    expect_plan(r);
    ck_assert(has_note("carbon dioxide"));
    r.target_ph = 3.6;
    expect_plan(r);
    ck_assert(has_note("is low"));
}
END_TEST

START_TEST(thin_syrup_and_rounding_are_pointed_out)
{
    struct plan_request r = plain_request(600, 50);

    expect_plan(r);
    ck_assert(has_note("ferment"));
    r = plain_request(600, 62.5);
    r.bag_kg = 200;
    expect_plan(r);
    ck_assert_int_eq(plan.bags, 2);
    ck_assert(has_note("The nearest whole number of bags, 2 of 200 kg, gives 492 L instead of 600 L."));
}
END_TEST

START_TEST(a_size_off_by_more_than_one_percent_is_told)
{
    struct plan_request r = {.strength_pct = 62.5};

    r.mass_kg = 807; /* 20 bags give 800 */
    expect_plan(r);
    ck_assert(!has_note("whole number of bags"));
    r.mass_kg = 809;
    expect_plan(r);
    ck_assert(has_note("20 of 25 kg, gives 800 kg instead of 809 kg"));
    r = plain_request(316, 62.5);
    expect_plan(r);
    ck_assert(has_note("10 of 25 kg, gives 307 L instead of 316 L"));
}
END_TEST

START_TEST(acid_in_a_batch_that_gets_hot_is_warned_of)
{
    struct plan_request r = demo_request();

    expect_plan(r);
    ck_assert(plan.preheat_c < 60 && !has_note("before the heat"));
    r.strength_pct = 69.5;
    expect_plan(r);
    ck_assert_msg(plan.dissolve_c > 60, "%g", plan.dissolve_c);
    ck_assert(has_note("above 60 °C acid and heat together make HMF and invert sugar"));
    ck_assert(has_note("lower strength") && has_note("or no acid"));
    r.acid = ACID_NONE;
    expect_plan(r);
    ck_assert(!has_note("acid"));
}
END_TEST

START_TEST(odd_numbers_are_told_rounded)
{
    struct plan_request r = plain_request(600, 200.0 / 3);

    r.bag_kg = 22.6796; /* 50 lb */
    expect_plan(r);
    ck_assert(has_note("66.67 % syrup can crystallise below 19.6 °C"));
    ck_assert(has_note("of 22.68 kg, gives"));
}
END_TEST

/* The capped preheat makes the heater reach dissolve_c, and nothing is planned to be hotter. */
START_TEST(the_warmest_is_one_number_in_note_and_refusal)
{
    struct plan_request r = plain_request(600, 69.5);
    char warmest[32];

    expect_plan(r);
    ck_assert(plan.dissolve_c > plan.preheat_c);
    snprintf(warmest, sizeof warmest, "up to %.1f °C", plan.dissolve_c);
    ck_assert(has_note(warmest));
    snprintf(warmest, sizeof warmest, "at %.1f °C, the warmest", plan.dissolve_c);
    r.volume_l = 900;
    expect_refusal(make(r), ST_REFUSED, "volume_l", warmest);
}
END_TEST

/* Every note at once has a place: thin and cold enough to crystallise in store, sour, hot, slow. */
START_TEST(all_notes_at_once_have_room)
{
    struct plan_request r = plain_request(620, 54.9);
    struct limits limits = DEMO_LIMITS;
    struct tank_facts tank = DEMO_TANK;

    r.bag_kg = 100;
    r.acid = ACID_CITRIC;
    r.target_ph = 3.6;
    r.water_temp_c = 60;
    r.sugar_temp_c = -20;
    limits.sugar_max_c = 64;
    limits.dose_max_c = 62;
    limits.dissolve_max_s = 1;
    limits.acidify_max_s = 1;
    tank.storage_min_temp_c = -20;
    ck_assert_msg(make_with(r, tank, limits) == ST_OK, "%s", fault.text);
    ck_assert_msg(notes.count >= 7 && notes.count <= PLAN_NOTES_MAX, "%d", notes.count);
}
END_TEST

START_TEST(steps_expected_to_outlast_their_limit_are_pointed_out)
{
    struct limits limits = DEMO_LIMITS;

    limits.dissolve_max_s = 600;
    limits.acidify_max_s = 60;
    ck_assert_int_eq(make_with(demo_request(), DEMO_TANK, limits), ST_OK);
    ck_assert(has_note("Dissolving may take") && has_note("Acidifying may take"));
}
END_TEST

/* ---- anything -------------------------------------------------------------------------------- */

static void check_sound(const struct plan_request *asked)
{
    double hot_l = 0;
    double hot_c = fmax(plan.preheat_c, plan.dissolve_c);
    double trim = fmax(2, 0.03 * plan.water_kg);
    double acid_water = plan.acid_stock_pct == 0 ? 0 : plan.acid_g / 1000 * (100 / plan.acid_stock_pct - 1);

    ck_assert(plan.bags >= 1 && plan.sugar_kg == plan.bags * plan.request.bag_kg);
    ck_assert(plan.final_kg == plan.sugar_kg + plan.water_kg);
    ck_near(100 * plan.sugar_kg / plan.final_kg, asked->strength_pct, 1e-9);
    ck_near(plan.fill_kg + trim + acid_water, plan.water_kg, 1e-9 * plan.water_kg);
    ck_assert_int_eq(sucrose_mix_volume_eval(plan.sugar_kg, plan.water_kg, hot_c, &hot_l), ST_OK);
    ck_assert(hot_l <= DEMO_TANK.capacity_l * (1 + 1e-12));
    ck_assert(plan.fill_kg >= 0.98 * DEMO_TANK.heater_cover_l);
    ck_assert(isfinite(plan.final_l) && isfinite(plan.acid_ml) && plan.acid_ceiling_ml >= plan.acid_ml);
    ck_assert(plan.preheat_c >= plan.request.water_temp_c && plan.preheat_c < DEMO_LIMITS.sugar_max_c);
    for (int i = 0; i < 16; i++)
        ck_assert(isfinite(plan.predicted_s[i]) && plan.predicted_s[i] >= 0);
    ck_assert(notes.count >= 0 && notes.count <= PLAN_NOTES_MAX);
    for (int i = 0; i < notes.count; i++)
        ck_assert(strlen(notes.text[i]) > 20);
}

START_TEST(any_request_gets_a_sound_plan_or_a_sentence)
{
    uint64_t seed = 31415;
    int made = 0;
    int refused = 0;

    for (int i = 0; i < 100000; i++) {
        bool by_mass = random_next(&seed) % 2 == 0;
        struct plan_request r = {
            .volume_l = by_mass ? 0 : random_finite(&seed, 100, 900),
            .mass_kg = by_mass ? random_finite(&seed, 100, 1200) : 0,
            .strength_pct = random_finite(&seed, 30, 70),
            .acid = (enum acid)(random_next(&seed) % (ACID_COUNT + 1)),
            .target_ph = random_finite(&seed, 3.5, 5.5),
            .alkalinity_meq_kg = random_finite(&seed, 0, 20),
            .water_temp_c = random_finite(&seed, 1, 60),
            .sugar_temp_c = random_finite(&seed, -20, 45),
            .room_temp_c = random_finite(&seed, -20, 50),
            .storage_min_temp_c = random_finite(&seed, -20, 40),
            .bag_kg = random_finite(&seed, 0.5, 60),
        };
        struct tank_facts tank = DEMO_TANK;

        tank.acid_stock_pct = random_next(&seed) % 2 == 0 ? 10 : 2;
        if (make_with(r, tank, DEMO_LIMITS) == ST_OK) {
            check_sound(&r);
            made++;
        } else {
            ck_assert(fault.code == ST_RANGE || fault.code == ST_REFUSED);
            ck_assert_msg(strlen(fault.text) > 20 && strlen(fault.text) < sizeof fault.text - 1, "%s",
                          fault.text);
            ck_assert(fault.where[0] != '\0' && plan.bags == 0);
            refused++;
        }
    }
    ck_assert_msg(made > 1000 && refused > 1000, "%d made, %d refused", made, refused);
}
END_TEST

/* Random tanks too: no assert may fall and no number be lost. */
START_TEST(any_tank_gives_a_plan_or_a_sentence)
{
    uint64_t seed = 2718;

    for (int i = 0; i < 100000; i++) {
        struct plan_request r = {.volume_l = random_finite(&seed, 1, 20000),
                                 .strength_pct = random_between(&seed, 30, 70),
                                 .acid = (enum acid)(random_next(&seed) % ACID_COUNT),
                                 .target_ph = random_between(&seed, 3.5, 5.5)};
        struct tank_facts tank = DEMO_TANK;
        struct limits limits = DEMO_LIMITS;

        tank.capacity_l = random_finite(&seed, 20, 50000);
        tank.heater_cover_l = random_finite(&seed, 1, 500);
        tank.heater_kw = random_finite(&seed, 0.1, 100);
        tank.water_l_min = random_finite(&seed, 0, 500);
        tank.dose_ml_min = random_finite(&seed, 0, 1000);
        tank.dose_min_pulse_ml = random_finite(&seed, 0, 50);
        tank.heat_loss_w_k = random_finite(&seed, 0, 500);
        tank.acid_stock_pct = random_finite(&seed, 0, 50);
        tank.bag_kg = random_finite(&seed, 0.5, 1500);
        limits.liquid_max_c = random_finite(&seed, 40, 95);
        limits.sugar_max_c = random_finite(&seed, 20, 95);
        limits.dissolve_max_s = random_finite(&seed, 60, 20000);
        if (make_with(r, tank, limits) == ST_OK)
            for (int k = 0; k < 16; k++)
                ck_assert(isfinite(plan.predicted_s[k]));
        else
            ck_assert_msg(strlen(fault.text) > 20 && strlen(fault.text) < sizeof fault.text - 1, "%s",
                          fault.text);
    }
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("plan: notes, and anything at all");
    TCase *all = tcase_create("all");

    tcase_set_timeout(all, 60);
    tcase_add_test(all, a_batch_with_nothing_to_warn_of_has_no_notes);
    tcase_add_test(all, syrup_that_may_crystallise_in_store_says_below_what);
    tcase_add_test(all, acid_brings_its_dispute_once_and_what_the_ph_calls_for);
    tcase_add_test(all, thin_syrup_and_rounding_are_pointed_out);
    tcase_add_test(all, a_size_off_by_more_than_one_percent_is_told);
    tcase_add_test(all, acid_in_a_batch_that_gets_hot_is_warned_of);
    tcase_add_test(all, odd_numbers_are_told_rounded);
    tcase_add_test(all, the_warmest_is_one_number_in_note_and_refusal);
    tcase_add_test(all, all_notes_at_once_have_room);
    tcase_add_test(all, steps_expected_to_outlast_their_limit_are_pointed_out);
    tcase_add_test(all, any_request_gets_a_sound_plan_or_a_sentence);
    tcase_add_test(all, any_tank_gives_a_plan_or_a_sentence);
    suite_add_tcase(suite, all);
    return suite;
}
