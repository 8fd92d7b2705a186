#!/bin/sh
# seeds.sh - ten batches in ten different tanks, five of them drawn anew each time.
#
#   sh tests/wire/seeds.sh BUILD [SEED...]
#
# Without seeds: 1 2 3 4 5 and five drawn ones, printed so that a bad one can be run again.
set -u
here=$(cd "$(dirname "$0")" && pwd -P)
build=${1:?sh tests/wire/seeds.sh BUILD [SEED...]}
shift
if [ $# -eq 0 ]; then
    set -- 1 2 3 4 5
    for drawn in $(od -An -N20 -tu4 /dev/urandom); do
        set -- "$@" "$drawn"
    done
fi
echo "seeds: $*"
# Two at a time: each batch keeps about one processor busy.
printf '%s\n' "$@" | xargs -P "$(nproc)" -I '{}' sh -c 'sh "$0/one_seed.sh" "$1" "$2" 2>&1 | sed "s/^/seed $2: /"' \
    "$here" "$build" '{}' >"$build/seeds.log"
sed -n 's/^seed \([0-9]*\): \(\(not \)\{0,1\}ok - .*\)/\2 (seed \1)/p' "$build/seeds.log"
good=$(grep -c '^seed [0-9]*: ok - ' "$build/seeds.log")
bad=$(grep -c '^seed [0-9]*: not ok - ' "$build/seeds.log")
whole=$(grep -c '^seed [0-9]*: ok - every target was met' "$build/seeds.log")
if [ "$bad" -gt 0 ] || [ "$whole" -ne $# ]; then
    cat "$build/seeds.log"
    echo "seeds: $good cases were good, $bad not; $whole of $# batches met their target"
    exit 1
fi
echo "seeds: $good cases, 0 failed; all $# batches met their target"
