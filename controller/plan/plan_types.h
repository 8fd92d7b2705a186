/* plan_types.h - what a person asks for, and the batch that follows from it.
 *
 * Plain data: copied into records, commands and the core. Masses in kg, volumes in litres
 * at 20 degC unless the name says otherwise, strengths in % by weight.
 */
#ifndef PLAN_TYPES_H
#define PLAN_TYPES_H

#include "science/acid_types.h"

#include <stdbool.h>
#include <stdint.h>

#define PLAN_NAME_MAX 48
#define PLAN_NEVER_C (-273.0)

/* What the person wants. Fields left at 0 (or "") take the tank file's default. */
struct plan_request {
    double volume_l; /* finished syrup at 20 degC; or mass_kg instead, not both */
    double mass_kg;
    double strength_pct; /* a ratio is turned into this, with its basis, before it gets here */
    enum acid acid;      /* ACID_NONE: no acid, target_ph ignored */
    double target_ph;
    double alkalinity_meq_kg; /* of the water; from the water report */
    double water_temp_c;      /* of the water as it comes */
    double sugar_temp_c;
    double room_temp_c;
    double storage_min_temp_c; /* coldest the syrup will see; for the crystallising warning */
    double bag_kg;
    char sugar_lot[PLAN_NAME_MAX];
    char acid_lot[PLAN_NAME_MAX];
    char water_source[PLAN_NAME_MAX];
};

struct batch_plan {
    char batch_id[24];           /* given by the daemon when the batch starts; "" before */
    struct plan_request request; /* with every default filled in */

    int bags;        /* whole bags */
    double sugar_kg; /* bags * bag_kg */
    double water_kg; /* all water, that of the acid solution included */
    double final_kg;
    double final_l; /* at 20 degC */
    double fill_kg; /* water let in before the sugar; the rest is kept for the trim */

    double acid_stock_pct;  /* strength of the acid solution in the bottle, % by weight */
    double acid_stock_kg_l; /* its density */
    double acid_g;          /* pure acid expected for target_ph */
    double acid_ml;         /* the same as bottle solution */
    double acid_ceiling_ml; /* never more than this in one batch */

    double preheat_c;         /* water is heated to this before the sugar */
    double dissolve_c;        /* lowest liquid temperature allowed while sugar dissolves */
    double saturated_below_c; /* the finished syrup is supersaturated below this; PLAN_NEVER_C if never above
                                 0 */

    double tolerance_pct; /* strength, half width */
    double tolerance_ph;  /* acidity of the water, half width */

    double predicted_s[16]; /* expected seconds of each step, indexed by enum step */
};

#define PLAN_NOTES_MAX 10
struct plan_notes { /* warnings that do not forbid the batch, as sentences */
    int count;
    char text[PLAN_NOTES_MAX][256];
};

#endif
