/* Units: every way to write them, and there and back. */
#include "random_input.h"
#include "science/units.h"
#include "support/support.h"

#include <stdbool.h>
#include <string.h>

static double converted(double value, const char *from, const char *to)
{
    double result = -77;

    ck_assert_msg(unit_find(from) != NULL && unit_find(to) != NULL, "%s or %s is no unit", from, to);
    ck_assert_msg(unit_convert_eval(value, unit_find(from), unit_find(to), &result) == ST_OK, "%g %s to %s",
                  value, from, to);
    return result;
}

START_TEST(every_name_and_every_spelling_finds_its_own_unit)
{
    for (const struct unit *u = UNITS; u->name != NULL; u++) {
        char words[160];
        char *rest = words;

        ck_assert_msg(unit_find(u->name) == u, "%s", u->name);
        ck_assert_msg(unit_doubt(u->name) == NULL, "%s", u->name);
        ck_assert_uint_lt(strlen(u->spelling), sizeof words);
        (void)strcpy(words, u->spelling);
        for (char *word = strsep(&rest, " "); word != NULL && word[0] != '\0'; word = strsep(&rest, " "))
            ck_assert_msg(unit_find(word) == u && unit_doubt(word) == NULL, "%s of %s", word, u->name);
        ck_assert_str_eq(unit_name((int)(u - UNITS)), u->name);
    }
    ck_assert_str_eq(unit_name(-1), "");
    ck_assert_str_eq(unit_name(UNIT_COUNT), "");
}
END_TEST

START_TEST(blanks_are_underscores_and_capitals_matter_only_where_they_must)
{
    ck_assert_ptr_eq(unit_find("US_gal"), unit_find("us gal"));
    ck_assert_ptr_eq(unit_find("  US__gallon\t"), unit_find("US gal"));
    ck_assert_ptr_eq(unit_find("J/(kg_K)"), unit_find("J/(kg K)"));
    ck_assert_ptr_eq(unit_find("mpa_s"), unit_find("mPa s"));
    ck_assert_ptr_eq(unit_find("cP"), unit_find("mPa s"));
    ck_assert_ptr_eq(unit_find("KG"), unit_find("kg"));
    ck_assert_ptr_eq(unit_find("DEGC"), unit_find("degC"));
    ck_assert_ptr_eq(unit_find("\u00b0F"), unit_find("degF"));
    ck_assert_ptr_null(unit_find("k"));  /* neither kelvin nor kilo */
    ck_assert_ptr_null(unit_find("MV")); /* a megavolt is no millivolt */
    ck_assert_ptr_null(unit_find("ML"));
    ck_assert_ptr_null(unit_find("mj"));
    ck_assert_ptr_null(unit_find("M"));
    ck_assert_ptr_null(unit_find("G"));
    ck_assert_ptr_null(unit_find(""));
    ck_assert_ptr_null(unit_find(" _ "));
    ck_assert_ptr_null(unit_find("kgs per thing"));
    ck_assert_ptr_null(unit_find("US"));
    ck_assert_ptr_null(unit_find("USgal "));
}
END_TEST

START_TEST(a_word_that_means_two_things_is_no_unit_and_the_reason_is_said)
{
    static const char *const WORDS[] = {"gallon", "Gallons", "gal",  "pint", "pints",  "quart", "qt",
                                        "ton",    "ppm",     "mg/L", "deg",  "lb/gal", "fl oz", "dH"};

    for (size_t i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++) {
        ck_assert_msg(unit_find(WORDS[i]) == NULL, "%s was taken", WORDS[i]);
        ck_assert_msg(unit_doubt(WORDS[i]) != NULL, "nothing is said about %s", WORDS[i]);
    }
    ck_assert_ptr_nonnull(strstr(unit_doubt("gallon"), "US_gal or imp_gal"));
    ck_assert_ptr_nonnull(strstr(unit_doubt(" PINT "), "US_pt or imp_pt"));
    ck_assert_ptr_null(unit_doubt("furlong"));
    ck_assert_ptr_null(unit_doubt(""));
}
END_TEST

START_TEST(the_kinds_stand_together_with_their_base_unit_first)
{
    for (const struct unit *u = UNITS; u->name != NULL; u++) {
        bool is_first = u == UNITS || strcmp(u->kind, u[-1].kind) != 0;

        ck_assert_msg(u->factor > 0, "%s", u->name);
        if (!is_first)
            continue;
        ck_assert_msg(u->factor == 1 && u->offset == 0, "%s is no base unit", u->name);
        for (const struct unit *other = UNITS; other < u; other++)
            ck_assert_msg(strcmp(other->kind, u->kind) != 0, "%s stands in two places", u->kind);
    }
}
END_TEST

