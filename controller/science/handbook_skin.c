#include "science/handbook.h"
#include "science/handbook_row.h"
#include "science/handbook_span.h"
#include "science/science_range.h"
#include "science/skin.h"
#include "science/skin_burn.h"
#include "science/skin_contact.h"
#include "science/skin_dose.h"
#include "science/skin_film.h"

#include <stddef.h>

static const char *scald_name(int level)
{
    static const char *const NAMES[SCALD_COUNT] = {"none", "caution", "warning", "high", "danger", "extreme"};

    return level >= 0 && level < SCALD_COUNT ? NAMES[level] : NULL;
}

static enum status scald_level(const double in[], double out[])
{
    if (!is_within(in[0], -40, 150) || !is_within(in[1], 0, SCALD_COUNT - 1))
        return ST_RANGE;
    out[0] = skin_scald_level(in[0], (enum scald)in[1]);
    return ST_OK;
}

static enum status burn_time(const double in[], double out[])
{
    struct span span = {0};

    return span_give(skin_burn_time_eval(in[0], (enum burn_degree)in[1], (enum burn_person)in[2], &span),
                     &span, out);
}

static enum status surface_burn(const double in[], double out[])
{
    struct span span = {0};

    return span_give(skin_surface_burn_eval((enum burn_surface)in[0], (enum burn_contact)in[1], &span), &span,
                     out);
}

CALL_1(damage_rate, skin_damage_rate_eval)

static enum status damage_time(const double in[], double out[])
{
    return skin_damage_time_eval(in[0], (enum skin_grade)in[1], &out[0]);
}

CALL_2(cem43, skin_cem43_eval)

static enum status dose_ramp(const double in[], double out[])
{
    struct skin_dose dose = {0};
    enum status status = skin_dose_advance_eval(&dose, in[2], in[0], in[1], &dose);

    if (status != ST_OK)
        return status;
    out[0] = dose.damage;
    out[1] = dose.cem43_min;
    return ST_OK;
}

CALL_1(contact_time, skin_contact_time_eval)
CALL_3(film_heat, skin_film_heat_eval)

#define MORITZ "Moritz and Henriques, Am. J. Pathol. 23 (1947) 695"
#define HENRIQUES "Henriques (1947), 3.1e98 1/s with 75000 K"
#define NO_PROMISE ". Nothing here says that a contact is harmless"
#define BURN_TIME_ERROR                                                                                      \
    "low: half of best, as the sources differ by up to 2 and skin differs; best: the shortest time of any "  \
    "source, or of conduction; high: the longest. Warn with low: syrup sticks and goes on burning"

