#include "remote/peer.h"

#include <errno.h>
#include <grp.h>
#include <pwd.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

#define LOOKUP_MAX 16384
#define GROUPS_FIRST 64

enum role peer_role_decide(const struct peer_facts *facts)
{
    enum role role = facts->is_root ? ROLE_SUPERVISOR : ROLE_LOOKER;

    if (facts->is_owner && facts->owner_role < ROLE_COUNT && facts->owner_role > role)
        role = facts->owner_role;
    for (int i = ROLE_HELPER; i < ROLE_COUNT; i++)
        if (facts->is_in_group[i] && (enum role)i > role)
            role = (enum role)i;
    return role;
}

const char *peer_role_group(enum role role, const struct settings *settings)
{
    switch (role) {
    case ROLE_HELPER:
        return settings->helper_group;
    case ROLE_OPERATOR:
        return settings->operator_group;
    case ROLE_SUPERVISOR:
        return settings->supervisor_group;
    default:
        return "";
    }
}

static bool gid_find(const char *group, gid_t *gid)
{
    char buffer[LOOKUP_MAX];
    struct group entry;
    struct group *found = NULL;

    if (group[0] == '\0' || getgrnam_r(group, &entry, buffer, sizeof buffer, &found) != 0 || found == NULL)
        return false;
    *gid = found->gr_gid;
    return true;
}

/* All groups of a user; malloc'ed, count 0 when they cannot be had: doubt gives no role. */
static gid_t *groups_list(const char *user, gid_t primary, int *count)
{
    gid_t *groups = NULL;

    *count = GROUPS_FIRST;
    for (int attempt = 0; attempt < 3; attempt++) {
        gid_t *larger = realloc(groups, (size_t)*count * sizeof *groups);
        if (larger == NULL)
            break;
        groups = larger;
        if (getgrouplist(user, primary, groups, count) >= 0)
            return groups;
    }
    *count = 0;
    return groups;
}

static void memberships_fill(const char *user, gid_t primary, const struct settings *settings,
                             struct peer_facts *facts)
{
    int count;
    gid_t *groups = groups_list(user, primary, &count);

    for (int role = ROLE_HELPER; role < ROLE_COUNT; role++) {
        gid_t wanted;
        if (!gid_find(peer_role_group((enum role)role, settings), &wanted))
            continue;
        for (int i = 0; i < count && !facts->is_in_group[role]; i++)
            facts->is_in_group[role] = groups[i] == wanted;
    }
    free(groups);
}

void peer_describe(uid_t uid, const struct settings *settings, struct who *who)
{
    char buffer[LOOKUP_MAX];
    struct passwd entry;
    struct passwd *found = NULL;
    struct peer_facts facts = {
        .is_root = uid == 0, .is_owner = uid == geteuid(), .owner_role = settings->owner_role};

    memset(who, 0, sizeof *who);
    who->uid = uid;
    who->door = DOOR_SHELL;
    if (getpwuid_r(uid, &entry, buffer, sizeof buffer, &found) == 0 && found != NULL) {
        (void)snprintf(who->name, sizeof who->name, "%s", found->pw_name);
        memberships_fill(found->pw_name, found->pw_gid, settings, &facts);
    } else {
        (void)snprintf(who->name, sizeof who->name, "uid %lu", (unsigned long)uid);
    }
    who->role = peer_role_decide(&facts);
}

enum status peer_identify(int fd, const struct settings *settings, struct who *who, struct fault *f)
{
    struct ucred peer;
    socklen_t size = sizeof peer;

    if (getsockopt(fd, SOL_SOCKET, SO_PEERCRED, &peer, &size) != 0)
        return fault_set(f, ST_SYSTEM, "", "the system does not say who is connected: %s", strerror(errno));
    peer_describe(peer.uid, settings, who);
    return ST_OK;
}
