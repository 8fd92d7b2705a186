/* "temp=68degF", "temp_c=0..100/10" and all that is not. What is read is finite, a range has as many points
 * as it says and all lie within it, and what is printed is read back. */
#include "fuzz/fuzz.h"

#include "client/handbook_value.h"

#include <math.h>

static void number_check(double value)
{
    char text[HANDBOOK_NUMBER_MAX];
    double again = -1;
    const char *end = handbook_number_read(handbook_number_print(value, text), &again);

    fuzz_claim(strlen(text) < sizeof text - 1);
    fuzz_claim(end != NULL && *end == '\0');
    fuzz_claim(fabs(again - value) <= 1e-6 * fabs(value));
}

static void value_check(const char *text, const struct handbook_value *value)
{
    int count = handbook_value_count(value);
    double low = fmin(value->from, value->to);
    double high = fmax(value->from, value->to);

    fuzz_claim(isfinite(value->from) && isfinite(value->to) && isfinite(value->step) && value->step >= 0);
    fuzz_claim(count >= 1 && count <= HANDBOOK_POINTS_MAX);
    fuzz_claim(value->step > 0 || (count == 1 && fabs(value->from - value->to) <= 0));
    fuzz_claim(value->unit[0] == '\0' || (value->unit > text && value->unit < text + strlen(text)));
    for (int i = 0; i < count; i++) {
        double at = handbook_value_at(value, i);

        fuzz_claim(at >= low && at <= high);
    }
    number_check(value->from);
    number_check(handbook_value_at(value, count - 1));
}

static void text_check(const char *text)
{
    const struct handbook_hint hint = {"temp_c=20", "temp_c=10..40/5"};
    struct handbook_value value = {-1, -2, -3, "untouched"};
    struct fault f = {0};

    if (handbook_value_parse("temp_c", text, &hint, &value, &f) == ST_OK) {
        value_check(text, &value);
        return;
    }
    fuzz_claim(f.code == ST_RANGE && f.text[0] != '\0');
    fuzz_claim(strcmp(value.unit, "untouched") == 0 && fabs(value.from + 1) <= 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *word = fuzz_text(data, size);
    char name[HANDBOOK_WORD_NAME_MAX] = "untouched";
    const char *text = word;
    struct fault f = {0};

    if (handbook_word_split(word, "temp_c=20", name, &text, &f) == ST_OK) {
        fuzz_claim(strlen(name) == (size_t)(text - word) - 1 && strncmp(name, word, strlen(name)) == 0);
        fuzz_claim(strchr(name, '=') == NULL && text[-1] == '=');
    } else {
        fuzz_claim(f.code == ST_REFUSED && f.text[0] != '\0' && strcmp(name, "untouched") == 0);
    }
    text_check(text);
    free(word);
    return 0;
}
