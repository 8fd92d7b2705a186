#include "science/skin_burn.h"

#include "science/science_range.h"
#include "science/skin_contact.h"

#include <math.h>
#include <stddef.h>

#define CHILD_FACTOR 5.0
#define CAREFUL_FACTOR 2.0
#define MEASURED_TO_C 70.0

struct row {
    double temp_c;
    double seconds;
};

/* Second degree: one source. Third degree: the shortest and the longest time of any. A source that lies
 * between the others is left out; so is a row that would make hotter water slower. */
static const struct row SECOND[] = {
    {44, 21600}, {45, 7200}, {47, 1200}, {48, 900}, {49, 480}, {51, 120}, {55, 17}, {60, 3},
};
static const struct row THIRD_SHORTEST[] = {
    {44, 21600}, {45, 10800}, {47, 2700}, {48, 1200}, {49, 300}, {52, 90}, {52.8, 60},    {54.4, 30},
    {57, 10},    {60, 5},     {63, 3},    {64.4, 2},  {66, 1.5}, {68, 1},  {70, 1 / 1.5},
};
static const struct row THIRD_LONGEST[] = {
    {44, 21600}, {45, 10800}, {47, 2700}, {48, 1200}, {49, 600}, {51, 252}, {52, 120}, {54.4, 30},
    {55, 30},    {57, 10},    {60, 6},    {63, 3},    {66, 2},   {68, 1},   {70, 1},
};
#define READ(rows, temp_c) read_between(rows, sizeof(rows) / sizeof(rows)[0], temp_c)

static const char *name_of(const char *const names[], int count, int index)
{
    return index >= 0 && index < count ? names[index] : NULL;
}

const char *burn_degree_name(int degree)
{
    static const char *const NAMES[] = {"second degree", "third degree"};

    return name_of(NAMES, BURN_DEGREE_COUNT, degree);
}

const char *burn_person_name(int person)
{
    static const char *const NAMES[] = {"adult", "child"};

    return name_of(NAMES, BURN_PERSON_COUNT, person);
}

const char *burn_surface_name(int surface)
{
    static const char *const NAMES[] = {"bare metal", "stone", "plastic", "wood"};

    return name_of(NAMES, SURFACE_COUNT, surface);
}

const char *burn_contact_name(int contact)
{
    static const char *const NAMES[] = {"1 s", "10 s", "1 min", "10 min", "8 h"};

    return name_of(NAMES, CONTACT_COUNT, contact);
}

/* Beyond the last row its time holds: hotter is no slower. */
static double read_between(const struct row rows[], size_t count, double temp_c)
{
    size_t i = 1;
    double share;

    while (i < count - 1 && temp_c > rows[i].temp_c)
        i++;
    share = fmin((temp_c - rows[i - 1].temp_c) / (rows[i].temp_c - rows[i - 1].temp_c), 1);
    return rows[i - 1].seconds * pow(rows[i].seconds / rows[i - 1].seconds, share);
}

static double conducted(double temp_c)
{
    double seconds;

    return skin_contact_time_eval(temp_c, &seconds) == ST_OK ? seconds : (double)INFINITY;
}

/* A burn of the second degree comes no later than one of the third. */
static double shortest(double temp_c, enum burn_degree degree)
{
    double seconds = READ(THIRD_SHORTEST, temp_c);

    if (degree == BURN_SECOND)
        seconds = fmin(seconds, READ(SECOND, temp_c));
    if (degree == BURN_SECOND || temp_c > MEASURED_TO_C)
        seconds = fmin(seconds, conducted(temp_c));
    return seconds;
}

static double longest(double temp_c, enum burn_degree degree)
{
    double seconds = READ(THIRD_LONGEST, temp_c);

    return degree == BURN_SECOND ? fmin(seconds, READ(SECOND, temp_c)) : seconds;
}

enum status skin_burn_time_eval(double temp_c, enum burn_degree degree, enum burn_person person,
                                struct span *seconds)
{
    double factor = person == BURN_CHILD ? CHILD_FACTOR : 1;
    double best;

    if (!is_within(temp_c, 44, 105) || (unsigned)degree >= BURN_DEGREE_COUNT ||
        (unsigned)person >= BURN_PERSON_COUNT)
        return ST_RANGE;
    best = shortest(temp_c, degree) / factor;
    *seconds = (struct span){best / CAREFUL_FACTOR, best, longest(temp_c, degree) / factor};
    return ST_OK;
}

/* degC, by surface and length of contact. Stone for 1 s: ISO 80-86, so 80 - 3 and 86 + 3. Plastic and wood
 * for 10 s, wood for 1 s: the low end is ECMA-287's. */
static const struct span SURFACES[SURFACE_COUNT][CONTACT_COUNT] = {
    {{62, 65, 73}, {52, 55, 58}, {50, 51, 52}, {47, 48, 49}, {42, 43, 44}},
    {{77, 80, 89}, {63, 66, 69}, {55, 56, 57}, {47, 48, 49}, {42, 43, 44}},
    {{82, 85, 96}, {65, 71, 74}, {59, 60, 61}, {47, 48, 49}, {42, 43, 44}},
    {{85, 99, 102}, {65, 78, 81}, {59, 60, 61}, {47, 48, 49}, {42, 43, 44}},
};

enum status skin_surface_burn_eval(enum burn_surface surface, enum burn_contact contact, struct span *temp_c)
{
    if ((unsigned)surface >= SURFACE_COUNT || (unsigned)contact >= CONTACT_COUNT)
        return ST_RANGE;
    *temp_c = SURFACES[surface][contact];
    return ST_OK;
}
