#include "client/handbook_value.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MEETS 1e-6 /* of a step: so near is met */

enum status handbook_word_split(const char *word, const char *example, char name[HANDBOOK_WORD_NAME_MAX],
                                const char **text, struct fault *f)
{
    const char *sign = strchr(word, '=');
    size_t length = sign == NULL ? 0 : (size_t)(sign - word);

    if (length == 0)
        return fault_set(f, ST_REFUSED, "",
                         "\"%.60s\" is no input; write its name, = and the value without blanks: %s", word,
                         example);
    if (length >= HANDBOOK_WORD_NAME_MAX)
        return fault_set(f, ST_REFUSED, "", "\"%.60s\" is longer than the name of any input", word);
    memcpy(name, word, length);
    name[length] = '\0';
    *text = sign + 1;
    return ST_OK;
}

/* ---- numbers -------------------------------------------------------------------------- */

static size_t digits_span(const char *text)
{
    return strspn(text, "0123456789");
}

/* Length of the exponent at the start of text, 0 where there is none. */
static size_t exponent_span(const char *text)
{
    size_t sign = text[0] == '\0' || (text[1] != '-' && text[1] != '+') ? 1 : 2;
    size_t digits = text[0] == 'e' || text[0] == 'E' ? digits_span(text + sign) : 0;

    return digits == 0 ? 0 : sign + digits;
}

/* A point counts only with a digit behind it, so that "0..5" begins with 0. */
static size_t number_span(const char *text)
{
    size_t sign = text[0] == '-' || text[0] == '+' ? 1 : 0;
    size_t used = sign + digits_span(text + sign);

    if (text[used] == '.' && digits_span(text + used + 1) > 0)
        used += 1 + digits_span(text + used + 1);
    return used == sign ? 0 : used + exponent_span(text + used);
}

const char *handbook_number_read(const char *text, double *value)
{
    char number[HANDBOOK_NUMBER_MAX];
    size_t length = number_span(text);
    double read;

    if (length == 0 || length >= sizeof number)
        return NULL;
    memcpy(number, text, length);
    number[length] = '\0';
    read = strtod(number, NULL);
    if (!isfinite(read))
        return NULL;
    *value = read;
    return text + length;
}

const char *handbook_number_print(double value, char out[HANDBOOK_NUMBER_MAX])
{
    (void)snprintf(out, HANDBOOK_NUMBER_MAX, "%.7g", value == 0 ? 0 : value); /* no "-0" */
    return out;
}

/* ---- values ----------------------------------------------------------------------------- */

/* Digits, one comma, digits, and no point: that can be read, in one way or in two. */
static bool is_one_comma(const char *digits, const char *comma)
{
    return digits + digits_span(digits) == comma && digits_span(comma + 1) > 0 &&
           comma - digits < HANDBOOK_NUMBER_MAX && digits_span(comma + 1) < HANDBOOK_NUMBER_MAX &&
           strpbrk(comma + 1, ",.") == NULL;
}

enum status handbook_comma_refuse(const char *name, const char *text, struct fault *f)
{
    const char *comma = strchr(text, ',');
    const char *between = name[0] != '\0' ? ": " : "";
    const char *digits = text + (text[0] == '-' || text[0] == '+' ? 1 : 0);
    int before;
    int behind;
    bool is_one;

    if (comma == NULL)
        return ST_OK;
    if (!is_one_comma(digits, comma))
        return fault_set(f, ST_RANGE, name,
                         "%s%s\"%.40s\": leave the comma out; the decimal sign is the point, nothing parts "
                         "the thousands, and each of several values has a call of its own",
                         name, between, text);
    before = (int)(comma - text);
    behind = (int)digits_span(comma + 1);
    is_one = before == 1 && text[0] == '1';
    if (behind == 3 && digits[0] != '0' && comma - digits >= 1 && comma - digits <= 3)
        return fault_set(f, ST_RANGE, name,
                         "%s%s\"%.40s\" can be read in two ways; write %.*s%.*s if you mean %s, %.*s.%.*s if "
                         "you mean %s",
                         name, between, text, before, text, behind, comma + 1,
                         is_one ? "a thousand" : "thousands", before, text, behind, comma + 1,
                         is_one ? "one" : "a decimal sign");
    return fault_set(f, ST_RANGE, name,
                     "%s%s\"%.40s\" has a comma; the decimal sign is the point, write %s%s%.*s.%.*s", name,
                     between, text, name, name[0] != '\0' ? "=" : "", before, text, 40, comma + 1);
}

