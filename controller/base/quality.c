#include "base/quality.h"

static const char *const QUALITY_NAMES[] = {"bad", "uncertain", "good"};

static const char *const REASON_NAMES[REASON_COUNT] = {
    [REASON_NONE] = "",
    [REASON_NOT_BOUND] = "not_fitted",
    [REASON_NO_READING] = "no_reading",
    [REASON_STALE] = "stale",
    [REASON_BUS_LOST] = "bus_lost",
    [REASON_DEVICE] = "device",
    [REASON_RANGE] = "out_of_range",
    [REASON_NOT_FINITE] = "not_finite",
};

const char *quality_name(enum quality quality)
{
    return (unsigned)quality <= QUALITY_GOOD ? QUALITY_NAMES[quality] : "unknown";
}

const char *reason_name(enum reason reason)
{
    return (unsigned)reason < REASON_COUNT ? REASON_NAMES[reason] : "unknown";
}
