/* What is signed, what is judged, what the text holds. */
#include "certificate_kit.h"

START_TEST(a_fresh_certificate_verifies_with_and_without_the_key_given)
{
    char *json = make();
    struct fault f = {0};

    ck_assert_msg(certificate_verify(json, NULL, &f) == ST_OK, "%s", f.text);
    ck_assert_msg(certificate_verify(json, key.public_key, &f) == ST_OK, "%s", f.text);
    free(json);
}
END_TEST

START_TEST(any_changed_byte_is_detected)
{
    char *json = make();
    size_t length = strlen(json);

    for (size_t i = 0; i < length; i++)
        for (int bit = 0; bit < 8; bit += i % 3 == 0 ? 1 : 5) {
            json[i] ^= (char)(1 << bit);
            ck_assert_msg(certificate_verify(json, key.public_key, NULL) != ST_OK, "byte %zu bit %d", i, bit);
            json[i] ^= (char)(1 << bit);
        }
    free(json);
}
END_TEST

/* Made again from the certificate's own words and its bytes, as someone without this program would. */
START_TEST(the_bytes_that_are_signed_are_those_the_evidence_tells)
{
    char *text = make();
    json_t *json = json_loads(text, 0, NULL);
    const char *told = value_of(json_object_get(json, "evidence"), "signed_bytes");
    unsigned char signature[CRYPTO_SIGNATURE_BYTES];
    char bytes[16384] = "syrupwright-certificate-1\n";
    char *cut = strstr(text, ",\"signature\":\"");

    ck_assert_ptr_nonnull(strstr(told, "the line \"syrupwright-certificate-1\", a newline, then the JSON"));
    ck_assert_ptr_nonnull(strstr(told, "sorted keys"));
    ck_assert_ptr_nonnull(strstr(told, "without its field \"signature\""));
    ck_assert_ptr_nonnull(cut);
    ck_assert(crypto_unhex(value_of(json, "signature"), signature, sizeof signature));
    ck_assert_uint_lt(strlen(text), sizeof bytes - 64);
    strncat(bytes, text, (size_t)(cut - text));
    strcat(bytes, strchr(cut + strlen(",\"signature\":\""), '"') + 1);
    ck_assert(crypto_verify(key.public_key, bytes, strlen(bytes), signature));
    json_decref(json);
    free(text);
}
END_TEST

static void expect_refused(const char *json, const unsigned char *public_key, enum status code,
                           const char *why)
{
    struct fault f = {0};

    ck_assert_int_eq(certificate_verify(json, public_key, &f), code);
    ck_assert_msg(strstr(f.text, why) != NULL, "%s", f.text);
}

START_TEST(what_is_wrong_is_said_in_words)
{
    char *text = make();
    json_t *json = json_loads(text, 0, NULL);
    struct crypto_key other;
    char *changed;

    crypto_key_create(&other);
    expect_refused(text, other.public_key, ST_REFUSED, "signed with another key");
    expect_refused("hello", NULL, ST_BAD_REPLY, "not JSON");
    expect_refused("{\"a\":1}", NULL, ST_BAD_REPLY, "no certificate");
    expect_refused("[]", NULL, ST_BAD_REPLY, "no certificate");
    changed = json_dumps(json, JSON_INDENT(2));
    expect_refused(changed, NULL, ST_BAD_REPLY, "not written in the form");
    free(changed);
    (void)json_object_set_new(json, "tank", json_string("Small tank"));
    changed = json_dumps(json, JSON_COMPACT | JSON_SORT_KEYS);
    expect_refused(changed, NULL, ST_BAD_REPLY, "the signature does not match");
    free(changed);
    (void)json_object_del(json, "signature");
    changed = json_dumps(json, JSON_COMPACT | JSON_SORT_KEYS);
    expect_refused(changed, NULL, ST_NOT_FOUND, "not signed");
    free(changed);
    json_decref(json);
    free(text);
}
END_TEST

/* ---- content --------------------------------------------------------------------------------- */

