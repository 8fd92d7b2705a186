# common.sh - sourced by the wire tests: the real programs as processes, one line for each case.
#
# A test is called as `sh tests/wire/test_NAME.sh BUILD`, prints "ok - ...", "not ok - ..." or
# "skip - ..." for each case, and ends with status 1 when one was not ok. jq reads the JSON.
# shellcheck shell=sh disable=SC2034
set -u
ROOT=$(cd "$(dirname "$0")/../.." && pwd -P) || exit 1
PROGRAM=tests/wire/${0##*/}
. "$ROOT/tests/support/prepare.sh"
. "$ROOT/tests/support/tank.sh"
BUILD=${1:-$ROOT/build/tests}
[ -x "$BUILD/syrupwrightd" ] || fail "There are no programs in $BUILD; build first: sh tests/run."
TANK_FILE=$ROOT/config/tanks/demo.yaml
BAD=0

# check NAME COMMAND...: one case.
check()
{
    case_name=$1
    shift
    if "$@"; then
        printf 'ok - %s\n' "$case_name"
    else
        printf 'not ok - %s\n' "$case_name"
        BAD=$((BAD + 1))
    fi
}

skip()
{
    printf 'skip - %s\n' "$*"
}

# Everything that helps to understand a failure, then the end.
finish()
{
    if [ "$BAD" -gt 0 ]; then
        for log in sim daemon person; do
            [ ! -s "$RUN/$log.log" ] || {
                printf '%s\n' "--- the end of $log.log"
                tail -n 25 "$RUN/$log.log"
            }
        done
        exit 1
    fi
    exit 0
}

# Stop here: what follows would only repeat the failure.
give_up()
{
    check "$1" false
    finish
}

# state FILTER: one value out of the daemon's state.
state()
{
    ask state --json 2>/dev/null | jq -r "(.state // .) | $1" 2>/dev/null
}

# truth FILTER [FILE]: one value out of what really is in the tank.
truth()
{
    if [ -n "${2:-}" ]; then
        jq -r "$1" "$2"
    else
        act truth | sed 's/^ok //' | jq -r "$1"
    fi
}

# near SEEN EXPECTED TOLERANCE; says the numbers when they are apart.
near()
{
    awk -v seen="$1" -v expected="$2" -v tolerance="$3" 'BEGIN {
        apart = seen - expected
        if (apart < 0) apart = -apart
        if (seen == "" || seen == "null" || apart > tolerance) {
            printf "seen %s, expected %s within %s\n", seen, expected, tolerance
            exit 1
        }
    }'
}

contains()
{
    case $1 in
    *"$2"*) return 0 ;;
    esac
    printf 'expected to find "%s" in: %s\n' "$2" "$1"
    return 1
}

same()
{
    [ "$1" = "$2" ] || {
        printf 'seen "%s", expected "%s"\n' "$1" "$2"
        return 1
    }
}

batch_start()
{
    ask release >"$RUN/release.txt" 2>&1 || give_up "release after power-up: $(cat "$RUN/release.txt")"
    ask start --litres 600 --strength 62.5 --acid citric --ph 4.3 --sugar-lot "Hollin Sugar HS-2231" \
        --acid-lot "Brackwater Chemicals C-118" --water-source "Larkmoor Apiary, well" \
        >"$RUN/start.txt" 2>&1 || give_up "start: $(cat "$RUN/start.txt")"
    BATCH=$(state .batch)
    person_start
}

state_is()
{
    [ "$(state .state)" = "$1" ]
}

step_is()
{
    [ "$(state .step)" = "$1" ]
}

# Every output of the daemon's last word is 0.
outputs_are_off()
{
    same "$(state '[.outputs[] | select(. != 0)] | length')" 0
}

# batch_follow SECONDS [STEP]: until the batch is no longer under way, or has come to STEP. When
# the water has just been acidified, what is truly in the tank is kept in acidified.json.
batch_follow()
{
    rounds=$(($1 * 5))
    last=""
    while [ "$rounds" -gt 0 ]; do
        rounds=$((rounds - 1))
        now=$(state '.state + " " + .step')
        [ "$last" != "running acidify" ] || [ "$now" = "$last" ] ||
            act truth | sed 's/^ok //' >"$RUN/acidified.json"
        last=$now
        case $now in
        "running ${2:-.}") return 0 ;;
        complete* | stopped* | aborted* | held* | idle*) [ $# -eq 1 ] && return 0 ;;
        '') kill -0 "$DAEMON_PID" 2>/dev/null || return 1 ;;
        esac
        sleep 0.1
    done
    printf 'the batch is still %s after %s s\n' "$last" "$1"
    return 1
}

# The bars of a good batch, against what is truly in the tank.
batch_judge()
{
    strength=$(truth .strength_pct)
    check "the true strength ($strength %) is within 0.2 of 62.5 %" near "$strength" 62.5 0.2
    if [ -s "$RUN/acidified.json" ]; then
        ph=$(truth .ph "$RUN/acidified.json")
        check "the acidified water's true pH ($ph) is within 0.1 of 4.3" near "$ph" 4.3 0.1
    else
        check "the end of acidifying was seen" false
    fi
    check "it never boiled, ran dry or over" \
        same "$(truth '[.boiled, .dry_heated, .overflowed] | any')" false
    check "nothing is left undissolved" near "$(truth .solid_kg)" 0 0.05
}