static enum status text_refuse(const char *name, const char *text, const struct handbook_hint *hint,
                               struct fault *f)
{
    if (text[0] == '\0')
        return fault_set(f, ST_RANGE, name, "%s has no value behind the =; write for example %s", name,
                         hint->value);
    return fault_set(f, ST_RANGE, name, "%s: \"%.40s\" is not a number; write for example %s", name, text,
                     hint->value);
}

/* What people write for a range or for an uncertainty, and could be misread. */
static enum status spelling_check(const char *name, const char *text, const struct handbook_hint *hint,
                                  struct fault *f)
{
    double ignored;
    const char *at = handbook_number_read(text, &ignored);

    if (handbook_comma_refuse(name, text, f) != ST_OK)
        return ST_RANGE;
    if (strstr(text, "...") != NULL)
        return fault_set(f, ST_RANGE, name,
                         "%s: \"%.40s\" has three dots together; a range has two, and a number begins with a "
                         "digit: %s",
                         name, text, hint->range);
    if (at != NULL &&
        (strncmp(at, "+-", 2) == 0 || strncmp(at, "+/-", 3) == 0 || strncmp(at, "\u00b1", 2) == 0))
        return fault_set(f, ST_RANGE, name,
                         "%s: \"%.40s\" has an uncertainty in it; write the value alone, %s=%.*s. Some "
                         "functions take an uncertainty as an input of its own",
                         name, text, name, (int)(at - text), text);
    if (at != NULL && (*at == '-' || strncmp(at, "\u2013", 3) == 0) &&
        digits_span(at + (*at == '-' ? 1 : 3)) > 0)
        return fault_set(f, ST_RANGE, name,
                         "%s: \"%.40s\" is not a number; a range is written with two dots and a step: %s",
                         name, text, hint->range);
    return ST_OK;
}

static enum status points_check(const char *name, const struct handbook_value *value, struct fault *f)
{
    double points = value->step > 0 ? floor(fabs(value->to - value->from) / value->step + MEETS) + 1 : 0;

    if (!(value->step > 0))
        return fault_set(f, ST_RANGE, name, "%s: the step of a range is above 0, also downwards", name);
    if (!(points <= HANDBOOK_POINTS_MAX))
        return fault_set(f, ST_RANGE, name, "%s: this range has %.4g values; at most %d are listed", name,
                         points, HANDBOOK_POINTS_MAX);
    return ST_OK;
}

/* What follows "A..": "B/STEP" and perhaps a unit. */
static enum status range_parse(const char *name, const char *text, const char *at,
                               const struct handbook_hint *hint, struct handbook_value *value,
                               struct fault *f)
{
    at = handbook_number_read(at, &value->to);
    if (at == NULL)
        return text_refuse(name, text, hint, f);
    if (strstr(at, "..") != NULL)
        return fault_set(f, ST_RANGE, name, "%s: \"%.40s\" has two ranges in one; write A..B/STEP", name,
                         text);
    at = *at == '/' ? handbook_number_read(at + 1, &value->step) : NULL;
    if (at == NULL)
        return fault_set(
            f, ST_RANGE, name,
            "%s: \"%.40s\" has no step; write A..B/STEP and a unit once, behind the step, as in %s", name,
            text, hint->range);
    value->unit = at;
    return points_check(name, value, f);
}

enum status handbook_value_parse(const char *name, const char *text, const struct handbook_hint *hint,
                                 struct handbook_value *value, struct fault *f)
{
    struct handbook_value read = {.unit = ""};
    const char *at = handbook_number_read(text, &read.from);
    enum status status;

    if (spelling_check(name, text, hint, f) != ST_OK)
        return ST_RANGE;
    if (at == NULL)
        return text_refuse(name, text, hint, f);
    if (strncmp(at, "..", 2) == 0) {
        status = range_parse(name, text, at + 2, hint, &read, f);
        if (status != ST_OK)
            return status;
    } else if (strstr(at, "..") != NULL) {
        return fault_set(f, ST_RANGE, name,
                         "%s: in a range the unit stands once, behind the step, as 32..212/20degF", name);
    } else {
        read.to = read.from;
        read.unit = at;
    }
    while (*read.unit == ' ' || *read.unit == '_')
        read.unit++;
    *value = read;
    return ST_OK;
}

int handbook_value_count(const struct handbook_value *value)
{
    return value->step > 0 ? (int)floor(fabs(value->to - value->from) / value->step + MEETS) + 1 : 1;
}

double handbook_value_at(const struct handbook_value *value, int index)
{
    bool is_down = value->to < value->from;
    double at = value->from + index * (is_down ? -value->step : value->step);

    /* 3 * 0.1 is more than 0.3, and would be out of a range that ends there. */
    if (value->step > 0 &&
        (fabs(at - value->to) <= MEETS * value->step || (is_down ? at < value->to : at > value->to)))
        return value->to;
    return at;
}
