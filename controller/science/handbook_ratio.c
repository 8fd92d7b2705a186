#include "science/handbook.h"
#include "science/ratio.h"
#include "science/science_range.h"
#include "science/units.h"

#define VALUE_MAX 1e12

#define BASES_WORDS                                                                                          \
    "the first word of a basis is the unit of the sugar, the last that of the water, or of the finished "    \
    "syrup at 20 degC where it is made up to a volume (at most 85 %)"

#define RATIO_SOURCE                                                                                         \
    "pound, gallons, pints by law; water 0.9982 kg/L (Kell 1975); dry sugar 0.85 kg/L (trade figure, "       \
    "no source); syrup by sucrose_density"

#define RATIO_ERROR                                                                                          \
    "exact by weight; 0.05 % for water between 10 and 25 degC; 0.06 % made up to a volume; 1.5 % by volume " \
    "of dry sugar, which packs differently"

static const char *basis_name(int index)
{
    return ratio_basis_words((enum ratio_basis)index);
}

static const char *order_name(int index)
{
    return ratio_order_words((enum ratio_order)index);
}

static enum status strength_wrap(const double in[], double out[])
{
    const struct ratio ratio = {in[0], in[1], (enum ratio_basis)in[2], (enum ratio_order)in[3]};

    return ratio_strength_eval(&ratio, &out[0]);
}

static enum status second_wrap(const double in[], double out[])
{
    return ratio_second_eval(in[0], in[1], (enum ratio_basis)in[2], (enum ratio_order)in[3], &out[0]);
}

static enum status convert_wrap(const double in[], double out[])
{
    if (!is_within(in[0], -VALUE_MAX, VALUE_MAX))
        return ST_RANGE;
    return unit_convert_eval(in[0], &UNITS[(int)in[1]], &UNITS[(int)in[2]], &out[0]);
}

const struct handbook_entry HANDBOOK_RATIO[] = {
    {"ratio_strength",
     "Strength of a mix said as a ratio of sugar and water",
     {{"first", "", RATIO_NUMBER_MIN, RATIO_NUMBER_MAX, NULL},
      {"second", "", RATIO_NUMBER_MIN, RATIO_NUMBER_MAX, NULL},
      {"basis", "", RATIO_BY_WEIGHT, RATIO_BASIS_COUNT - 1, basis_name},
      {"order", "", RATIO_SUGAR_FIRST, RATIO_WATER_FIRST, order_name}},
     {{"strength_pct", "%", 0, 100, NULL}},
     BASES_WORDS,
     RATIO_SOURCE,
     RATIO_ERROR,
     strength_wrap},
    {"ratio_second",
     "Second number of the ratio that gives a strength",
     {{"first", "", RATIO_NUMBER_MIN, RATIO_NUMBER_MAX, NULL},
      {"strength_pct", "%", 0.001, 99.999, NULL},
      {"basis", "", RATIO_BY_WEIGHT, RATIO_BASIS_COUNT - 1, basis_name},
      {"order", "", RATIO_SUGAR_FIRST, RATIO_WATER_FIRST, order_name}},
     {{"second", "", RATIO_NUMBER_MIN, RATIO_NUMBER_MAX, NULL}},
     BASES_WORDS,
     RATIO_SOURCE,
     RATIO_ERROR,
     second_wrap},
    {"unit_convert",
     "A value in another unit",
     {{"value", "", -VALUE_MAX, VALUE_MAX, NULL},
      {"from", "", 0, UNIT_COUNT - 1, unit_name},
      {"to", "", 0, UNIT_COUNT - 1, unit_name}},
     {{"converted", "", -1e21, 1e21, NULL}},
     "both units of one kind; no temperature below absolute zero; water reports (meq/kg, mg/L CaCO3, mg/L "
     "HCO3, degdH, degfH) take a litre of water for 1 kg",
     "pound, foot, gallons by law; SI brochure (2019); atm and mmHg by convention; degdH 10 mg/L CaO, degfH "
     "10 mg/L CaCO3 by definition; molar masses CaCO3 100.087, CaO 56.077, HCO3 61.017 g/mol",
     "exact, 1e-12 of the value; between degfH and mg/L CaCO3 too, between the other units of alkalinity "
     "0.002 % by the molar masses; water reports 0.3 % by the litre for 1 kg",
     convert_wrap},
    {0},
};
