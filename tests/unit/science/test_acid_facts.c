#include "science/acid.h"
#include "support/support.h"

#include <math.h>
#include <stddef.h>

#define UNTOUCHED (-12345.678)

START_TEST(names_are_found_again)
{
    for (int i = 0; i < ACID_COUNT; i++)
        ck_assert_int_eq(acid_find(acid_name((enum acid)i)), i);
    ck_assert_int_eq(acid_find("oxalic"), ACID_COUNT);
    ck_assert_int_eq(acid_find(NULL), ACID_COUNT);
    ck_assert_str_eq(acid_name(ACID_COUNT), "none");
}
END_TEST

START_TEST(stock_solutions_get_denser_up_to_their_limit)
{
    double kg_l = UNTOUCHED;

    for (int i = ACID_CITRIC; i < ACID_COUNT; i++) {
        double before = 0.998;
        double limit = acid_stock_limit_pct((enum acid)i);

        for (double pct = 0; pct <= limit; pct += limit / 100) {
            ck_assert_int_eq(acid_stock_density_eval((enum acid)i, pct, &kg_l), ST_OK);
            ck_assert(kg_l > before && kg_l < 1.3);
            before = kg_l;
        }
        kg_l = UNTOUCHED;
        ck_assert_int_eq(acid_stock_density_eval((enum acid)i, limit + 0.01, &kg_l), ST_RANGE);
        ck_assert(kg_l == UNTOUCHED);
    }
    ck_assert(acid_stock_limit_pct(ACID_NONE) == 0);
    ck_assert_int_eq(acid_stock_density_eval(ACID_NONE, 0, &kg_l), ST_RANGE);
    ck_assert_int_eq(acid_molar_mass_eval(ACID_NONE, &kg_l), ST_RANGE);
}
END_TEST

START_TEST(a_litre_of_stock_holds_its_share_of_acid)
{
    for (int i = ACID_CITRIC; i < ACID_COUNT; i++) {
        double kg_l = 0;
        double g_l = 0;
        double mol_l = 0;
        double g_mol = 0;

        ck_assert_int_eq(acid_molar_mass_eval((enum acid)i, &g_mol), ST_OK);
        for (double pct = 0; pct <= acid_stock_limit_pct((enum acid)i); pct += 2.5) {
            ck_assert_int_eq(acid_stock_density_eval((enum acid)i, pct, &kg_l), ST_OK);
            ck_assert_int_eq(acid_stock_content_eval((enum acid)i, pct, &g_l, &mol_l), ST_OK);
            ck_near(g_l, kg_l * pct * 10, 1e-9);
            ck_near(mol_l * g_mol, g_l, 1e-9);
        }
    }
}
END_TEST

START_TEST(the_density_curve_passes_through_its_rows_without_a_step)
{
    const double rows[] = {1, 5, 10, 20, 30}; /* citric acid, CRC Handbook (2021) */
    const double kg_l[] = {1.0022, 1.0189, 1.0402, 1.0858, 1.1346};

    for (int i = 0; i < 5; i++) {
        double at = 0;
        double below = 0;
        double above = 0;

        ck_assert_int_eq(acid_stock_density_eval(ACID_CITRIC, rows[i], &at), ST_OK);
        ck_assert_int_eq(acid_stock_density_eval(ACID_CITRIC, rows[i] - 1e-6, &below), ST_OK);
        ck_assert_int_eq(acid_stock_density_eval(ACID_CITRIC, rows[i] + 1e-6, &above), ST_OK);
        ck_near(at, kg_l[i], 1e-12);
        ck_near(above - at, at - below, 1e-12); /* the same slope on both sides */
    }
}
END_TEST

/* Lactic: CRC Handbook 102nd ed. (2021), Concentrative Properties, 20 degC. Tartaric: old handbook figures,
 * from memory. */
START_TEST(strong_lactic_and_tartaric_stock_is_as_dense_as_the_tables_say)
{
    double kg_l = 0;

    ck_assert_int_eq(acid_stock_density_eval(ACID_LACTIC, 40, &kg_l), ST_OK);
    ck_near(kg_l, 1.0915, 5e-5);
    ck_assert_int_eq(acid_stock_density_eval(ACID_TARTARIC, 40, &kg_l), ST_OK);
    ck_near(kg_l, 1.205, 5e-4);
}
END_TEST

