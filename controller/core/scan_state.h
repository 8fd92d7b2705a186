/* scan_state.h - all the core remembers from one scan to the next: plain data, fixed size.
 *
 * One struct for each stage, written by that stage alone and read by the later ones.
 */
#ifndef CORE_SCAN_STATE_H
#define CORE_SCAN_STATE_H

#include "core/scan_types.h"
#include "science/skin.h"

/* sense */
struct image {
    int64_t now_us;
    int64_t utc_us;
    double dt_s; /* since the last scan; 0 in the first */
    uint64_t durable_intent;
    struct reading arrived[POINT_INPUT_COUNT];  /* last reading of each point, as it came */
    struct reading readings[POINT_INPUT_COUNT]; /* the same, judged: what everybody else reads */
};

/* estimate: mass balance first, the refractometer tells how much of the sugar is dissolved */
struct estimate {
    double water_kg;
    double water_u_kg;
    double sugar_kg; /* all sugar tipped in */
    double sugar_u_kg;
    double acid_g;
    double final_strength_pct; /* when everything has dissolved */
    double final_strength_u_pct;
    double solid_kg; /* not dissolved yet; 0 when no refractometer can tell */
    double liquid_l;
};

/* estimate: water that runs in although the valve is shut */
struct leak {
    bool has_base;
    double last_l;
    double leaked_l;
    int64_t shut_us; /* since when the valve is shut and its last share is settled; 0: never was open */
};

/* sequence: what the step asks of the loops */
struct want {
    double warmth_c; /* NAN: no heat */
    double power_max_pct;
    bool stir;
};

/* regulate: what the loops ask of the outputs */
struct demand {
    double heat_pct; /* 0: off */
    bool stir;
    bool water_open;
    bool dose_open;
};

/* One dose or water share: written down, then done, then settled. */
enum pulse_phase { PULSE_IDLE, PULSE_ASKED, PULSE_OPEN, PULSE_SETTLING };

struct pulse {
    enum pulse_phase phase;
    uint64_t intent;
    double amount; /* mL or L */
    double done;   /* measured, or by time where no counter can be trusted */
    double count_before;
    double count_last;
    bool has_count; /* the counter was there when the pulse opened, and has not gone back since */
    double open_s;
    double limit_s; /* never open longer */
    int64_t phase_us;
};

/* Running mean of a reading, of what arrived since it was cleared. */
struct mean {
    int count;
    double sum;
    int64_t last_us; /* time stamp of the last reading taken in */
    int64_t first_us;
};

enum acidity_phase { ACIDITY_MIX, ACIDITY_MEASURE, ACIDITY_DOSE, ACIDITY_DONE };

struct acidity {
    enum acidity_phase phase;
    int64_t phase_us;
    struct mean ph;
    double measured_ph;
    double left_ml; /* of the dose decided on: it goes in as several pulses */
    bool is_over_ceiling;
};

enum strength_phase { STRENGTH_MIX, STRENGTH_MEASURE, STRENGTH_WATER, STRENGTH_SUGAR };

struct strength {
    enum strength_phase phase;
    int64_t phase_us;
    struct mean reading;
    int rounds;
};

#define DISSOLVE_WINDOWS 6 /* one-minute means; the oldest is five minutes before the newest */

struct dissolve {
    struct mean window;
    int count;
    double means[DISSOLVE_WINDOWS];
};

struct check {
    struct mean strength;
    struct mean ph;
    struct mean temp;
};

struct gate {
    double outputs[POINT_OUTPUT_COUNT];
    int64_t heater_changed_us;
    int64_t stirrer_on_us; /* since when the stirrer is on; -1 off */
    bool is_time_sound;    /* this scan came in order and in time */
};

struct answered {
    bool is_given;
    enum answer answer;
    double number;
};

struct scan {
    bool has_run;
    struct image image;
    struct estimate estimate;
    struct leak leak;
    struct trip_state trips[TRIP_COUNT];
    unsigned forbidden;
    int first_trip;
    enum scald scald;
    struct batch_memory memory;
    bool is_recovered; /* EVENT_RECOVERED is still to be told */
    bool step_entered;
    struct opinion opinions[POINT_INPUT_COUNT];
    struct prompt prompt;
    struct answered answered;
    bool is_reminded;
    bool lid_expected; /* a question needs the lid open, or needed it and it has not been shut since */
    struct want want;
    struct demand demand;
    struct pulse water;
    struct pulse dose;
    struct acidity acidity;
    struct strength strength;
    struct dissolve dissolve;
    struct check check;
    struct gate gate;
    uint64_t scans;
};

#endif
