#include "records/certificate.h"

#include "unit/records/kit.h"

#include <ctype.h>
#include <math.h>

static struct settings settings;
static struct batch_memory memory;
static struct crypto_key key;
static struct chain head;
static struct certificate_remarks remarks;

/* The key of RFC 8032, section 7.1, test 1. */
static const char SEED[] = "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60";

static void begin(void)
{
    unsigned char seed[CRYPTO_SEED_BYTES];
    struct fault f;

    ck_assert_int_eq(crypto_init(&f), ST_OK);
    ck_assert(crypto_unhex(SEED, seed, sizeof seed));
    crypto_key_from_seed(seed, &key);
    kit_settings_make(&settings, false);
    kit_memory_make(&memory, "2026-0001");
    memory.outcome = OUTCOME_MET;
    head.seq = 77;
    memset(head.hash, 'b', 64);
    remarks = (struct certificate_remarks){.list = json_array()};
}

static void end(void)
{
    json_decref(remarks.list);
}

static char *make(void)
{
    struct certificate_facts facts = {
        .settings = &settings,
        .memory = &memory,
        .serial = 3,
        .issued_utc_us = KIT_UTC_US + 4 * 3600 * 1000000LL,
        .utc_synced = true,
        .program = "0.1.0",
        .head = &head,
        .previous_hash = "c0ffee",
        .key = &key,
        .remarks = &remarks,
        .syrup_ph_u = 0.05,
    };
    struct fault f = {0};
    char *text = certificate_json(&facts, &f);

    ck_assert_msg(text != NULL, "%s", f.text);
    return text;
}

static json_t *result_of(const json_t *json, const char *quantity)
{
    json_t *results = json_object_get(json, "results");
    json_t *result;
    size_t i;

    json_array_foreach(results, i, result) if (strcmp(json_string_value(json_object_get(result, "quantity")),
                                                      quantity) == 0) return result;
    return NULL;
}

static const char *value_of(const json_t *object, const char *name)
{
    const char *text = json_string_value(json_object_get(object, name));

    ck_assert_msg(text != NULL, "no text %s", name);
    return text;
}

/* ---- signature ------------------------------------------------------------------------------- */

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

/* Text with every run of white space as one space, so that wrapping does not matter. */
static char *flat(const char *text)
{
    char *out = malloc(strlen(text) + 1);
    size_t used = 0;

    ck_assert_ptr_nonnull(out);
    for (; *text != '\0'; text++)
        if (!isspace((unsigned char)*text))
            out[used++] = *text;
        else if (used > 0 && out[used - 1] != ' ')
            out[used++] = ' ';
    out[used] = '\0';
    return out;
}

static void expect_all(const json_t *json, const char *path, const char *text)
{
    const char *name;
    char number[32];
    json_t *item;
    size_t i;

    if (json_is_object(json))
        json_object_foreach((json_t *)(uintptr_t)json, name, item) expect_all(item, name, text);
    else if (json_is_array(json))
        json_array_foreach(json, i, item) expect_all(item, path, text);
    else if (json_is_string(json))
        ck_assert_msg(strstr(text, json_string_value(json)) != NULL, "%s: \"%s\" is not in the text", path,
                      json_string_value(json));
    else if (json_is_integer(json)) {
        (void)snprintf(number, sizeof number, "%lld", (long long)json_integer_value(json));
        ck_assert_msg(strstr(text, number) != NULL, "%s: %s is not in the text", path, number);
    } else {
        ck_assert_msg(json_is_boolean(json), "%s: a certificate holds no other kind of value", path);
    }
}

static void expect_text_complete(void)
{
    char *json_text = make();
    char *text = certificate_text(json_text, NULL);
    json_t *json = json_loads(json_text, 0, NULL);
    char *flattened;

    ck_assert_ptr_nonnull(text);
    flattened = flat(text);
    expect_all(json, "", flattened);
    free(flattened);
    json_decref(json);
    free(text);
    free(json_text);
}

static void remark(enum event_kind kind, int a, int b, double value)
{
    struct event event = {.kind = kind, .a = a, .b = b, .intent = 9, .value = value, .utc_us = KIT_UTC_US};
    struct journal_row row;

    journal_row_from_event(&event, &row);
    ck_assert_int_eq(certificate_remark(&remarks, &row, NULL), ST_OK);
}

static void state_row(int64_t run, int64_t at_s, enum batch_state from, enum batch_state to)
{
    struct journal_row row = {.code = EVENT_STATE,
                              .run = run,
                              .scan_us = at_s * 1000000,
                              .utc_us = KIT_UTC_US + at_s * 1000000,
                              .a = (int)from,
                              .b = (int)to};

    ck_assert_int_eq(certificate_remark(&remarks, &row, NULL), ST_OK);
}

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

