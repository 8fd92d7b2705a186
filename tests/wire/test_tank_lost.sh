#!/bin/sh
# The simulated tank dies in the middle of a batch: held, everything off, and said so.
. "$(dirname "$0")/common.sh"

tank_open "$BUILD" ""
sim_start 12
daemon_start "$TANK_FILE"
batch_start
wait_until 120 "$DAEMON_PID" step_is heat || give_up "the batch comes to the heating"

kill -KILL "$SIM_PID"
wait "$SIM_PID" 2>/dev/null
SIM_PID=""
helper_stop
check "the batch is held" wait_until 20 "$DAEMON_PID" state_is held
check "every output is demanded off" outputs_are_off
check "the cause is the lost line" same "$(state '[.trips[].trip] | index("bus_lost") != null')" true
told=$(state '.trips[] | select(.trip == "bus_lost") | .sentence + " " + .act')
check "a sentence says what is wrong" contains "$told" "do not answer"
check "and what to do" contains "$told" cable
check "a reading without a device has no number" same "$(state .values.tank_temp_c.value)" null
ask release >"$RUN/again.txt" 2>&1
ask restart >>"$RUN/again.txt" 2>&1
check "a restart without the tank is refused" same "$?" 1
check "with a reason" contains "$(cat "$RUN/again.txt")" refused
check "the daemon goes on" kill -0 "$DAEMON_PID"
daemon_stop
check "SIGTERM ends it well all the same" same "$?" 0
finish
