/* "syrupwright handbook" as a person meets it: the program itself, its sentences and exit statuses. */
#include "support/support.h"

#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <sysexits.h>

static char said[65536];

static int run(const char *words)
{
    char line[512];
    size_t used;
    FILE *from;
    int status;

    (void)snprintf(line, sizeof line, "{ COLUMNS=200 %s/syrupwright handbook %s; } 2>&1", BUILD_DIR, words);
    from = popen(line, "r"); // NOLINT(cert-env33-c): the words are this file's own
    ck_assert_ptr_nonnull(from);
    used = fread(said, 1, sizeof said - 1, from);
    said[used] = '\0';
    status = pclose(from);
    ck_assert_msg(WIFEXITED(status), "%s", line);
    return WEXITSTATUS(status);
}

static void says(const char *words, int status, const char *part)
{
    int seen = run(words);

    ck_assert_msg(seen == status, "%s: exit status %d, not %d: %s", words, seen, status, said);
    ck_assert_msg(strstr(said, part) != NULL, "%s: \"%s\" is missing in %s", words, part, said);
}

START_TEST(it_lists_explains_and_calls)
{
    says("", EX_OK, "sucrose_density");
    says("sucrose_density", EX_OK, "For example");
    says("boiling", EX_OK, "sucrose_boiling_rise");
    says("Pearson", EX_OK, "blend_parts");
    says("sucrose_density strength=62.5% temp=68degF", EX_OK, "density_kg_m3");
    says("sucrose_density strength_pct=62.5 temp_c=0..100/10", EX_OK, "100");
    says("ratio_strength first=5 second=3 basis=by_weight order='sugar first'", EX_OK, "62.5 %");
    says("ratio_strength '2:1 by weight'", EX_OK, "66.66667 %");
    says("ratio_strength 2:1 by weight", EX_OK, "66.66667 %");
    says("sucrose density", EX_OK, "For example");
    says("Sucrose_Density Strength=62.5% TEMP=68degF", EX_OK, "1301.46");
    says("sucrose density strength_pct=62.5 temp_c=20", EX_OK, "1301.46");
    says("syrup_density", EX_OK, "sucrose_density");
    says("sucrose_mix_volume sugar_kg=500 water=300L temp_c=20", EX_OK, "300 L at 0.9982 kg/L, 20 degC");
    says("decision_conformity measured=62 target=62.5 tolerance=0.6 expanded_u=0.3", EX_OK,
         "conforms-conditionally: inside the limit by less than guard");
    says("decision_conformity measured=62 target=62.5 tolerance=0.6 expanded_u=0.3", EX_OK, "left out");
    says("--help", EX_OK, "search: brix");
    says("--help", EX_OK, "convert 10 US_gal L");
    says("--markdown", EX_OK, "| `sucrose_density` |");
}
END_TEST

START_TEST(it_converts)
{
    says("convert", EX_OK, "alkalinity          meq/kg, mg/L_CaCO3");
    says("convert 10 US_gal L", EX_OK, "10 US gal = 37.85412 L\n");
    says("convert -40 degF degC", EX_OK, "-40 degF = -40 degC\n");
    says("convert 250 mg/L_CaCO3 meq/kg", EX_OK, "= 4.995654 meq/kg");
    says("convert 5 L kg", EX_DATAERR, "do not convert");
    says("convert 5 gallon L", EX_DATAERR, "US_gal or imp_gal");
    says("convert 5 kq lb", EX_DATAERR, "did you mean kg?");
    says("convert 5 Us_gel L", EX_DATAERR, "did you mean US_gal?");
    says("convert 5,5 L mL", EX_DATAERR, "write 5.5");
    says("convert 1,000 US_gal L", EX_DATAERR, "write 1000 if you mean a thousand, 1.000 if you mean one");
    says("convert 5 kq lp", EX_DATAERR, "lists them"); /* of no kind that is known */
    says("convert 5L L mL", EX_DATAERR, "apart");
    says("convert 0..1/1 L mL", EX_DATAERR, "not a number");
    says("convert -500 degC K", EX_DATAERR, "absolute zero");
    says("convert 1e308 m3 mL", EX_DATAERR, "too large");
    says("convert 5 L", EX_USAGE, "two units");
}
END_TEST

