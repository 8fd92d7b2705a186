/* instruments.h - what the instruments show of the plant: lag, noise, drift, offset, faults.
 *
 * Does not:  change the plant, round to registers (devices.h), or read a clock.
 * Thread:    as the plant. Memory: the caller's. Same seed and plant, same readings.
 */
#ifndef SIMULATOR_INSTRUMENTS_H
#define SIMULATOR_INSTRUMENTS_H

#include "base/point.h"
#include "simulator/plant.h"
#include "simulator/random.h"

/* Index: enum point. A yes/no is 0 or 1. */
struct instrument_values {
    double value[POINT_INPUT_COUNT];
};

struct instrument_faults {
    bool sheath_open; /* broken wire: the module gives its over-range code */
    bool tank_open;
    bool probe_frozen; /* the transmitter repeats its last value */
    bool refractometer_frozen;
    bool level_stuck; /* the low switch says covered, whatever the level */
};

/* The over-range code of the temperature module, degC. */
#define INSTRUMENT_OPEN_WIRE_C 3276.7

/* What calibration left over, drawn by the seed. */
struct instrument_errors {
    double tank_c;
    double sheath_c;
    double room_c;
    double probe_c;
    double ph;
    double ph_drift_h;
    double probe_lag_s;
    double slope; /* of the electrode, 1 is ideal */
    double strength_pct;
    double strength_pct_k; /* temperature compensation left over, from 20 degC */
    double meter_gain;
    double hand_strength_pct;
    double hand_ph;
};

struct instruments {
    struct random random;
    struct instrument_errors errors;
    struct instrument_faults faults;
    struct instrument_values values;
    int64_t steps;
    double hours;
    double tank_c; /* lagged */
    double sheath_c;
    double probe_c;
    double ph;
    double strength_pct;
    double bubbles; /* 0-1 */
    double valve_l; /* at the last step, for the flow */
    double flow_l_min;
};

void instruments_init(struct instruments *instruments, uint64_t seed, const struct plant *plant);

/* Follow the plant by one step of dt_s. Values change every 0.5 s, switches at once. */
void instruments_step(struct instruments *instruments, const struct plant *plant, double dt_s);

/* What a person's hand instrument shows of a scoop from the top: 0.1 % and 0.01 pH steps. */
double instruments_hand_strength_pct(struct instruments *instruments, const struct plant *plant);
double instruments_hand_ph(struct instruments *instruments, const struct plant *plant);

#endif
