#include "science/change.h"
#include "science/handbook.h"
#include "science/handbook_row.h"
#include "science/handbook_span.h"
#include "science/hmf.h"
#include "science/inversion.h"

/* A row whose function gives a span, by its number of inputs. */
#define SPAN_2(name, function)                                                                               \
    static enum status name(const double in[], double out[])                                                 \
    {                                                                                                        \
        struct span span = {0};                                                                              \
                                                                                                             \
        return span_give(function(in[0], in[1], &span), &span, out);                                         \
    }
#define SPAN_3(name, function)                                                                               \
    static enum status name(const double in[], double out[])                                                 \
    {                                                                                                        \
        struct span span = {0};                                                                              \
                                                                                                             \
        return span_give(function(in[0], in[1], in[2], &span), &span, out);                                  \
    }
#define SPAN_4(name, function)                                                                               \
    static enum status name(const double in[], double out[])                                                 \
    {                                                                                                        \
        struct span span = {0};                                                                              \
                                                                                                             \
        return span_give(function(in[0], in[1], in[2], in[3], &span), &span, out);                           \
    }

SPAN_3(rate, inversion_rate_eval)
SPAN_2(warming, inversion_warming_eval)
SPAN_4(share, inversion_share_eval)
SPAN_4(inversion_time, inversion_time_eval)
SPAN_2(honey_time, hmf_honey_time_eval)
SPAN_3(hmf_rate, hmf_rate_eval)
SPAN_4(hmf_formed, hmf_formed_eval)
SPAN_4(hmf_time, hmf_time_eval)

CALL_3(acid_rate, inversion_acid_rate_eval)
CALL_3(vukov_rate, inversion_vukov_rate_eval)

static enum status masses(const double in[], double out[])
{
    struct inversion_masses m;
    enum status status = inversion_masses_eval(in[0], in[1], in[2], &m);

    if (status != ST_OK)
        return status;
    out[0] = m.sucrose_kg;
    out[1] = m.hexose_kg;
    out[2] = m.water_kg;
    return ST_OK;
}

static enum status honey_rate(const double in[], double out[])
{
    struct span span = {0};

    return span_give(hmf_honey_rate_eval(in[0], &span), &span, out);
}

static enum status against_mark(const double in[], double out[])
{
    return hmf_against_mark_eval(in[0], (enum hmf_mark)in[1], &out[0]);
}

/* A record of one step, from fresh sugar. */
static enum status ramp_record(const double in[], struct change_record *record)
{
    const struct change_step step = {
        .hours = in[2], .from_c = in[0], .to_c = in[1], .ph = in[3], .strength_pct = in[4]};
    enum status status = change_start_eval(0, 0, record);

    return status == ST_OK ? change_advance_eval(record, &step, record) : status;
}

static enum status ramp(const double in[], double out[])
{
    struct change_record record;
    struct span hmf;
    enum status status = ramp_record(in, &record);

    if (status == ST_OK)
        status = change_hmf_eval(&record, in[4], &hmf);
    return span_give(status, &hmf, out);
}

static enum status ramp_inverted(const double in[], double out[])
{
    struct change_record record;
    struct span pct = {0};
    enum status status = ramp_record(in, &record);

    if (status == ST_OK)
        pct = (struct span){100 * record.inverted.low, 100 * record.inverted.best,
                            100 * record.inverted.high};
    return span_give(status, &pct, out);
}

#define INPUT(name, unit, min, max)                                                                          \
    {                                                                                                        \
        name, unit, min, max, NULL                                                                           \
    }
#define TEMP INPUT("temp_c", "degC", 0, 105)
#define PH INPUT("ph", "pH", 2, 8)
#define STRENGTH INPUT("strength_pct", "%", 0, 85)
#define HOURS INPUT("time_h", "h", 0, 1e6)

#define TIME_HELD                                                                                            \
    "a time beyond 1e6 h is given as 1e6 h, that or longer; nothing when even the low end is beyond"
