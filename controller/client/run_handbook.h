/* run_handbook.h - what the files of the handbook command share. */
#ifndef CLIENT_RUN_HANDBOOK_H
#define CLIENT_RUN_HANDBOOK_H

#include "client/arguments.h"

/* handbook convert; the exit status. */
int run_handbook_convert(const struct arguments *arguments);

/* Print an object that may be NULL because memory was short; the exit status. It stays the caller's. */
int handbook_print_json(const struct arguments *arguments, const json_t *object);

/* Everything has been printed: did it arrive? The exit status, with a sentence if not. */
int handbook_flush(void);

#endif
