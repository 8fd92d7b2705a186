#include "science/units.h"

#include "science/constants.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

#define PSI_KPA (LB_KG * 9.80665 / (0.0254 * 0.0254) / 1000) /* a pound's weight on a square inch */
/* g/mol; the first two take up two acids each */
#define CACO3_G_MOL 100.087
#define CAO_G_MOL 56.077
#define HCO3_G_MOL 61.017

const struct unit UNITS[] = {
    {"degC", "C c celsius deg_C \u00b0C", "temperature", 1, 0},
    {"degF", "F f fahrenheit deg_F \u00b0F", "temperature", 5.0 / 9, -32},
    {"K", "kelvin", "temperature", 1, (-ZERO_C_K)},
    {"L", "l litre litres liter liters", "volume", 1, 0},
    {"mL", "millilitre millilitres milliliter milliliters", "volume", 0.001, 0},
    {"m3", "m\u00b3 m^3", "volume", 1000, 0},
    {"US gal", "US_gallon US_gallons", "volume", US_GAL_L, 0},
    {"US qt", "US_quart US_quarts", "volume", US_GAL_L / 4, 0},
    {"US pt", "US_pint US_pints", "volume", US_GAL_L / 8, 0},
    {"imp gal", "imp_gallon imp_gallons imperial_gallon imperial_gallons UK_gal", "volume", IMP_GAL_L, 0},
    {"imp qt", "imp_quart imp_quarts imperial_quart imperial_quarts UK_qt", "volume", IMP_GAL_L / 4, 0},
    {"imp pt", "imp_pint imp_pints imperial_pint imperial_pints UK_pt", "volume", IMP_GAL_L / 8, 0},
    {"kg", "kilogram kilograms", "mass", 1, 0},
    {"g", "gram grams", "mass", 0.001, 0},
    {"mg", "milligram milligrams", "mass", 1e-6, 0},
    {"t", "tonne tonnes", "mass", 1000, 0},
    {"lb", "lbs pound pounds", "mass", LB_KG, 0},
    {"oz", "ounce ounces", "mass", LB_KG / 16, 0},
    {"kg/m3", "g/L g/l kg/m\u00b3", "density", 1, 0},
    {"kg/L", "kg/l", "density", 1000, 0},
    {"g/mL", "g/ml g/cm3", "density", 1000, 0},
    {"lb/US gal", "lb/US_gallon", "density", LB_KG / US_GAL_L * 1000, 0},
    {"lb/imp gal", "lb/imp_gallon lb/imperial_gallon", "density", LB_KG / IMP_GAL_L * 1000, 0},
    {"kPa", "kilopascal", "pressure", 1, 0},
    {"Pa", "pascal", "pressure", 0.001, 0},
    {"hPa", "hectopascal", "pressure", 0.1, 0},
    {"mbar", "millibar", "pressure", 0.1, 0},
    {"bar", "", "pressure", 100, 0},
    {"atm", "atmosphere atmospheres", "pressure", ATM_KPA, 0},
    {"mmHg", "", "pressure", 0.133322387415, 0},
    {"psi", "", "pressure", PSI_KPA, 0},
    {"m", "metre metres meter meters", "length", 1, 0},
    {"mm", "millimetre millimetres millimeter millimeters", "length", 0.001, 0},
    {"ft", "foot feet", "length", 0.3048, 0},
    {"s", "second seconds sec", "time", 1, 0},
    {"min", "minute minutes", "time", 60, 0},
    {"h", "hour hours", "time", 3600, 0},
    {"d", "day days", "time", 86400, 0},
    {"1/h", "per_hour /h", "rate", 1, 0},
    {"1/s", "per_second /s", "rate", 3600, 0},
    {"1/min", "per_minute /min", "rate", 60, 0},
    {"1/d", "per_day /d", "rate", 1.0 / 24, 0},
    {"meq/kg", "meq/L meq/l mval/L mval/l", "alkalinity", 1, 0},
    {"mg/L CaCO3", "mg/kg_CaCO3 ppm_CaCO3", "alkalinity", 2 / CACO3_G_MOL, 0},
    {"mg/L HCO3", "mg/kg_HCO3 ppm_HCO3", "alkalinity", 1 / HCO3_G_MOL, 0},
    {"degdH", "\u00b0dH dKH", "alkalinity", 10 * 2 / CAO_G_MOL, 0},
    {"degfH", "\u00b0fH", "alkalinity", 10 * 2 / CACO3_G_MOL, 0},
    {"mol/kg", "", "molality", 1, 0},
    {"mmol/kg", "", "molality", 0.001, 0},
    {"mol/L", "mol/l", "amount in a volume", 1, 0},
    {"mPa s", "mPas mPa*s cP centipoise", "viscosity", 1, 0},
    {"Pa s", "Pas Pa*s", "viscosity", 1000, 0},
    {"mV", "millivolt millivolts", "voltage", 1, 0},
    {"V", "volt volts", "voltage", 1000, 0},
    {"mV/pH", "", "slope of a probe", 1, 0},
    {"pH", "", "acidity", 1, 0},
    {"kJ", "kilojoule kilojoules", "energy", 1, 0},
    {"J", "joule joules", "energy", 0.001, 0},
    {"MJ", "megajoule megajoules", "energy", 1000, 0},
    {"kWh", "", "energy", 3600, 0},
    {"kW", "kilowatt kilowatts", "power", 1, 0},
    {"W", "watt watts", "power", 0.001, 0},
    {"J/(kg K)", "J/kg/K J/kgK", "heat capacity", 1, 0},
    {"kJ/(kg K)", "kJ/kg/K kJ/kgK J/(g_K)", "heat capacity", 1000, 0},
    {"W/(m2 K)", "W/m2/K W/m2K", "heat transfer", 1, 0},
    {"J/cm2", "", "heat of an area", 1, 0},
    {"kJ/kg", "J/g", "heat of a mass", 1, 0},
    {"g/mol", "kg/kmol", "molar mass", 1, 0},
    {"%", "pct percent", "share of a mass", 1, 0},
    {"g/kg", "", "share of a mass", 0.1, 0},
    {"mg/kg", "", "share of a mass", 1e-4, 0},
    {"1", "fraction ratio", "share of a mass", 100, 0},
    {"mg/(kg h)", "mg/kg/h", "growth of a share", 1, 0},
    {NULL, NULL, NULL, 0, 0},
};

