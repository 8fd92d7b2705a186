#!/bin/sh
# one_seed.sh BUILD SEED - one batch in the tank that follows from SEED, judged by the plant's truth.
. "$(dirname "$0")/common.sh"

tank_open "$BUILD" ""
sim_start "$2"
daemon_start "$TANK_FILE"
batch_start
batch_follow 400 || give_up "the batch came to an end"
check "every target was met" same "$(state '.state + " " + .outcome')" "complete met"
batch_judge
finish
