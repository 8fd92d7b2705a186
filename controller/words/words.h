/* words.h - codes and numbers turned into plain sentences; the one place for English.
 *
 * Pure; no allocation. A buffer of WORDS_MAX is always long enough; names are never NULL.
 */
#ifndef WORDS_H
#define WORDS_H

#include "core/scan_types.h"
#include "science/skin.h"

#include <stddef.h>

#define WORDS_MAX 320

/* Machine names, stable, for JSON, records and the command line ("held", "restart", "tip_bag").
 * The *_find functions return the COUNT value when the name is unknown. */
const char *words_state_name(enum batch_state state);
const char *words_verb_name(enum verb verb);
const char *words_step_name(enum step step);
const char *words_outcome_name(enum outcome outcome);
const char *words_prompt_name(enum prompt_kind kind);
const char *words_answer_name(enum answer answer);
const char *words_trip_name(enum trip trip);
const char *words_event_name(enum event_kind kind);
const char *words_refusal_name(enum refusal refusal);
const char *words_role_name(enum role role);
const char *words_door_name(enum door door);
const char *words_measured_name(enum measured measured);
const char *words_scald_name(enum scald level);
const char *words_agreement_name(enum agreement agreement);
enum verb words_verb_find(const char *name);
enum answer words_answer_find(const char *name);
enum role words_role_find(const char *name);

/* Sentences for people. */
const char *words_state(enum batch_state state); /* "held: everything is off, ..." */
const char *words_step(enum step step);          /* "Letting the water in" */
void words_prompt(const struct prompt *prompt, const struct batch_plan *plan, char out[WORDS_MAX]);
void words_trip(enum trip trip, int detail, const struct limits *limits,
                char out[WORDS_MAX]);       /* cause and consequence */
const char *words_trip_act(enum trip trip); /* what the person does */
void words_event(const struct event *event, char out[WORDS_MAX]);
void words_refusal(enum verb verb, const struct command_result *result,
                   char out[WORDS_MAX]); /* why, and what to do */
void words_opinion(enum point point, const struct opinion *opinion,
                   char out[WORDS_MAX]);      /* a hand reading beside the tank's own */
const char *words_scald(enum scald level);    /* "burns within minutes: ..." */
const char *words_reason(enum reason reason); /* "the wire to the device is down" */

#endif
