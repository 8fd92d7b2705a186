#!/bin/sh
# screen_rule.sh - no function is longer than one screen: 50 lines from its opening to its closing brace.
#
#   sh tests/screen_rule.sh [SOURCE_DIR]
#
# Reads the house style: both braces of a function stand alone in the first column. First the rule is
# tried on a function that breaks it. Exit status: 0 every function keeps it, 1 not.
set -eu
source_dir=${1:-$(cd "$(dirname "$0")/.." && pwd -P)}
work=$(mktemp -d "${TMPDIR:-/tmp}/syrupwright-screen.XXXXXX")
trap 'rm -rf "$work"' EXIT
trap 'exit 130' INT TERM HUP

long_functions()
{
    find "$@" -name '*.[ch]' -exec awk '
        /^\{$/ { begun = FNR }
        /^\}$/ && begun {
            if (FNR - begun > 50)
                printf "%s:%d: a function of %d lines\n", FILENAME, begun, FNR - begun
            begun = 0
        }' {} +
}

{
    printf 'void f(void)\n{\n'
    seq 60 | sed 's/.*/    x++;/'
    printf '}\n'
} >"$work/long.c"
[ -n "$(long_functions "$work")" ] || { echo "the rule does not notice a function of 60 lines"; exit 1; }

found=$(cd "$source_dir" && long_functions controller drivers simulator)
[ -z "$found" ] || { printf '%s\n' "$found"; exit 1; }
