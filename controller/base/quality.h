/* quality.h - how far a value may be trusted, and why not further. */
#ifndef BASE_QUALITY_H
#define BASE_QUALITY_H

enum quality {
    QUALITY_BAD,       /* do not use: nothing in the value means anything */
    QUALITY_UNCERTAIN, /* show it, do not decide on it alone */
    QUALITY_GOOD
};

enum reason {
    REASON_NONE,
    REASON_NOT_BOUND,  /* this tank has no such instrument */
    REASON_NO_READING, /* nothing has arrived since the start */
    REASON_STALE,      /* the last reading is too old */
    REASON_BUS_LOST,   /* the wire to the device is down or dirty */
    REASON_DEVICE,     /* the device answered with an exception or reports a failure */
    REASON_RANGE,      /* outside what the instrument or physics allows */
    REASON_NOT_FINITE, /* not a number */
    REASON_COUNT
};

/* Short names for JSON and records ("good", "bus_lost"); never NULL. */
const char *quality_name(enum quality quality);
const char *reason_name(enum reason reason);

#endif
