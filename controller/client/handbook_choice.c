/* A choice by what a person writes for it. */
#include "client/handbook_call.h"
#include "settings/nearest.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

#define BEGINNING_MIN 3 /* so many letters of a name may stand for it */

/* What is written on a bottle, and other ways to say a choice. The input, the text, the name. */
static const struct {
    const char *input;
    const char *text;
    const char *name;
} OTHER_NAMES[] = {
    {"buffer", "1.68", "tetroxalate"},
    {"buffer", "3.56", "tartrate"},
    {"buffer", "3.78", "citrate"},
    {"buffer", "4.00", "technical-4.00"},
    {"buffer", "4.01", "phthalate"},
    {"buffer", "6.86", "phosphate-1:1"},
    {"buffer", "7.00", "technical-7.00"},
    {"buffer", "7.41", "phosphate-1:3.5"},
    {"buffer", "9.18", "borate"},
    {"buffer", "10.01", "technical-10.01"},
    {"buffer", "12.45", "calcium-hydroxide"},
    {"degree", "2", "second degree"},
    {"degree", "3", "third degree"},
    {"grade", "1", "first degree"},
    {"grade", "2", "second degree"},
};

static char small(char c)
{
    if (c >= 'A' && c <= 'Z')
        c = (char)(c - 'A' + 'a');
    return c;
}

/* Without blanks and underscores, in small letters. Cut at its end when it is too long. */
static void squeeze(const char *text, char out[HANDBOOK_WORD_NAME_MAX])
{
    size_t used = 0;

    for (; *text != '\0' && used < HANDBOOK_WORD_NAME_MAX - 1; text++)
        if (*text != ' ' && *text != '_')
            out[used++] = small(*text);
    out[used] = '\0';
}

static int exact_find(const struct handbook_quantity *q, const char *wanted)
{
    char name[HANDBOOK_WORD_NAME_MAX];

    for (int i = (int)q->min; i <= (int)q->max; i++) {
        squeeze(q->choice(i), name);
        if (strcmp(name, wanted) == 0)
            return i;
    }
    return -1;
}

/* The one name that begins so; -1 when there is none, or a second. */
static int beginning_find(const struct handbook_quantity *q, const char *wanted)
{
    size_t length = strlen(wanted);
    char name[HANDBOOK_WORD_NAME_MAX];
    int found = -1;

    for (int i = (int)q->min; length >= BEGINNING_MIN && i <= (int)q->max; i++) {
        squeeze(q->choice(i), name);
        if (strncmp(name, wanted, length) != 0)
            continue;
        if (found >= 0)
            return -1;
        found = i;
    }
    return found;
}

static int other_find(const struct handbook_quantity *q, const char *text)
{
    for (size_t i = 0; i < sizeof OTHER_NAMES / sizeof OTHER_NAMES[0]; i++)
        if (strcmp(OTHER_NAMES[i].input, q->name) == 0 && strcasecmp(OTHER_NAMES[i].text, text) == 0)
            return handbook_choice_find(q, OTHER_NAMES[i].name);
    return -1;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* A name that was probably meant; never one with another number in front. NULL for none. */
static const char *near_find(const struct handbook_quantity *q, const char *text)
{
    struct nearest nearest = {0};
    char wanted[HANDBOOK_WORD_NAME_MAX];
    double asked = 0;
    double offered = 0;

    (void)snprintf(wanted, sizeof wanted, "%s", text);
    for (char *c = wanted; *c != '\0'; c++)
        if (*c == '_')
            *c = ' ';
    nearest.word = wanted;
    for (int i = (int)q->min; i <= (int)q->max; i++) {
        const char *name = q->choice(i);

        if (is_digit(wanted[0]) == is_digit(name[0]) &&
            (!is_digit(name[0]) ||
             (handbook_number_read(wanted, &asked) != NULL && handbook_number_read(name, &offered) != NULL &&
              fabs(asked - offered) <= 0)))
            nearest_offer(&nearest, name);
    }
    return nearest.best;
}

static enum status choice_refuse(const struct handbook_quantity *q, const char *text, struct fault *f)
{
    bool is_unit = q->choice == unit_name; /* of many kinds: what is spelt alike is not alike */
    const char *doubt = is_unit ? unit_doubt(text) : NULL;
    const char *near = is_unit ? NULL : near_find(q, text);
    char names[HANDBOOK_NAMES_MAX];
    char name[HANDBOOK_WORD_NAME_MAX];

    if (doubt != NULL)
        return fault_set(f, ST_RANGE, q->name, "%s: %s", q->name, doubt);
    if (near != NULL)
        return fault_set(f, ST_RANGE, q->name, "%s: there is no \"%.40s\"; did you mean %s?", q->name, text,
                         handbook_choice_print(near, name));
    handbook_choices(q, names);
    return fault_set(f, ST_RANGE, q->name, "%s: there is no \"%.40s\"; %s%s", q->name, text,
                     names[0] != '\0' ? "it is " : "the explanation of the function lists what there is",
                     names);
}

enum status handbook_choice_take(const struct handbook_quantity *quantity, const char *text, double *value,
                                 struct fault *f)
{
    const struct unit *unit = quantity->choice == unit_name ? unit_find(text) : NULL;
    char wanted[HANDBOOK_WORD_NAME_MAX];
    int found = unit != NULL ? (int)(unit - UNITS) : -1;

    squeeze(text, wanted);
    if (quantity->choice != unit_name && strlen(text) < HANDBOOK_WORD_NAME_MAX) {
        found = exact_find(quantity, wanted);
        if (found < 0)
            found = other_find(quantity, text);
        if (found < 0)
            found = beginning_find(quantity, wanted);
    }
    if (found < 0)
        return choice_refuse(quantity, text, f);
    *value = found;
    return ST_OK;
}
