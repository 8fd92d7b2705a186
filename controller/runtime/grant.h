/* grant.h - the daemon's end of the simulator's grant socket (used by clock.c only).
 *
 * Does:      connect, read "grant <tank_us> <utc_us>", answer "done <tank_us>".
 * Thread:    the control thread; grant_wake from any.
 */
#ifndef RUNTIME_GRANT_H
#define RUNTIME_GRANT_H

#include "base/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct grant {
    int fd;      /* the socket */
    int wake_fd; /* readable once grant_wake was called */
    char buffer[128];
    size_t used;
};

/* Connect to the simulator, trying for at most 5 s. After a failure nothing is open. */
enum status grant_open(const char *path, struct grant *grant, struct fault *f) MUST_USE;
void grant_close(struct grant *grant);

enum grant_result { GRANT_GIVEN, GRANT_WOKEN, GRANT_LOST };

/* Wait for the next grant, as long as it takes. GRANT_LOST: the simulator is gone or speaks
 * nonsense, and the socket must not be used again. */
enum grant_result grant_wait(struct grant *grant, int64_t *tank_us, int64_t *utc_us);

/* Tell the simulator that the scan at tank_us is finished; false: it is gone. */
bool grant_answer(struct grant *grant, int64_t tank_us);

/* Make the present and every later grant_wait return GRANT_WOKEN. */
void grant_wake(struct grant *grant);

#endif
