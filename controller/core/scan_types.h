/* scan_types.h - everything that goes into and comes out of one scan, as plain data.
 *
 * struct scan_in is all the core may know; struct scan_out is all it may want. The same
 * scan_setup, state and scan_in give the same scan_out, always: that makes a recorded batch
 * replayable.
 */
#ifndef CORE_SCAN_TYPES_H
#define CORE_SCAN_TYPES_H

#include "base/point.h"
#include "base/quality.h"
#include "core/tank_types.h"
#include "plan/plan_types.h"

#include <stdbool.h>
#include <stdint.h>

#define SCAN_PERIOD_US 100000
#define SCAN_COMMANDS_MAX 8
#define SCAN_EVENTS_MAX 96 /* 16 qualities, 15 trips ended and released, 8 commands, and a reserve */
#define WHO_NAME_MAX 32
#define TEXT_MAX 64

struct reading {
    double value;
    int64_t at_us; /* tank time at which the device was asked */
    enum quality quality;
    enum reason reason;
};

/* ---- people ---------------------------------------------------------------------- */

enum role { ROLE_LOOKER, ROLE_HELPER, ROLE_OPERATOR, ROLE_SUPERVISOR, ROLE_COUNT };
enum door { DOOR_SHELL, DOOR_DESK, DOOR_SELF, DOOR_COUNT }; /* SELF: the controller itself */

struct who {
    uint32_t uid;
    enum role role;
    enum door door;
    char name[WHO_NAME_MAX];
};

/* ---- the batch, after IEC 61512 ---------------------------------------------------- */

enum batch_state {
    STATE_IDLE,
    STATE_RUNNING,
    STATE_PAUSING,
    STATE_PAUSED,
    STATE_HOLDING,
    STATE_HELD,
    STATE_RESTARTING,
    STATE_STOPPING,
    STATE_STOPPED,
    STATE_ABORTING,
    STATE_ABORTED,
    STATE_COMPLETE,
    STATE_COUNT
};

/* The first eight are the commands of IEC 61512; the rest are this program's. */
enum verb {
    VERB_START,
    VERB_STOP,
    VERB_HOLD,
    VERB_RESTART,
    VERB_ABORT,
    VERB_RESET,
    VERB_PAUSE,
    VERB_RESUME,
    VERB_BATCH_COUNT,
    VERB_RELEASE = VERB_BATCH_COUNT, /* clear latched trips whose cause is gone */
    VERB_ANSWER,                     /* answer the open question */
    VERB_COMPARE,                    /* a hand instrument's reading, beside the tank's own */
    VERB_COUNT
};

enum step {
    STEP_NONE,
    STEP_READY,    /* ask: is the tank empty, rinsed, the lid closed? */
    STEP_FILL,     /* water in */
    STEP_ACIDIFY,  /* acid into the water, in pulses */
    STEP_HEAT,     /* warm the water */
    STEP_CHARGE,   /* sugar in, bag by bag */
    STEP_DISSOLVE, /* stir, keep warm, until nothing more dissolves */
    STEP_STRENGTH, /* measure, trim with water or ask for sugar, until inside the band */
    STEP_CHECK,    /* final readings for the certificate */
    STEP_COUNT
};

enum outcome {
    OUTCOME_OPEN,      /* still under way */
    OUTCOME_MET,       /* every target met */
    OUTCOME_NOT_MET,   /* finished, but a target was missed */
    OUTCOME_UNFINISHED /* stopped or aborted */
};

enum prompt_kind {
    PROMPT_NONE,
    PROMPT_TANK_READY,    /* answer done */
    PROMPT_ADD_WATER,     /* number: litres to add; answer done */
    PROMPT_ADD_ACID,      /* number: grams of pure acid to add, dissolved; answer done */
    PROMPT_TIP_BAG,       /* number: which bag, number2: of how many; answer done */
    PROMPT_ADD_SUGAR,     /* number: kg to add; answer done */
    PROMPT_READ_STRENGTH, /* answer a number, % by weight */
    PROMPT_READ_ACIDITY,  /* answer a number, pH */
    PROMPT_COUNT
};

enum answer { ANSWER_DONE, ANSWER_NUMBER, ANSWER_CANNOT, ANSWER_COUNT };

struct prompt {
    enum prompt_kind kind; /* PROMPT_NONE: nothing is asked */
    uint32_t id;           /* grows; an answer must name the open one */
    double number;
    double number2;
    int64_t asked_us;
};

