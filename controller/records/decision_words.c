#include "records/decision_words.h"

static const struct {
    const char *name;
    const char *words;
} DECISIONS[DECISION_COUNT] = {
    [DECISION_NOT_JUDGED] = {"not_judged", "Not judged."},
    [DECISION_CANNOT_SAY] = {"cannot_say",
                             "Cannot say: the measurement is not certain enough for this tolerance."},
    [DECISION_CONFORMS] = {"conforms", "Conforms."},
    [DECISION_CONFORMS_CONDITIONAL] =
        {"conforms_conditionally",
         "Conforms conditionally: inside the limits, but by less than the uncertainty."},
    [DECISION_FAILS_CONDITIONAL] =
        {"does_not_conform_conditionally",
         "Does not conform, conditionally: outside the limits, but by no more than the uncertainty."},
    [DECISION_FAILS] = {"does_not_conform", "Does not conform."},
};

const char *decision_words_name(enum decision decision)
{
    return DECISIONS[(unsigned)decision < DECISION_COUNT ? decision : DECISION_NOT_JUDGED].name;
}

const char *decision_words_sentence(enum decision decision)
{
    return DECISIONS[(unsigned)decision < DECISION_COUNT ? decision : DECISION_NOT_JUDGED].words;
}

const char *decision_words_rule(void)
{
    return "Guard-banded, non-binary, in the manner of ILAC-G8:09/2019, with a guard band as wide as the "
           "expanded uncertainty U (coverage factor k = 2, about 95 % for a normal distribution). A value "
           "conforms when it lies inside target ± tolerance by at least U; it conforms conditionally when "
           "inside by less; it does not conform, conditionally, when outside by no more than U; it does not "
           "conform when outside by more. Where U is larger than the tolerance, or unknown, nothing is said. "
           "Under this rule, with U as stated and its distribution normal, a value said to conform lies "
           "outside either one of the two limits with a probability below 2.5 %, and outside one or the "
           "other of them below 5 %; both limits count only where U is nearly as large as the tolerance. "
           "The printed, rounded numbers are the ones judged; U is rounded up. What rounding the value adds "
           "is not counted in these probabilities.";
}
