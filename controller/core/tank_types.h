/* tank_types.h - what the core knows about this tank before a batch: facts, limits, points. */
#ifndef CORE_TANK_TYPES_H
#define CORE_TANK_TYPES_H

#include "base/point.h"

#include <stdbool.h>
#include <stdint.h>

struct tank_facts {
    double capacity_l;     /* liquid that fits below the brim switch */
    double heater_cover_l; /* liquid needed to cover the element with a margin */
    double heater_kw;
    double stirrer_rpm; /* speed for mixing */
    double water_l_min; /* usual flow through the open valve */
    double dose_ml_min; /* rate at which the acid pump is run */
    double dose_min_pulse_ml;
    double heat_loss_w_k; /* tank to room */
    double altitude_m;
    double acid_stock_pct; /* strength of the solution in the acid bottle, % by weight */
    double bag_kg;
    double alkalinity_meq_kg; /* usual water */
    double water_temp_c;
    double sugar_temp_c;
    double storage_min_temp_c;
    double tolerance_pct;
    double tolerance_ph;
    double mixing_s;    /* time after which a dose is evenly spread and the probe has followed */
    bool charging_grid; /* a fixed guard grid under the hatch: the stirrer may turn with it open */
};

struct limits {
    double liquid_max_c;
    double sheath_max_c;
    double sugar_max_c;       /* sugar is asked for only below this */
    double dose_max_c;        /* acid only below this */
    double stirrer_min_rpm;   /* slower counts as not turning */
    double stirrer_proof_s;   /* time the stirrer has to reach it */
    double contactor_proof_s; /* time the contactor feedback has to follow */
    double heater_min_on_s;
    double heater_min_off_s;
    double output_expiry_s; /* outputs fall to safe when not refreshed for this long */
    double intent_ack_s;    /* no dose when the record has not confirmed within this */
    double fill_max_s;      /* step time limits; time spent waiting for a person does not count */
    double acidify_max_s;
    double heat_max_s;
    double dissolve_max_s;
    double check_max_s;
    double prompt_remind_s; /* an unanswered question raises an alarm after this */
};

/* What the tank file says of one bound point. */
struct point_setup {
    bool is_bound;
    double max_age_s; /* older readings are stale */
    double min;       /* narrower than the vocabulary's where the instrument is */
    double max;
    double resolution;  /* readings are rounded to this before the core sees them; 0 for none */
    double uncertainty; /* standard uncertainty of a good reading, in the point's unit */
};

#endif
