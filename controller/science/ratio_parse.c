#include "science/ratio.h"

#include <stdbool.h>
#include <stddef.h>
#include <string.h>

#define WORDS_MAX 64
#define BASES                                                                                                \
    "by weight, by volume, kg per litre, lb per us (or imperial) gallon (or pint), kg made up to litres, "   \
    "or lb made up to us (or imperial) gallons"

/* Other ways to say the same, and what must not be guessed. */
static const struct {
    const char *words;
    enum ratio_basis basis; /* RATIO_BASIS_NONE: two units share this name */
} SPELLINGS[] = {
    {"by mass", RATIO_BY_WEIGHT},
    {"kg per l", RATIO_KG_PER_L},
    {"kg per liter", RATIO_KG_PER_L},
    {"kg/l", RATIO_KG_PER_L},
    {"lb per us gal", RATIO_LB_PER_US_GAL},
    {"lb per imperial gal", RATIO_LB_PER_IMP_GAL},
    {"lb per imp gal", RATIO_LB_PER_IMP_GAL},
    {"lb per us pt", RATIO_LB_PER_US_PINT},
    {"lb per imp pint", RATIO_LB_PER_IMP_PINT},
    {"lb per imp pt", RATIO_LB_PER_IMP_PINT},
    {"kg made up to l", RATIO_KG_MADE_UP_TO_L},
    {"kg made up to liters", RATIO_KG_MADE_UP_TO_L},
    {"lb made up to us gal", RATIO_LB_MADE_UP_TO_US_GAL},
    {"lb made up to imp gal", RATIO_LB_MADE_UP_TO_IMP_GAL},
    {"lb per gallon", RATIO_BASIS_NONE},
    {"lb per gal", RATIO_BASIS_NONE},
    {"lb per pint", RATIO_BASIS_NONE},
    {"lb per pt", RATIO_BASIS_NONE},
    {"lb made up to gallons", RATIO_BASIS_NONE},
    {"lb made up to gal", RATIO_BASIS_NONE},
};

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static const char *skip_blanks(const char *text)
{
    while (*text == ' ' || *text == '\t')
        text++;
    return text;
}

/* Digits with at most one point; not strtod, which takes the comma of some locales. */
static const char *read_number(const char *text, double *value)
{
    double number = 0;
    double place = 1;
    int digits = 0;

    for (text = skip_blanks(text); is_digit(*text) && digits < 15; text++, digits++)
        number = number * 10 + (*text - '0');
    if (*text == '.')
        for (text++; is_digit(*text) && digits < 15; text++, digits++) {
            place /= 10;
            number += place * (*text - '0');
        }
    *value = number;
    return digits == 0 || is_digit(*text) || *text == '.' ? NULL : text;
}

/* Lower case, single blanks, none at the ends; false when it does not fit. */
static bool read_words(const char *text, char words[WORDS_MAX])
{
    size_t n = 0;

    for (text = skip_blanks(text); *text != '\0'; text++) {
        char c = *text;

        if (c == '\t')
            c = ' ';
        if (c >= 'A' && c <= 'Z')
            c = (char)(c - 'A' + 'a');
        if (c == ' ' && (n == 0 || words[n - 1] == ' '))
            continue;
        if (n == WORDS_MAX - 1)
            return false;
        words[n++] = c;
    }
    while (n > 0 && words[n - 1] == ' ')
        n--;
    words[n] = '\0';
    return true;
}

/* Take ", water first" or "sugar first" off the end. */
static enum ratio_order cut_order(char words[WORDS_MAX])
{
    for (int order = RATIO_SUGAR_FIRST; order <= RATIO_WATER_FIRST; order++) {
        const char *end_words = ratio_order_words((enum ratio_order)order);
        size_t n = strlen(words);
        size_t end = strlen(end_words);

        if (n < end || strcmp(words + n - end, end_words) != 0)
            continue;
        n -= end;
        while (n > 0 && (words[n - 1] == ' ' || words[n - 1] == ','))
            n--;
        words[n] = '\0';
        return (enum ratio_order)order;
    }
    return RATIO_SUGAR_FIRST;
}