START_TEST(what_went_wrong_is_told_and_what_is_usual_is_not)
{
    remark(EVENT_TRIPPED, TRIP_POWER_UP, -1, 0);
    remark(EVENT_TRIPPED, TRIP_HATCH_OPEN, -1, 0);
    remark(EVENT_REFUSED, VERB_START, REFUSAL_TRIPPED, 0);
    remark(EVENT_COMMAND, VERB_START, 0, 0);
    remark(EVENT_ANSWERED, PROMPT_TIP_BAG, ANSWER_DONE, 0);
    ck_assert_uint_eq(json_array_size(remarks.list), 0);
    remark(EVENT_TRIPPED, TRIP_STIRRER, -1, 0);
    remark(EVENT_COMMAND, VERB_HOLD, 0, 0);
    remark(EVENT_COMMAND, VERB_ABORT, 0, 0);
    remark(EVENT_COMMAND, VERB_PAUSE, 0, 0);
    remark(EVENT_ANSWERED, PROMPT_READ_STRENGTH, ANSWER_CANNOT, 0);
    ck_assert_uint_eq(json_array_size(remarks.list), 5);
}
END_TEST

START_TEST(too_many_remarks_are_counted_not_dropped_unseen)
{
    struct event event = {.kind = EVENT_NOT_RECORDED};
    struct journal_row row;

    journal_row_from_event(&event, &row);
    for (int i = 0; i < CERTIFICATE_REMARKS_MAX + 7; i++)
        ck_assert_int_eq(certificate_remark(&remarks, &row, NULL), ST_OK);
    ck_assert_uint_eq(json_array_size(remarks.list), CERTIFICATE_REMARKS_MAX);
    ck_assert_int_eq(remarks.left_out, 7);
    state_row(1, 0, STATE_RUNNING, STATE_HELD); /* has no item to put its length into */
    state_row(1, 10, STATE_HELD, STATE_RESTARTING);
    ck_assert_int_eq(remarks.left_out, 8);
}
END_TEST

static const char *sentence_of(size_t i)
{
    return value_of(json_array_get(remarks.list, i), "sentence");
}

START_TEST(a_pause_and_a_hold_are_told_with_their_length)
{
    state_row(1, 0, STATE_IDLE, STATE_RUNNING);
    state_row(1, 60, STATE_RUNNING, STATE_PAUSING);
    state_row(1, 61, STATE_PAUSING, STATE_PAUSED);
    state_row(1, 150, STATE_PAUSED, STATE_HOLDING);
    state_row(1, 151, STATE_HOLDING, STATE_HELD);
    ck_assert_uint_eq(json_array_size(remarks.list), 2);
    ck_assert_str_eq(value_of(json_array_get(remarks.list, 0), "utc"), "2026-03-01T12:01:00Z");
    ck_assert_str_eq(sentence_of(0), "The batch was paused for 1.5 min.");
    ck_assert_str_eq(value_of(json_array_get(remarks.list, 1), "utc"), "2026-03-01T12:02:30Z");
    ck_assert_str_eq(sentence_of(1), "The batch was held; its end was not recorded.");
    state_row(1, 750, STATE_HELD, STATE_RESTARTING);
    state_row(1, 751, STATE_RESTARTING, STATE_RUNNING);
    ck_assert_uint_eq(json_array_size(remarks.list), 2);
    ck_assert_str_eq(sentence_of(1), "The batch was held for 10.0 min.");
    expect_text_complete();
}
END_TEST

/* Between two runs the tank's time begins anew, and only the clock knows. */
START_TEST(a_hold_over_a_restart_of_the_controller_is_told_by_the_clock)
{
    struct journal_row row = {.code = EVENT_STATE, .run = 2, .scan_us = 5, .a = STATE_HELD};

    row.b = STATE_RESTARTING;
    state_row(1, 600, STATE_RUNNING, STATE_HELD);
    row.utc_us = KIT_UTC_US + 1800 * 1000000LL;
    ck_assert_int_eq(certificate_remark(&remarks, &row, NULL), ST_OK);
    ck_assert_str_eq(sentence_of(0), "The batch was held for 20.0 min.");
    state_row(1, 600, STATE_RUNNING, STATE_HELD);
    row.utc_us = KIT_UTC_US;
    ck_assert_int_eq(certificate_remark(&remarks, &row, NULL), ST_OK);
    ck_assert_ptr_nonnull(strstr(sentence_of(1), "not known, because the clock was set"));
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
    tcase_add_test(tests, what_went_wrong_is_told_and_what_is_usual_is_not);
    tcase_add_test(tests, too_many_remarks_are_counted_not_dropped_unseen);
    tcase_add_test(tests, a_pause_and_a_hold_are_told_with_their_length);
    tcase_add_test(tests, a_hold_over_a_restart_of_the_controller_is_told_by_the_clock);
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
