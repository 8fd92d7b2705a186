/* The certificate as text. Made from the JSON alone, so the two cannot say different things. */
#include "records/certificate.h"
#include "records/page.h"

#include <stdio.h>
#include <string.h>

static const char *text_of(const json_t *object, const char *key)
{
    const char *text = json_string_value(json_object_get(object, key));

    return text == NULL ? "" : text;
}

static long long number_of(const json_t *object, const char *key)
{
    return (long long)json_integer_value(json_object_get(object, key));
}

/* "± 0.14 % (expanded, k = 2)", or that it is unknown. */
static const char *uncertainty(const json_t *json, const char *expanded_u, char out[96])
{
    if (strcmp(expanded_u, "unknown") == 0)
        (void)snprintf(out, 96, "unknown");
    else
        (void)snprintf(out, 96, "± %.32s (expanded, k = %.8s)", expanded_u, text_of(json, "coverage_factor"));
    return out;
}

static void print_head(struct page *page, const json_t *json)
{
    page_rule(page, '=');
    if (page->is_simulated)
        page_paragraph(page, 0, "*** SIMULATED *** SIMULATED *** SIMULATED *** SIMULATED *** SIMULATED ***");
    page_paragraph(page, 0, text_of(json, "title"));
    page_paragraph(page, 0, text_of(json, "farm"));
    page_rule(page, '=');
    page_field(page, "Batch", "%s%s", text_of(json, "batch"), page->is_simulated ? " (SIMULATED)" : "");
    page_field(page, "Tank", "%s", text_of(json, "tank"));
    page_field(page, "Certificate number", "%lld", number_of(json, "serial"));
    page_field(page, "Issued", "%s", text_of(json, "issued"));
    page_field(page, "Outcome", "%s: %s", text_of(json, "outcome"), text_of(json, "outcome_words"));
}

static void print_results(struct page *page, const json_t *json)
{
    const json_t *results = json_object_get(json, "results");
    const json_t *result;
    char u[96];
    size_t i;

    page_heading(page, "Results");
    json_array_foreach(results, i, result)
    {
        page_paragraph(page, 0, text_of(result, "label"));
        page_field(page, "Measured", "%s %s", text_of(result, "measured"), text_of(result, "unit"));
        page_field(page, "Uncertainty", "%s", uncertainty(json, text_of(result, "expanded_u"), u));
        if (strcmp(text_of(result, "target"), "none") == 0)
            page_field(page, "Target", "none");
        else
            page_field(page, "Target", "%s ± %s (target ± tolerance)", text_of(result, "target"),
                       text_of(result, "tolerance"));
        page_field(page, "Method", "%s", text_of(result, "method"));
        page_field(page, "Statement", "%s", text_of(result, "statement"));
        page_field(page, "Codes", "%s, %s", text_of(result, "quantity"), text_of(result, "decision"));
    }
    page_paragraph(page, 0, text_of(json, "acidity_note"));
}

static void print_ingredients(struct page *page, const json_t *json)
{
    const json_t *list = json_object_get(json, "ingredients");
    const json_t *item;
    char u[96];
    size_t i;

    page_heading(page, "What went in");
    json_array_foreach(list, i, item)
    {
        page_field(page, text_of(item, "what"), "%s %s; %s; lot or source: %s", text_of(item, "amount"),
                   text_of(item, "unit"), text_of(item, "detail"), text_of(item, "lot"));
        page_field(page, "  uncertainty", "%s: %s", uncertainty(json, text_of(item, "expanded_u"), u),
                   text_of(item, "expanded_u_basis"));
    }
}

static void print_course(struct page *page, const json_t *json)
{
    const json_t *times = json_object_get(json, "times");
    const json_t *by = json_object_get(json, "started_by");
    const json_t *history = json_object_get(json, "history");
    char u[96];

    page_heading(page, "How it went");
    page_field(page, "Started", "%s", text_of(times, "started"));
    page_field(page, "Ended", "%s", text_of(times, "ended"));
    page_field(page, "Clock", "%s", text_of(times, "clock"));
    page_field(page, "Duration", "%s min, running %s min, of which waiting for a person %s min",
               text_of(times, "duration_min"), text_of(times, "running_min"), text_of(times, "waiting_min"));
    page_field(page, "Started by", "%s (user %lld, as %s, through %s)", text_of(by, "name"),
               number_of(by, "uid"), text_of(by, "role"), text_of(by, "door"));
    page_field(page, "Highest temperature", "%s °C, uncertainty in °C: %s", text_of(history, "peak_temp_c"),
               uncertainty(json, text_of(history, "peak_temp_expanded_u_c"), u));
    page_field(page, "Time at heat", "above 40 °C %s min, above 50 °C %s min, above 60 °C %s min",
               text_of(history, "above_40_min"), text_of(history, "above_50_min"),
               text_of(history, "above_60_min"));
    page_field(page, "Heater", "%s kWh, %s", text_of(history, "heater_kwh"),
               text_of(history, "heater_kwh_method"));
}