struct command {
    uint64_t id; /* chosen by the sender, returned in the result */
    enum verb verb;
    struct who who;
    uint32_t prompt_id; /* VERB_ANSWER */
    enum answer answer;
    double number;     /* ANSWER_NUMBER; VERB_COMPARE: the reading */
    enum point point;  /* VERB_COMPARE: what was read */
    double expanded_u; /* VERB_COMPARE: U (k = 2) of the hand instrument */
};

enum refusal {
    REFUSAL_NONE,
    REFUSAL_STATE,         /* the state table has no such way */
    REFUSAL_TRIPPED,       /* release first */
    REFUSAL_CAUSE_PRESENT, /* release: nothing could be cleared, the causes are still there */
    REFUSAL_NOTHING,       /* release: nothing is tripped */
    REFUSAL_NO_PROMPT,     /* nothing is asked, or another question is */
    REFUSAL_WRONG_ANSWER,  /* this question wants another kind of answer */
    REFUSAL_NUMBER,        /* the number is outside what is possible */
    REFUSAL_NO_PLAN,       /* start without a plan */
    REFUSAL_INSTRUMENTS,   /* a needed reading is missing or bad */
    REFUSAL_COUNT
};

struct command_result {
    uint64_t id;
    enum refusal refusal; /* REFUSAL_NONE: accepted */
    int detail;           /* INSTRUMENTS: the point; STATE: the state; TRIPPED, CAUSE_PRESENT: the trip */
};

/* ---- trips ------------------------------------------------------------------------- */

enum trip {
    TRIP_POWER_UP, /* every start of the daemon */
    TRIP_LIQUID_HOT,
    TRIP_SHEATH_HOT,
    TRIP_LEVEL_LOW,
    TRIP_LEVEL_HIGH,
    TRIP_STIRRER,    /* asked to turn, not proven turning */
    TRIP_LID_OPEN,   /* outside the charging step */
    TRIP_HATCH_OPEN, /* while charging: expected, not latched */
    TRIP_CHAIN_OPEN,
    TRIP_READING_BAD, /* a reading that protection needs */
    TRIP_BUS_LOST,
    TRIP_DOSE_CEILING,
    TRIP_STEP_TIME,
    TRIP_CONTACTOR_STUCK, /* feedback says on while asked off */
    TRIP_CONTACTOR_OPEN,  /* feedback says off while asked on */
    TRIP_WATER_LEAKS,     /* the meter counts while the valve is shut */
    TRIP_STALLED,         /* the controller did not look for more than a second, or time leapt */
    TRIP_COUNT
};

/* What a trip forbids; bits. */
#define FORBID_HEAT 1u
#define FORBID_STIR 2u
#define FORBID_DOSE 4u
#define FORBID_WATER 8u
#define FORBID_ALL 15u

struct trip_state {
    bool is_present;    /* the condition is true now (after its delay) */
    bool is_latched;    /* it was; a person has not released it */
    int64_t since_us;   /* when the condition became true, for the delay; -1 when it is not */
    int64_t tripped_us; /* when it acted */
    int detail;         /* the point that caused it, where one did; else -1 */
};

/* ---- events ------------------------------------------------------------------------ */

enum event_kind {
    EVENT_BATCH_STARTED, /* text: batch id; who */
    EVENT_BATCH_ENDED,   /* a: outcome */
    EVENT_STATE,         /* a: from, b: to */
    EVENT_STEP,          /* a: from, b: to */
    EVENT_COMMAND,       /* a: verb, who; an accepted command */
    EVENT_REFUSED,       /* a: verb, b: refusal, who */
    EVENT_ASKED,         /* a: prompt kind, prompt, value, value2 */
    EVENT_ANSWERED,      /* a: prompt kind, b: answer, prompt, value, who */
    EVENT_TRIPPED,       /* a: trip, b: point or -1, value */
    EVENT_TRIP_ENDED,    /* a: trip; its condition is gone */
    EVENT_RELEASED,      /* a: trip, who */
    EVENT_INTENT_DOSE,   /* intent, value: mL; written before the pump may turn */
    EVENT_OUTCOME_DOSE,  /* intent, value: mL delivered, value2: mL intended */
    EVENT_INTENT_WATER,  /* intent, value: L */
    EVENT_OUTCOME_WATER, /* intent, value: L delivered, value2: L intended */
    EVENT_NOT_RECORDED,  /* intent: the record did not confirm in time; the act is given up */
    EVENT_SUGAR,         /* a: bags so far, value: kg so far */
    EVENT_MEASURED,      /* a: enum measured, value, value2: standard uncertainty */
    EVENT_LEARNED,       /* a: enum learned, value: new, value2: old */
    EVENT_QUALITY,       /* a: point, b: quality, value2: reason */
    EVENT_RECOVERED,     /* after a restart of the daemon: a: state as it was, b: step */
    EVENT_REMINDER,      /* a: prompt kind: a question has waited long */
    EVENT_DISAGREES,     /* a: enum measured, value: as read, value2: as bags and water should give */
    EVENT_HAND_READING,  /* a: point, b: enum agreement, value, value2: its U (k = 2), who */
    EVENT_COMPARED,      /* a: point, b: enum agreement, value: the tank's instrument, value2: its U */
    EVENT_KIND_COUNT
};

