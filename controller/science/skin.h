/* skin.h - what a liquid at this temperature does to skin: a graded warning. */
#ifndef SCIENCE_SKIN_H
#define SCIENCE_SKIN_H

enum scald {
    SCALD_NONE,    /* below 43 degC */
    SCALD_CAUTION, /* 43: long contact burns */
    SCALD_WARNING, /* 49: burns within minutes */
    SCALD_HIGH,    /* 55: burns within about half a minute */
    SCALD_DANGER,  /* 60: serious burn in seconds */
    SCALD_EXTREME, /* 68: serious burn in about a second */
    SCALD_COUNT
};

/* Level for a temperature, given the level shown so far: up at once, down only 2 K below the
 * threshold. Not finite: SCALD_EXTREME, because doubt shows the higher level. */
enum scald skin_scald_level(double temp_c, enum scald shown);

#endif
