#include "settings/scalar.h"

#include <errno.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define WORD_MAX 32 /* longer than any number a person writes */
#define INTEGER_LARGEST 9007199254740992.0

static bool say(char *why, const char *clause)
{
    (void)snprintf(why, SCALAR_WHY_MAX, "%s", clause);
    return false;
}

static const char *digits_skip(const char *at)
{
    return at + strspn(at, "0123456789");
}

/* How many bytes at the start are a number of our grammar; 0 for none. */
static size_t number_length(const char *word)
{
    const char *first = word + (*word == '-');
    const char *at = digits_skip(first);

    if (at == first)
        return 0;
    if (at[0] == '.' && digits_skip(at + 1) > at + 1)
        at = digits_skip(at + 1);
    if (at[0] == 'e' || at[0] == 'E') {
        const char *power = at + 1 + (at[1] == '-' || at[1] == '+');

        if (digits_skip(power) > power)
            at = digits_skip(power);
    }
    return (size_t)(at - word);
}

static bool has_leading_zero(const char *word)
{
    const char *first = word + (*word == '-');

    return first[0] == '0' && first[1] >= '0' && first[1] <= '9';
}

/* Say what looks wrong with a word that is no number, with the likeliest intention first. */
static bool number_refuse(const char *word, size_t length, char *why)
{
    const char *rest = word + length;

    if (length == 0 && (word[0] == '.' || word[0] == '+'))
        return say(why, "a number begins with a digit or a minus sign");
    if (length == 0)
        return say(why, "this is not a number");
    if (strlen(word) < WORD_MAX && rest[0] == ',' && rest[1 + strspn(rest + 1, "0123456789")] == '\0') {
        (void)snprintf(why, SCALAR_WHY_MAX, "a decimal comma is not understood; write %.*s.%s", (int)length,
                       word, rest + 1);
        return false;
    }
    if (strcmp(rest, ".") == 0)
        return say(why, "there is no digit after the decimal point");
    (void)snprintf(why, SCALAR_WHY_MAX, "there is \"%.24s\" after the number", rest);
    return false;
}

static bool grammar_check(const char *word, char *why)
{
    size_t length = number_length(word);

    if (strlen(word) > WORD_MAX && word[length] == '\0')
        return say(why, "the number has too many digits");
    if (word[length] == 'x' || word[length] == 'X')
        return say(why, "hexadecimal numbers are not understood; write it in decimal");
    if (length == 0 || word[length] != '\0')
        return number_refuse(word, length, why);
    if (has_leading_zero(word))
        return say(why, "a number must not begin with 0 and another digit; leave the leading zero out");
    return true;
}

bool scalar_parse_decimal(const char *word, double *out, char why[SCALAR_WHY_MAX])
{
    locale_t c_locale;
    double value;

    if (!grammar_check(word, why))
        return false;
    c_locale = newlocale(LC_ALL_MASK, "C", (locale_t)0);
    if (c_locale == (locale_t)0)
        return say(why, "there is no memory to read it");
    errno = 0;
    value = strtod_l(word, NULL, c_locale);
    freelocale(c_locale);
    if (!isfinite(value) || errno == ERANGE)
        return say(why, "the number is too large or too small to be meant");
    *out = value;
    return true;
}

bool scalar_parse_integer(const char *word, int64_t *out, char why[SCALAR_WHY_MAX])
{
    double value;

    if (!scalar_parse_decimal(word, &value, why))
        return false;
    if (strpbrk(word, ".eE") != NULL)
        return say(why, "a whole number is needed, without point or exponent");
    if (fabs(value) > INTEGER_LARGEST)
        return say(why, "the number is too large to be meant");
    *out = (int64_t)value;
    return true;
}

bool scalar_parse_yes_no(const char *word, bool *out, char why[SCALAR_WHY_MAX])
{
    bool is_yes = strcmp(word, "yes") == 0 || strcmp(word, "true") == 0;

    if (!is_yes && strcmp(word, "no") != 0 && strcmp(word, "false") != 0)
        return say(why, "this is neither yes nor no");
    *out = is_yes;
    return true;
}

static const struct {
    const char *name;
    double seconds;
} UNITS[] = {{"h", 3600}, {"min", 60}, {"s", 1}, {"ms", 0.001}};
#define UNIT_COUNT (sizeof UNITS / sizeof UNITS[0])

static size_t unit_find(const char *at, size_t length)
{
    size_t i = 0;

    while (i < UNIT_COUNT && (strlen(UNITS[i].name) != length || strncmp(at, UNITS[i].name, length) != 0))
        i++;
    return i;
}

bool scalar_parse_duration(const char *word, double *out_s, char why[SCALAR_WHY_MAX])
{
    const char *at = word;
    size_t previous = 0;
    double sum_s = 0;

    do { /* number, unit; units from large to small, each at most once */
        char number[WORD_MAX + 1];
        size_t length = number_length(at);
        size_t unit_length;
        size_t unit;
        double value;

        if (length == 0 || length > WORD_MAX || at[0] == '-')
            return say(why, "this is not a time such as 90 s, 15 min or 4 h");
        (void)snprintf(number, sizeof number, "%.*s", (int)length, at);
        if (!scalar_parse_decimal(number, &value, why))
            return false;
        at += length;
        at += strspn(at, " ");
        unit_length = strcspn(at, " ");
        unit = unit_find(at, unit_length);
        if (unit == UNIT_COUNT)
            return say(why, "the unit is missing or unknown; write ms, s, min or h after the number");
        if (sum_s > 0 && unit <= previous)
            return say(why, "the parts must go from large to small, as in 1 h 30 min");
        previous = unit;
        sum_s += value * UNITS[unit].seconds;
        at += unit_length;
        at += strspn(at, " ");
    } while (*at != '\0');
    *out_s = sum_s;
    return true;
}

void scalar_print_decimal(double value, char out[SCALAR_PRINT_MAX])
{
    char *point;

    for (int digits = 6; digits <= 17; digits++) {
        char why[SCALAR_WHY_MAX];
        double back = 0;

        (void)snprintf(out, SCALAR_PRINT_MAX, "%.*g", digits, value);
        point = strpbrk(out, ",");
        if (point != NULL) /* a process with a locale of its own */
            *point = '.';
        if (scalar_parse_decimal(out, &back, why) && fabs(back - value) <= 0)
            return;
    }
}

void scalar_print_duration(double value_s, char out[SCALAR_PRINT_MAX])
{
    size_t unit = 0;
    char number[SCALAR_PRINT_MAX];

    while (unit < 2 && (value_s <= 0 || fmod(value_s, UNITS[unit].seconds) > 0))
        unit++;
    scalar_print_decimal(value_s / UNITS[unit].seconds, number);
    (void)snprintf(out, SCALAR_PRINT_MAX, "%.32s %s", number, UNITS[unit].name);
}