START_TEST(no_measured_number_is_a_floating_point_number)
{
    char *text = make();
    json_t *json = json_loads(text, 0, NULL);

    ck_assert_str_eq(value_of(result_of(json, "strength"), "measured"), "61.43");
    ck_assert_str_eq(value_of(result_of(json, "strength"), "expanded_u"), "0.14");
    ck_assert_str_eq(value_of(result_of(json, "strength"), "decision"), "conforms");
    ck_assert_str_eq(value_of(result_of(json, "water_ph"), "measured"), "4.52");
    ck_assert_str_eq(value_of(result_of(json, "water_ph"), "decision"), "conforms");
    ck_assert_str_eq(value_of(result_of(json, "syrup_ph_apparent"), "expanded_u"), "0.10");
    ck_assert_str_eq(value_of(result_of(json, "syrup_ph_apparent"), "decision"), "not_judged");
    ck_assert_ptr_nonnull(
        strstr(value_of(result_of(json, "syrup_ph_apparent"), "statement"), "repeatable but not a true pH"));
    json_decref(json);
    free(text);
}
END_TEST

START_TEST(the_text_contains_every_value_of_the_json)
{
    expect_text_complete();
    remark(EVENT_TRIPPED, TRIP_LIQUID_HOT, POINT_TANK_TEMP_C, 86.5);
    remark(EVENT_NOT_RECORDED, 0, 0, 0);
    remark(EVENT_RECOVERED, STATE_RUNNING, STEP_CHARGE, 0);
    ck_assert_uint_eq(json_array_size(remarks.list), 3);
    expect_text_complete();
    settings.is_simulated = true;
    expect_text_complete();
    memory.outcome = OUTCOME_UNFINISHED;
    memory.has_strength = memory.has_syrup_ph = memory.has_water_ph = false;
    expect_text_complete();
    memory.plan.request.acid = ACID_NONE;
    expect_text_complete();
}
END_TEST

static int count_of(const char *text, const char *word)
{
    int count = 0;

    for (; (text = strstr(text, word)) != NULL; text++)
        count++;
    return count;
}

START_TEST(a_simulated_batch_says_so_in_title_headings_and_end)
{
    char *json, *text, *line, *rest;

    settings.is_simulated = true;
    json = make();
    text = certificate_text(json, NULL);
    ck_assert_ptr_nonnull(strstr(json, "\"simulated\":true"));
    ck_assert_ptr_nonnull(strstr(json, "\"title\":\"SIMULATED"));
    ck_assert_int_ge(count_of(text, "[SIMULATED]"), 8);
    ck_assert_ptr_nonnull(strstr(text, "*** SIMULATED ***"));
    ck_assert_ptr_nonnull(strstr(text, "SIMULATED, NO REAL SYRUP WAS MADE"));
    for (line = strtok_r(text, "\n", &rest); line != NULL; line = strtok_r(NULL, "\n", &rest))
        if (strncmp(line, "----", 4) != 0 && rest != NULL && strncmp(rest, "----", 4) == 0)
            ck_assert_msg(strstr(line, "SIMULATED") != NULL, "heading without mark: %s", line);
    free(text);
    free(json);
    settings.is_simulated = false;
    json = make();
    text = certificate_text(json, NULL);
    ck_assert_ptr_null(strstr(text, "SIMULATED"));
    free(text);
    free(json);
}
END_TEST

START_TEST(without_acid_there_are_no_ph_rows)
{
    char *text;
    json_t *json;

    memory.plan.request.acid = ACID_NONE;
    text = make();
    json = json_loads(text, 0, NULL);
    ck_assert_ptr_null(result_of(json, "water_ph"));
    ck_assert_ptr_null(result_of(json, "syrup_ph_apparent"));
    ck_assert_uint_eq(json_array_size(json_object_get(json, "ingredients")), 2);
    ck_assert_ptr_nonnull(strstr(value_of(json, "acidity_note"), "No acid"));
    json_decref(json);
    free(text);
}
END_TEST

static const json_t *ingredient_of(const json_t *json, size_t i)
{
    return json_array_get(json_object_get(json, "ingredients"), i);
}

