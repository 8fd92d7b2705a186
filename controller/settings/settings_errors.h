/* settings_errors.h - the list that every reader of a settings file adds to.
 *
 * Does:      keep up to SETTINGS_ERRORS_MAX sentences, count the rest, sort them for reading.
 * Does not:  print, or stop anything: the reader goes on, so that a person sees all errors at once.
 */
#ifndef SETTINGS_ERRORS_H
#define SETTINGS_ERRORS_H

#include "settings/settings.h"

/* Add one sentence for "file:line". A long file name loses its beginning, never the line. */
void settings_errors_add(struct settings_errors *errors, const char *file, int line, const char *format, ...)
    PRINTF_LIKE(4, 5);

/* By file, then line, so that a person can walk down the file once. */
void settings_errors_sort(struct settings_errors *errors);

#endif
