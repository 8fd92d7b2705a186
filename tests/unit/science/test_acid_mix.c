/* Mixing and diluting, and what ordinary water is like. */
#include "acid_draw.h"
#include "science/acid_solution.h"
#include "support/support.h"

#define UNTOUCHED (-12345.678)

/* ---- mixing --------------------------------------------------------------------------------------- */

START_TEST(mixing_conserves_every_amount)
{
    uint64_t seed = 600;

    for (int i = 0; i < 5000; i++) {
        struct acid_solution a = solution_draw(&seed);
        struct acid_solution b = solution_draw(&seed);
        struct acid_solution mixed;
        double a_kg = random_between(&seed, 0, 1000);
        double b_kg = random_between(&seed, 0.001, 1000);
        double carbon_a = 0;
        double carbon_b = 0;
        double ph = UNTOUCHED;

        ck_assert_int_eq(acid_solution_mix_eval(&a, a_kg, &b, b_kg, &mixed), ST_OK);
        ck_assert_int_eq(acid_solution_carbon_eval(&a, &carbon_a), ST_OK);
        ck_assert_int_eq(acid_solution_carbon_eval(&b, &carbon_b), ST_OK);
#define KEPT(member) ck_near((a_kg * a.member + b_kg * b.member) / (a_kg + b_kg), mixed.member, 1e-9)
        KEPT(alkalinity_meq_kg);
        KEPT(temp_c);
        for (int acid = 0; acid < ACID_COUNT; acid++)
            KEPT(acid_mol_kg[acid]);
#undef KEPT
        ck_near((a_kg * carbon_a + b_kg * carbon_b) / (a_kg + b_kg), mixed.carbon_mmol_kg, 1e-9);
        ck_assert(!mixed.is_open);
        ck_assert_int_eq(acid_solution_ph_eval(&mixed, &ph), ST_OK);
    }
}
END_TEST

START_TEST(the_carbon_an_open_solution_holds_gives_its_ph_when_closed)
{
    uint64_t seed = 601;

    for (int i = 0; i < 5000; i++) {
        struct acid_solution s = solution_draw(&seed);
        double ph = ph_of(&s);

        ck_assert_int_eq(acid_solution_carbon_eval(&s, &s.carbon_mmol_kg), ST_OK);
        ck_assert(s.carbon_mmol_kg >= 0 && s.carbon_mmol_kg <= 200);
        s.is_open = false;
        ck_near(ph_of(&s), ph, 1e-9);
    }
}
END_TEST

START_TEST(diluting_is_mixing_with_deionised_water)
{
    const struct acid_solution deionised = {.temp_c = 20};
    struct acid_solution s = {.alkalinity_meq_kg = 2, .carbon_mmol_kg = 1.5, .temp_c = 20};
    struct acid_solution mixed, diluted;

    s.acid_mol_kg[ACID_CITRIC] = 0.0018;
    ck_assert_int_eq(acid_solution_mix_eval(&s, 1, &deionised, 3, &mixed), ST_OK);
    ck_assert_int_eq(acid_solution_dilute_eval(&s, 4, &diluted), ST_OK);
    ck_near(ph_of(&mixed), ph_of(&diluted), 1e-9);
    ck_near(diluted.alkalinity_meq_kg, 0.5, 1e-12);
    ck_near(diluted.carbon_mmol_kg, 0.375, 1e-12);
    s.is_open = true;
    s.co2_kpa = ACID_AIR_CO2_KPA;
    ck_assert_int_eq(acid_solution_dilute_eval(&s, 4, &s), ST_OK);
    ck_assert(s.is_open && s.co2_kpa == ACID_AIR_CO2_KPA);
}
END_TEST

START_TEST(diluting_an_acidified_water_raises_its_ph_steadily)
{
    struct acid_solution s = {.alkalinity_meq_kg = 1, .temp_c = 25};
    double before = 0;

    s.acid_mol_kg[ACID_CITRIC] = 0.001;
    for (int factor = 1; factor <= 1000; factor *= 2) {
        struct acid_solution diluted;

        ck_assert_int_eq(acid_solution_dilute_eval(&s, factor, &diluted), ST_OK);
        ck_assert(ph_of(&diluted) > before);
        before = ph_of(&diluted);
    }
}
END_TEST

/* ---- practice --------------------------------------------------------------------------------------- */

START_TEST(water_in_air_lies_above_ph_7)
{
    /* Rule of thumb, common practice, no source: ordinary water lies between pH 6 and 7 and above. "Above" is
     * water that has stood in air; alkalinity of drinking water 0.2-10 meq/kg (10-500 mg/L CaCO3) */
    for (double alkalinity = 0.2; alkalinity <= 10; alkalinity += 0.2)
        for (int t = 5; t <= 60; t += 5) {
            struct acid_solution s = {
                .alkalinity_meq_kg = alkalinity, .co2_kpa = ACID_AIR_CO2_KPA, .temp_c = t, .is_open = true};

            ck_assert(ph_of(&s) > 7.2 && ph_of(&s) < 9.5);
        }
}
END_TEST

START_TEST(well_water_with_carbon_dioxide_in_it_lies_between_ph_6_and_7)
{
    /* between three tenths of and twice as much CO2 as bicarbonate: fresh well water, common practice, no
     * source; at a tenth it lies above 7 */
    for (double alkalinity = 0.2; alkalinity <= 10; alkalinity += 0.2)
        for (double excess = 0.3; excess <= 2; excess += 0.1) {
            struct acid_solution s = {
                .alkalinity_meq_kg = alkalinity, .carbon_mmol_kg = alkalinity * (1 + excess), .temp_c = 12};

            ck_assert(ph_of(&s) > 6 && ph_of(&s) < 7.05);
        }
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("acid_mix");
    TCase *all = tcase_create("all");

    tcase_add_test(all, mixing_conserves_every_amount);
    tcase_add_test(all, the_carbon_an_open_solution_holds_gives_its_ph_when_closed);
    tcase_add_test(all, diluting_is_mixing_with_deionised_water);
    tcase_add_test(all, diluting_an_acidified_water_raises_its_ph_steadily);
    tcase_add_test(all, water_in_air_lies_above_ph_7);
    tcase_add_test(all, well_water_with_carbon_dioxide_in_it_lies_between_ph_6_and_7);
    suite_add_tcase(suite, all);
    return suite;
}