const struct handbook_entry HANDBOOK_SKIN[] = {
    {"skin_scald_level",
     "Graded warning for the temperature of a liquid, 0 (below 43 degC) to 5 (68 degC and more)",
     {{"temp_c", "degC", -40, 150, NULL}, {"shown", "", 0, SCALD_COUNT - 1, scald_name}},
     {{"level", "", 0, SCALD_COUNT - 1, NULL}},
     "",
     MORITZ ", and tap-water tables; 43 degC ISO 13732-1 (2006); the grading is this program's",
     "for an adult; children and old people burn about five times faster; up at once, down 2 K "
     "below" NO_PROMISE,
     scald_level},
    {"skin_burn_time",
     "Time in hot water until the skin is burnt: second degree blisters, third degree goes through it",
     {{"temp_c", "degC", 44, 105, NULL},
      {"degree", "", 0, BURN_DEGREE_COUNT - 1, burn_degree_name},
      {"person", "", 0, BURN_PERSON_COUNT - 1, burn_person_name}},
     SPAN_OUTPUTS("s", "s", 0.005, 21600),
     "above 70 degC nothing was measured: less time than at 70 degC, and the high end is that of 70 degC",
     MORITZ ", a burn institute's table, US tap-water text and skin_contact_time; child and old people a "
            "fifth of the time (from memory)",
     BURN_TIME_ERROR NO_PROMISE,
     burn_time},
    {"skin_surface_burn",
     "Temperature from which touching a surface for so long burns the skin",
     {{"surface", "", 0, SURFACE_COUNT - 1, burn_surface_name},
      {"contact", "", 0, CONTACT_COUNT - 1, burn_contact_name}},
     SPAN_OUTPUTS("c", "degC", 42, 102),
     "",
     "ISO 13732-1 (2006), from memory; low end also ECMA-287",
     "the ends: 3 K up to 10 s, 1 K from a minute on; warn with low; adults, children burn at "
     "less" NO_PROMISE,
     surface_burn},
    {"skin_damage_rate",
     "Damage for each second at a temperature of the living skin layer (basal, 0.08 mm deep)",
     {{"basal_c", "degC", 20, 110, NULL}},
     {{"damage_1_s", "1/s", 0, 1e14, NULL}},
     "0 below 44 degC by definition; 43 degC held for hours burns all the same",
     HENRIQUES,
     "a factor of 2; of the layer 0.08 mm deep, not of the liquid" NO_PROMISE,
     damage_rate},
    {"skin_damage_time",
     "Time at a constant temperature of the living skin layer until a burn of the first or second degree",
     {{"basal_c", "degC", 44, 110, NULL}, {"grade", "", 0, SKIN_GRADE_COUNT - 1, skin_grade_name}},
     {{"time_s", "s", 1e-15, 1e9, NULL}},
     "",
     HENRIQUES "; doses 0.53 and 1",
     "a factor of 2, longer than measured at 45-47 degC; of the layer 0.08 mm deep, not of the "
     "liquid" NO_PROMISE,
     damage_time},
    {"skin_cem43",
     "Equivalent minutes at 43 degC",
     {{"basal_c", "degC", 20, 60, NULL}, {"time_s", "s", 0, 1e6, NULL}},
     {{"equivalent_min", "min", 0, 3e9, NULL}},
     "",
     "Sapareto and Dewey (1984)",
     "harm is reported from tens of minutes on; 240 is often used for dead tissue, not for a limit; not good "
     "above 55 degC or far below 39" NO_PROMISE,
     cem43},
    {"skin_dose_ramp",
     "Damage (1: second-degree burn) and equivalent minutes of an even rise or fall of the living skin layer",
     {{"from_c", "degC", 20, 110, NULL}, {"to_c", "degC", 20, 110, NULL}, {"time_s", "s", 0, 1e6, NULL}},
     {{"damage", "", 0, 1e20, NULL}, {"equivalent_min", "min", 0, 3e9, NULL}},
     "",
     HENRIQUES "; Sapareto and Dewey (1984), counted as if never above 60 degC",
     "a factor of 2; the integral itself to 1e-9" NO_PROMISE,
     dose_ramp},
    {"skin_contact_time",
     "Time until skin held at a temperature has a second-degree burn, from conduction",
     {{"surface_c", "degC", 45, 105, NULL}},
     {{"time_s", "s", 0.01, 28800, NULL}},
     "",
     "Conduction in three layers with " HENRIQUES,
     "up to 1.6 times longer than measured: judge danger by the low end of skin_burn_time" NO_PROMISE,
     contact_time},
    {"skin_film_heat",
     "Heat that a film of syrup on the skin gives off down to 45 degC",
     {{"film_mm", "mm", 0, 5, NULL}, {"temp_c", "degC", 45, 105, NULL}, {"strength_pct", "%", 0, 85, NULL}},
     {{"heat_j_cm2", "J/cm2", 0, 150, NULL}},
     "",
     "sucrose_density, sucrose_heat_capacity",
     "5 %. 16.4 J/cm2 gave a second-degree burn (Ripple and others 1990); a film with little more than half "
     "of that can burn "
     "too" NO_PROMISE,
     film_heat},
    {0},
};
