/* Sentences that need no number. */
#include "words/words.h"

static const char UNKNOWN[] = "unknown code: the program and its record do not match";

static const char *const STATES[STATE_COUNT] = {
    [STATE_IDLE] = "idle: no batch, everything is off",
    [STATE_RUNNING] = "running: the batch is being made",
    [STATE_PAUSING] = "pausing: coming to the next safe stop",
    [STATE_PAUSED] = "paused: heating, water and acid are off; say resume to go on",
    [STATE_HOLDING] = "holding: switching everything off",
    [STATE_HELD] = "held: everything is off and the batch is kept; mend the cause, say release, then restart",
    [STATE_RESTARTING] = "restarting: checking that the batch can go on",
    [STATE_STOPPING] = "stopping: switching everything off for good",
    [STATE_STOPPED] =
        "stopped: everything is off and this batch will not go on; say reset when you are done here",
    [STATE_ABORTING] = "aborting: everything off at once",
    [STATE_ABORTED] =
        "aborted: everything is off and this batch will not go on; say reset when you are done here",
    [STATE_COMPLETE] = "complete: the batch is finished and everything is off; say reset before the next one",
};

static const char *const STEPS[STEP_COUNT] = {
    [STEP_NONE] = "No step",
    [STEP_READY] = "Getting the tank ready",
    [STEP_FILL] = "Letting the water in",
    [STEP_ACIDIFY] = "Putting acid into the water, a little at a time",
    [STEP_HEAT] = "Warming the water",
    [STEP_CHARGE] = "Putting the sugar in, bag by bag",
    [STEP_DISSOLVE] = "Stirring until all sugar is dissolved",
    [STEP_STRENGTH] = "Bringing the strength to its target",
    [STEP_CHECK] = "Taking the last readings",
};

static const char *const TRIP_ACTS[TRIP_COUNT] = {
    [TRIP_POWER_UP] = "Look at the tank. When nobody works on it, say release.",
    [TRIP_LIQUID_HOT] = "Keep the lid shut and let it cool. Find out why it got hot before you say release.",
    [TRIP_SHEATH_HOT] =
        "Let it cool. Look for sugar baked onto the element and check that the stirrer turns, "
        "then say release.",
    [TRIP_LEVEL_LOW] = "Check the level and look for a leak. Cover the element with water, then say release.",
    [TRIP_LEVEL_HIGH] = "Close the hand valve of the water. Draw some liquid off, then say release.",
    [TRIP_STIRRER] =
        "Lock the motor off before you touch anything. Look for a lump of sugar, a loose coupling "
        "or a tripped motor switch, then say release.",
    [TRIP_LID_OPEN] = "Close the lid, then say release.",
    [TRIP_HATCH_OPEN] = "Nothing while you tip sugar in. Close the hatch when you are done.",
    [TRIP_CHAIN_OPEN] =
        "Find what opened it: emergency stop, temperature limiter, level cut-out or lid. Mend "
        "that first, set it back by hand, then say release.",
    [TRIP_READING_BAD] = "Look at that instrument, its plug and its cable, then say release.",
    [TRIP_BUS_LOST] =
        "Check power and cable of the devices on this line. When they answer again, say release.",
    [TRIP_DOSE_CEILING] = "Add no more acid. Check the pump and its hose, the acid's strength, the pH probe "
                          "and the water's alkalinity "
                          "before you say release.",
    [TRIP_STEP_TIME] = "Look at what this step waits for. Then say release and restart, or stop the batch.",
    [TRIP_CONTACTOR_STUCK] = "Switch the heater off at the main switch now. The contactor has to be replaced "
                             "before you go on.",
    [TRIP_CONTACTOR_OPEN] = "Check the safety chain, the fuse and the contactor's coil, then say release.",
    [TRIP_WATER_LEAKS] =
        "Shut the tap before the valve, look how full the tank is, mend the valve, then say release.",
    [TRIP_STALLED] =
        "See why the computer stood still, for example a full disk or another program, then say release.",
};

/* Thresholds: science/skin.h. */
static const char *const SCALDS[SCALD_COUNT] = {
    [SCALD_NONE] = "below 43 °C: no warning for the heat, which is no promise",
    [SCALD_CAUTION] = "43 °C and more: long contact burns, near 49 °C minutes are enough; wear gloves",
    [SCALD_WARNING] = "49 °C and more: burns within minutes, near 55 °C within seconds; do not reach in",
    [SCALD_HIGH] = "55 °C and more: burns within seconds, and syrup sticks; do not touch",
    [SCALD_DANGER] = "60 °C and more: a serious burn within seconds; do not touch, keep others away",
    [SCALD_EXTREME] = "68 °C and more, or not known: a serious burn in a second or less; keep everybody away",
};

static const char *const REASONS[REASON_COUNT] = {
    [REASON_NONE] = "nothing wrong",
    [REASON_NOT_BOUND] = "this tank has no such instrument",
    [REASON_NO_READING] = "nothing has been read since the start",
    [REASON_STALE] = "the last reading is too old",
    [REASON_BUS_LOST] = "the line to the device is down",
    [REASON_DEVICE] = "the device reports a failure",
    [REASON_RANGE] = "the number is outside what the instrument can show",
    [REASON_NOT_FINITE] = "the device sent something that is not a number",
};

static const char *sentence_of(const char *const table[], int count, int code)
{
    return code >= 0 && code < count ? table[code] : UNKNOWN;
}

const char *words_state(enum batch_state state)
{
    return sentence_of(STATES, STATE_COUNT, (int)state);
}

const char *words_step(enum step step)
{
    return sentence_of(STEPS, STEP_COUNT, (int)step);
}

const char *words_trip_act(enum trip trip)
{
    return sentence_of(TRIP_ACTS, TRIP_COUNT, (int)trip);
}

const char *words_scald(enum scald level)
{
    return sentence_of(SCALDS, SCALD_COUNT, (int)level);
}

const char *words_reason(enum reason reason)
{
    return sentence_of(REASONS, REASON_COUNT, (int)reason);
}