#define GUGGENHEIM "Guggenheim and Wiseman, Proc. R. Soc. A 203 (1950); 108 kJ/mol"
#define WHITE "White, Kushnir and Subers (1964), least squares, 146 kJ/mol"
#define NOT_MEASURED ". An estimate, never a measurement, and no statement that a feed is harmless"
#define HMF_ERROR                                                                                            \
    "the ends: a factor of 5, more outside 30-80 degC (84-173 kJ/mol), twice that for each pH below 4"

const struct handbook_entry HANDBOOK_CHANGE[] = {
    {"inversion_acid_rate",
     "Rate of inversion by hydrochloric acid",
     {INPUT("acid_mol_l", "mol/L", 1e-8, 0.2), INPUT("sugar_g_l", "g/L", 0, 1300), TEMP},
     {{"rate_per_h", "1/h", 0, 2700, NULL}},
     "",
     GUGGENHEIM,
     "1 % in thin solutions at 24.7 degC, 30 % elsewhere; in strong syrup an extrapolation",
     acid_rate},
    {"inversion_rate",
     "Rate of inversion of syrup at a pH",
     {TEMP, PH, STRENGTH},
     SPAN_OUTPUTS("per_h", "1/h", 0, 400),
     "",
     GUGGENHEIM "; low end also Vukov (1965)",
     "the ends: 30 % for the correlation, a factor of 2 for the pH in syrup, and the lower "
     "correlation" NOT_MEASURED,
     rate},
    {"inversion_vukov_rate",
     "Rate of inversion of syrup, the other correlation",
     {TEMP, INPUT("ph", "pH", 1, 8), STRENGTH},
     {{"rate_per_h", "1/h", 0, 500, NULL}},
     "",
     "Vukov (1965), seen second-hand",
     "20 % in water; below inversion_rate at 60 degC, pH 4: 3.5 times at 60 %, 4.4 at 66.7, 5.0 at 70, "
     "8.0 at 80, 10.9 at 85; the slower of the two, not for how long a syrup may stay warm" NOT_MEASURED,
     vukov_rate},
    {"inversion_warming",
     "How many times faster sugar inverts at another temperature",
     {INPUT("from_c", "degC", 0, 105), INPUT("to_c", "degC", 0, 105)},
     {{"low", "", 0, 1e6, NULL}, {"best", "", 0, 1e6, NULL}, {"high", "", 0, 1e6, NULL}},
     "",
     "Activation energy 106, 108, 110 kJ/mol (Tombari and others 2007: 109.2; others 105-108)",
     "the ends",
     warming},
    {"inversion_share",
     "Share of the sugar inverted after a time",
     {TEMP, PH, STRENGTH, HOURS},
     SPAN_OUTPUTS("pct", "%", 0, 100),
     "",
     GUGGENHEIM ", first order",
     "the ends, as for inversion_rate" NOT_MEASURED,
     share},
    {"inversion_time",
     "Time until a share of the sugar is inverted",
     {TEMP, PH, STRENGTH, INPUT("inverted_pct", "%", 0, 99.9)},
     SPAN_OUTPUTS("h", "h", 0, 1e6),
     TIME_HELD,
     "The inverse of inversion_share",
     "the ends, as for inversion_rate" NOT_MEASURED,
     inversion_time},
    {"inversion_masses",
     "What sugar and water become when a share inverts",
     {INPUT("sugar_kg", "kg", 0, 1e6), INPUT("water_kg", "kg", 0, 1e6), INPUT("inverted_pct", "%", 0, 100)},
     {{"sucrose_kg", "kg", 0, 1e6, NULL},
      {"hexose_kg", "kg", 0, 1.06e6, NULL},
      {"water_left_kg", "kg", 0, 1e6, NULL}},
     "the water must be enough for what inversion takes up, 0.0526 kg for 1 kg",
     "Stoichiometry, molar masses 342.297 and 18.0153 g/mol",
     "exact",
     masses},
    {"hmf_honey_rate",
     "HMF formed in honey",
     {TEMP},
     SPAN_OUTPUTS("mg_kg_h", "mg/(kg h)", 0, 1e4),
     "",
     WHITE,
     "the best value 1.5 times within 30-80 degC; the ends: a factor of 5, more outside (84-173 "
     "kJ/mol)" NOT_MEASURED,
     honey_rate},
    {"hmf_honey_time",
     "Time for honey to form so much HMF",
     {TEMP, INPUT("formed_mg_kg", "mg/kg", 0, 1000)},
     SPAN_OUTPUTS("h", "h", 0, 1e6),
     TIME_HELD,
     WHITE,
     "the ends, as for hmf_honey_rate" NOT_MEASURED,
     honey_time},
    {"hmf_rate",
     "HMF formed in syrup that holds fructose",
     {TEMP, PH, INPUT("fructose_pct", "%", 0, 60)},
     SPAN_OUTPUTS("mg_kg_h", "mg/(kg h)", 0, 1e5),
     "",
     WHITE ", in proportion to the fructose (honey 38 %)",
     HMF_ERROR NOT_MEASURED,
     hmf_rate},
    {"hmf_formed",
     "HMF in fresh sucrose syrup after a time",
     {TEMP, PH, STRENGTH, HOURS},
     SPAN_OUTPUTS("mg_kg", "mg/kg", 0, 1e5),
     "nothing when the high end passes 1e5 mg/kg",
     "inversion_rate and hmf_rate together; no series measured in acid sucrose syrup was found",
     HMF_ERROR ", with those of the inversion on top" NOT_MEASURED,
     hmf_formed},
    {"hmf_time",
     "Time until fresh sucrose syrup has formed so much HMF",
     {TEMP, PH, INPUT("strength_pct", "%", 1, 85), INPUT("hmf_mg_kg", "mg/kg", 1e-3, 1000)},
     SPAN_OUTPUTS("h", "h", 0, 1e6),
     TIME_HELD,
     "The inverse of hmf_formed",
     HMF_ERROR ", with those of the inversion on top" NOT_MEASURED,
     hmf_time},
    {"hmf_against_mark",
     "HMF as a multiple of a mark: aim 10, notice 20, limit 40 mg/kg",
     {INPUT("hmf_mg_kg", "mg/kg", 0, 1e6), {"mark", "", 0, HMF_MARK_COUNT - 1, hmf_mark_name}},
     {{"times", "", 0, 1e5, NULL}},
     "",
     "40: Belgium FAVV 32-2010, provisional for bee feed, and honey, EU 2001/110; 10 and 20: this program's "
     "own",
     "a comparison, no verdict",
     against_mark},
    {"change_ramp",
     "HMF in fresh syrup after an even rise or fall of its temperature",
     {INPUT("from_c", "degC", 0, 105), INPUT("to_c", "degC", 0, 105), INPUT("time_h", "h", 0, 1e6), PH,
      STRENGTH},
     SPAN_OUTPUTS("mg_kg", "mg/kg", 0, 1e6),
     "nothing when the high end passes 1e6 mg for each kg of sugar",
     "inversion_rate and hmf_rate, integrated to 1e-6",
     HMF_ERROR ", with those of the inversion on top" NOT_MEASURED,
     ramp},
    {"change_ramp_inverted",
     "Share of the sugar inverted after an even rise or fall of its temperature",
     {INPUT("from_c", "degC", 0, 105), INPUT("to_c", "degC", 0, 105), INPUT("time_h", "h", 0, 1e6), PH,
      STRENGTH},
     SPAN_OUTPUTS("inverted_pct", "%", 0, 100),
     "nothing when the high end of HMF passes 1e6 mg for each kg of sugar",
     "inversion_rate, integrated to 1e-6",
     "the ends, as for inversion_rate" NOT_MEASURED,
     ramp_inverted},
    {0},
};