/* Does a hand instrument agree with the tank's own, within both uncertainties? */
enum agreement {
    AGREEMENT_CANNOT_SAY, /* the tank's instrument gives nothing, or its uncertainty is not stated */
    AGREEMENT_AGREES,
    AGREEMENT_DISAGREES,
    AGREEMENT_COUNT
};

/* The last hand reading of a point. */
struct opinion {
    bool has;
    double value;
    double expanded_u;
    double instrument; /* the tank's own at that moment; NAN when it gave nothing */
    double instrument_expanded_u;
    enum agreement agreement;
    int64_t at_us;
};

enum measured {
    MEASURED_WATER_PH,
    MEASURED_STRENGTH_PCT,
    MEASURED_SYRUP_PH,
    MEASURED_SYRUP_TEMP_C,
    MEASURED_COUNT
};
enum learned { LEARNED_ALKALINITY_MEQ_KG, LEARNED_COUNT };

struct event {
    enum event_kind kind;
    int a;
    int b;
    uint64_t intent;
    uint32_t prompt;
    double value;
    double value2;
    int64_t scan_us;
    int64_t utc_us;
    struct who who; /* DOOR_SELF where nobody asked */
    char text[TEXT_MAX];
};

/* ---- one scan ------------------------------------------------------------------------ */

struct scan_reading {
    enum point point; /* < POINT_INPUT_COUNT */
    struct reading reading;
};

struct scan_in {
    int64_t scan_us; /* monotonic tank time; must grow */
    int64_t utc_us;
    bool utc_synced;
    uint64_t durable_intent; /* every intention up to this number is safely on disk */
    int reading_count;       /* readings that arrived since the last scan */
    struct scan_reading readings[POINT_INPUT_COUNT];
    int command_count;
    struct command commands[SCAN_COMMANDS_MAX];
    bool has_plan; /* rides with VERB_START */
    struct batch_plan plan;
};

struct scan_out {
    double outputs[POINT_OUTPUT_COUNT]; /* index: point - POINT_INPUT_COUNT; by the gate alone */
    int event_count;
    int events_lost; /* did not fit; 0 unless something is broken */
    struct event events[SCAN_EVENTS_MAX];
    int result_count;
    struct command_result results[SCAN_COMMANDS_MAX];
};

struct scan_setup {
    struct tank_facts tank;
    struct limits limits;
    struct point_setup points[POINT_COUNT];
    bool is_simulated;
};

/* ---- what must survive a power cut --------------------------------------------------- */

#define MEMORY_LAYOUT 2

/* An intention whose outcome is not known yet. */
struct open_act {
    bool is_open;
    bool has_count; /* the counter could be read when it was asked */
    uint64_t intent;
    double amount; /* mL or L */
    double count_before;
};

struct batch_memory {
    uint32_t layout; /* MEMORY_LAYOUT; another number cannot be restored */
    bool has_batch;
    enum batch_state state;
    enum step step;
    enum outcome outcome;
    struct batch_plan plan;
    uint64_t next_intent;
    uint32_t next_prompt;
    uint32_t trips_seen; /* bit per enum trip other than power-up */

    double water_in_l; /* delivered, or intended where the outcome is unknown */
    double acid_in_ml; /* the same for acid solution; hand-added acid counts as solution */
    double sugar_in_kg;
    int bags_in;
    double alkalinity_meq_kg; /* as learned */
    struct open_act open_water;
    struct open_act open_dose;

    int64_t started_utc_us;
    int64_t ended_utc_us;
    double running_s; /* in state running alone */
    double waiting_s; /* for a person, part of running_s */
    double step_s;    /* in this step, waiting left out */
    double peak_temp_c;
    double above_40_s;
    double above_50_s;
    double above_60_s;
    double heater_kwh;

    bool has_water_ph; /* of the acidified water, before the sugar */
    double water_ph;
    double water_ph_u; /* standard uncertainty */
    bool has_strength;
    double strength_pct;
    double strength_u_pct;
    double strength_temp_c;
    bool strength_typed; /* a person read a hand instrument */
    bool has_syrup_ph;   /* apparent */
    double syrup_ph;
    struct who started_by;
};

#endif
