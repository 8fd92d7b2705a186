#include "science/skin.h"

#include <math.h>

#define HYSTERESIS_K 2.0

/* Lowest temperature of each level: from the time to a burn, Moritz and Henriques (1947) and the
 * tap-water tables that follow them, the most careful column; 43 degC ISO 13732-1 (2006).
 * The first entry stands for everything below 43. */
static const double FROM_C[SCALD_COUNT] = {0, 43, 49, 55, 60, 68};

static enum scald level_at(double temp_c)
{
    int level = SCALD_COUNT - 1;

    while (level > 0 && temp_c < FROM_C[level])
        level--;
    return (enum scald)level;
}

enum scald skin_scald_level(double temp_c, enum scald shown)
{
    enum scald now;
    enum scald falling;

    if (!isfinite(temp_c))
        return SCALD_EXTREME;
    now = level_at(temp_c);
    if ((unsigned)shown >= SCALD_COUNT || now >= shown)
        return now;
    falling = level_at(temp_c + HYSTERESIS_K);
    return falling < shown ? falling : shown;
}
