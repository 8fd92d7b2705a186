#include "science/skin_dose.h"

#include "science/arrhenius.h"
#include "science/science_range.h"

#include <math.h>
#include <stddef.h>

#define TEMP_MIN_C 20.0
#define TEMP_MAX_C 110.0
#define BEYOND_C (TEMP_MAX_C + 1) /* above every temperature */
#define SECONDS_MAX 1e6

/* Henriques (1947): these two belong together. */
#define DAMAGE_PER_S 3.1e98
#define DAMAGE_K 75000.0
#define DAMAGE_FROM_C 44.0

#define CEM_C 43.0
#define CEM_MAX_C 60.0
#define PANEL_K 1.0

static const struct {
    const char *name;
    double dose;
} GRADES[SKIN_GRADE_COUNT] = {{"first degree", 0.53}, {"second degree", 1}};

const char *skin_grade_name(int grade)
{
    return grade >= 0 && grade < SKIN_GRADE_COUNT ? GRADES[grade].name : NULL;
}

static double damage_rate(double basal_c)
{
    return DAMAGE_PER_S * exp(-DAMAGE_K / (basal_c + ZERO_C_K));
}

enum status skin_damage_rate_eval(double basal_c, double *per_s)
{
    if (!is_within(basal_c, TEMP_MIN_C, TEMP_MAX_C))
        return ST_RANGE;
    *per_s = basal_c < DAMAGE_FROM_C ? 0 : damage_rate(basal_c);
    return ST_OK;
}

enum status skin_damage_time_eval(double basal_c, enum skin_grade grade, double *seconds)
{
    if (!is_within(basal_c, DAMAGE_FROM_C, TEMP_MAX_C) || (unsigned)grade >= SKIN_GRADE_COUNT)
        return ST_RANGE;
    *seconds = GRADES[grade].dose / damage_rate(basal_c);
    return ST_OK;
}

static double cem43_per_s(double basal_c)
{
    double above = fmin(basal_c, CEM_MAX_C) - CEM_C;

    return exp2(above < 0 ? 2 * above : above) / 60;
}

enum status skin_cem43_eval(double basal_c, double seconds, double *minutes)
{
    if (!is_within(basal_c, TEMP_MIN_C, CEM_MAX_C) || !is_within(seconds, 0, SECONDS_MAX))
        return ST_RANGE;
    *minutes = seconds * cem43_per_s(basal_c);
    return ST_OK;
}

/* Mean over a straight rise from one temperature to another: Gauss, 5 points (Abramowitz and Stegun 1964,
 * table 25.4), in panels over which the rates grow at most fourfold. */
static double mean_between(double (*rate)(double), double from_c, double to_c)
{
    static const double AT[] = {0, 0.538469310105683, 0.906179845938664};
    static const double WEIGHT[] = {0.568888888888889, 0.478628670499366, 0.236926885056189};
    int panels = (int)ceil((to_c - from_c) / PANEL_K) + 1;
    double half = (to_c - from_c) / panels / 2;
    double sum = 0;

    for (int i = 0; i < panels; i++) {
        double middle = from_c + (2 * i + 1) * half;

        sum += WEIGHT[0] * rate(middle);
        for (int j = 1; j < 3; j++)
            sum += WEIGHT[j] * (rate(middle - AT[j] * half) + rate(middle + AT[j] * half));
    }
    return sum / (2 * panels);
}

/* What a rise adds up to between two limits, counting only the part of the time spent there. */
static double part(double (*rate)(double), double seconds, double from_c, double to_c, double low_c,
                   double high_c)
{
    double begin = fmin(fmax(from_c, low_c), high_c);
    double end = fmin(fmax(to_c, low_c), high_c);

    if (to_c > from_c)
        return end > begin ? seconds * (end - begin) / (to_c - from_c) * mean_between(rate, begin, end) : 0;
    return from_c >= low_c && from_c < high_c ? seconds * rate(from_c) : 0;
}

enum status skin_dose_advance_eval(const struct skin_dose *before, double seconds, double from_c, double to_c,
                                   struct skin_dose *after)
{
    static const double CEM_BENDS_C[] = {TEMP_MIN_C, CEM_C, CEM_MAX_C, BEYOND_C};
    double low = fmin(from_c, to_c);
    double high = fmax(from_c, to_c);
    struct skin_dose next = *before;

    if (!is_within(seconds, 0, SECONDS_MAX) || !is_within(from_c, TEMP_MIN_C, TEMP_MAX_C) ||
        !is_within(to_c, TEMP_MIN_C, TEMP_MAX_C))
        return ST_RANGE;
    next.damage += part(damage_rate, seconds, low, high, DAMAGE_FROM_C, BEYOND_C);
    for (size_t i = 1; i < sizeof CEM_BENDS_C / sizeof CEM_BENDS_C[0]; i++)
        next.cem43_min += part(cem43_per_s, seconds, low, high, CEM_BENDS_C[i - 1], CEM_BENDS_C[i]);
    *after = next;
    return ST_OK;
}