_Static_assert(sizeof UNITS / sizeof UNITS[0] == UNIT_COUNT + 1,
               "a new unit: count it in UNIT_COUNT, units.h");

/* Words that mean two things to two people: the program asks instead of choosing. */
static const struct {
    const char *words; /* as struct unit's spelling */
    const char *sentence;
} DOUBTS[] = {
    {"gallon gallons gal", "a gallon is 3.785 L in the USA and 4.546 L in Britain; write US_gal or imp_gal"},
    {"quart quarts qt", "a quart is 0.946 L in the USA and 1.137 L in Britain; write US_qt or imp_qt"},
    {"pint pints pt", "a pint is 0.473 L in the USA and 0.568 L in Britain; write US_pt or imp_pt"},
    {"lb/gal lb/gallon",
     "a gallon is 3.785 L in the USA and 4.546 L in Britain; write lb/US_gal or lb/imp_gal"},
    {"fl_oz floz", "a fluid ounce is not the same in the USA and in Britain; write mL"},
    {"ton tons", "a ton is 907, 1000 or 1016 kg; write t for 1000 kg, or lb"},
    {"mg/L mg/l", "mg/L of what? Alkalinity is written mg/L_CaCO3 or mg/L_HCO3, a density g/L"},
    {"ppm", "ppm of what? Write mg/kg for a share of the mass, mg/L_CaCO3 for alkalinity"},
    {"deg degree degrees \u00b0", "degrees of what? Write degC or degF"},
    {"degH dH \u00b0H", "hardness is not alkalinity; the carbonate hardness is written degdH or degfH"},
    {"Cal kcal", "calories are not known here; 1 kcal is 4.184 kJ"},
};

static bool is_blank(char c)
{
    return c == ' ' || c == '_' || c == '\t';
}

static char folded(char c)
{
    if (c >= 'A' && c <= 'Z')
        c = (char)(c - 'A' + 'a');
    return c;
}

/* Is the text this word of a list? exact: capitals matter throughout. */
static bool is_same(const char *text, size_t text_length, const char *word, size_t length, bool exact)
{
    size_t at = 0;

    /* A milli is no mega, and a kelvin no kilo. */
    exact = exact || length == 1 || (folded(word[0]) == 'm' && word[0] != text[0]);
    for (size_t i = 0; i < length; i++, at++) {
        if (at >= text_length)
            return false;
        if (is_blank(word[i])) {
            if (!is_blank(text[at]))
                return false;
            while (at + 1 < text_length && is_blank(text[at + 1]))
                at++;
        } else if (text[at] != word[i] && (exact || folded(text[at]) != folded(word[i]))) {
            return false;
        }
    }
    return at == text_length;
}

static bool is_listed(const char *text, size_t text_length, const char *words, bool exact)
{
    for (size_t length; *words != '\0'; words += length + (words[length] != '\0')) {
        length = strcspn(words, " ");
        if (is_same(text, text_length, words, length, exact))
            return true;
    }
    return false;
}

/* The text without blanks at its ends. */
static const char *trimmed(const char *text, size_t *length)
{
    while (is_blank(*text))
        text++;
    *length = strlen(text);
    while (*length > 0 && is_blank(text[*length - 1]))
        --*length;
    return text;
}

const struct unit *unit_find(const char *text)
{
    size_t length;

    text = trimmed(text, &length);
    for (int pass = 0; length > 0 && pass < 2; pass++)
        for (const struct unit *u = UNITS; u->name != NULL; u++)
            if (is_same(text, length, u->name, strlen(u->name), pass == 0) ||
                is_listed(text, length, u->spelling, pass == 0))
                return u;
    return NULL;
}

const char *unit_doubt(const char *text)
{
    size_t length;

    text = trimmed(text, &length);
    for (size_t i = 0; length > 0 && i < sizeof DOUBTS / sizeof DOUBTS[0]; i++)
        if (is_listed(text, length, DOUBTS[i].words, false))
            return DOUBTS[i].sentence;
    return NULL;
}

const char *unit_name(int index)
{
    return index >= 0 && index < UNIT_COUNT ? UNITS[index].name : "";
}

enum status unit_convert_eval(double value, const struct unit *from, const struct unit *to, double *converted)
{
    double base = (value + from->offset) * from->factor;
    double result = from == to ? value : base / to->factor - to->offset;

    if (strcmp(from->kind, to->kind) != 0 || !isfinite(value) || !isfinite(base) || !isfinite(result))
        return ST_RANGE;
    if (strcmp(from->kind, UNITS[0].kind) == 0 && base < (-ZERO_C_K))
        return ST_RANGE;
    *converted = result;
    return ST_OK;
}