static enum status say_no_basis(const struct ratio *ratio, struct fault *f)
{
    static const enum ratio_basis SHOWN[3] = {RATIO_BY_WEIGHT, RATIO_BY_VOLUME, RATIO_LB_PER_IMP_PINT};
    double pct[3] = {0};

    for (int i = 0; i < 3; i++) {
        struct ratio as = *ratio;

        as.basis = SHOWN[i];
        if (ratio_strength_eval(&as, &pct[i]) != ST_OK)
            return fault_set(f, ST_RANGE, "ratio", "This ratio is out of range.");
    }
    return fault_set(f, ST_RANGE, "ratio",
                     "A ratio alone is not one strength: %g:%g by weight is %.1f %%, by volume of dry sugar "
                     "%.1f %%, in lb per imperial pint %.1f %%. Say which: " BASES ".",
                     ratio->first, ratio->second, pct[0], pct[1], pct[2]);
}

static enum status find_basis(const char *words, struct ratio *ratio, struct fault *f)
{
    enum ratio_basis found = RATIO_BASIS_NONE;
    bool is_shared = false;

    for (int i = RATIO_BASIS_NONE + 1; i < RATIO_BASIS_COUNT; i++)
        if (strcmp(words, ratio_basis_words((enum ratio_basis)i)) == 0)
            found = (enum ratio_basis)i;
    for (size_t i = 0; i < sizeof SPELLINGS / sizeof SPELLINGS[0]; i++)
        if (strcmp(words, SPELLINGS[i].words) == 0) {
            found = SPELLINGS[i].basis;
            is_shared = found == RATIO_BASIS_NONE;
        }
    if (is_shared)
        return fault_set(f, ST_RANGE, "ratio",
                         "\"%s\" is not one measure: the imperial one is 20 %% larger than the US one. "
                         "Say imperial or us: " BASES ".",
                         words);
    if (words[0] == '\0')
        return say_no_basis(ratio, f);
    if (found == RATIO_BASIS_NONE)
        return fault_set(f, ST_RANGE, "ratio", "\"%s\" is not known as a basis. Say " BASES ".", words);
    ratio->basis = found;
    return ST_OK;
}

enum status ratio_parse(const char *text, struct ratio *ratio, struct fault *f)
{
    struct ratio read = {0};
    char words[WORDS_MAX];
    const char *at = text == NULL ? NULL : read_number(text, &read.first);
    double strength_pct;
    enum status status;

    if (at != NULL)
        at = skip_blanks(at);
    at = at == NULL || *at != ':' ? NULL : read_number(at + 1, &read.second);
    if (at == NULL || (*at == ',' && is_digit(at[1])))
        return fault_set(f, ST_RANGE, "ratio",
                         "This is not a ratio. Write two numbers with a colon and the basis, with a decimal "
                         "point and not a comma, like \"5:3 by weight\".");
    if (!(read.first >= 0.001 && read.first <= 10000) || !(read.second >= 0.001 && read.second <= 10000))
        return fault_set(f, ST_RANGE, "ratio",
                         "The numbers of a ratio are within 0.001 and 10000; this is %g:%g.", read.first,
                         read.second);
    if (!read_words(at, words))
        return fault_set(f, ST_RANGE, "ratio", "The basis is too long. Say " BASES ".");
    read.order = cut_order(words);
    status = find_basis(words, &read, f);
    if (status != ST_OK)
        return status;
    if (ratio_strength_eval(&read, &strength_pct) != ST_OK)
        return fault_set(
            f, ST_RANGE, "ratio",
            "So much sugar does not fit: a litre of the strongest syrup known here, 85 %%, holds "
            "1.2 kg, an imperial gallon 12 lb, a US gallon 10 lb. This is %g:%g %s, %s.",
            read.first, read.second, ratio_basis_words(read.basis), ratio_order_words(read.order));
    *ratio = read;
    return ST_OK;
}
