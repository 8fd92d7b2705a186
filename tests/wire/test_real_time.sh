#!/bin/sh
# The daemon on its own clock, as at a real tank: the simulated devices run in real time and nobody
# grants scans. Then the daemon is frozen in the middle of an act: the output module must switch off
# by itself, and the daemon must come back off and held.
. "$(dirname "$0")/common.sh"

tank_open "$BUILD" ""
mkdir "$RUN/tanks"
sed -e 's/^simulated: yes/simulated: no/' -e '/^sim_clock_path/d' \
    -e "s/owner_role: supervisor.*/operator_group: $(id -gn)/" \
    -e "s#^profiles: .*#profiles: $ROOT/config/devices#" "$TANK_FILE" >"$RUN/tanks/real.yaml"
sim_start 14
daemon_start "$RUN/tanks/real.yaml"
check "the batch is not called simulated" same "$(state .simulated)" false
batch_start
water_flows()
{
    [ "$(truth .outputs.water_valve_open)" = 1 ] || [ "$(truth .outputs.water_valve_open)" = 1.0 ]
}
check "water is let in" wait_until 60 "$DAEMON_PID" water_flows
sleep 5

# Ten scans a second: between two looks the number of scans and the tank's time must agree.
scans=$(state .scans) seconds=$(state .scan_s)
sleep 5
rate=$(awk "BEGIN { print ($(state .scans) - $scans) / ($(state .scan_s) - $seconds) }")
check "ten scans a second ($rate)" near "$rate" 10 1

kill -STOP "$DAEMON_PID"
module_is_off()
{
    [ "$(truth '[.outputs[] | select(. != 0)] | length')" = 0 ]
}
check "with the daemon frozen the output module switches off by itself" wait_until 10 "$SIM_PID" module_is_off
kill -CONT "$DAEMON_PID"
check "when it wakes up the batch is held" wait_until 20 "$DAEMON_PID" state_is held
check "every output is demanded off" outputs_are_off
check "the first cause is that it stood still" \
    same "$(state '.trips[] | select(.first) | .trip')" stalled
sleep 3
check "and off it stays" module_is_off
check "two acts bring it back: release" ask release
check "and restart" ask restart
check "water is let in again" wait_until 20 "$DAEMON_PID" water_flows
daemon_stop
check "SIGTERM ends the daemon well" same "$?" 0
# Sooner than the module would by itself (3 s).
check "and leaves everything off" wait_until 2 "$SIM_PID" module_is_off
finish
