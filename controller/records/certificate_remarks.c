/* What went wrong or was interrupted, picked from the journal. */
#include "records/canonical.h"
#include "records/certificate.h"

#include <stdio.h>

static bool is_remark(const struct journal_row *row)
{
    switch (row->code) {
    case EVENT_TRIPPED: /* the lid is meant to be open while sugar goes in; a start has its own row */
        return row->a != TRIP_HATCH_OPEN && row->a != TRIP_POWER_UP;
    case EVENT_COMMAND:
        return row->a == VERB_STOP || row->a == VERB_ABORT || row->a == VERB_HOLD || row->a == VERB_PAUSE;
    case EVENT_ANSWERED:
        return row->b == ANSWER_CANNOT;
    case EVENT_HAND_READING: /* two rows, one after the other: the reading and what it is beside */
    case EVENT_COMPARED:
        return row->b == AGREEMENT_DISAGREES;
    case EVENT_NOT_RECORDED:
    case EVENT_RECOVERED:
    case EVENT_DISAGREES:
    case JOURNAL_LOST:
        return true;
    default:
        return false;
    }
}

/* *item: the remark as it stands in the list, NULL when it was left out. */
static enum status add(struct certificate_remarks *remarks, int64_t utc_us, const char *sentence,
                       json_t **item, struct fault *f)
{
    char clean[JOURNAL_SENTENCE_MAX], utc[UTC_MAX];

    *item = NULL;
    if (json_array_size(remarks->list) >= CERTIFICATE_REMARKS_MAX) {
        remarks->left_out++;
        return ST_OK;
    }
    canonical_text(sentence, clean, sizeof clean);
    canonical_utc(utc_us, utc);
    *item = json_pack("{s:s, s:s}", "utc", utc, "sentence", clean);
    if (json_array_append_new(remarks->list, *item) == 0)
        return ST_OK;
    *item = NULL;
    return fault_set(f, ST_SYSTEM, "certificate", "memory is short");
}

/* ---- pauses and holds ------------------------------------------------------------------------ */

enum rest { REST_NONE, REST_PAUSE, REST_HOLD };

static const char *const REST_WORDS[] = {"", "The batch was paused", "The batch was held"};

static enum rest rest_of(int state)
{
    if (state == STATE_PAUSING || state == STATE_PAUSED)
        return REST_PAUSE;
    return state == STATE_HOLDING || state == STATE_HELD ? REST_HOLD : REST_NONE;
}

static enum status rest_begin(struct certificate_remarks *remarks, const struct journal_row *row,
                              enum rest rest, struct fault *f)
{
    char sentence[96];

    (void)snprintf(sentence, sizeof sentence, "%s; its end was not recorded.", REST_WORDS[rest]);
    remarks->rest_run = row->run;
    remarks->rest_scan_us = row->scan_us;
    remarks->rest_utc_us = row->utc_us;
    return add(remarks, row->utc_us, sentence, &remarks->rest, f);
}

/* Tank time knows nothing of a clock that is set, but begins anew with each run. */
static enum status rest_end(struct certificate_remarks *remarks, const struct journal_row *row,
                            enum rest rest, struct fault *f)
{
    int64_t length_us = row->run == remarks->rest_run ? row->scan_us - remarks->rest_scan_us
                                                      : row->utc_us - remarks->rest_utc_us;
    char sentence[96], minutes[DECIMAL_MAX];
    json_t *item = remarks->rest;

    remarks->rest = NULL;
    if (item == NULL)
        return ST_OK;
    canonical_decimal((double)length_us / 60e6, 1, minutes);
    if (length_us >= 0)
        (void)snprintf(sentence, sizeof sentence, "%s for %s min.", REST_WORDS[rest], minutes);
    else
        (void)snprintf(sentence, sizeof sentence, "%s; how long is not known, because the clock was set.",
                       REST_WORDS[rest]);
    if (json_object_set_new(item, "sentence", json_string(sentence)) != 0)
        return fault_set(f, ST_SYSTEM, "certificate", "memory is short");
    return ST_OK;
}

static enum status rest_follow(struct certificate_remarks *remarks, const struct journal_row *row,
                               struct fault *f)
{
    enum rest before = rest_of(row->a), after = rest_of(row->b);
    enum status code = ST_OK;

    if (before == after)
        return ST_OK;
    if (before != REST_NONE)
        code = rest_end(remarks, row, before, f);
    if (code == ST_OK && after != REST_NONE)
        code = rest_begin(remarks, row, after, f);
    return code;
}

enum status certificate_remark(struct certificate_remarks *remarks, const struct journal_row *row,
                               struct fault *f)
{
    char sentence[JOURNAL_SENTENCE_MAX];
    json_t *item;

    if (row->code == EVENT_STATE)
        return rest_follow(remarks, row, f);
    if (!is_remark(row))
        return ST_OK;
    journal_sentence(row, sentence);
    return add(remarks, row->utc_us, sentence, &item, f);
}
