/* certificate_parts.h - the unsigned certificate as JSON, part by part; for certificate.c alone. */
#ifndef RECORDS_CERTIFICATE_PARTS_H
#define RECORDS_CERTIFICATE_PARTS_H

#include "records/certificate.h"

/* A new object, or NULL when memory is short. */
json_t *certificate_build(const struct certificate_facts *facts);

/* Its lists. */
json_t *certificate_results(const struct certificate_facts *facts);
json_t *certificate_ingredients(const struct certificate_facts *facts);

/* Target met or missed can only be said of a finished batch. */
bool certificate_is_finished(const struct certificate_facts *facts);

/* A new JSON string: a decimal; a text from outside, or `missing` where it is empty. */
json_t *certificate_decimal(double value, int decimals);
json_t *certificate_clean(const char *text, const char *missing);

#endif
