/* bind_value.h - one scalar into one field, by the row's type. Used by bind.c alone. */
#ifndef SETTINGS_BIND_VALUE_H
#define SETTINGS_BIND_VALUE_H

#include "settings/bind.h"

#define BIND_WHY_MAX 192
#define BIND_ALLOWED_MAX 192

/* Store text at field. false: *field is unchanged and why says what is wrong with it; why is ""
 * when the value was understood but is outside the row's range. */
bool bind_value_store(const struct bind_row *row, const char *text, bool is_quoted, const char *folder,
                      void *field, char why[BIND_WHY_MAX]) MUST_USE;

/* "a number from 20 to 20000", "one of none, even, odd". */
void bind_value_allowed(const struct bind_row *row, char out[BIND_ALLOWED_MAX]);

#endif
