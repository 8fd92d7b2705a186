#include "records/certificate_parts.h"

#include "records/canonical.h"
#include "records/decision_words.h"
#include "words/words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define TEXT_CLEAN_MAX 512

json_t *certificate_decimal(double value, int decimals)
{
    char text[DECIMAL_MAX];

    canonical_decimal(value, decimals, text);
    return json_string(text);
}

json_t *certificate_clean(const char *text, const char *missing)
{
    char clean[TEXT_CLEAN_MAX];

    canonical_text(text == NULL || text[0] == '\0' ? missing : text, clean, sizeof clean);
    return json_string(clean);
}

static json_t *utc_text(int64_t utc_us)
{
    char text[UTC_MAX];

    canonical_utc(utc_us, text);
    return json_string(text);
}

bool certificate_is_finished(const struct certificate_facts *facts)
{
    return facts->memory->outcome == OUTCOME_MET || facts->memory->outcome == OUTCOME_NOT_MET;
}

static const char *title(const struct certificate_facts *facts)
{
    bool finished = certificate_is_finished(facts);

    if (facts->settings->is_simulated)
        return finished ? "SIMULATED - certificate of a simulated batch; no real syrup was made"
                        : "SIMULATED - record of an unfinished simulated batch; no real syrup was made";
    return finished ? "Certificate of a batch of sugar syrup"
                    : "Record of an unfinished batch of sugar syrup";
}

static const char *outcome_words(enum outcome outcome)
{
    static const char *const WORDS[] = {
        [OUTCOME_OPEN] = "The batch was not finished.",
        [OUTCOME_MET] =
            "The batch was finished; as the controller read it, each value with a target lies inside its "
            "tolerance. Whether that is certain, uncertainty counted, is stated below.",
        [OUTCOME_NOT_MET] =
            "The batch was finished; as the controller read it, a value with a target lies outside its "
            "tolerance, or was not measured. How certain that is, uncertainty counted, is stated below.",
        [OUTCOME_UNFINISHED] =
            "UNFINISHED: the batch was stopped or aborted. No statement of conformity is made.",
    };

    return WORDS[(unsigned)outcome <= OUTCOME_UNFINISHED ? outcome : OUTCOME_OPEN];
}

static json_t *times(const struct certificate_facts *facts)
{
    const struct batch_memory *memory = facts->memory;
    int64_t ended = memory->ended_utc_us != 0 ? memory->ended_utc_us : facts->issued_utc_us;

    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:s}", "started", utc_text(memory->started_utc_us), "ended",
                     utc_text(ended), "duration_min",
                     certificate_decimal((double)(ended - memory->started_utc_us) / 60e6, 0), "running_min",
                     certificate_decimal(memory->running_s / 60, 0), "waiting_min",
                     certificate_decimal(memory->waiting_s / 60, 0), "clock",
                     facts->utc_synced
                         ? "UTC, synchronised when this was issued"
                         : "UTC, NOT synchronised when this was issued: the times may be wrong");
}

static json_t *started_by(const struct who *who)
{
    return json_pack("{s:o, s:I, s:s, s:s}", "name", certificate_clean(who->name, "not named"), "uid",
                     (json_int_t)who->uid, "role", words_role_name(who->role), "door",
                     words_door_name(who->door));
}

static json_t *history(const struct certificate_facts *facts)
{
    const struct batch_memory *memory = facts->memory;
    const struct point_setup *thermometer = &facts->settings->setup.points[POINT_TANK_TEMP_C];
    double expanded_u = thermometer->uncertainty > 0 ? ceil(thermometer->uncertainty * 20 - 1e-9) / 10
                                                     : (double)NAN;

    return json_pack("{s:o, s:o, s:o, s:o, s:o, s:o, s:s}", "peak_temp_c",
                     certificate_decimal(memory->peak_temp_c, 1), "peak_temp_expanded_u_c",
                     certificate_decimal(expanded_u, 1), "above_40_min",
                     certificate_decimal(memory->above_40_s / 60, 1), "above_50_min",
                     certificate_decimal(memory->above_50_s / 60, 1), "above_60_min",
                     certificate_decimal(memory->above_60_s / 60, 1), "heater_kwh",
                     certificate_decimal(memory->heater_kwh, 2), "heater_kwh_method",
                     "worked out from the rated power and the time switched on, not metered");
}