static void print_remarks(struct page *page, const json_t *json)
{
    const json_t *remarks = json_object_get(json, "remarks");
    const json_t *remark;
    size_t i;

    page_heading(page, "What went wrong or was interrupted");
    if (json_array_size(remarks) == 0)
        page_paragraph(page, 2, "Nothing was recorded.");
    json_array_foreach(remarks, i, remark)
        page_field(page, text_of(remark, "utc"), "%s", text_of(remark, "sentence"));
    if (number_of(json, "remarks_left_out") > 0)
        page_field(page, "Left out here", "%lld further entries; the journal has all of them",
                   number_of(json, "remarks_left_out"));
}

static void print_rules(struct page *page, const json_t *json)
{
    const json_t *limits = json_object_get(json, "limits_of_this");
    const json_t *limit;
    size_t i;

    page_heading(page, "How conformity was decided");
    page_paragraph(page, 2, text_of(json, "decision_rule"));
    page_heading(page, "What this does not say");
    json_array_foreach(limits, i, limit)
        page_paragraph(page, 2, json_string_value(limit) == NULL ? "" : json_string_value(limit));
}

static void print_evidence(struct page *page, const json_t *json)
{
    const json_t *evidence = json_object_get(json, "evidence");

    page_heading(page, "Evidence");
    page_field(page, "Program", "syrupwright %s", text_of(evidence, "program"));
    page_field(page, "Settings", "%s", text_of(evidence, "settings_hash"));
    page_field(page, "Journal", "%lld rows; newest row's hash:", number_of(evidence, "record_rows"));
    page_paragraph(page, 4, text_of(evidence, "record_head"));
    page_field(page, "Certificate before", "%s", text_of(evidence, "previous_certificate"));
    page_field(page, "Key fingerprint", "%s", text_of(evidence, "key_fingerprint"));
    page_field(page, "Public key", "%s", text_of(evidence, "public_key"));
    page_field(page, "Signed bytes", "%s", text_of(evidence, "signed_bytes"));
    page_field(page, "Signature", "Ed25519 over the signed bytes (%s):", text_of(json, "format"));
    page_paragraph(page, 4, text_of(json, "signature"));
}

static void print_end(struct page *page, const json_t *json)
{
    char end[160];

    (void)snprintf(end, sizeof end, "END OF %s %lld, BATCH %s%s",
                   json_is_true(json_object_get(json, "finished")) ? "CERTIFICATE"
                                                                   : "RECORD OF AN UNFINISHED BATCH",
                   number_of(json, "serial"), text_of(json, "batch"),
                   page->is_simulated ? " - SIMULATED, NO REAL SYRUP WAS MADE" : "");
    page_heading(page, end);
}

char *certificate_text(const char *json_text, struct fault *f)
{
    static void (*const PARTS[])(struct page *, const json_t *) = {
        print_head,    print_results, print_ingredients, print_course,
        print_remarks, print_rules,   print_evidence,    print_end,
    };
    json_error_t error;
    json_t *json = json_loads(json_text, JSON_REJECT_DUPLICATES, &error);
    struct page page;
    char *text;

    if (json == NULL || strcmp(text_of(json, "format"), CERTIFICATE_FORMAT) != 0) {
        json_decref(json);
        (void)fault_set(f, ST_BAD_REPLY, "certificate", "this is no certificate of this program");
        return NULL;
    }
    page_init(&page, json_is_true(json_object_get(json, "simulated")));
    for (size_t i = 0; i < sizeof PARTS / sizeof PARTS[0]; i++)
        PARTS[i](&page, json);
    json_decref(json);
    text = page_take(&page);
    if (text == NULL)
        (void)fault_set(f, ST_SYSTEM, "certificate", "memory is short");
    return text;
}
