#include "science/change.h"

#include "science/arrhenius.h"
#include "science/growth.h"
#include "science/hmf.h"
#include "science/inversion.h"
#include "science/science_range.h"

#include <math.h>
#include <stddef.h>

#define HMF_MAX_MG_KG 1e6

/* A piece of a ramp: small enough that a sixth-order rule is good to 1e-7. */
#define PIECE_K 1.0
#define PIECE_EXPOSURE 0.5
#define SPENT 1e-13 /* sucrose left below which inversion no longer sets the size of a piece */

/* HMF is estimated with other activation energies outside the range of its measurements: the rate has a
 * bend there, and a piece must not lie across it. */
static const double BENDS_C[] = {30, 80};
#define BENDS (sizeof BENDS_C / sizeof BENDS_C[0])

static const double WARM_C[CHANGE_WARM_COUNT] = {40, 50, 60};

enum { LOW, BEST, HIGH, ENDS };

/* What is carried along, as arrays, so that the three ends are one loop. */
struct course {
    double inverted[ENDS];
    double hmf[ENDS];
    double measured[ENDS]; /* inversion rate at INVERSION_MEASURED_C, 1/h */
    double ph;
};

/* Rates at one moment, 1/h and mg/h for each kg of sugar if all of it were inverted. */
struct rates {
    double inversion[ENDS];
    double full[ENDS];
};

static void span_unpack(const struct span *span, double ends[ENDS])
{
    ends[LOW] = span->low;
    ends[BEST] = span->best;
    ends[HIGH] = span->high;
}

static struct span span_pack(const double ends[ENDS])
{
    return (struct span){ends[LOW], ends[BEST], ends[HIGH]};
}

static enum status rates_at(const struct course *course, double temp_c, struct rates *rates)
{
    struct span full;
    double factor = arrhenius_factor(INVERSION_J_MOL, INVERSION_MEASURED_C, temp_c);
    enum status status = hmf_rate_eval(temp_c, course->ph, 100 * INVERSION_FRUCTOSE_KG_KG, &full);

    if (status != ST_OK)
        return status;
    span_unpack(&full, rates->full);
    for (int i = 0; i < ENDS; i++)
        rates->inversion[i] = course->measured[i] * factor;
    return ST_OK;
}

static enum status hold(struct course *course, double hours, double temp_c)
{
    struct rates r;
    enum status status = rates_at(course, temp_c, &r);

    if (status != ST_OK)
        return status;
    for (int i = 0; i < ENDS; i++) {
        double exposure = r.inversion[i] * hours;
        double mean = course->inverted[i] + (1 - course->inverted[i]) * growth_mean(exposure);

        course->hmf[i] += r.full[i] * hours * mean;
        course->inverted[i] = growth_share(course->inverted[i], exposure);
    }
    return ST_OK;
}

/* Lobatto IIIA with four stages (Hairer and Wanner, Solving Ordinary Differential Equations II, 1996,
 * section IV.5): where the stages lie, and the weights that carry the rates to each of them. The last row
 * is the whole piece. */
#define STAGES 4
#define ROOT_5 2.23606797749979
static const double STAGE_AT[STAGES] = {0, (5 - ROOT_5) / 10, (5 + ROOT_5) / 10, 1};
static const double STAGE_WEIGHT[STAGES][STAGES] = {
    {0, 0, 0, 0},
    {(11 + ROOT_5) / 120, (25 - ROOT_5) / 120, (25 - 13 * ROOT_5) / 120, (ROOT_5 - 1) / 120},
    {(11 - ROOT_5) / 120, (25 + 13 * ROOT_5) / 120, (25 + ROOT_5) / 120, (-ROOT_5 - 1) / 120},
    {1.0 / 12, 5.0 / 12, 5.0 / 12, 1.0 / 12},
};

static void piece(struct course *course, double hours, const struct rates rates[STAGES])
{
    for (int i = 0; i < ENDS; i++) {
        double formed = 0;
        double inverted = course->inverted[i];

        for (int stage = 0; stage < STAGES; stage++) {
            double exposure = 0;

            for (int j = 0; j < STAGES; j++)
                exposure += hours * STAGE_WEIGHT[stage][j] * rates[j].inversion[i];
            inverted = growth_share(course->inverted[i], exposure);
            formed += hours * STAGE_WEIGHT[STAGES - 1][stage] * rates[stage].full[i] * inverted;
        }
        course->hmf[i] += formed;
        course->inverted[i] = inverted;
    }
}