static json_t *limits_of_this(void)
{
    return json_pack("[s, s, s, s]", "The results relate only to this batch.",
                     "This is no approval of the syrup as food or feed, and no laboratory analysis.",
                     "It says nothing about what was not measured, for example germs, residues or HMF "
                     "(hydroxymethylfurfural).",
                     "It is to be passed on whole, never in part.");
}

/* The bytes of certificate.c, so that anyone can check them with other tools. */
static const char SIGNED_BYTES[] = "the line \"" CERTIFICATE_FORMAT
                                   "\", a newline, then the JSON object of this certificate in UTF-8 with "
                                   "sorted keys, no spaces between them and without its field \"signature\"";

static json_t *evidence(const struct certificate_facts *facts)
{
    char fingerprint[CERTIFICATE_FINGERPRINT_MAX], public_key[CRYPTO_PUBLIC_HEX];

    certificate_fingerprint(facts->key->public_key, fingerprint);
    crypto_hex(facts->key->public_key, CRYPTO_PUBLIC_BYTES, public_key);
    return json_pack("{s:s, s:s, s:I, s:s, s:s, s:s, s:s, s:s}", "program", facts->program, "settings_hash",
                     facts->settings->hash_hex, "record_rows", (json_int_t)facts->head->seq, "record_head",
                     facts->head->hash, "previous_certificate",
                     facts->previous_hash[0] == '\0' ? "none: this is the first" : facts->previous_hash,
                     "public_key", public_key, "key_fingerprint", fingerprint, "signed_bytes", SIGNED_BYTES);
}

static json_t *acidity_note(const struct certificate_facts *facts)
{
    return json_string(facts->memory->plan.request.acid == ACID_NONE
                           ? "No acid was planned and none was dosed: this batch has no acidity to report."
                           : "Whether acid in syrup helps bees is disputed. This program doses acid into the "
                             "water, before the sugar, where a pH probe reads true.");
}

json_t *certificate_build(const struct certificate_facts *facts)
{
    const struct settings *settings = facts->settings;
    const struct batch_memory *memory = facts->memory;
    enum outcome outcome = memory->outcome == OUTCOME_OPEN ? OUTCOME_UNFINISHED : memory->outcome;

    return json_pack(
        "{s:s, s:s, s:b, s:I, s:o, s:o, s:o, s:o, s:b, s:s, s:s, s:o, s:o, s:o, s:s, s:o, s:o, s:o,"
        " s:O, s:I, s:s, s:o, s:o}",
        "format", CERTIFICATE_FORMAT, "title", title(facts), "simulated", (int)settings->is_simulated,
        "serial", (json_int_t)facts->serial, "farm", certificate_clean(settings->farm_name, "not named"),
        "tank", certificate_clean(settings->tank_name, "not named"), "batch",
        certificate_clean(memory->plan.batch_id, "not numbered"), "issued", utc_text(facts->issued_utc_us),
        "finished", (int)certificate_is_finished(facts), "outcome", words_outcome_name(outcome),
        "outcome_words", outcome_words(outcome), "times", times(facts), "started_by",
        started_by(&memory->started_by), "results", certificate_results(facts), "coverage_factor", "2",
        "acidity_note", acidity_note(facts), "ingredients", certificate_ingredients(facts), "history",
        history(facts), "remarks", facts->remarks->list, "remarks_left_out",
        (json_int_t)facts->remarks->left_out, "decision_rule", decision_words_rule(), "limits_of_this",
        limits_of_this(), "evidence", evidence(facts));
}