START_TEST(warmer_water_dissolves_more_citric_acid)
{
    double before = 0;

    for (int t = 10; t <= 100; t++) {
        double pct = 0;

        ck_assert_int_eq(acid_solubility_eval(ACID_CITRIC, t, &pct), ST_OK);
        ck_assert(pct > before && pct < 100);
        before = pct;
    }
}
END_TEST

START_TEST(a_usual_citric_stock_stays_dissolved_where_bottles_stand)
{
    double pct = 0;

    ck_assert_int_eq(acid_solubility_eval(ACID_CITRIC, 10, &pct), ST_OK);
    ck_assert(pct > acid_stock_limit_pct(ACID_CITRIC));
}
END_TEST

START_TEST(facts_outside_their_range_are_refused)
{
    const double bad[] = {(double)NAN, (double)INFINITY, -(double)INFINITY, -0.01, 100.01};
    double a = UNTOUCHED;
    double b = UNTOUCHED;

    for (int i = 0; i < 5; i++) {
        ck_assert_int_eq(acid_stock_content_eval(ACID_CITRIC, bad[i], &a, &b), ST_RANGE);
        ck_assert_int_eq(acid_stock_density_eval(ACID_CITRIC, bad[i], &a), ST_RANGE);
        ck_assert_int_eq(acid_solubility_eval(ACID_CITRIC, bad[i], &a), ST_RANGE);
        ck_assert_int_eq(acid_pk_eval(ACID_CITRIC, 1, bad[i], &a), ST_RANGE);
    }
    ck_assert_int_eq(acid_solubility_eval(ACID_CITRIC, 9.99, &a), ST_RANGE);
    ck_assert_int_eq(acid_solubility_eval(ACID_ASCORBIC, 26, &a), ST_RANGE);
    ck_assert_int_eq(acid_solubility_eval(ACID_ACETIC, 20, &a), ST_RANGE);
    ck_assert_int_eq(acid_solubility_eval(ACID_COUNT, 20, &a), ST_RANGE);
    ck_assert_int_eq(acid_pk_eval(ACID_CITRIC, 0, 25, &a), ST_RANGE);
    ck_assert_int_eq(acid_pk_eval(ACID_CITRIC, 4, 25, &a), ST_RANGE);
    ck_assert_int_eq(acid_pk_eval(ACID_NONE, 1, 25, &a), ST_RANGE);
    ck_assert_int_eq(acid_pk_eval(ACID_COUNT, 1, 25, &a), ST_RANGE);
    ck_assert_int_eq(acid_molar_mass_eval(ACID_COUNT, &a), ST_RANGE);
    ck_assert(a == UNTOUCHED && b == UNTOUCHED);
    ck_assert_int_eq(acid_protons(ACID_NONE), 0);
    ck_assert_int_eq(acid_protons(ACID_COUNT), 0);
}
END_TEST

START_TEST(each_further_proton_comes_off_less_readily)
{
    for (int i = ACID_CITRIC; i < ACID_COUNT; i++)
        for (int t = 0; t <= 75; t += 5) {
            double before = 0;

            for (int step = 1; step <= acid_protons((enum acid)i); step++) {
                double pk = 0;

                ck_assert_int_eq(acid_pk_eval((enum acid)i, step, t, &pk), ST_OK);
                ck_assert(pk > before);
                before = pk;
            }
        }
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("acid_facts");
    TCase *all = tcase_create("all");

    tcase_add_test(all, names_are_found_again);
    tcase_add_test(all, stock_solutions_get_denser_up_to_their_limit);
    tcase_add_test(all, a_litre_of_stock_holds_its_share_of_acid);
    tcase_add_test(all, the_density_curve_passes_through_its_rows_without_a_step);
    tcase_add_test(all, strong_lactic_and_tartaric_stock_is_as_dense_as_the_tables_say);
    tcase_add_test(all, warmer_water_dissolves_more_citric_acid);
    tcase_add_test(all, a_usual_citric_stock_stays_dissolved_where_bottles_stand);
    tcase_add_test(all, facts_outside_their_range_are_refused);
    tcase_add_test(all, each_further_proton_comes_off_less_readily);
    suite_add_tcase(suite, all);
    return suite;
}
