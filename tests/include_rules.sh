#!/bin/sh
# include_rules.sh - who may include whom, read off the #include lines.
#
#   sh tests/include_rules.sh [SOURCE_DIR]
#
# The table below is the rule; DEVELOPERS.md says why. First the checker is run on a small tree
# that breaks every kind of rule once, because a checker that finds nothing proves nothing.
# Exit status: 0 every line keeps the rules, 1 not.
set -eu
source_dir=${1:-$(cd "$(dirname "$0")/.." && pwd -P)}
work=$(mktemp -d "${TMPDIR:-/tmp}/syrupwright-include.XXXXXX")
trap 'rm -rf "$work"' EXIT
trap 'exit 130' INT TERM HUP

# FOLDER  SYSTEM-HEADERS  PROJECT-HEADERS (regular expressions of what may be named, '|' between)
#   pure: C headers that touch nothing outside memory; words: those and stdio;
#   c: any C header; any: C, POSIX and Linux headers. Libraries are in the second table.
cat >"$work/rules" <<'RULES'
controller/base         c      base/
controller/science      c      base/|science/
controller/core         pure   base/|science/|core/|plan/[a-z_]*_types.h|instruments/[a-z_]*_types.h
controller/plan         pure   base/|science/|plan/|core/[a-z_]*_types.h|instruments/[a-z_]*_types.h
controller/instruments  pure   base/|science/|instruments/|core/[a-z_]*_types.h|plan/[a-z_]*_types.h
controller/words        words  base/|science/|words/|core/[a-z_]*_types.h|plan/[a-z_]*_types.h
controller/runtime      any    base/|runtime/
drivers                 any    base/|runtime/|drivers/
controller/io           any    base/|runtime/|drivers/|io/|core/[a-z_]*_types.h
controller/settings     any    base/|runtime/|settings/|words/|science/acid.h|drivers/channel.h|drivers/driver.h|[a-z]*/[a-z_]*_types.h
controller/records      any    base/|runtime/|science/|words/|records/|settings/settings.h|[a-z]*/[a-z_]*_types.h
controller/remote       any    base/|runtime/|science/|words/|plan/|records/|remote/|settings/settings.h|[a-z]*/[a-z_]*_types.h
controller/client       any    base/|runtime/|science/|words/|plan/|client/|remote/protocol.h|remote/[a-z_]*_json.h|records/reading.h|records/certificate.h|settings/|[a-z]*/[a-z_]*_types.h
controller/main.c       any    base/|runtime/|words/|core/|io/|drivers/|records/records.h|remote/server.h|settings/settings.h
simulator               any    base/|runtime/|simulator/|settings/yaml_[a-z_]*.h|settings/bind.h|settings/settings_errors.h|science/sucrose.h|science/acid.h|science/acid_types.h
simulator/harness       any    base/|runtime/|simulator/|science/|core/|plan/
RULES

# LIBRARY-HEADER  the only files that may include it (regular expression, whole path)
cat >"$work/libraries" <<'LIBRARIES'
modbus.h              drivers/modbus_bus.c|drivers/modbus_bus_[a-z_]*.c|simulator/[a-z_]*.c
modbus/modbus.h       drivers/modbus_bus.c|drivers/modbus_bus_[a-z_]*.c|simulator/[a-z_]*.c
sqlite3.h             controller/records/[a-z_]*.c
yaml.h                controller/settings/[a-z_]*.c
sodium.h              controller/runtime/crypto.c
systemd/sd-daemon.h   controller/runtime/[a-z_]*.c
gpiod.h               drivers/gpio.c
microhttpd.h          controller/desk/[a-z_]*.c
jansson.h             controller/(settings|records|remote|client|desk|io|words|runtime)/[a-z_]*.[ch]|simulator/[a-z_]*.[ch]
LIBRARIES

cat >"$work/check.awk" <<'AWK'
function complain(text) { printf "%s:%d: %s\n", path, FNR, text; bad++ }

# The longest rule whose folder (or file stem) the path begins with.
function rule_of(path,    f, best) {
    best = ""
    for (f in system_class)
        if ((index(path, f "/") == 1 || path == f || index(path, f "_") == 1 || index(path, f ".") == 1) &&
            length(f) > length(best))
            best = f
    return best
}