/* Share of a ramp that the next piece takes: bounded in warmth and, while there is sucrose, in exposure. */
static double piece_share(const struct course *course, const struct rates *rates, double hours, double rise_k)
{
    double share = PIECE_K / fabs(rise_k);

    for (int i = 0; i < ENDS; i++)
        if (1 - course->inverted[i] > SPENT)
            share = fmin(share, PIECE_EXPOSURE / (rates->inversion[i] * hours));
    return share;
}

static enum status ramp(struct course *course, double hours, double from_c, double to_c)
{
    double rise_k = to_c - from_c;
    double done = 0;
    struct rates rates[STAGES];
    enum status status = rates_at(course, from_c, &rates[0]);

    while (status == ST_OK && done < 1) {
        double share = fmin(piece_share(course, &rates[0], hours, rise_k), 1 - done);

        for (int i = 1; i < STAGES && status == ST_OK; i++)
            status = rates_at(course, from_c + rise_k * fmin(done + share * STAGE_AT[i], 1), &rates[i]);
        if (status == ST_OK)
            piece(course, hours * share, rates);
        rates[0] = rates[STAGES - 1];
        done = share < 1 - done ? done + share : 1;
    }
    return status;
}

/* A ramp, cut where a rate has a bend. */
static enum status move(struct course *course, double hours, double from_c, double to_c)
{
    double begin_c = from_c;
    enum status status = ST_OK;

    for (size_t i = 0; i <= BENDS && status == ST_OK; i++) {
        double bend = i == BENDS ? to_c : BENDS_C[to_c > from_c ? i : BENDS - 1 - i];
        double end_c = fmin(fmax(bend, fmin(begin_c, to_c)), fmax(begin_c, to_c));
        double length = hours * (end_c - begin_c) / (to_c - from_c);

        if (length > 0)
            status = ramp(course, length, begin_c, end_c);
        begin_c = end_c;
    }
    return status;
}

/* Share of a step above a temperature. */
static double share_above(double from_c, double to_c, double limit_c)
{
    double low = fmin(from_c, to_c);
    double high = fmax(from_c, to_c);

    if (low > limit_c)
        return 1;
    return high > limit_c ? (high - limit_c) / (high - low) : 0;
}

enum status change_start_eval(double inverted_pct, double hmf_mg_kg, struct change_record *record)
{
    double share = inverted_pct / 100;

    if (!is_within(inverted_pct, 0, 100) || !is_within(hmf_mg_kg, 0, 1e5))
        return ST_RANGE;
    *record = (struct change_record){.inverted = {share, share, share},
                                     .hmf_mg_kg = {hmf_mg_kg, hmf_mg_kg, hmf_mg_kg}};
    return ST_OK;
}

enum status change_advance_eval(const struct change_record *before, const struct change_step *step,
                                struct change_record *after)
{
    struct course course = {.ph = step->ph};
    struct change_record next = *before;
    struct span measured;
    enum status status = inversion_rate_eval(INVERSION_MEASURED_C, step->ph, step->strength_pct, &measured);

    if (status != ST_OK || !is_within(step->hours, 0, GROWTH_HOURS_MAX) || !is_within(step->from_c, 0, 105) ||
        !is_within(step->to_c, 0, 105))
        return ST_RANGE;
    span_unpack(&before->inverted, course.inverted);
    span_unpack(&before->hmf_mg_kg, course.hmf);
    span_unpack(&measured, course.measured);
    status = step->from_c < step->to_c || step->from_c > step->to_c
                 ? move(&course, step->hours, step->from_c, step->to_c)
                 : hold(&course, step->hours, step->from_c);
    if (status != ST_OK || !is_within(course.hmf[HIGH], 0, HMF_MAX_MG_KG))
        return ST_RANGE;
    next.inverted = span_pack(course.inverted);
    next.hmf_mg_kg = span_pack(course.hmf);
    next.hours += step->hours;
    for (int i = 0; i < CHANGE_WARM_COUNT; i++)
        next.warm_min[i] += 60 * step->hours * share_above(step->from_c, step->to_c, WARM_C[i]);
    *after = next;
    return ST_OK;
}

enum status change_hmf_eval(const struct change_record *record, double strength_pct, struct span *mg_kg)
{
    double w = strength_pct / 100;

    if (!is_within(strength_pct, 0, 85))
        return ST_RANGE;
    *mg_kg = (struct span){record->hmf_mg_kg.low * w, record->hmf_mg_kg.best * w, record->hmf_mg_kg.high * w};
    return ST_OK;
}
