# tank.sh - a simulated tank and its daemon as real processes, and their end.
#
# Sourced after prepare.sh, POSIX sh, by simulator/demo and the wire tests. Everything that must
# not outlive the caller is in one folder below /tmp (a socket's path may be 107 bytes at most) and
# in two process numbers; tank_close ends and removes them, whatever happened.
# shellcheck shell=sh

RUN=""
SIM_PID=""
DAEMON_PID=""
HELPER_PID=""
WATCH_PID=""

# tank_open BUILD RECORDS: BUILD holds the programs; RECORDS "" puts the records into the run folder.
tank_open()
{
    BIN=$1
    RUN=$(mktemp -d "/tmp/syrupwright.${TANK_MARK:-$$}.XXXXXX") || fail "No folder can be made in /tmp; is the disk full?"
    trap tank_close EXIT
    trap 'exit 130' INT
    trap 'exit 143' TERM HUP
    SYRUPWRIGHT_CONTROL=$RUN/control
    SYRUPWRIGHT_SIM_CLOCK=$RUN/clock
    SYRUPWRIGHT_SIM_ACTS=$RUN/acts
    SYRUPWRIGHT_RECORDS=${2:-$RUN/records}
    export SYRUPWRIGHT_CONTROL SYRUPWRIGHT_SIM_CLOCK SYRUPWRIGHT_SIM_ACTS SYRUPWRIGHT_RECORDS
    mkdir -p "$SYRUPWRIGHT_RECORDS" || fail "The folder $SYRUPWRIGHT_RECORDS cannot be made."
}

# process_end PID NAME: ask, wait up to ten seconds, then force. Returns the exit status.
process_end()
{
    tries=0
    kill -TERM "$1" 2>/dev/null || true
    while kill -0 "$1" 2>/dev/null; do
        tries=$((tries + 1))
        if [ "$tries" -gt 100 ]; then
            printf '%s did not end when asked and was killed\n' "$2" >&2
            kill -KILL "$1" 2>/dev/null || true
        fi
        sleep 0.1
    done
    wait "$1"
}

daemon_stop()
{
    [ -n "$DAEMON_PID" ] || return 0
    ending=$DAEMON_PID
    DAEMON_PID=""
    process_end "$ending" syrupwrightd
}

sim_stop()
{
    [ -n "$SIM_PID" ] || return 0
    ending=$SIM_PID
    SIM_PID=""
    process_end "$ending" syrupwright-sim
}

helper_stop()
{
    [ -n "$HELPER_PID" ] || return 0
    ending=$HELPER_PID
    HELPER_PID=""
    process_end "$ending" "the simulated person"
}

watch_stop()
{
    [ -n "$WATCH_PID" ] || return 0
    ending=$WATCH_PID
    WATCH_PID=""
    process_end "$ending" "syrupwright watch"
}

# The daemon ends first: it switches everything off, and for that the tank must still be there.
tank_close()
{
    status=$?
    trap - EXIT
    trap '' INT TERM HUP
    watch_stop >/dev/null 2>&1
    helper_stop >/dev/null 2>&1
    daemon_stop >/dev/null 2>&1
    sim_stop >/dev/null 2>&1
    [ -z "$RUN" ] || rm -rf "$RUN"
    exit "$status"
}

# wait_until SECONDS PID COMMAND...: until the command succeeds; fails at once when PID is gone.
wait_until()
{
    ticks=$(($1 * 10))
    watched=$2
    shift 2
    while ! "$@"; do
        ticks=$((ticks - 1))
        [ "$ticks" -gt 0 ] && kill -0 "$watched" 2>/dev/null || return 1
        sleep 0.1
    done
}

# Called through wait_until.
sim_is_ready()
{
    grep -q '^ready port=' "$RUN/sim.log" 2>/dev/null
}

daemon_is_ready()
{
    [ -S "$SYRUPWRIGHT_CONTROL" ] && "$BIN/syrupwright" state --json >/dev/null 2>&1
}

# sim_start SEED [OPTION...]
sim_start()
{
    seed=$1
    shift
    "$BIN/syrupwright-sim" run --port "${SYRUPWRIGHT_SIM_PORT:-0}" --clock "$SYRUPWRIGHT_SIM_CLOCK" \
        --acts "$SYRUPWRIGHT_SIM_ACTS" --seed "$seed" --rate 0 "$@" >"$RUN/sim.log" 2>&1 </dev/null &
    SIM_PID=$!
    if ! wait_until 20 "$SIM_PID" sim_is_ready; then
        cat "$RUN/sim.log" >&2
        fail "The simulated tank did not start; its own words are above."
    fi
    SYRUPWRIGHT_SIM_PORT=$(sed -n 's/^ready port=\([0-9]*\).*/\1/p' "$RUN/sim.log" | head -n 1)
    export SYRUPWRIGHT_SIM_PORT
}

# daemon_start TANKFILE
daemon_start()
{
    "$BIN/syrupwrightd" "$1" >>"$RUN/daemon.log" 2>&1 </dev/null &
    DAEMON_PID=$!
    if ! wait_until 20 "$DAEMON_PID" daemon_is_ready; then
        tail -n 30 "$RUN/daemon.log" >&2
        fail "The daemon did not start; its own words are above."
    fi
}

# What a person does and reads at the simulated tank.
act()
{
    "$BIN/syrupwright-sim" act --acts "$SYRUPWRIGHT_SIM_ACTS" "$@"
}

# person_start [OPTION...]: the simulated helper answers questions until the batch ends.
person_start()
{
    "$BIN/syrupwright-sim" person --control "$SYRUPWRIGHT_CONTROL" --acts "$SYRUPWRIGHT_SIM_ACTS" "$@" \
        >"$RUN/person.log" 2>&1 </dev/null &
    HELPER_PID=$!
}

ask()
{
    "$BIN/syrupwright" "$@"
}
