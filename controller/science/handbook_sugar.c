#include "science/handbook.h"
#include "science/handbook_row.h"
#include "science/handbook_span.h"
#include "science/sucrose.h"
#include "science/sucrose_optics.h"

#define STRENGTH                                                                                             \
    {                                                                                                        \
        "strength_pct", "%", 0, 85, NULL                                                                     \
    }
#define TEMP                                                                                                 \
    {                                                                                                        \
        "temp_c", "degC", 0, 105, NULL                                                                       \
    }

CALL_2(density, sucrose_density_eval)
CALL_2(strength_from_density, sucrose_strength_from_density_eval)
CALL_2(refractive_index, sucrose_refractive_index_eval)
CALL_2(strength_from_index, sucrose_strength_from_index_eval)

static enum status inline_reading(const double in[], double out[])
{
    enum status status = sucrose_strength_from_inline_reading_eval(in[0], in[1], &out[0]);

    if (status == ST_OK)
        out[1] = out[0] - in[0];
    return status;
}

static enum status prism_reading(const double in[], double out[])
{
    enum status status = sucrose_strength_from_prism_reading_eval(in[0], in[1], &out[0]);

    if (status == ST_OK)
        out[1] = out[0] - in[0];
    return status;
}

static enum status acid_correction(const double in[], double out[])
{
    struct span add;

    return span_give(sucrose_acid_correction_eval(in[0], &add), &add, out);
}

static enum status invert_correction(const double in[], double out[])
{
    struct span add;

    return span_give(sucrose_invert_correction_eval(in[0], in[1], &add), &add, out);
}

const struct handbook_entry HANDBOOK_SUGAR[] = {
    {"sucrose_density",
     "Density of a sugar solution",
     {STRENGTH, TEMP},
     {{"density_kg_m3", "kg/m3", 950, 1460, NULL}},
     "",
     "ICUMSA polynomial in Bubnik, Kadlec, Urban, Bruhns, Sugar Technologists Manual (1995) p. 164; water "
     "Kell (1975)",
     "0.1 kg/m3 up to 42 %, 0.5 up to 80 %, 0.8 up to 85 % at 0-50 degC, about 1 above 50 degC; the older "
     "Plato tables lie 0.15 lower at 50 %, 0.5 at 80 %",
     density},
    {"sucrose_strength_from_density",
     "Strength of a sugar solution from its density",
     {{"density_kg_m3", "kg/m3", 950, 1460, NULL}, TEMP},
     {STRENGTH},
     "the strength is within 0-85 %, or beyond by at most 0.1 %, which is answered by 0 or 85",
     "inverse of sucrose_density",
     "0.1 % up to 50 degC, 0.2 % above; 1 kg/m3 wrong is 0.14-0.27 %; 1 degC wrong is at most 0.08 % at 0 "
     "degC, 0.05-0.08 at 20, 0.09-0.14 at 60, 0.08-0.2 at 105",
     strength_from_density},
    {"sucrose_refractive_index",
     "Refractive index of a sugar solution, sodium light, against air",
     {STRENGTH, TEMP},
     {{"index", "", 1.316, 1.509, NULL}},
     "",
     "20 degC: fit to the ICUMSA 1974 scale; else Lorentz-Lorenz with water after IAPWS (1997) and a fit to "
     "the international temperature table of 1936 (10-30 degC)",
     "2e-5 at 20 degC (tables before 1974 are 3e-4 lower at 84 %), 1e-4 at 10-30 degC, 5e-4 at 60 degC, "
     "2e-3 at 105 degC; above 30 degC and above 75 % the part of the sugar is an extrapolation",
     refractive_index},
    {"sucrose_strength_from_index",
     "Strength of a sugar solution from its refractive index at its temperature",
     {{"index", "", 1.31, 1.52, NULL}, TEMP},
     {STRENGTH},
     "the strength is within 0-85 %, or beyond by at most 0.05 %, which is answered by 0 or 85",
     "inverse of sucrose_refractive_index",
     "0.01 % at 20 degC, 0.05 at 10-30 degC, 0.2 at 60 degC (weak solutions 0.35), 1 at 105 degC (weak 1.4)",
     strength_from_index},
    {"sucrose_strength_from_inline_reading",
     "Strength from a refractometer without compensation, scale of 20 degC, by physics",
     {{"reading_pct", "%", 0, 85, NULL}, TEMP},
     {STRENGTH, {"correction_pct", "%", -5, 12, NULL}},
     "for a refractometer in the pipe or a digital one that shows the uncorrected value; a prism (Abbe) one: "
     "sucrose_strength_from_prism_reading; hand-held ones mostly compensate already: then neither. The "
     "strength is within 0-85 %, or beyond by at most 0.05 %, which is answered by 0 or 85",
     "as sucrose_refractive_index",
     "as sucrose_strength_from_index; never for a reading that is already compensated",
     inline_reading},
    {"sucrose_strength_from_prism_reading",
     "Strength from a prism (Abbe) refractometer without compensation, by the correction table",
     {{"reading_pct", "%", 0, 70, NULL}, {"temp_c", "degC", 10, 30, NULL}},
     {{"strength_pct", "%", 0, 71, NULL}, {"correction_pct", "%", -0.8, 0.82, NULL}},
     "for a prism (Abbe) refractometer without compensation; any other: "
     "sucrose_strength_from_inline_reading; "
     "hand-held ones mostly compensate already: then neither. The strength is not below 0, or by at most "
     "0.05 "
     "%, which is answered by 0",
     "international temperature correction table (1936), as in a GOST table A.1 (10-19 and 21 degC); the "
     "rest from memory",
     "0.04 %: as far as the later OIV table differs; never for a reading that is already compensated",
     prism_reading},
    {"sucrose_acid_correction",
     "What to add to a refractometer reading when part of it is citric acid",
     {{"acid_pct", "%", 0, 10, NULL}},
     SPAN_OUTPUTS("pct", "%", 0, 2),
     "",
     "low: index of citric acid solutions, CRC Handbook; high: juice trade table after Stevens and Baier "
     "(1939)",
     "the two disagree, 0.12 and 0.20 per 1 % of acid; best is halfway",
     acid_correction},
    {"sucrose_invert_correction",
     "What to add to a refractometer reading when part of the sugar is invert",
     {{"reading_pct", "%", 0, 85, NULL}, {"invert_pct", "%", 0, 85, NULL}},
     SPAN_OUTPUTS("pct", "%", 0, 2),
     "no more invert than sugar",
     "low: index of glucose and fructose solutions, CRC Handbook; high: 0.022 per 1 %, sugar industry rule "
     "from memory",
     "the two disagree, 0.011-0.018 and 0.022 per 1 % of invert; best is halfway; above 48 % the low one is "
     "extrapolated: held at 0.018, probably too low",
     invert_correction},
    {0},
};
