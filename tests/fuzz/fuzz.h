/* fuzz.h - what every fuzz program here uses: the entry the library calls, a text, a claim. */
#ifndef TESTS_FUZZ_H
#define TESTS_FUZZ_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);
int LLVMFuzzerInitialize(int *argc, char ***argv);

/* What must hold for every input; the input that breaks it is kept as a crash. */
#define fuzz_claim(condition)                                                                                \
    do {                                                                                                     \
        if (!(condition)) {                                                                                  \
            (void)fprintf(stderr, "%s:%d: does not hold: %s\n", __FILE__, __LINE__, #condition);             \
            abort();                                                                                         \
        }                                                                                                    \
    } while (0)

/* A copy that ends with its own zero, so that reading one byte too far is seen. The caller frees it. */
static inline char *fuzz_text(const uint8_t *data, size_t size)
{
    char *text = malloc(size + 1);

    fuzz_claim(text != NULL);
    memcpy(text, data, size);
    text[size] = '\0';
    return text;
}

#endif
