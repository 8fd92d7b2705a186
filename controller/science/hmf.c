#include "science/hmf.h"

#include "science/arrhenius.h"
#include "science/constants.h"
#include "science/growth.h"
#include "science/inversion.h"
#include "science/science_range.h"

#include <math.h>
#include <stddef.h>

#define TEMP_MIN_C 0.0
#define TEMP_MAX_C 105.0
#define FORMED_MAX_MG_KG 1e5

/* Least squares on the times of White, Kushnir and Subers (1964). */
#define HONEY_LN_RATE 52.951
#define HONEY_J_MOL 146273.0
#define HONEY_FROM_C 30.0
#define HONEY_TO_C 80.0

/* The spread. */
#define FACTOR 5.0
#define LEAST_J_MOL 84400.0
#define MOST_J_MOL 173100.0

/* How much slower and faster than the fit the other activation energies would be, from the nearer end
 * of the measured range on. */
static void widen(double temp_c, double *slower, double *faster)
{
    double nearest = fmin(fmax(temp_c, HONEY_FROM_C), HONEY_TO_C);
    double flat = arrhenius_factor(LEAST_J_MOL - HONEY_J_MOL, nearest, temp_c);
    double steep = arrhenius_factor(MOST_J_MOL - HONEY_J_MOL, nearest, temp_c);

    *slower = fmin(flat, steep);
    *faster = fmax(flat, steep);
}

enum status hmf_honey_rate_eval(double temp_c, struct span *mg_kg_h)
{
    double best = exp(HONEY_LN_RATE - HONEY_J_MOL / (GAS_J_MOL_K * (temp_c + ZERO_C_K)));
    double slower;
    double faster;

    if (!is_within(temp_c, TEMP_MIN_C, TEMP_MAX_C))
        return ST_RANGE;
    widen(temp_c, &slower, &faster);
    *mg_kg_h = (struct span){best * slower / FACTOR, best, best * faster * FACTOR};
    return ST_OK;
}

enum status hmf_honey_time_eval(double temp_c, double formed_mg_kg, struct span *hours)
{
    struct span rate;
    enum status status = hmf_honey_rate_eval(temp_c, &rate);

    if (status != ST_OK || !is_within(formed_mg_kg, 0, 1000))
        return ST_RANGE;
    return growth_hours(formed_mg_kg / rate.high, formed_mg_kg / rate.best, formed_mg_kg / rate.low, hours);
}

enum status hmf_rate_eval(double temp_c, double ph, double fructose_pct, struct span *mg_kg_h)
{
    struct span honey;
    double share = fructose_pct / 100 / HMF_HONEY_FRUCTOSE;
    double acid = exp2(fmax(4 - ph, 0));
    enum status status = hmf_honey_rate_eval(temp_c, &honey);

    if (status != ST_OK || !is_within(ph, 2, 8) || !is_within(fructose_pct, 0, 60))
        return ST_RANGE;
    *mg_kg_h = (struct span){honey.low * share / acid, honey.best * share, honey.high * share * acid};
    return ST_OK;
}

/* Rates of inversion, and of HMF as if all sugar were inverted. */
static enum status rates(double temp_c, double ph, double strength_pct, struct span *inversion,
                         struct span *full)
{
    enum status status = inversion_rate_eval(temp_c, ph, strength_pct, inversion);

    if (status == ST_OK)
        status = hmf_rate_eval(temp_c, ph, strength_pct * INVERSION_FRUCTOSE_KG_KG, full);
    return status;
}

static double formed(double inversion, double full, double hours)
{
    return full * hours * growth_mean(inversion * hours);
}

enum status hmf_formed_eval(double temp_c, double ph, double strength_pct, double hours, struct span *mg_kg)
{
    struct span inversion;
    struct span full;
    double high;
    enum status status = rates(temp_c, ph, strength_pct, &inversion, &full);

    if (status != ST_OK || !is_within(hours, 0, GROWTH_HOURS_MAX))
        return ST_RANGE;
    high = formed(inversion.high, full.high, hours);
    if (high > FORMED_MAX_MG_KG)
        return ST_RANGE;
    *mg_kg = (struct span){formed(inversion.low, full.low, hours), formed(inversion.best, full.best, hours),
                           high};
    return ST_OK;
}

/* formed() is convex and growing, so Newton from above comes down without passing the root. The start is
 * above it, because growth_mean(z) is at least z/(2 + z). */
static double time_to_form(double inversion, double full, double mg_kg)
{
    double a = full * inversion;
    double b = mg_kg * inversion;
    double hours = (b + sqrt(b * b + 8 * a * mg_kg)) / (2 * a);

    for (int i = 0; i < 40; i++) {
        double excess = formed(inversion, full, hours) - mg_kg;

        if (excess <= 1e-12 * mg_kg)
            break;
        hours -= excess / (full * growth_share(0, inversion * hours));
    }
    return hours;
}

enum status hmf_time_eval(double temp_c, double ph, double strength_pct, double hmf_mg_kg, struct span *hours)
{
    struct span inversion;
    struct span full;
    enum status status = rates(temp_c, ph, strength_pct, &inversion, &full);

    if (status != ST_OK || !is_within(strength_pct, 1, 85) || !is_within(hmf_mg_kg, 1e-3, 1000))
        return ST_RANGE;
    return growth_hours(time_to_form(inversion.high, full.high, hmf_mg_kg),
                        time_to_form(inversion.best, full.best, hmf_mg_kg),
                        time_to_form(inversion.low, full.low, hmf_mg_kg), hours);
}

static const struct {
    const char *name;
    double mg_kg;
} MARKS[HMF_MARK_COUNT] = {{"aim", 10}, {"notice", 20}, {"limit", 40}};

const char *hmf_mark_name(int mark)
{
    return mark >= 0 && mark < HMF_MARK_COUNT ? MARKS[mark].name : NULL;
}

enum status hmf_against_mark_eval(double hmf_mg_kg, enum hmf_mark mark, double *times)
{
    if (!is_within(hmf_mg_kg, 0, 1e6) || (unsigned)mark >= HMF_MARK_COUNT)
        return ST_RANGE;
    *times = hmf_mg_kg / MARKS[mark].mg_kg;
    return ST_OK;
}
