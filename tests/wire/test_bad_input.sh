#!/bin/sh
# Bad input at each door: a clear sentence, a defined state, and nothing lost.
. "$(dirname "$0")/common.sh"

tank_open "$BUILD" ""

# ---- the tank file: all errors at once, each with its line ----
sed -e 's/^\( *capacity_l:\).*/\1 40,5/' -e 's/^\( *heater_kw:\).*/\1 warm/' "$TANK_FILE" >"$RUN/bad.yaml"
printf 'surprise: 1\n' >>"$RUN/bad.yaml"
cp -r "$ROOT/config/devices" "$RUN/devices"
"$BIN/syrupwrightd" "$RUN/bad.yaml" >"$RUN/bad.txt" 2>&1
check "a wrong tank file ends the start" same "$(($? != 0))" 1
for key in capacity_l heater_kw surprise; do
    check "the error names $key" contains "$(cat "$RUN/bad.txt")" "$key"
done
check "and file and line" grep -q 'bad\.yaml:[0-9]' "$RUN/bad.txt"
"$BIN/syrupwrightd" "$RUN/none.yaml" >"$RUN/none.txt" 2>&1
check "a missing tank file is named" contains "$(cat "$RUN/none.txt")" none.yaml

# ---- the shell, without a daemon ----
ask state >"$RUN/none.txt" 2>&1
check "no daemon: the command line fails" same "$(($? != 0))" 1
check "and says how to start one" contains "$(cat "$RUN/none.txt")" syrupwrightd
ask fluff >"$RUN/none.txt" 2>&1
check "an unknown verb is wrong usage" same "$?" 64

# fails_as STATUS CODE WORDS...: the exit status, and with --json one line that says ok false and why.
fails_as()
{
    wanted=$1 code=$2
    shift 2
    ask "$@" --json >"$RUN/fails.json" 2>"$RUN/fails.txt"
    same "$?" "$wanted" && same "$(jq -r .ok "$RUN/fails.json")" false &&
        same "$(jq -r '.error.code // (.errors | length > 0)' "$RUN/fails.json")" "$code" &&
        [ -s "$RUN/fails.txt" ]
}
check "a missing tank file is status 66" fails_as 66 not_found check "$RUN/none.yaml"
check "for a plan too" fails_as 66 not_found plan --tank "$RUN/none.yaml" --litres 600 --strength 62.5
check "a wrong one 78, with its errors as a list" fails_as 78 true check "$RUN/bad.yaml"
check "a plan that cannot be made is told to programs" fails_as 1 refused plan --tank "$TANK_FILE" --litres 9000 --strength 62.5
check "no daemon is status 69" fails_as 69 link_down state
check "a certificate that is none is refused" fails_as 65 bad_reply verify "$RUN/bad.yaml"

sim_start 14
daemon_start "$TANK_FILE"

# ---- the shell, with one ----
refuse()
{
    wanted=$1
    shift
    ask "$@" >"$RUN/refused.txt" 2>&1 && {
        printf 'was taken: %s\n' "$*"
        return 1
    }
    contains "$(cat "$RUN/refused.txt")" "$wanted"
}
ask release >"$RUN/release.txt" 2>&1
check "95 % cannot be made" refuse "%" start --litres 600 --strength 95
check "5000 L do not fit" refuse "800" start --litres 5000 --strength 62.5
check "a ratio without its basis is refused" refuse "weight" plan --litres 600 --ratio 5:3
check "a number with a comma is refused" refuse "62,5" plan --litres 600 --strength 62,5
check "an unknown question cannot be answered" refuse "question" answer "done" --prompt 77
check "a certificate that does not exist" refuse "no certificate" certificate 1999-0001
check "nothing of this started a batch" same "$(state .state)" idle

# ---- the control socket ----
say_raw()
{
    printf '%s\n' "$1" | timeout 5 nc -N -U "$SYRUPWRIGHT_CONTROL"
}
check "garbage is answered" contains "$(say_raw 'hello? anybody')" '"ok":false'
check "an unknown version names the known ones" contains "$(say_raw '{"v":99,"verb":"state"}')" '"versions":[1]'
check "an unknown verb is refused" contains "$(say_raw '{"v":1,"verb":"explode"}')" '"ok":false'
check "a line of garbage does not end the talk" \
    same "$(printf '\001\002\n{"v":1,"verb":"hello"}\n' | timeout 5 nc -N -U "$SYRUPWRIGHT_CONTROL" | grep -c '"ok"')" 2
long=$(head -c 65600 /dev/zero | tr '\0' x)
check "a line too long is refused" contains "$(say_raw "$long")" '"ok":false'
check "an unknown key is named" \
    contains "$(say_raw '{"v":1,"verb":"plan","request":{"volume_l":600,"strength_pct":60,"sweetness":9}}')" sweetness
check "the daemon goes on" same "$(state .state)" idle

# ---- who may do what ----
if [ "$(id -u)" = 0 ]; then
    chmod 755 "$RUN"
    stranger="setpriv --reuid=65534 --regid=65534 --clear-groups env SYRUPWRIGHT_CONTROL=$SYRUPWRIGHT_CONTROL"
    $stranger "$BIN/syrupwright" state >"$RUN/stranger.txt" 2>&1
    check "a stranger may look" same "$?" 0
    $stranger "$BIN/syrupwright" start --litres 600 --strength 62.5 >"$RUN/stranger.txt" 2>&1
    check "but not start a batch" same "$?" 77
else
    skip "another user may only look (needs root to become another user)"
fi

# ---- the wire: devices that answer wrong, late, short or never ----
device_fault()
{
    act fault "$@" >"$RUN/fault.txt" || give_up "fault $*: $(cat "$RUN/fault.txt")"
    check "the temperature module, $1: its reading goes bad" wait_until 60 "$DAEMON_PID" warmth_is bad
    act fault clear >"$RUN/fault.txt"
    check "the temperature module, $1: and comes back" wait_until 60 "$DAEMON_PID" warmth_is good
}
warmth_is()
{
    [ "$(state .values.tank_temp_c.quality)" = "$1" ]
}
device_fault exception 1
device_fault short 1
device_fault silent 1
device_fault slow 1 3000

# ---- the tank's other door ----
act bag >"$RUN/bag.txt" 2>&1
check "a bag against a closed lid is refused" contains "$(cat "$RUN/bag.txt")" lid
act dance >"$RUN/bag.txt" 2>&1
check "an unknown act is refused" contains "$(cat "$RUN/bag.txt")" error
check "the daemon still answers" same "$(state .state)" idle
finish
