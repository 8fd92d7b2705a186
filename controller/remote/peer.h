/* peer.h - who is at the other end of the control socket, and what that person may do.
 *
 * Does:      take the uid from the kernel (SO_PEERCRED), find the name, and the role from the
 *            groups named in the settings.
 * Does not:  believe anything the client says about itself.
 * Thread:    the server's; looking up names may read files or ask the system's name service.
 */
#ifndef REMOTE_PEER_H
#define REMOTE_PEER_H

#include "settings/settings.h"

#include <sys/types.h>

struct peer_facts {
    bool is_root;
    bool is_owner; /* the user who runs the daemon */
    enum role owner_role;
    bool is_in_group[ROLE_COUNT]; /* index: the role that the group gives */
};

/* The highest role that any fact gives. Root is supervisor: root could change the groups anyway,
 * and so the record says "root" and not somebody else. */
enum role peer_role_decide(const struct peer_facts *facts);

/* Fill *who for a uid. A uid without a name is called "uid 1234" and belongs to no group. */
void peer_describe(uid_t uid, const struct settings *settings, struct who *who);

/* The same for the peer of a connected Unix socket. ST_SYSTEM when the kernel does not tell. */
enum status peer_identify(int fd, const struct settings *settings, struct who *who, struct fault *f) MUST_USE;

/* The group that gives a role in these settings; "" where none does. */
const char *peer_role_group(enum role role, const struct settings *settings);

#endif