/* Legal and conventional definitions; the rest of the values is in tests/published/ratio.txt. */
START_TEST(units_have_the_size_the_law_gives_them)
{
    ck_near(converted(231, "US gal", "L"), 231 * 3.785411784, 1e-9); /* 231 cubic inches */
    ck_near(converted(8, "US pt", "US gal"), 1, 1e-15);
    ck_near(converted(4, "US qt", "US gal"), 1, 1e-15);
    ck_near(converted(8, "imp pt", "imp gal"), 1, 1e-15);
    ck_near(converted(16, "oz", "lb"), 1, 1e-15);
    ck_near(converted(1, "bar", "hPa"), 1000, 1e-10);
    ck_near(converted(760, "mmHg", "atm"), 1, 1e-6); /* conventional mmHg, not the torr */
    ck_near(converted(1, "kg/L", "g/L"), 1000, 1e-12);
    ck_near(converted(1, "g/mL", "kg/m3"), 1000, 1e-12);
    ck_near(converted(68, "degF", "degC"), 20, 1e-12);
    ck_near(converted(20, "degC", "K"), 293.15, 1e-12);
    ck_near(converted(62.5, "%", "g/kg"), 625, 1e-12);
    ck_near(converted(0.625, "1", "%"), 62.5, 1e-12);
    ck_near(converted(40, "mg/kg", "%"), 0.004, 1e-15);
    /* alkalinity: 10 mg/L CaO, 10 mg/L CaCO3 by definition; molar masses 56.077 and 100.087 g/mol */
    ck_near(converted(1, "degfH", "mg/L CaCO3"), 10, 1e-14);
    ck_near(converted(1, "degdH", "mg/L CaCO3"), 10 * 100.087 / 56.077, 1e-13);
    ck_near(converted(1, "degdH", "mg/L CaCO3"), 17.848, 5e-4);
    ck_near(converted(1, "meq/kg", "mg/L HCO3"), 61.017, 1e-13);
    ck_near(converted(24, "1/d", "1/h"), 1, 1e-15);
    ck_near(converted(1, "kWh", "MJ"), 3.6, 1e-14); /* SI brochure (2019): 1 W h is 3600 J */
    ck_near(converted(9000, "W", "kW"), 9, 1e-14);
}
END_TEST

static void pair_check(const struct unit *from, const struct unit *to, double value)
{
    double there = -77;
    double back = -77;
    double size = fabs(value);
    enum status status = unit_convert_eval(value, from, to, &there);

    if (strcmp(from->kind, to->kind) != 0) {
        ck_assert_msg(status == ST_RANGE && there == -77, "%s to %s", from->name, to->name);
        return;
    }
    if (status != ST_OK) { /* only what is colder than cold */
        ck_assert_msg(strcmp(from->kind, "temperature") == 0 && there == -77, "%s to %s", from->name,
                      to->name);
        return;
    }
    ck_assert_int_eq(unit_convert_eval(there, to, from, &back), ST_OK);
    if (strcmp(from->kind, "temperature") == 0)
        size = fmax(size, 500);
    ck_assert_msg(fabs(back - value) <= 1e-12 * size, "%.17g %s by %s is %.17g", value, from->name, to->name,
                  back);
}

START_TEST(there_and_back_is_the_same_and_only_within_a_kind)
{
    uint64_t seed = 11;

    for (const struct unit *from = UNITS; from->name != NULL; from++)
        for (const struct unit *to = UNITS; to->name != NULL; to++)
            for (int i = 0; i < 20; i++) {
                double size = pow(10, random_between(&seed, -9, 9));

                pair_check(from, to, random_between(&seed, -1, 1) * size);
                pair_check(from, to, size);
            }
}
END_TEST

START_TEST(what_is_not_finite_or_colder_than_absolute_zero_is_refused)
{
    const double bad[] = {(double)NAN, (double)INFINITY, -(double)INFINITY};
    const struct unit *litre = unit_find("L");
    double result = -77;

    for (size_t i = 0; i < 3; i++) {
        ck_assert_int_eq(unit_convert_eval(bad[i], litre, unit_find("m3"), &result), ST_RANGE);
        ck_assert_int_eq(unit_convert_eval(bad[i], litre, litre, &result), ST_RANGE);
    }
    ck_assert_int_eq(unit_convert_eval(1e308, unit_find("m3"), unit_find("mL"), &result), ST_RANGE);
    ck_assert_int_eq(unit_convert_eval(-273.16, unit_find("degC"), unit_find("degF"), &result), ST_RANGE);
    ck_assert_int_eq(unit_convert_eval(-0.001, unit_find("K"), unit_find("K"), &result), ST_RANGE);
    ck_assert_int_eq(unit_convert_eval(-460, unit_find("degF"), unit_find("K"), &result), ST_RANGE);
    ck_near(result, -77, 0);
    ck_near(converted(0, "K", "degC"), -273.15, 0);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("units");
    TCase *all = tcase_create("all");

    tcase_add_test(all, every_name_and_every_spelling_finds_its_own_unit);
    tcase_add_test(all, blanks_are_underscores_and_capitals_matter_only_where_they_must);
    tcase_add_test(all, a_word_that_means_two_things_is_no_unit_and_the_reason_is_said);
    tcase_add_test(all, the_kinds_stand_together_with_their_base_unit_first);
    tcase_add_test(all, units_have_the_size_the_law_gives_them);
    tcase_add_test(all, there_and_back_is_the_same_and_only_within_a_kind);
    tcase_add_test(all, what_is_not_finite_or_colder_than_absolute_zero_is_refused);
    suite_add_tcase(suite, all);
    return suite;
}
