#include "core/scan_types.h"
#include "plan/plan_parts.h"
#include "science/sucrose.h"

#include <assert.h>
#include <math.h>

_Static_assert(STEP_COUNT <= sizeof((struct batch_plan *)0)->predicted_s / sizeof(double),
               "every step has its time");

/* Common practice, no source, where nothing else is said. */
#define READY_S 60.0
#define READING_S 60.0
#define BAG_S 45.0 /* to fetch, open and tip 25 kg */
#define BAG_KG 25.0
#define HAND_FILL_L_MIN 10.0
#define HAND_DOSE_S 60.0
#define DISSOLVE_FACTOR 3.0 /* real tanks against the model of suspended crystals */
#define PULSES_MAX 6        /* half of the rest each: 2 % are left */
#define NET_SHARE_MIN 0.05
#define WATER_J_KG_K 4187.0

static double heater_net_w(const struct job *job, double temp_c)
{
    return 1000 * job->tank->heater_kw - job->tank->heat_loss_w_k * (temp_c - job->plan.request.room_temp_c);
}

static double heating_s(const struct job *job, double kg, double j_kg_k, double from_c, double to_c)
{
    return to_c <= from_c ? 0 : kg * j_kg_k * (to_c - from_c) / heater_net_w(job, (from_c + to_c) / 2);
}

/* Model times of one batch to 99 %, 0.6 mm crystals all in suspension: within a factor of 3. */
static const double TABLE_C[5] = {30, 40, 50, 60, 80};
static const double TABLE_PCT[3] = {50, 62.5, 66.667};
static const double TABLE_S[3][5] = {
    {166, 110, 77, 55, 31}, {740, 412, 249, 160, 75}, {2180, 920, 476, 277, 115}};

/* Logarithms between the table's columns, straight on beyond its strongest row. */
static double dissolving_s(double strength_pct, double temp_c)
{
    int column = 0;
    int row = strength_pct > TABLE_PCT[1] ? 1 : 0;
    double along;
    double across;
    double log_s[2];

    while (column < 3 && temp_c > TABLE_C[column + 1])
        column++;
    along = (temp_c - TABLE_C[column]) / (TABLE_C[column + 1] - TABLE_C[column]);
    across = fmax(0, (strength_pct - TABLE_PCT[row]) / (TABLE_PCT[row + 1] - TABLE_PCT[row]));
    for (int i = 0; i < 2; i++)
        log_s[i] = log(TABLE_S[row + i][column]) * (1 - along) + log(TABLE_S[row + i][column + 1]) * along;
    return exp(log_s[0] + across * (log_s[1] - log_s[0]));
}

static double fill_s(const struct job *job)
{
    double l_min = job->tank->water_l_min > 0 ? job->tank->water_l_min : HAND_FILL_L_MIN;

    return job->plan.fill_kg / l_min * 60;
}

static double acidify_s(const struct job *job)
{
    double ml = job->plan.acid_ml;
    double pulse_ml = job->tank->dose_min_pulse_ml;
    double pulses = PULSES_MAX;
    bool has_pump = job->tank->dose_ml_min > 0;

    if (ml == 0)
        return 0;
    if (pulse_ml > 0)
        pulses = fmin(PULSES_MAX, fmax(1, ceil(log2(ml / pulse_ml))));
    return pulses * (job->tank->mixing_s + (has_pump ? 0 : HAND_DOSE_S)) +
           (has_pump ? ml / job->tank->dose_ml_min * 60 : 0) + READING_S;
}

static double dissolve_s(const struct job *job)
{
    const struct batch_plan *p = &job->plan;
    double j_kg_k = WATER_J_KG_K;
    enum status status = sucrose_heat_capacity_eval(p->request.strength_pct, p->dissolve_c, &j_kg_k);

    assert(status == ST_OK); /* 30-70 %, 35-90 °C */
    (void)status;
    return heating_s(job, p->final_kg - job->trim_kg, j_kg_k, job->mix_c, p->dissolve_c) +
           DISSOLVE_FACTOR * dissolving_s(p->request.strength_pct, p->dissolve_c) + job->tank->mixing_s;
}

static enum status check_heater(const struct job *job)
{
    double loss_w = job->tank->heat_loss_w_k * (job->hot_c - job->plan.request.room_temp_c);

    if (heater_net_w(job, job->hot_c) >= NET_SHARE_MIN * 1000 * job->tank->heater_kw)
        return ST_OK;
    return fault_set(job->f, ST_REFUSED, "heater_kw",
                     "The heater of %g kW cannot hold %.1f °C: the tank loses about %.1f kW at a room of "
                     "%.1f °C. Insulate the tank, cover it, or make a thinner syrup.",
                     job->tank->heater_kw, job->hot_c, loss_w / 1000, job->plan.request.room_temp_c);
}

/* Both grow with the batch at least in proportion, so fewer bags by the same share will do. */
static enum status check_step(const struct job *job, const char *doing, double expected_s, double limit_s)
{
    int most = (int)floor(job->plan.bags * limit_s / fmax(expected_s, limit_s));

    if (expected_s <= limit_s)
        return ST_OK;
    if (most < plan_least_bags(job))
        return fault_set(
            job->f, ST_REFUSED, plan_size_field(job),
            "%s would take about %.0f minutes, and this tank allows %.0f; even the smallest batch "
            "would take longer. The time limit, the water flow or the heater does not fit.",
            doing, expected_s / 60, limit_s / 60);
    return fault_set(
        job->f, ST_REFUSED, plan_size_field(job),
        "%s would take about %.0f minutes, and this tank allows %.0f. Possible are %d bags: %.0f L, "
        "%.0f kg.",
        doing, expected_s / 60, limit_s / 60, most, plan_litres(job, most),
        most * (job->plan.request.bag_kg + plan_water_per_bag(job)));
}

enum status plan_find_times(struct job *job)
{
    struct batch_plan *p = &job->plan;
    double *s = p->predicted_s;
    enum status status = check_heater(job);

    if (status != ST_OK)
        return status;
    s[STEP_READY] = READY_S;
    s[STEP_FILL] = fill_s(job);
    s[STEP_ACIDIFY] = acidify_s(job);
    s[STEP_HEAT] = heating_s(job, p->fill_kg, WATER_J_KG_K, p->request.water_temp_c, p->preheat_c);
    s[STEP_CHARGE] = p->bags * BAG_S * fmax(1, p->request.bag_kg / BAG_KG);
    s[STEP_DISSOLVE] = dissolve_s(job);
    s[STEP_STRENGTH] = 2 * job->tank->mixing_s + READING_S;
    s[STEP_CHECK] = job->tank->mixing_s + READING_S;
    if (job->tank->water_l_min > 0) /* a person's time does not count against the limit */
        status = check_step(job, "Filling", s[STEP_FILL], job->limits->fill_max_s);
    if (status == ST_OK)
        status = check_step(job, "Heating the water", s[STEP_HEAT], job->limits->heat_max_s);
    return status;
}
