#include "records/canonical.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

char *canonical_json(const json_t *value)
{
    return json_dumps(value, JSON_COMPACT | JSON_SORT_KEYS | JSON_REAL_PRECISION(17));
}

void canonical_decimal(double value, int decimals, char out[DECIMAL_MAX])
{
    static const int64_t SCALES[] = {1, 10, 100, 1000, 10000, 100000, 1000000};
    int64_t scale = SCALES[decimals < 0 ? 0 : decimals > 6 ? 6 : decimals];
    unsigned long long digits;
    char text[24];
    int64_t scaled;

    if (!isfinite(value) || fabs(value) > 1e12) {
        (void)snprintf(out, DECIMAL_MAX, "unknown");
        return;
    }
    scaled = llround(value * (double)scale);
    if (decimals <= 0) {
        (void)snprintf(out, DECIMAL_MAX, "%lld", (long long)scaled);
        return;
    }
    digits = (unsigned long long)llabs(scaled % scale) + (unsigned long long)scale; /* 1 and the decimals */
    (void)snprintf(text, sizeof text, "%llu", digits);
    (void)snprintf(out, DECIMAL_MAX, "%s%lld.%.6s", scaled < 0 ? "-" : "", llabs(scaled / scale), text + 1);
}

void canonical_utc(int64_t utc_us, char out[UTC_MAX])
{
    time_t seconds = (time_t)(utc_us / 1000000 - (utc_us % 1000000 < 0));
    struct tm parts;

    if (gmtime_r(&seconds, &parts) == NULL || parts.tm_year < -1899 || parts.tm_year > 8099 ||
        strftime(out, UTC_MAX, "%Y-%m-%dT%H:%M:%SZ", &parts) == 0)
        (void)snprintf(out, UTC_MAX, "unknown");
}

/* Length of the valid UTF-8 character at text, 0 when there is none. The second byte's bounds shut
 * out overlong forms, surrogates and what lies beyond U+10FFFF. */
static size_t character_length(const unsigned char *text)
{
    static const struct {
        unsigned char first, last, low, high, length;
    } FORMS[] = {
        {0x20, 0x7e, 0, 0, 1},       {0xc2, 0xdf, 0x80, 0xbf, 2}, {0xe0, 0xe0, 0xa0, 0xbf, 3},
        {0xe1, 0xec, 0x80, 0xbf, 3}, {0xed, 0xed, 0x80, 0x9f, 3}, {0xee, 0xef, 0x80, 0xbf, 3},
        {0xf0, 0xf0, 0x90, 0xbf, 4}, {0xf1, 0xf3, 0x80, 0xbf, 4}, {0xf4, 0xf4, 0x80, 0x8f, 4},
    };

    for (size_t i = 0; i < sizeof FORMS / sizeof FORMS[0]; i++) {
        if (text[0] < FORMS[i].first || text[0] > FORMS[i].last)
            continue;
        if (FORMS[i].length > 1 && (text[1] < FORMS[i].low || text[1] > FORMS[i].high))
            return 0;
        for (size_t k = 2; k < FORMS[i].length; k++)
            if (text[k] < 0x80 || text[k] > 0xbf)
                return 0;
        return FORMS[i].length;
    }
    return 0;
}

void canonical_text(const char *from, char *to, size_t size)
{
    const unsigned char *next = (const unsigned char *)from;
    size_t used = 0;

    while (*next != '\0') {
        size_t length = character_length(next);

        if (used + (length == 0 ? 1 : length) >= size)
            break;
        if (length == 0) {
            to[used++] = '?';
            next++;
        }
        for (; length > 0; length--)
            to[used++] = (char)*next++;
    }
    to[used] = '\0';
}
