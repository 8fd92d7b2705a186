/* What the functions of the handbook are about: by their names and words, by what they take and give, and by
 * what people call it. */
#include "client/handbook_show.h"

#include <string.h>

#define WORD_MIN 4 /* so long a beginning of a word stands for it: "crystallize" is about "crystal" */

/* Words that are not in the handbook, and what is there for them, in a name or in words. */
static const struct {
    const char *said;
    const char *meant;
} SYNONYMS[] = {
    {"brix", "strength"},
    {"sweetness", "strength"},
    {"gallon", "unit convert"},
    {"gallon", "ratio strength"},
    {"pound", "unit convert"},
    {"pound", "ratio strength"},
    {"ounce", "unit convert"},
    {"pint", "unit convert"},
    {"pint", "ratio strength"},
    {"fahrenheit", "unit"},
    {"celsius", "unit"},
    {"weight", "sucrose density"},
    {"weight", "sucrose parts"},
    {"weight", "ratio strength"},
    {"hardness", "alkalinity"},
    {"hardness", "acid for ph"},
    {"flow", "viscosity"},
    {"thickness", "viscosity"},
    {"ferment", "water activity"},
    {"mould", "water activity"},
    {"spoil", "water activity"},
    {"sugar out", "saturation"},
    {"crystal", "saturation"},
    {"crystal", "solubility"},
    {"dilute", "thin"},
    {"citric", "acid for ph"},
    {"lemon", "acid for ph"},
    {"vinegar", "acid for ph"},
    {"yield", "mix volume"},
    {"boil", "boiling"},
    {"elevation", "altitude"},
    {"height", "altitude"},
    {"burn", "skin"},
    {"scald", "skin"},
    {"blister", "skin burn"},
    {"refractometer", "reading"},
    {"refractometer", "refractive index"},
    {"syrup", "sucrose"},
    {"syrup", "blend"},
    {"sugar", "sucrose"},
    {"steam", "evaporat"},
    {"invert", "inversion"},
    {"probe", "electrode"},
    {"tolerance", "decision"},
};

static char folded(char c)
{
    if (c >= 'A' && c <= 'Z')
        c = (char)(c - 'A' + 'a');
    if (c == '_' || c == '-')
        c = ' ';
    return c;
}

static bool is_same(const char *a, const char *b, size_t length)
{
    size_t i = 0;

    while (i < length && a[i] != '\0' && folded(a[i]) == folded(b[i]))
        i++;
    return i == length;
}

/* Do the first letters of part stand anywhere in the whole? */
static bool is_within_text(const char *whole, const char *part, size_t length)
{
    for (; *whole != '\0'; whole++)
        if (is_same(whole, part, length))
            return true;
    return false;
}

static bool is_called(const struct handbook_entry *entry, const char *part, size_t length)
{
    return is_within_text(entry->name, part, length) || is_within_text(entry->words, part, length);
}

/* In the names of inputs or results, or in those of choices, but for the units of unit_convert. */
static bool is_among(const struct handbook_quantity *q, const char *part, size_t length)
{
    for (; q->name != NULL; q++) {
        if (is_within_text(q->name, part, length))
            return true;
        if (q->choice == NULL || q->choice == unit_name)
            continue;
        for (int i = (int)q->min; i <= (int)q->max; i++)
            if (is_within_text(q->choice(i), part, length))
                return true;
    }
    return false;
}

/* One is the beginning of the other, and what is left is no further word. */
static bool is_said(const char *said, const char *part, size_t length)
{
    size_t said_length = strlen(said);
    size_t common = said_length < length ? said_length : length;

    if (common < WORD_MIN || !is_same(said, part, common))
        return false;
    for (size_t i = common; i < length; i++)
        if (folded(part[i]) == ' ')
            return false;
    return true;
}

static bool is_synonym(const struct handbook_entry *entry, const char *part, size_t length)
{
    for (size_t i = 0; i < sizeof SYNONYMS / sizeof SYNONYMS[0]; i++) {
        const char *meant = SYNONYMS[i].meant;

        if (is_said(SYNONYMS[i].said, part, length) && is_called(entry, meant, strlen(meant)))
            return true;
    }
    return false;
}

static bool has_part(const struct handbook_entry *entry, const char *part, size_t length)
{
    return is_called(entry, part, length) || is_among(entry->inputs, part, length) ||
           is_among(entry->outputs, part, length) || is_synonym(entry, part, length);
}

bool handbook_is_about(const struct handbook_entry *entry, const char *text)
{
    bool has_any = false;

    if (has_part(entry, text, strlen(text)))
        return true;
    while (*text != '\0') {
        size_t length = strcspn(text, " _");

        if (length > 0 && !has_part(entry, text, length))
            return false;
        has_any |= length > 0;
        text += length + (text[length] != '\0');
    }
    return has_any;
}

static bool is_any_about(const char *text)
{
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        for (const struct handbook_entry *e = s->entries; e->name != NULL; e++)
            if (handbook_is_about(e, text))
                return true;
    return false;
}

bool handbook_is_found(const char *text)
{
    for (const struct handbook_section *s = HANDBOOK; s->title != NULL; s++)
        if (is_within_text(s->title, text, strlen(text)))
            return true;
    return is_any_about(text);
}

bool handbook_is_listed(const struct handbook_section *section, const struct handbook_entry *entry,
                        const char *text)
{
    if (text == NULL || handbook_is_about(entry, text))
        return true;
    return is_within_text(section->title, text, strlen(text)) &&
           (strpbrk(text, " _") != NULL || !is_any_about(text));
}
