#!/bin/sh
# test_libraries.sh - the handbook against IAPWS water properties and an ODE solver, where Debian's
# python3-iapws and python3-scipy are installed.
#
#   sh tests/published/test_libraries.sh BUILD
#
# Prints "ok - ...", "not ok - ..." or "skip - ..." for each comparison; exit status 0 when none failed.
set -u
build=$1
here=$(cd "$(dirname "$0")" && pwd -P) || exit 1

for python in /usr/bin/python3 python3; do
    if "$python" -c 'import iapws, scipy.integrate' 2>/dev/null; then
        "$python" "$here/against_libraries.py" "$build/syrupwright"
        exit
    fi
done
echo "skip - water by IAPWS, kinetics by an ODE solver (python3-iapws and python3-scipy are not installed)"
