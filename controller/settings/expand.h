/* expand.h - ${NAME} and ${NAME:-default} in paths and ports, from the environment. */
#ifndef SETTINGS_EXPAND_H
#define SETTINGS_EXPAND_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>

#define EXPAND_WHY_MAX 192

/* True when the text asks for a name. */
bool expand_is_needed(const char *text);

/* text with every name replaced, into out. An unset or empty name takes its default; without one
 * it is an error. Results are not expanded again. false: why has one clause, out is undefined. */
bool expand_environment(const char *text, char *out, size_t size, char why[EXPAND_WHY_MAX]) MUST_USE;

#endif
