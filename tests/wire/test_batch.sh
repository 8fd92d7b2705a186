#!/bin/sh
# A whole batch over real protocols: from release to a verified certificate.
. "$(dirname "$0")/common.sh"

tank_open "$BUILD" ""
sim_start 11
daemon_start "$TANK_FILE"

check "after power-up the daemon is idle" same "$(state .state)" idle
check "and tripped" same "$(state '[.trips[].trip] | index("power_up") != null')" true
check "with every output off" outputs_are_off
tank_c=$(state '.values.tank_temp_c.value')
check "a hand thermometer that reads the same agrees" same \
    "$(ask compare temp "$tank_c" --json | jq -r .agreement)" agrees
check "one that reads 20 K more does not" same \
    "$(ask compare temp "$(echo "$tank_c" | awk '{ print $1 + 20 }')" --within 1 --json | jq -r .agreement)" disagrees
check "the state shows it" contains "$(ask state)" "do NOT agree"
ask compare strength 62,5 >"$RUN/compare.txt" 2>&1
check "a comma is refused" same "$?" 65
ask start --litres 600 --strength 62.5 >"$RUN/early.txt" 2>&1
check "a start before the release is refused" same "$?" 1
check "and the refusal says what to do" contains "$(cat "$RUN/early.txt")" release

batch_start
check "the batch has a number ($BATCH)" test "${BATCH#20[0-9][0-9]-[0-9][0-9][0-9][0-9]}" = ""
ask compare temp 90 --within 1 >"$RUN/compare.txt"
check "a hand thermometer far off is told at once" contains "$(cat "$RUN/compare.txt")" "do NOT agree"
batch_follow 240 || give_up "the batch came to an end"
check "the batch is complete" same "$(state .state)" complete
check "every target was met" same "$(state .outcome)" met
check "every output is off again" outputs_are_off
batch_judge

ask certificate "$BATCH" --json >"$RUN/certificate.json" 2>"$RUN/certificate.err"
check "the certificate names the batch" same "$(jq -r '.batch // .batch_id' "$RUN/certificate.json")" "$BATCH"
check "it says that the tank is simulated" same "$(jq -r .simulated "$RUN/certificate.json")" true
ask certificate "$BATCH" >"$RUN/certificate.txt" 2>&1
check "and so does the text" contains "$(cat "$RUN/certificate.txt")" SIMULATED
check "it names the sugar's lot" contains "$(cat "$RUN/certificate.txt")" "HS-2231"
check "and that a hand reading did not agree" contains "$(cat "$RUN/certificate.txt")" "NOT agree"
check "with what was read, and by whom" contains "$(tr "\n" " " <"$RUN/certificate.txt" | tr -s " ")" \
    "Read with a hand instrument by"
check "the journal has who read it" contains "$(ask journal "$BATCH" --limit 1000)" "Read with a hand instrument by"
check "and gives the syrup's pH as apparent" contains "$(cat "$RUN/certificate.txt")" apparent

folder=$SYRUPWRIGHT_RECORDS/certificates
check "the files are where the demo says" test -s "$folder/$BATCH.json" -a -s "$folder/$BATCH.txt"
check "the certificate's signature is right" ask verify "$folder/$BATCH.json"
sed 's/62\.5/63.5/' "$folder/$BATCH.json" >"$RUN/changed.json"
ask verify "$RUN/changed.json" >"$RUN/verify.txt" 2>&1
check "a changed certificate is found out" same "$(($? != 0))" 1
check "the list shows the batch" contains "$(ask batches)" "$BATCH"

helper_stop
daemon_stop
check "SIGTERM ends the daemon well" same "$?" 0
check "its socket is gone" test ! -e "$SYRUPWRIGHT_CONTROL"
check "the tank's outputs are off" same "$(truth '[.outputs[] | select(. != 0 and . != false)] | length')" 0
sim_stop
check "SIGTERM ends the simulator well" same "$?" 0
finish
