#!/bin/sh
# Who may do what, through real users: nobody looks, a helper holds and answers, an operator
# releases and starts. Makes two users and two groups, and removes them whatever happens.
. "$(dirname "$0")/common.sh"

if [ "$(id -u)" != 0 ]; then
    skip "helper and operator as users of their own (needs root to make users and to become them)"
    exit 0
fi
if ! command -v useradd >/dev/null 2>&1 || ! command -v groupadd >/dev/null 2>&1; then
    skip "helper and operator as users of their own (needs useradd and groupadd; Debian: passwd)"
    exit 0
fi

HELPER=sw-test-h$$
OPERATOR=sw-test-o$$

# The exit status of the test goes through to tank_close.
roles_close()
{
    status=$?
    trap '' INT TERM HUP
    for name in "$HELPER" "$OPERATOR"; do
        ! getent passwd "$name" >/dev/null || userdel "$name" >/dev/null 2>&1
        ! getent group "$name" >/dev/null || groupdel "$name" >/dev/null 2>&1
        ! getent passwd "$name" >/dev/null || printf 'not ok - the user %s was left behind\n' "$name"
        ! getent group "$name" >/dev/null || printf 'not ok - the group %s was left behind\n' "$name"
    done
    (exit "$status")
    tank_close
}

tank_open "$BUILD" ""
trap roles_close EXIT
for name in "$HELPER" "$OPERATOR"; do
    { groupadd "$name" && useradd -M -N -g 65534 -G "$name" -d /nonexistent -s /usr/sbin/nologin "$name"; } \
        >"$RUN/useradd.txt" 2>&1 || give_up "the user $name is made: $(cat "$RUN/useradd.txt")"
done

# The others must come to the socket and to the program, wherever the clone lies.
chmod 755 "$RUN"
cp "$BIN/syrupwright" "$RUN/syrupwright"
mkdir "$RUN/tanks"
sed -e "s/owner_role: supervisor.*/helper_group: $HELPER\\n  operator_group: $OPERATOR/" \
    -e "s#^profiles: .*#profiles: $ROOT/config/devices#" "$TANK_FILE" >"$RUN/tanks/roles.yaml"
sim_start 14
daemon_start "$RUN/tanks/roles.yaml"

# as USER COMMAND...: the command line of that user; what it says is in said.txt.
as()
{
    user=$1
    shift
    setpriv --reuid="$user" --regid=65534 --init-groups \
        env SYRUPWRIGHT_CONTROL="$SYRUPWRIGHT_CONTROL" HOME=/nonexistent \
        "$RUN/syrupwright" "$@" >"$RUN/said.txt" 2>&1
}

# ends STATUS USER COMMAND...
ends()
{
    wanted=$1
    shift
    as "$@"
    ended=$?
    [ "$ended" = "$wanted" ] || {
        printf 'status %s instead of %s: %s\n' "$ended" "$wanted" "$(cat "$RUN/said.txt")"
        return 1
    }
}

question_is_open()
{
    [ "$(state '.prompt.id // 0')" != 0 ]
}

batch_make()
{
    ends "$1" "$2" start --litres 600 --strength 62.5 --sugar-lot "Hollin Sugar HS-2231" \
        --water-source "Larkmoor Apiary, well"
}

# ---- before a batch ----
check "nobody may look" ends 0 nobody state
check "nobody may not hold" ends 77 nobody hold
check "the helper may look" ends 0 "$HELPER" state
check "the helper may not release" ends 77 "$HELPER" release
check "the helper may not start" batch_make 77 "$HELPER"
check "the refusal names the helper" contains "$(cat "$RUN/said.txt")" "$HELPER"
check "nothing of this started a batch" same "$(state .state)" idle
check "the operator may release" ends 0 "$OPERATOR" release
check "the operator may start" batch_make 0 "$OPERATOR"
BATCH=$(state .batch)

# ---- during a batch ----
check "a question comes" wait_until 120 "$DAEMON_PID" question_is_open
check "nobody may not answer" ends 77 nobody answer "done"
check "the helper may answer" ends 0 "$HELPER" answer "done"
check "nobody may still not hold" ends 77 nobody hold
check "the helper may hold" ends 0 "$HELPER" hold
check "and the batch is held" wait_until 20 "$DAEMON_PID" state_is held
check "the helper may not restart" ends 77 "$HELPER" restart
check "the operator may abort" ends 0 "$OPERATOR" abort
check "every output is off" outputs_are_off

as nobody journal "$BATCH"
check "the journal names who started" grep -q "Command start by $OPERATOR" "$RUN/said.txt"
check "and who answered" grep -q "answered by $HELPER" "$RUN/said.txt"
check "and who held" grep -q "Command hold by $HELPER" "$RUN/said.txt"
finish