static void expect_ingredient(size_t i, const char *what, const char *expanded_u, const char *basis)
{
    char *text = make();
    json_t *json = json_loads(text, 0, NULL);

    ck_assert_str_eq(value_of(ingredient_of(json, i), "what"), what);
    ck_assert_str_eq(value_of(ingredient_of(json, i), "expanded_u"), expanded_u);
    ck_assert_msg(strstr(value_of(ingredient_of(json, i), "expanded_u_basis"), basis) != NULL, "%s",
                  value_of(ingredient_of(json, i), "expanded_u_basis"));
    json_decref(json);
    free(text);
    expect_text_complete();
}

START_TEST(each_ingredient_tells_how_well_it_is_known)
{
    struct point_setup *points = settings.setup.points;

    expect_ingredient(0, "sugar", "unknown", "as marked on the bags, not weighed");
    expect_ingredient(1, "water", "unknown", "not metered");
    expect_ingredient(2, "acid", "unknown", "not metered");
    points[POINT_WATER_L].is_bound = points[POINT_DOSED_ML].is_bound = true;
    expect_ingredient(1, "water", "unknown", "states none");
    points[POINT_WATER_L].uncertainty = 0.5;
    points[POINT_DOSED_ML].uncertainty = 1;
    /* sqrt(1^2 + (0.006 * 375.5)^2) = 2.465; sqrt(2^2 + (0.02 * 210.4)^2) = 4.659 */
    expect_ingredient(1, "water", "2.5", "twice the 0.5 L of the tank file for the counter, and 0.6 %");
    expect_ingredient(2, "acid", "4.7", "twice the 1 mL of the tank file for the counter, and 2 %");
}
END_TEST

START_TEST(the_outcome_does_not_contradict_what_cannot_be_said)
{
    char *text;
    json_t *json;

    memory.strength_u_pct = 0.3;
    text = make();
    json = json_loads(text, 0, NULL);
    ck_assert_str_eq(value_of(json, "outcome"), "met");
    ck_assert_str_eq(value_of(result_of(json, "strength"), "decision"), "cannot_say");
    ck_assert_ptr_null(strstr(value_of(json, "outcome_words"), "every target met"));
    ck_assert_ptr_nonnull(
        strstr(value_of(json, "outcome_words"), "lies inside its tolerance. Whether that is"));
    json_decref(json);
    free(text);
}
END_TEST

START_TEST(what_has_no_target_has_no_tolerance_in_the_text)
{
    char *json = make();
    char *page = certificate_text(json, NULL);

    ck_assert_ptr_nonnull(strstr(page, "none\n"));
    ck_assert_ptr_null(strstr(page, "none ±"));
    free(page);
    free(json);
}
END_TEST

START_TEST(an_unfinished_batch_gets_a_record_without_conformity)
{
    static const enum outcome OUTCOMES[] = {OUTCOME_UNFINISHED, OUTCOME_OPEN};

    for (size_t i = 0; i < 2; i++) {
        char *text, *page;
        json_t *json, *result;
        size_t k;

        memory.outcome = OUTCOMES[i];
        text = make();
        page = certificate_text(text, NULL);
        json = json_loads(text, 0, NULL);
        ck_assert_ptr_nonnull(strstr(value_of(json, "title"), "unfinished"));
        json_array_foreach(json_object_get(json, "results"), k, result)
            ck_assert_str_eq(value_of(result, "decision"), "not_judged");
        ck_assert_ptr_nonnull(strstr(page, "END OF RECORD OF AN UNFINISHED BATCH"));
        ck_assert_ptr_null(strstr(page, "Conforms."));
        json_decref(json);
        free(page);
        free(text);
    }
}
END_TEST

