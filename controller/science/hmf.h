/* hmf.h - how fast hydroxymethylfurfural (HMF) forms in honey and in syrup, as a rough estimate.
 *
 * Does:      rates and times from heating experiments with honey, with their spread; pure functions.
 * Does not:  follow a record of temperatures (change.h does), allocate, or keep state. Any thread.
 * No measured series for sucrose syrup acidified to pH 4 was found: every number here rests on honey,
 * can be wrong by a factor of 5 and more, and is never a measurement. A low number does not say that a
 * feed is harmless, a high one not that it harms; only a laboratory can say what is in a batch.
 * Temperature degC, strength % by weight of the sugar weighed in, HMF mg per kg of syrup or honey.
 * ST_OK and the result, or ST_RANGE (an argument outside its range or not finite) and nothing written.
 */
#ifndef SCIENCE_HMF_H
#define SCIENCE_HMF_H

#include "base/status.h"
#include "science/span.h"

/* Fructose in the honey the rates were measured with, mass share. */
#define HMF_HONEY_FRUCTOSE 0.38

/* HMF formed in honey, mg/(kg h), 0-105 degC. Best: White, Kushnir and Subers (1964), times for 30 mg/kg
 * at 30-80 degC, zero order, ln rate = 52.951 - 146273/(R T), within a factor 1.5 of the geometric mean
 * of their times. Ends: a factor of 5 either way; outside 30-80 degC widened by what the published
 * activation energies allow, 84 kJ/mol (Zeng and others 2006) to 173 (acacia honey 2012). Not good for
 * the first days of fresh honey, where it starts slower, nor above some 1000 mg/kg. */
enum status hmf_honey_rate_eval(double temp_c, struct span *mg_kg_h) MUST_USE;

/* Time for honey to form 0-1000 mg/kg at a constant temperature, h. 0-105 degC. A time
 * beyond 1e6 h is given as 1e6 h: that or longer. ST_RANGE when even the low end is beyond. */
enum status hmf_honey_time_eval(double temp_c, double formed_mg_kg, struct span *hours) MUST_USE;

/* HMF formed in syrup that holds fructose, mg/(kg h): the rate in honey in proportion to the fructose.
 * 0-105 degC, pH 2-8, fructose 0-60 % of the syrup. The factor of 5 doubles with each pH unit below 4
 * (10 at pH 3), because acid below honey's own pH speeds HMF and no factor for it was found: below pH 4
 * the best value is rather low. Least HMF is reported at pH 4-5; more alkaline is not "none". */
enum status hmf_rate_eval(double temp_c, double ph, double fructose_pct, struct span *mg_kg_h) MUST_USE;

/* HMF in fresh sucrose syrup after 0-1e6 h at constant conditions, mg/kg: the sucrose inverts
 * (inversion.h), its fructose forms HMF. 0-105 degC, pH 2-8, 0-85 %. Low ends go with low ends, high with
 * high, so the span is wider than either. ST_RANGE when the high end passes 1e5 mg/kg: that is no
 * estimate any more. HMF that breaks down again is not counted. */
enum status hmf_formed_eval(double temp_c, double ph, double strength_pct, double hours,
                            struct span *mg_kg) MUST_USE;

/* Time until fresh sucrose syrup has formed 0.001-1000 mg/kg at constant conditions, h: the inverse of
 * the above, 1-85 %. The low end is the time at the high rates. A time beyond 1e6 h is given as
 * 1e6 h: that or longer. ST_RANGE when even the low end is beyond. */
enum status hmf_time_eval(double temp_c, double ph, double strength_pct, double hmf_mg_kg,
                          struct span *hours) MUST_USE;

/* Numbers an estimate may be held against. None is a proof of anything. */
enum hmf_mark {
    HMF_AIM,    /* 10 mg/kg: this program's own aim for fresh feed */
    HMF_NOTICE, /* 20 mg/kg: this program's own, half of the next */
    HMF_LIMIT,  /* 40 mg/kg: provisional for bee feed, Belgium FAVV 32-2010; honey, EU 2001/110 */
    HMF_MARK_COUNT
};

/* "aim"; NULL for what is no mark. */
const char *hmf_mark_name(int mark);

/* How many times a mark a value is, 0-1e6 mg/kg: a comparison, no verdict. */
enum status hmf_against_mark_eval(double hmf_mg_kg, enum hmf_mark mark, double *times) MUST_USE;

#endif