BEGIN {
    n = split("assert ctype complex errno fenv float inttypes iso646 limits locale math setjmp signal stdalign " \
              "stdarg stdatomic stdbool stddef stdint stdio stdlib stdnoreturn string tgmath threads time " \
              "uchar wchar wctype", names, " ")
    for (i = 1; i <= n; i++) standard[names[i] ".h"] = 1
    n = split("assert ctype complex errno float inttypes limits math stdarg stdbool stddef stdint string", names, " ")
    for (i = 1; i <= n; i++) pure[names[i] ".h"] = 1
}

FILENAME == rules_file { system_class[$1] = $2; allowed[$1] = "^(" $3 ")"; next }
FILENAME == libraries_file { user[$1] = "^(" $2 ")$"; next }

FNR == 1 {
    path = substr(FILENAME, length(top) + 2)
    folder = rule_of(path)
    files++
    if (folder == "") complain("no rule covers this file; add its folder to tests/include_rules.sh")
}

/^[ \t]*#[ \t]*include/ {
    lines++
    header = $0
    if (match(header, /"[^"]+"/)) {
        header = substr(header, RSTART + 1, RLENGTH - 2)
        if (folder != "" && header !~ allowed[folder])
            complain(folder " may not include \"" header "\"")
        next
    }
    if (!match(header, /<[^>]+>/)) { complain("this include line cannot be read"); next }
    header = substr(header, RSTART + 1, RLENGTH - 2)
    if (header in user) {
        if (path !~ user[header]) complain("<" header "> has another user file")
        else { holder = path; sub(/\/[^\/]*$/, "", holder); users[header, holder] = users[header, holder] " " path }
        next
    }
    class = system_class[folder]
    if ((class == "pure" && !(header in pure)) || (class == "c" && !(header in standard)) ||
        (class == "words" && !(header in pure) && header != "stdio.h"))
        complain(folder " may not include <" header ">")
    if (path ~ /controller\/remote\/(protocol|.*_json)\./ && !(header in standard))
        complain("the protocol is pure and may not include <" header ">")
}

# The plant has its own idea of how acid meets water, or agreement would be built in.
path ~ /^simulator\// && /acid_(water_ph|for_ph|alkalinity)_eval/ {
    complain("the simulated tank may not use the controller's acid model")
}

END {
    for (key in users) {
        split(key, part, SUBSEP)
        if (part[1] != "jansson.h" && split(users[key], names, " ") > 1) {
            printf "<%s> has more than one user file:%s\n", part[1], users[key]
            bad++
        }
    }
    printf "%d files, %d include lines, %d against the rules\n", files, lines, bad
    exit bad > 0
}
AWK

check()
{
    find "$1/controller" "$1/drivers" "$1/simulator" -name '*.[ch]' | sort >"$work/list"
    # shellcheck disable=SC2046
    awk -v top="$1" -v rules_file="$work/rules" -v libraries_file="$work/libraries" -f "$work/check.awk" \
        "$work/rules" "$work/libraries" $(cat "$work/list")
}

# One file, one broken rule each.
bad=$work/bad
mkdir -p "$bad/controller/base" "$bad/controller/core" "$bad/controller/plan" "$bad/controller/science" \
    "$bad/controller/remote" "$bad/controller/runtime" "$bad/controller/stray" "$bad/drivers" "$bad/simulator"
breaks()
{
    printf '%s\n' "$2" >"$bad/$1"
    broken=$((${broken:-0} + 1))
}
breaks controller/base/a.c '#include <unistd.h>'
breaks controller/base/b.c '#include "science/acid.h"'
breaks controller/science/a.c '#include "core/tank_types.h"'
breaks controller/core/a.c '#include <stdio.h>'
breaks controller/core/b.c '#  include <jansson.h>'
breaks controller/core/c.c '#include "plan/plan.h"'
breaks controller/plan/a.c '#include <time.h>'
breaks controller/remote/protocol.c '#include <sys/socket.h>'
breaks controller/runtime/a.c '#include "core/scan_types.h"'
breaks controller/runtime/b.c '#include <sodium.h>'
breaks controller/stray/a.c '#include <math.h>'
breaks drivers/a.c '#include "settings/settings.h"'
breaks simulator/a.c '#include "plan/plan.h"'
breaks simulator/d.c 'acid_water_ph_eval(0, 0, 0, 0, 0);'
breaks simulator/b.c '#include <modbus.h>'
printf '#include <modbus.h>\n' >"$bad/simulator/c.c"

if check "$bad" >"$work/found"; then
    echo "the checker let a broken tree pass"
    exit 1
fi
if ! grep -q " $broken against the rules" "$work/found"; then
    echo "the checker should find $broken broken rules in its own bad tree; it said:"
    cat "$work/found"
    exit 1
fi

check "$source_dir"