START_TEST(every_mistake_has_its_sentence_and_its_exit_status)
{
    says("sucrose_densty", EX_USAGE, "did you mean sucrose_density?");
    says("nonsense", EX_USAGE, "lists them");
    says("sucrose_density temp_c=20", EX_USAGE, "needs strength_pct too");
    says("sucrose_density tmp_c=20", EX_USAGE, "did you mean temp_c?");
    says("sucrose_density strength_pct=62,5 temp_c=20", EX_DATAERR, "write strength_pct=62.5");
    says("sucrose_density strength_pct=x temp_c=20", EX_DATAERR, "not a number");
    says("sucrose_density temp_c=68degF", EX_DATAERR, "write temp=68degF");
    says("sucrose_density temp=300degF", EX_DATAERR, "degF is outside");
    says("sucrose_density strength_pct=62.5 temp_c=0..200/50", EX_DATAERR, "out of range");
    says("blend_thin syrup_kg=500 from_pct=50 to_pct=60", EX_DATAERR, "to thicken use blend_thicken");
    says("blend_thin syrup_kg=500 from_pct=50 to_pct=60", EX_DATAERR, "together");
    says("unit_convert value=5 from=L to=kg", EX_DATAERR, "no answer for these inputs together: both units");
    says("boiling strength_pct=5", EX_USAGE, "no function");
    says("sucrose_density --strength_pct=62.5", EX_USAGE, "inputs are written strength_pct=62.5");
    says("sucrose_density strength_pct = 62.5 temp_c=20", EX_USAGE, "write strength_pct=62.5");
    says("sucrose_parts volume_l=600 strength_pct=62.5 temp=60", EX_DATAERR, "temp=60degC");
    says("sucrose_litres_per_kg strength=66.67 temp_c=20", EX_DATAERR, "strength=66.67%");
    says("skin_burn_time temp_c=40..44/1 degree=2 person=adult", EX_DATAERR, "burns below it too");
    says("sucrose_density --markdown", EX_USAGE, "--markdown");
    says("sucrose_density --limit 5", EX_USAGE, "does not belong");
    says("a b c d e f g h i j k l m n o p q", EX_USAGE, "too many");
}
END_TEST

static void json_says(const char *words, int status, const char *key)
{
    int seen = run(words);
    json_t *json = json_loads(said, 0, NULL);
    const json_t *ok = json_object_get(json, "ok");

    ck_assert_msg(seen == status && json_is_object(json), "%s: %d: %s", words, seen, said);
    ck_assert_msg(json_is_true(ok) == (status == EX_OK) && json_object_get(json, key) != NULL, "%s: %s",
                  words, said);
    json_decref(json);
}

START_TEST(a_program_gets_one_object)
{
    json_says("--json", EX_OK, "sections");
    json_says("boiling --json", EX_OK, "sections");
    json_says("sucrose_density --json", EX_OK, "example");
    json_says("sucrose_density strength_pct=62.5 temp_c=20 --json", EX_OK, "results");
    json_says("sucrose_density strength_pct=0..80/10 temp_c=0..100/10 --json", EX_OK, "rows");
    json_says("sucrose_density strength_pct=0..90/10 temp_c=20 --json 2>/dev/null", EX_DATAERR, "rows");
    json_says("sucrose_density strength_pct=0..90/10 temp_c=20 --json 2>/dev/null", EX_DATAERR, "error");
    json_says("convert 10 US_gal L --json", EX_OK, "result");
    json_says("convert --json", EX_OK, "units");
    json_says("convert 10 gallon L --json 2>/dev/null", EX_DATAERR, "error");
    json_says("nonsense --json 2>/dev/null", EX_USAGE, "error");
}
END_TEST

START_TEST(a_result_that_cannot_be_written_is_a_failure)
{
    ck_assert_int_eq(run(">/dev/full 2>/dev/null"), EX_IOERR);
    ck_assert_int_eq(run("--json >/dev/full 2>/dev/null"), EX_IOERR);
    ck_assert_int_eq(run("convert 1 L mL >/dev/full 2>/dev/null"), EX_IOERR);
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("handbook command");
    TCase *all = tcase_create("all");

    tcase_set_timeout(all, 60);
    tcase_add_test(all, it_lists_explains_and_calls);
    tcase_add_test(all, it_converts);
    tcase_add_test(all, every_mistake_has_its_sentence_and_its_exit_status);
    tcase_add_test(all, a_program_gets_one_object);
    tcase_add_test(all, a_result_that_cannot_be_written_is_a_failure);
    suite_add_tcase(suite, all);
    return suite;
}
