/* Numbers as people type them, and as they are printed. */
#include "fuzz/fuzz.h"

#include "client/numbers.h"

#include <math.h>

static void print_any(double value, int decimals)
{
    char out[NUMBER_TEXT_MAX];
    struct fault f;
    double again = -1;

    fuzz_claim(duration_print(value, out)[0] != '\0' && strlen(out) < sizeof out - 1);
    (void)number_print(value, decimals, out);
    fuzz_claim(strlen(out) < sizeof out - 1); /* nothing was cut */
    if (strcmp(out, "unknown") == 0)
        return;
    fuzz_claim(number_parse("--x", out, &again, &f) == ST_OK);
    fuzz_claim(fabs(again - value) <= 0.51 * pow(10, -decimals) + fabs(value) * 1e-15);
}

static void parse(const char *text)
{
    struct fault f = {0};
    double value = -1.5;
    int whole = -1;

    if (number_parse("--x", text, &value, &f) == ST_OK) {
        fuzz_claim(isfinite(value));
        print_any(value, 3);
    } else {
        fuzz_claim(f.code == ST_RANGE && f.text[0] != '\0' && fabs(value + 1.5) <= 0);
    }
    if (number_whole_parse("--limit", text, 1, 1000, &whole, &f) == ST_OK)
        fuzz_claim(whole >= 1 && whole <= 1000);
    else
        fuzz_claim(f.code == ST_RANGE && f.text[0] != '\0' && whole == -1);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = fuzz_text(data, size);
    double value;

    parse(text);
    if (size >= sizeof value) {
        memcpy(&value, data, sizeof value);
        print_any(value, data[0] % 7);
    }
    free(text);
    return 0;
}