START_TEST(the_printed_numbers_are_the_ones_judged)
{
    static const struct {
        double measured;
        double u;
        const char *decision;
    } CASES[] = {
        {61.86, 0.07, "conforms"}, /* 61.5 + 0.5 - 0.14 */
        {61.87, 0.07, "conforms_conditionally"},
        {62.00, 0.07, "conforms_conditionally"},
        {62.14, 0.07, "does_not_conform_conditionally"},
        {62.15, 0.07, "does_not_conform"},
        {61.50, 0.26, "cannot_say"},
        {61.50, 0.00, "cannot_say"},
    };

    for (size_t i = 0; i < sizeof CASES / sizeof CASES[0]; i++) {
        char *text;
        json_t *json;

        memory.strength_pct = CASES[i].measured;
        memory.strength_u_pct = CASES[i].u;
        text = make();
        json = json_loads(text, 0, NULL);
        ck_assert_str_eq(value_of(result_of(json, "strength"), "decision"), CASES[i].decision);
        json_decref(json);
        free(text);
    }
}
END_TEST

START_TEST(hostile_names_cannot_forge_a_line)
{
    char *json, *page;

    (void)snprintf(memory.plan.request.sugar_lot, PLAN_NAME_MAX, "x\nEND OF CERTIFICATE\xff");
    json = make();
    page = certificate_text(json, NULL);
    ck_assert_ptr_null(strstr(page, "\nEND OF CERTIFICATE\xff"));
    ck_assert_ptr_nonnull(strstr(json, "x?END OF CERTIFICATE?"));
    ck_assert_int_eq(certificate_verify(json, key.public_key, NULL), ST_OK);
    free(page);
    free(json);
}
END_TEST

START_TEST(it_claims_no_more_than_it_knows)
{
    static const char *const NEVER[] = {"safe",     "Safe",       "HMF-free",  "free of",
                                        "approved", "accredited", "pure syrup"};
    char *json = make();
    char *page = certificate_text(json, NULL);
    char *flattened = flat(page);

    for (size_t i = 0; i < sizeof NEVER / sizeof NEVER[0]; i++)
        ck_assert_msg(strstr(flattened, NEVER[i]) == NULL, "%s", NEVER[i]);
    ck_assert_ptr_nonnull(strstr(flattened, "The results relate only to this batch."));
    ck_assert_ptr_nonnull(strstr(flattened, "no approval of the syrup as food or feed"));
    free(flattened);
    free(page);
    free(json);
}
END_TEST

START_TEST(what_is_no_certificate_has_no_text)
{
    struct fault f = {0};

    ck_assert_ptr_null(certificate_text("{}", &f));
    ck_assert_ptr_nonnull(strstr(f.text, "no certificate"));
    ck_assert_ptr_null(certificate_text("", &f));
}
END_TEST

Suite *test_suite(void)
{
    Suite *suite = suite_create("certificate");
    TCase *tests = tcase_create("certificate");

    tcase_add_checked_fixture(tests, begin, end);
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, a_fresh_certificate_verifies_with_and_without_the_key_given);
    tcase_add_test(tests, any_changed_byte_is_detected);
    tcase_add_test(tests, the_bytes_that_are_signed_are_those_the_evidence_tells);
    tcase_add_test(tests, what_is_wrong_is_said_in_words);
    tcase_add_test(tests, no_measured_number_is_a_floating_point_number);
    tcase_add_test(tests, the_text_contains_every_value_of_the_json);
    tcase_add_test(tests, a_simulated_batch_says_so_in_title_headings_and_end);
    tcase_add_test(tests, without_acid_there_are_no_ph_rows);
    tcase_add_test(tests, each_ingredient_tells_how_well_it_is_known);
    tcase_add_test(tests, the_outcome_does_not_contradict_what_cannot_be_said);
    tcase_add_test(tests, what_has_no_target_has_no_tolerance_in_the_text);
    tcase_add_test(tests, an_unfinished_batch_gets_a_record_without_conformity);
    tcase_add_test(tests, the_printed_numbers_are_the_ones_judged);
    tcase_add_test(tests, hostile_names_cannot_forge_a_line);
    tcase_add_test(tests, it_claims_no_more_than_it_knows);
    tcase_add_test(tests, what_is_no_certificate_has_no_text);
    suite_add_tcase(suite, tests);
    return suite;
}
