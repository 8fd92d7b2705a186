/* Trips: what happened and what follows. What to do is in words_fixed.c. */
#include "words/words.h"

#include <stdio.h>

/* A sentence is the cause, then the limit with its unit or the point where one helps to find it,
 * then the consequence. */
struct trip_words {
    const char *cause;
    const char *limit_lead; /* NULL: no number belongs to it */
    const char *limit_unit;
    size_t limit_at; /* offset of the number in struct limits */
    const char *consequence;
};

#define LIMIT(member) offsetof(struct limits, member)

static const struct trip_words TRIPS[TRIP_COUNT] = {
    [TRIP_POWER_UP] = {"The controller has just started", NULL, NULL, 0,
                       "everything stays off until a person has looked"},
    [TRIP_LIQUID_HOT] = {"The liquid is too hot", "the limit is", "°C", LIMIT(liquid_max_c),
                         "the heater is off; it may scald"},
    [TRIP_SHEATH_HOT] = {"The heating element is too hot", "the limit is", "°C", LIMIT(sheath_max_c),
                         "the heater is off; sugar may be burning onto it"},
    [TRIP_LEVEL_LOW] = {"The liquid does not cover the heating element", NULL, NULL, 0,
                        "the heater is off, because a dry element burns out"},
    [TRIP_LEVEL_HIGH] = {"The liquid has reached the highest level", NULL, NULL, 0,
                         "water is shut off; the tank may overflow"},
    [TRIP_STIRRER] = {"The stirrer should turn but is not proven turning", "it must reach", "rpm",
                      LIMIT(stirrer_min_rpm), "heating and dosing are off"},
    [TRIP_LID_OPEN] = {"The lid is open", NULL, NULL, 0,
                       "heater, stirrer and dosing are off, because a hand can reach in"},
    [TRIP_HATCH_OPEN] = {"The hatch is open for what was asked", NULL, NULL, 0,
                         "the heater stays off until it is closed"},
    [TRIP_CHAIN_OPEN] = {"The hard-wired safety chain is open", NULL, NULL, 0, "everything is off"},
    [TRIP_READING_BAD] = {"A reading that protects the tank is missing or wrong", NULL, NULL, 0,
                          "what depends on it is off"},
    [TRIP_BUS_LOST] = {"The devices on one line do not answer", NULL, NULL, 0,
                       "everything is told to go off; look whether it did"},
    [TRIP_DOSE_CEILING] = {"The acid for this batch is used up", NULL, NULL, 0,
                           "no more acid is pumped; the pump may run dry, the water be harder than declared, "
                           "or the probe be wrong"},
    [TRIP_STEP_TIME] = {"This step takes too long", NULL, NULL, 0, "the batch is held with everything off"},
    [TRIP_CONTACTOR_STUCK] = {"The heater contactor stays closed although it was switched off", "waited", "s",
                              LIMIT(contactor_proof_s), "the heater may be live and go on heating"},
    [TRIP_CONTACTOR_OPEN] = {"The heater contactor did not close when it was switched on", "waited", "s",
                             LIMIT(contactor_proof_s), "there is no heat"},
    [TRIP_WATER_LEAKS] = {"Water runs in although the valve is shut", NULL, NULL, 0,
                          "the tank may overflow; heating and dosing are off, and the water is counted"},
    [TRIP_STALLED] = {"The controller stood still for more than a second, or its clock leapt", NULL, NULL, 0,
                      "nobody was looking meanwhile, so everything is off"},
};

static const struct trip_words STRANGE = {"An unknown trip", NULL, NULL, 0, "everything stays off"};

void words_trip(enum trip trip, int detail, const struct limits *limits, char out[WORDS_MAX])
{
    const struct trip_words *words = (unsigned)trip < TRIP_COUNT ? &TRIPS[trip] : &STRANGE;
    char detail_text[128] = "";
    bool points = trip == TRIP_READING_BAD || trip == TRIP_BUS_LOST;

    if (words->limit_lead != NULL && limits != NULL) {
        const double *number = (const double *)(const void *)((const char *)limits + words->limit_at);

        snprintf(detail_text, sizeof detail_text, " (%s %.0f %s)", words->limit_lead, *number,
                 words->limit_unit);
    }
    if (points && detail >= 0 && detail < POINT_COUNT)
        snprintf(detail_text, sizeof detail_text, " (%s, %s)", point_info((enum point)detail)->name,
                 point_info((enum point)detail)->meaning);
    snprintf(out, WORDS_MAX, "%s%s: %s.", words->cause, detail_text, words->consequence);
}
