#include "client/numbers.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static size_t digits_span(const char *text)
{
    return strspn(text, "0123456789");
}

/* Length of a plain number at the start of text, 0 where there is none. */
static size_t number_span(const char *text, char decimal_sign)
{
    size_t sign = text[0] == '-' || text[0] == '+' ? 1 : 0;
    size_t whole = digits_span(text + sign);
    size_t used = sign + whole;
    size_t part = 0;

    if (text[used] == decimal_sign) {
        part = digits_span(text + used + 1);
        if (part > 0)
            used += 1 + part;
    }
    return whole + part == 0 ? 0 : used;
}

static enum status comma_refuse(const char *what, const char *text, struct fault *f)
{
    char point[NUMBER_TEXT_MAX];

    (void)snprintf(point, sizeof point, "%s", text);
    *strchr(point, ',') = '.';
    return fault_set(f, ST_RANGE, what, "%s: \"%s\" has a comma; the decimal sign is the point, write %s",
                     what, text, point);
}

enum status number_parse(const char *what, const char *text, double *value, struct fault *f)
{
    size_t length = strlen(text);
    size_t used = number_span(text, '.');

    if (length == 0)
        return fault_set(f, ST_RANGE, what, "%s needs a number such as 62.5", what);
    if (length >= NUMBER_TEXT_MAX)
        return fault_set(f, ST_RANGE, what, "%s: this number has too many digits", what);
    if (used == length) {
        *value = strtod(text, NULL);
        return ST_OK;
    }
    if (strchr(text, ',') != NULL && number_span(text, ',') == length)
        return comma_refuse(what, text, f);
    if (used > 0)
        return fault_set(f, ST_RANGE, what, "%s: \"%s\" has something behind the number; write %.*s alone",
                         what, text, (int)used, text);
    return fault_set(f, ST_RANGE, what, "%s: \"%s\" is not a number; write for example 62.5", what, text);
}

enum status number_whole_parse(const char *what, const char *text, int min, int max, int *value,
                               struct fault *f)
{
    size_t length = strlen(text);
    long number;

    if (length == 0 || length > 9 || digits_span(text) != length)
        return fault_set(f, ST_RANGE, what, "%s: \"%.40s\" is not a whole number from %d to %d", what, text,
                         min, max);
    number = strtol(text, NULL, 10);
    if (number < min || number > max)
        return fault_set(f, ST_RANGE, what, "%s: %ld is outside %d to %d", what, number, min, max);
    *value = (int)number;
    return ST_OK;
}

const char *number_print(double value, int decimals, char out[NUMBER_TEXT_MAX])
{
    if (!isfinite(value) || fabs(value) >= 1e15)
        (void)snprintf(out, NUMBER_TEXT_MAX, "unknown");
    else
        (void)snprintf(out, NUMBER_TEXT_MAX, "%.*f", decimals, value);
    return out;
}

const char *duration_print(double seconds, char out[NUMBER_TEXT_MAX])
{
    double minutes = floor(seconds / 60 + 0.5);
    double hours = floor(seconds / 3600 + 0.5);

    if (!isfinite(seconds) || seconds < 0 || seconds > 3e8) {
        (void)snprintf(out, NUMBER_TEXT_MAX, "unknown");
        return out;
    }
    if (seconds < 90)
        (void)snprintf(out, NUMBER_TEXT_MAX, "%.0f s", seconds);
    else if (seconds < 90.0 * 60)
        (void)snprintf(out, NUMBER_TEXT_MAX, "%.0f min", minutes);
    else if (seconds < 36.0 * 3600)
        (void)snprintf(out, NUMBER_TEXT_MAX, "%.0f h %02.0f min", floor(minutes / 60), fmod(minutes, 60));
    else
        (void)snprintf(out, NUMBER_TEXT_MAX, "%.0f d %.0f h", floor(hours / 24), fmod(hours, 24));
    return out;
}
