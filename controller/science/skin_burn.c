#include "science/skin_burn.h"

#include "science/science_range.h"

#include <math.h>
#include <stddef.h>

#define CHILD_FACTOR 4.0

struct row {
    double temp_c;
    double seconds;
};

/* The shortest and the longest time of any source, for each degree. A source that lies between the
 * others is left out; so is a row that would make hotter water slower. */
static const struct row SECOND_SHORTEST[] = {
    {44, 21600}, {45, 7200}, {47, 1200}, {48, 900}, {49, 300},     {52, 90},
    {55, 17},    {60, 3},    {66, 1.5},  {68, 1},   {70, 1 / 1.5},
};
static const struct row SECOND_LONGEST[] = {
    {44, 21600}, {45, 7200}, {47, 1200}, {48, 900}, {49, 480}, {52, 120},
    {54.4, 30},  {55, 17},   {60, 3},    {66, 2},   {68, 1},   {70, 1},
};
static const struct row THIRD_SHORTEST[] = {
    {44, 21600}, {45, 10800}, {47, 2700}, {48, 1200}, {49, 300}, {52, 90},      {54.4, 30},
    {57, 10},    {60, 5},     {63, 3},    {66, 1.5},  {68, 1},   {70, 1 / 1.5},
};
static const struct row THIRD_LONGEST[] = {
    {44, 21600}, {45, 10800}, {47, 2700}, {48, 1200}, {49, 600}, {52, 120}, {54.4, 30},
    {55, 30},    {57, 10},    {60, 6},    {63, 3},    {66, 2},   {68, 1},   {70, 1},
};

#define TABLE(rows)                                                                                          \
    {                                                                                                        \
        rows, sizeof(rows) / sizeof(rows)[0]                                                                 \
    }
static const struct {
    struct table {
        const struct row *rows;
        size_t count;
    } shortest, longest;
} TABLES[BURN_DEGREE_COUNT] = {
    {TABLE(SECOND_SHORTEST), TABLE(SECOND_LONGEST)},
    {TABLE(THIRD_SHORTEST), TABLE(THIRD_LONGEST)},
};

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

static double read_between(const struct table *table, double temp_c)
{
    size_t i = 1;
    double share;

    while (i < table->count - 1 && temp_c > table->rows[i].temp_c)
        i++;
    share = (temp_c - table->rows[i - 1].temp_c) / (table->rows[i].temp_c - table->rows[i - 1].temp_c);
    return table->rows[i - 1].seconds * pow(table->rows[i].seconds / table->rows[i - 1].seconds, share);
}

enum status skin_burn_time_eval(double temp_c, enum burn_degree degree, enum burn_person person,
                                struct span *seconds)
{
    double factor = person == BURN_CHILD ? CHILD_FACTOR : 1;
    double low;
    double high;

    if (!is_within(temp_c, 44, 70) || (unsigned)degree >= BURN_DEGREE_COUNT ||
        (unsigned)person >= BURN_PERSON_COUNT)
        return ST_RANGE;
    low = read_between(&TABLES[degree].shortest, temp_c) / factor;
    high = fmax(read_between(&TABLES[degree].longest, temp_c) / factor, low);
    *seconds = (struct span){low, fmin(fmax(sqrt(low * high), low), high), high};
    return ST_OK;
}

/* ISO 13732-1 (2006), degC: from and to, by surface and length of contact. */
static const struct {
    double from_c;
    double to_c;
} SURFACES[SURFACE_COUNT][CONTACT_COUNT] = {
    {{65, 70}, {55, 55}, {51, 51}, {48, 48}, {43, 43}},
    {{80, 86}, {66, 66}, {56, 56}, {48, 48}, {43, 43}},
    {{85, 93}, {71, 71}, {60, 60}, {48, 48}, {43, 43}},
    {{99, 99}, {78, 78}, {60, 60}, {48, 48}, {43, 43}},
};

enum status skin_surface_burn_eval(enum burn_surface surface, enum burn_contact contact, struct span *temp_c)
{
    double from_c;
    double to_c;

    if ((unsigned)surface >= SURFACE_COUNT || (unsigned)contact >= CONTACT_COUNT)
        return ST_RANGE;
    from_c = SURFACES[surface][contact].from_c;
    to_c = SURFACES[surface][contact].to_c;
    *temp_c = (struct span){from_c, (from_c + to_c) / 2, to_c};
    return ST_OK;
}
