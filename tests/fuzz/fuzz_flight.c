/* The recorded scan inputs: any bytes as a stream. What decodes comes back the same once more. */
#include "fuzz/fuzz.h"
#include "records/flight.h"

static void encode_again(struct flight *encoder, struct flight *decoder, const struct scan_in *in)
{
    static struct scan_in back;
    static unsigned char bytes[FLIGHT_SCAN_MAX];
    size_t used = 0, length = flight_encode(encoder, in, bytes);

    fuzz_claim(length > 0 && length <= sizeof bytes);
    fuzz_claim(flight_decode(decoder, bytes, length, &used, &back, NULL) == ST_OK);
    fuzz_claim(used == length && memcmp(in, &back, sizeof back) == 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static struct flight flight, encoder, decoder;
    static struct scan_in in;
    unsigned char *bytes = malloc(size > 0 ? size : 1); /* exact, so that one byte too far is seen */
    struct fault f = {0};
    size_t at = 0, used = 0;

    fuzz_claim(bytes != NULL);
    memcpy(bytes, data, size);
    flight_start(&flight);
    flight_start(&encoder);
    flight_start(&decoder);
    while (at < size && flight_decode(&flight, bytes + at, size - at, &used, &in, &f) == ST_OK) {
        fuzz_claim(used > 0 && used <= size - at);
        at += used;
        encode_again(&encoder, &decoder, &in);
    }
    fuzz_claim(at == size || (f.code == ST_BAD_REPLY && f.text[0] != '\0'));
    free(bytes);
    return 0;
}
