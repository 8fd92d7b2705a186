#!/bin/sh
# The daemon dies in the middle of a batch; started again, it holds the batch until a person goes on.
. "$(dirname "$0")/common.sh"

tank_open "$BUILD" ""
sim_start 13
daemon_start "$TANK_FILE"
batch_start

# kill_at STEP: as a power cut would. The helper is sent away too, perhaps with a bag tipped in but
# not yet answered for: then one bag more is in the tank than was counted, and the strength shows it.
kill_at()
{
    batch_follow 120 "$1" || give_up "the batch comes to step $1"
    sleep 0.3
    daemon_kill
}

# In the middle of a dose, which then counts until the pump's own counter tells better.
kill_in_dose()
{
    batch_follow 120 acidify || give_up "the batch comes to step acidify"
    until [ "$(state '.outputs.dose_pump_on > 0')" = true ]; do
        step_is acidify || give_up "the pump is seen turning"
    done
    daemon_kill
}

daemon_kill()
{
    kill -KILL "$DAEMON_PID"
    wait "$DAEMON_PID" 2>/dev/null
    DAEMON_PID=""
    helper_stop
}

recover()
{
    daemon_start "$TANK_FILE"
    check "cut in $1: the batch is held" same "$(state .state)" held
    check "cut in $1: it is the same batch" same "$(state .batch)" "$BATCH"
    check "cut in $1: everything is off" outputs_are_off
    ask restart >"$RUN/restart.txt" 2>&1
    check "cut in $1: a restart before the release is refused" same "$?" 1
    ask release >"$RUN/restart.txt" 2>&1 || give_up "cut in $1: release: $(cat "$RUN/restart.txt")"
    ask restart >"$RUN/restart.txt" 2>&1 || give_up "cut in $1: restart: $(cat "$RUN/restart.txt")"
    person_start
}

kill_in_dose
recover "a dose"
kill_at acidify
recover acidify
kill_at charge
recover charge
batch_follow 240 || give_up "the batch came to an end"
check "the batch is complete" same "$(state .state)" complete
batch_judge
check "every target was met" same "$(state .outcome)" met
check "the journal tells of the cuts" same \
    "$(ask journal "$BATCH" --limit 1000 --json | jq '[.. | objects | select(.event? == "recovered")] | length')" 3
finish
