/* "5:3 by weight" and all that is not. What is read lies in its range and can be written and read again. */
#include "fuzz/fuzz.h"
#include "science/ratio.h"

#include <math.h>

static void read_back(const struct ratio *ratio)
{
    char text[128];
    struct ratio again;

    (void)snprintf(text, sizeof text, "%.9f:%.9f %s, %s", ratio->first, ratio->second,
                   ratio_basis_words(ratio->basis),
                   ratio->order == RATIO_WATER_FIRST ? "water first" : "sugar first");
    fuzz_claim(ratio_parse(text, &again, NULL) == ST_OK);
    fuzz_claim(again.basis == ratio->basis && again.order == ratio->order);
    fuzz_claim(fabs(again.first - ratio->first) < 1e-8 && fabs(again.second - ratio->second) < 1e-8);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size);
    struct ratio ratio = {-1, -2, RATIO_BASIS_COUNT, RATIO_WATER_FIRST};
    struct fault f = {0};
    double pct = -1;

    if (ratio_parse(text, &ratio, &f) == ST_OK) {
        fuzz_claim(ratio.first >= 0.001 && ratio.first <= 10000);
        fuzz_claim(ratio.second >= 0.001 && ratio.second <= 10000);
        fuzz_claim(ratio_strength_eval(&ratio, &pct) == ST_OK && pct > 0 && pct < 100);
        if (ratio.first > 0.002 && ratio.second > 0.002 && ratio.first < 9999 && ratio.second < 9999)
            read_back(&ratio);
    } else {
        fuzz_claim(f.code == ST_RANGE && f.text[0] != '\0');
        fuzz_claim(ratio.basis == RATIO_BASIS_COUNT && ratio.first < 0 && ratio.second < 0);
    }
    free(text);
    return 0;
}
