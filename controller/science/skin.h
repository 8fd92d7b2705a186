/* skin.h - what a liquid at this temperature does to skin: a graded warning.
 *
 * Pure; any thread. A warning for a healthy adult: children and old people burn about four times
 * faster, and syrup clings. A low level is no promise that nothing can happen.
 */
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
 * threshold. Not finite: SCALD_EXTREME, because doubt shows the higher level. A shown level that
 * is none counts as not known yet. Source: Moritz and Henriques, Am. J. Pathol. 23 (1947) 695,
 * and public tap-water tables after them, which differ by up to a factor of two; 43 degC ISO
 * 13732-1 (2006); the grading is this program's. */
enum scald skin_scald_level(double temp_c, enum scald shown);

#endif
