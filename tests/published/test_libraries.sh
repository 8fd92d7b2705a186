#!/bin/sh
# test_libraries.sh - the handbook against IAPWS water properties and an ODE solver, each where its Debian
# package (python3-iapws, python3-scipy) is installed.
#
#   sh tests/published/test_libraries.sh BUILD
#
# Prints "ok - ...", "not ok - ..." or "skip - ..." for each comparison; exit status 0 when none failed.
set -u
build=$1
here=$(cd "$(dirname "$0")" && pwd -P) || exit 1
failed=0

# Compare one part with the first Python that has its module; else say what Debian's misses, which may be a
# module that the first one needs itself: python3-iapws is of no use without python3-scipy.
compare() {
    part=$1 module=$2 title=$3
    first=
    for python in /usr/bin/python3 python3; do
        command -v "$python" >/dev/null || continue
        missing=$("$python" - "$module" <<'END'
import importlib
import sys
try:
    importlib.import_module(sys.argv[1])
except ImportError as error:
    print(error.name or error)
END
        )
        if [ -z "$missing" ]; then
            "$python" "$here/against_libraries.py" "$build/syrupwright" "$part" || failed=1
            return
        fi
        first=${first:-$missing}
    done
    echo "skip - $title: ${first:-python3} is not installed"
}

compare water iapws "water by IAPWS, python3-iapws"
compare kinetics scipy.integrate "kinetics by an ODE solver, python3-scipy"
exit $failed
