/* strength.h - the strength loop: measure, then trim with water or ask for sugar. */
#ifndef CORE_STRENGTH_H
#define CORE_STRENGTH_H

#include "core/turn.h"

enum strength_result { STRENGTH_WORKING, STRENGTH_RIGHT, STRENGTH_SUGAR_ADDED };

void strength_enter(struct turn *turn);

/* One scan. STRENGTH_RIGHT: inside the band, or as near as this tank comes (the final check judges).
 * STRENGTH_SUGAR_ADDED: dissolve again before the next look. */
enum strength_result strength_step(struct turn *turn);

/* Take a strength reading over a minute, from the instrument or by asking a person to read a hand
 * refractometer; true with *pct when it is there. */
bool strength_read(struct turn *turn, struct mean *mean, double *pct);

/* Standard uncertainty of such a reading, % by weight. */
double strength_reading_u(const struct turn *turn);

#endif
