/* skin.h - what a liquid at this temperature does to skin: a graded warning.
 *
 * Pure; any thread. A warning for a healthy adult: children and old people burn about five times
 * faster, and syrup clings. A low level is no promise that nothing can happen: the times are those at the
 * level's lowest temperature, and near the next level it goes as fast as there (skin_burn.h).
 */
#ifndef SCIENCE_SKIN_H
#define SCIENCE_SKIN_H

enum scald {
    SCALD_NONE,    /* below 43 degC: no warning from this table, which is not "harmless" */
    SCALD_CAUTION, /* 43: burns after hours, near 49 after minutes */
    SCALD_WARNING, /* 49: burns within minutes, near 55 within 10 s or so */
    SCALD_HIGH,    /* 55: burns within some 10 s, near 60 within 2 or 3 */
    SCALD_DANGER,  /* 60: serious burn in seconds */
    SCALD_EXTREME, /* 68: serious burn in a second or less */
    SCALD_COUNT
};

/* Level for a temperature, given the level shown so far: up at once, down only 2 K below the
 * threshold. Not finite: SCALD_EXTREME, because doubt shows the higher level. A shown level that
 * is none counts as not known yet. Source: Moritz and Henriques, Am. J. Pathol. 23 (1947) 695,
 * and public tap-water tables after them, which differ by up to a factor of two; 43 degC ISO
 * 13732-1 (2006); the grading is this program's. */
enum scald skin_scald_level(double temp_c, enum scald shown);

#endif
