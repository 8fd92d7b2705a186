#include "simulator/plant_parts.h"

#include "support/support.h"

/* 1 kg of water with this in it, at temp_c: its pH. */
static double ph_of(enum acid acid, double acid_mol, double alkali_eq, double carbon_mol, double temp_c)
{
    struct plant_liquid liquid = {.temp_c = temp_c, .ph = 7};

    liquid.stuff[STUFF_WATER] = 1;
    liquid.stuff[STUFF_ACID] = acid_mol;
    liquid.stuff[STUFF_ALKALI] = alkali_eq;
    liquid.stuff[STUFF_CARBON] = carbon_mol;
    plant_acid_solve(acid, &liquid);
    return liquid.ph;
}

/* Measured primary and secondary standards of the NBS scale at 25 degC: KH tartrate saturated 3.557,
 * KH2 citrate 0.05 mol/kg 3.776 and carbonate 10.012 (J. Res. NBS 73A, 37, 1969), phosphate 6.865
 * (Bates 1962); saturation 0.0341 mol/kg from memory. */
START_TEST(buffers_come_out_at_their_measured_values)
{
    ck_near(ph_of(ACID_TARTARIC, 0.0341, 0.0341, 0, 25), 3.557, 0.03);
    ck_near(ph_of(ACID_CITRIC, 0.05, 0.05, 0, 25), 3.776, 0.03);
    ck_near(ph_of(ACID_PHOSPHORIC, 0.05, 0.075, 0, 25), 6.865, 0.06);
    ck_near(ph_of(ACID_NONE, 0, 0.075, 0.05, 25), 10.012, 0.05);
}
END_TEST

/* A published table of calculated values for 0.001, 0.01 and 0.1 mol (acid.md B.5): this checks
 * the arithmetic, not the physics. */
START_TEST(pure_acids_come_out_at_their_table_values)
{
    ck_near(ph_of(ACID_CITRIC, 0.001, 0, 0, 25), 3.24, 0.02);
    ck_near(ph_of(ACID_CITRIC, 0.01, 0, 0, 25), 2.62, 0.02);
    ck_near(ph_of(ACID_ACETIC, 0.01, 0, 0, 25), 3.39, 0.02);
    ck_near(ph_of(ACID_ACETIC, 0.1, 0, 0, 25), 2.88, 0.02);
    ck_near(ph_of(ACID_PHOSPHORIC, 0.01, 0, 0, 25), 2.26, 0.03);
    ck_near(ph_of(ACID_NONE, 0, 0, 0, 25), 7.00, 0.01);
}
END_TEST

/* 32.8 g of citric acid in 100 kg of water of 2 meq/kg: pH 4.25 (acid.md C, computed there with
 * other constants, open to air). */
START_TEST(a_usual_dose_ends_where_the_dose_table_says)
{
    ck_near(ph_of(ACID_CITRIC, 0.328 / 192.12, 0.002, 1.3e-5, 25), 4.25, 0.05);
    ck_near(ph_of(ACID_LACTIC, 0.505 / 90.08, 0.004, 1.3e-5, 25), 4.25, 0.06);
}
END_TEST

START_TEST(tap_water_comes_with_its_own_ph)
{
    struct plant_declared declared;
    struct plant_params params;

    plant_declared_demo(&declared);
    for (uint64_t seed = 1; seed < 20; seed++) {
        plant_params_draw(seed, &declared, &params);
        ck_near(ph_of(ACID_NONE, 0, params.alkalinity_meq_kg / 1000, params.water_carbon_mol_kg,
                      declared.water_c),
                params.water_ph, 0.001);
    }
}
END_TEST

/* Half the dose leaves carbon dioxide that escapes: pH rises for a long time (acid.md C). */
START_TEST(carbon_dioxide_leaves_and_the_ph_rises)
{
    static struct plant plant;
    struct plant_declared declared;
    struct plant_params params;
    struct plant_inputs in = {.stirrer_on = true, .stirrer_set_rpm = 120};
    double early;

    plant_declared_demo(&declared);
    plant_params_draw(2, &declared, &params);
    plant_init(&plant, &params);
    plant_add_water(&plant, 300);
    ck_assert(plant_add_acid(&plant, ACID_CITRIC, 60));
    for (int i = 0; i < 3000; i++)
        plant_step(&plant, &in, 0.1);
    early = plant.whole.ph;
    for (int i = 0; i < 72000; i++)
        plant_step(&plant, &in, 0.1);
    ck_assert_double_gt(plant.whole.ph, early + 0.1);
    ck_assert_double_gt(plant.zones[ZONE_TOP].co2, plant.slow.gas_mol_kg);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("plant_acid");
    TCase *tests = tcase_create("plant_acid");

    tcase_add_test(tests, buffers_come_out_at_their_measured_values);
    tcase_add_test(tests, pure_acids_come_out_at_their_table_values);
    tcase_add_test(tests, a_usual_dose_ends_where_the_dose_table_says);
    tcase_add_test(tests, tap_water_comes_with_its_own_ph);
    tcase_add_test(tests, carbon_dioxide_leaves_and_the_ph_rises);
    suite_add_tcase(suite, tests);
    return suite;
}
